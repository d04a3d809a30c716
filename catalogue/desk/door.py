"""The door for other machines: closed until the studio's password is given, then open for some hours.

Requests from this machine pass. From elsewhere nothing is answered but the page that asks for the
password and the files that it is drawn with. What a proxy says of where a request came from is never
believed: it can only make a request count as one from elsewhere.
"""

from __future__ import annotations

import secrets
import threading
import time
from collections.abc import Iterable
from typing import Any, Final, cast

import segno
from flask import (
    Blueprint,
    Flask,
    abort,
    current_app,
    flash,
    make_response,
    redirect,
    render_template,
    request,
    session,
    url_for,
)
from flask.sessions import SecureCookieSessionInterface
from itsdangerous import BadSignature
from markupsafe import Markup
from werkzeug.http import parse_cookie

from catalogue.desk import forms, password
from catalogue.desk.asking import OPEN_STUDIO, studio
from catalogue.desk.guard import is_of_this_machine
from catalogue.desk.knocking import Knocking
from catalogue.desk.person import safe
from catalogue.errors import BadSetting

pages = Blueprint("door", __name__)

DOOR: Final = "dorse-door"
OPEN_FILES: Final = frozenset({"desk.css", "easel.css", "mark.svg"})
"""The files that the entering page is drawn with."""
LEFT_REMEMBERED: Final = 1000


class Door:
    """What the door of one desk remembers: who tried, who left, under which addresses it is reached."""

    def __init__(self) -> None:
        self.knocking = Knocking()
        self.addresses: tuple[str, ...] = ()
        self._lock = threading.Lock()
        self._left: dict[str, float] = {}

    def leave(self, stay: str, until: float) -> None:
        """Somebody goes out: their cookie opens no more, wherever a copy of it lies."""
        with self._lock:
            now = time.time()
            self._left = {one: end for one, end in self._left.items() if end > now}
            if len(self._left) < LEFT_REMEMBERED:
                self._left[stay] = until

    def has_left(self, stay: str) -> bool:
        """Whether the one with this cookie went out."""
        return stay in self._left


def hang(app: Flask) -> None:
    """Hang the door of a desk; it stands before everything else that is asked."""
    app.extensions[DOOR] = Door()
    app.before_request(_stop_strangers)
    app.context_processor(lambda: {"came_through_the_door": "stay" in session})


def reached_at(app: Flask, addresses: Iterable[str]) -> None:
    """Say under which addresses other machines reach this desk."""
    _door(app).addresses = tuple(addresses)


def _door(app: Flask | None = None) -> Door:
    return cast("Door", (app or current_app).extensions[DOOR])


def _stop_strangers() -> Any:
    """Nothing for whoever comes from elsewhere and has not entered; None lets them through."""
    if is_of_this_machine() or request.endpoint in ("door.ask", "door.enter"):
        return None
    if request.endpoint == "static" and (request.view_args or {}).get("filename") in OPEN_FILES:
        return None
    if _may_stay():
        return None
    wants_page = request.method == "GET" and "text/html" in request.headers.get("Accept", "")
    if wants_page:
        return redirect(url_for("door.ask", next=safe(request.full_path.removesuffix("?"))))
    again = url_for("door.ask", next=url_for("door.entered"))
    return render_template("door_closed.html", again=again), 401


def _may_stay() -> bool:
    return _stays(_door(), _own_password(), session.get("stay"))


def _stays(door: Door, own: password.Password | None, found: object) -> bool:
    if own is None or not isinstance(found, dict):
        return False
    return (
        found.get("round") == own.round
        and float(found.get("until", 0)) > time.time()
        and not door.has_left(str(found.get("id")))
    )


def has_entered(app: Flask, cookies: str) -> bool:
    """Whether the cookies of a request, as they stand in its head, are of somebody who entered.

    For whoever has to know before the request is read; the request itself is asked again.
    """
    signed = parse_cookie(cookies).get(app.config["SESSION_COOKIE_NAME"])
    serializer = SecureCookieSessionInterface().get_signing_serializer(app)
    if not signed or serializer is None:
        return False
    try:
        held = serializer.loads(signed)
        own = password.kept(app.extensions[OPEN_STUDIO].folder)
    except (BadSignature, BadSetting):
        return False
    return _stays(_door(app), own, held.get("stay"))


def _own_password() -> password.Password | None:
    try:
        return password.kept(studio().folder)
    except BadSetting:
        return None  # where it lies is not for strangers' eyes; the command line tells


@pages.get("/enter")
def ask() -> Any:
    """Ask for the password."""
    if is_of_this_machine() or _may_stay():
        return redirect(safe(request.args.get("next")))
    return _page()


@pages.post("/enter")
def enter() -> Any:
    """Let in whoever knows the password; tell everybody else how long to wait."""
    address = request.remote_addr or ""
    own = _own_password()
    if own is None:
        return _page("closed"), 403
    wait = _door().knocking.begin(address)
    if wait:
        answer = make_response(_page("wait", wait), 429)
        answer.headers["Retry-After"] = str(wait)
        return answer
    if not password.fits(own, request.form.get("password", "")):
        return _page("wrong"), 403
    _door().knocking.right(address)
    _begin_to_stay(own)
    return redirect(safe(forms.text("next")), code=303)


def _begin_to_stay(own: password.Password) -> None:
    """A session of its own for whoever entered: nothing of one that was here before is believed.

    Only who comes back within the same round, after the hours were over, keeps the name they work
    under and the token of a page that they left open with something typed on it.
    """
    before = session.get("stay")
    again = isinstance(before, dict) and before.get("round") == own.round
    kept = {key: session[key] for key in ("who", "csrf_token") if again and key in session}
    session.clear()
    session.update(kept)
    session.permanent = True
    session["stay"] = {
        "id": secrets.token_hex(16),
        "round": own.round,
        "until": time.time() + own.hours * 3600,
    }


@pages.post("/leave")
def leave() -> Any:
    """Go out: this browser has to enter again."""
    found = session.get("stay")
    if isinstance(found, dict):
        _door().leave(str(found.get("id")), float(found.get("until", 0)))
    session.clear()
    return redirect(url_for("door.ask") if not is_of_this_machine() else "/", code=303)


@pages.get("/enter-done")
def entered() -> str:
    """Say that one is in again, on a page opened beside the one that was left with something typed."""
    return render_template("door_again.html")


@pages.get("/enter-from-elsewhere")
def elsewhere() -> str:
    """Show this machine's addresses with their codes, so that a tablet can be pointed at them."""
    if not is_of_this_machine():
        abort(404)
    return render_template(
        "elsewhere.html",
        addresses=[(each, _drawn(each)) for each in _door().addresses],
        password=_own_password(),
    )


@pages.post("/enter-from-elsewhere")
def send_out() -> Any:
    """Send out everybody who entered from another machine."""
    if not is_of_this_machine():
        abort(404)
    password.send_everybody_out(studio().folder)
    flash("Everybody who entered from another machine has to enter again.")
    return redirect(url_for("door.elsewhere"), code=303)


def _page(why: str = "", wait: int = 0) -> str:
    onward = safe(request.form.get("next") or request.args.get("next"))
    return render_template("door.html", why=why, wait=wait, onward=onward)


def _drawn(address: str) -> Markup:
    """The address as a square code; attributes only, as the desk's policy asks."""
    drawn = segno.make_qr(address, error="m").svg_inline(border=4, omitsize=True)
    return Markup(drawn)
