"""Who is working: chosen once, remembered for a year in a signed cookie."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, current_app, redirect, render_template, request, session, url_for
from werkzeug.exceptions import HTTPException

from catalogue.desk import drafts, forms
from catalogue.desk.asking import at_work, studio

pages = Blueprint("person", __name__)

NAMELESS = frozenset(
    {"person.choose", "slip.render", "sending.send_one", "sending.send_all", "together.look"}
    | {"foretelling.foretell", "first_minute.sample_in"}
    | {"door.enter", "door.leave", "door.send_out"}
)
"""Posts that save nothing in anybody's name."""


@pages.before_app_request
def ask_the_name() -> Any:
    """Send to the page of names whoever is about to save without one."""
    if request.method == "POST" and request.endpoint not in NAMELESS and not at_work():
        return ask_first(drafts.kept_after_all() or _page_of(request.path))
    return None


def ask_first(onward: str) -> Any:
    """The way to the page of names, and back from there."""
    return redirect(url_for("person.ask", next=onward))


@pages.get("/who")
def ask() -> str:
    """Show the people who work here."""
    return render_template(
        "who.html",
        members=studio().members(),
        here=at_work(),
        onward=safe(request.args.get("next")),
    )


@pages.post("/who")
def choose() -> Any:
    """Remember who is working; a name that is typed becomes a member's."""
    chosen, typed = forms.text("who"), forms.text("name")
    if not chosen and not typed:
        return redirect(url_for("person.ask", next=safe(forms.text("next"))))
    member = studio().party(chosen).record if chosen else studio().welcome(str(typed))
    session.permanent = True
    session["who"] = member.document
    return redirect(safe(forms.text("next")))


def safe(onward: str | None) -> str:
    """Where to go on to: a path of this desk, else the bench.

    >>> safe("/work/new"), safe("//elsewhere.example"), safe("/\\\\elsewhere.example"), safe(None)
    ('/work/new', '/', '/', '/')
    """
    inside = (
        onward is not None
        and onward.startswith("/")
        and not onward.startswith(("//", "/\\"))
        and onward.isprintable()
    )
    return onward if inside and onward else "/"


def _page_of(path: str) -> str:
    """The page that a form was on: its own path where that can be shown, else the folder above."""
    adapter = current_app.url_map.bind("")
    while path.strip("/"):
        try:
            adapter.match(path, method="GET")
        except HTTPException:
            path = path.rpartition("/")[0]
        else:
            return path
    return "/"
