"""A card of photographs handed over at once: laid on the tray, sorted by time onto works, taken in.

What takes long (looking at every file, taking in) goes on under way; the page of the card leads there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, replace
from datetime import date, time
from typing import Any, Final

from flask import (
    Blueprint,
    Response,
    abort,
    redirect,
    render_template,
    request,
    send_file,
    url_for,
)

from catalogue.desk import card_tray, forms, under_way
from catalogue.desk.asking import at_work, reader, studio
from catalogue.desk.card_tray import Card
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.desk.sorted_onto import Group, groups_chosen, take_in
from catalogue.errors import BadData, CatalogueError
from catalogue.places import table
from catalogue.sittings import FILE, Doing, Frame, proposed, read_off, shifted, sittings
from catalogue.studio import Studio
from catalogue.under_way import Errand, Landing, Progress

pages = Blueprint("sorting", __name__)

MOST_AHEAD: Final = 60 * 24 * 366 * 30
"""A clock that was never set may be decades behind; in minutes."""


@pages.get("/card")
def hand_over() -> Any:
    """Ask for a folder or a card of photographs, and show what waits on the tray."""
    if not at_work():
        return ask_first(request.path)
    return render_template(
        "card.html", waiting=card_tray.waiting(studio().folder), refused=None
    )


@pages.post("/card")
def lay_down() -> Any:
    """Lay what was chosen on the tray, all in one form; a script hands it over file by file instead."""
    chosen = [
        each
        for field in ("files", "folder")
        for each in request.files.getlist(field)
        if each.filename
    ]
    try:
        if not chosen and not forms.flag("empty"):
            raise BadData("no file was chosen", remedy="choose several, or a folder")
        own = card_tray.lay_down(studio().folder, at_work())
        for each in chosen:
            card_tray.put(own, each, None)
    except CatalogueError as refused:
        page = render_template(
            "card.html", waiting=card_tray.waiting(studio().folder), refused=refused
        )
        return page, status(refused)
    onward = url_for("sorting.sort", token=own.token)
    if forms.flag("empty"):
        return {"more": url_for("sorting.more", token=own.token), "onward": onward}, 201
    return redirect(onward, code=303)


@pages.post("/card/<token>/more")
def more(token: str) -> Any:
    """One more file for a card, as a script hands it over; it is looked at while the next one comes."""
    own = card_tray.lying(studio().folder, token)
    told = []
    try:
        for each in request.files.getlist("files"):
            if each.filename:
                key = card_tray.put(own, each, _written(request.form.get("written", "")))
                looked = _look(studio(), own, key)
                told.append({"name": looked["name"], "refused": looked["refused"]})
    except CatalogueError as refused:
        return {"refused": f"{refused.args[0]}; {refused.remedy}"}, status(refused)
    return {"told": told}


def _written(said: str) -> float | None:
    """When a file was written, as a script says it in seconds; a browser's form alone doesn't."""
    try:
        seconds = float(said)
    except ValueError:
        return None
    return seconds if 0 < seconds < 4_102_444_800 else None


@pages.get("/card/<token>")
def sort(token: str) -> Any:
    """The card sorted by time, each sitting with the work that it may be of; all of it can be changed."""
    if not at_work():
        return ask_first(request.path)
    own = card_tray.lying(studio().folder, token)
    going = _under_way(own)
    if going:
        return redirect(under_way.page_of(going))
    if own.not_looked_at() or own.doings() is None:
        return redirect(under_way.page_of(_begin_to_look(own)))
    return _page(own)


def _page(own: Card, refused: CatalogueError | None = None) -> Any:
    sorting = own.sorting()
    looked = {each.key: each for each in own.looked()}
    frames = _frames(own)
    known = [_doing(each) for each in own.doings() or ()]
    sorted_out = [
        proposed(each, known)
        for each in sittings(frames, cuts=sorting["cuts"], joins=sorting["joins"])
    ]
    page = render_template(
        "card_sort.html",
        card=own,
        sittings=sorted_out,
        looked=looked,
        left=[each for each in looked.values() if not each.fits],
        typed=sorting["typed"],
        ahead=sorting["ahead"],
        said=read_off,
        numbers=sorted({each.number for each in known}),
        told=own.told(),
        refused=refused,
    )
    return page, status(refused) if refused else 200


def _frames(own: Card) -> tuple[Frame, ...]:
    fit = [each.frame for each in own.looked() if each.fits]
    return shifted(fit, own.sorting()["ahead"])


@pages.post("/card/<token>")
def change(token: str) -> Any:
    """Keep what was chosen on the page; then part or join, put the clock right, take in or throw away."""
    own = card_tray.lying(studio().folder, token)
    onward = redirect(url_for("sorting.sort", token=token), code=303)
    if forms.flag("throw_away"):
        own.clear()
        return redirect(url_for("sorting.hand_over"), code=303)
    sorting = own.sorting()
    typed = {name: values for name, values in request.form.lists() if name != "csrf_token"}
    own.keep_sorting(typed={**typed, "seen": ["yes"]})
    cut, join = forms.text("cut"), forms.text("join")
    if cut or join:
        cuts, joins = set(sorting["cuts"]), set(sorting["joins"])
        cuts, joins = (cuts | {cut}, joins - {cut}) if cut else (cuts - {join}, joins | {join})
        own.keep_sorting(cuts=sorted(map(str, cuts)), joins=sorted(map(str, joins)))
        return onward
    try:
        ahead = forms.number("ahead") or 0
        if abs(ahead) > MOST_AHEAD:
            raise BadData("no clock is wrong by that much", remedy="give it in minutes")
        if ahead != sorting["ahead"]:
            own.keep_sorting(ahead=ahead)
            own.keep_doings(None)  # other days, other things done
            return onward
        if forms.flag("take_in"):
            groups = groups_chosen(studio(), typed, _sorted_out(own), _facts(own))
            return redirect(under_way.page_of(_begin_to_take(own, groups)), code=303)
    except CatalogueError as refused:
        return _page(own, refused)
    return onward


def _sorted_out(own: Card) -> list[tuple[Frame, ...]]:
    sorting = own.sorting()
    parted = sittings(_frames(own), cuts=sorting["cuts"], joins=sorting["joins"])
    return [each.frames for each in parted]


def _facts(own: Card) -> dict[str, Any]:
    return {each.key: each for each in own.looked() if each.fits}


@pages.get("/card/<token>/<key>.jpg")
def picture(token: str, key: str) -> Response:
    """A small picture of a photograph that lies on the tray."""
    own = card_tray.lying(studio().folder, token)
    looked = own.note(key).get("looked") or abort(404)
    if not looked["sha256"]:
        abort(404)
    made = studio().picture_to_come(own.path(key), looked["sha256"])
    return send_file(made.absolute(), conditional=True)


@pages.get("/card/<token>/told")
def told(token: str) -> Any:
    """What went where, and what still lies on the tray."""
    own = card_tray.lying(studio().folder, token)
    left = own.looked()
    return render_template(
        "card_told.html",
        card=own,
        told=own.told(),
        fit=[each for each in left if each.fits],
        left=[each for each in left if not each.fits],
    )


# --- what takes long ----------------------------------------------------------------------------------


def _under_way(own: Card) -> Errand | None:
    every = under_way.errands().all()
    return next(
        (each for each in every if not each.is_over and each.held.get("card") == own.token),
        None,
    )


def _begin(own: Card, says: str, task: Callable[[Progress], Landing]) -> Errand:
    again = url_for("sorting.sort", token=own.token)
    return under_way.begin(
        str(table(FILE)["words"][says]), at_work(), task, again=again, held={"card": own.token}
    )


def _begin_to_look(own: Card) -> Errand:
    asked, words = studio(), table(FILE)["words"]
    where = url_for("sorting.sort", token=own.token)

    def task(progress: Progress) -> Landing:
        keys = own.not_looked_at()
        for done, key in enumerate(keys):
            progress(done, len(keys))
            _look(asked, own, key)
        frames = _frames(own)
        own.keep_doings([_as_data(each) for each in asked.doings(frames)])
        says = (
            words["sorted_out"].format(count=len(frames)) if frames else words["nothing_fits"]
        )
        return Landing(says=str(says), where=where)

    return _begin(own, "looking", task)


def _look(asked: Studio, own: Card, key: str) -> dict[str, Any]:
    """Look at one file, and draw it small while one is at it."""
    note = own.note(key)
    if not note.get("looked"):
        looked = asked.look_at(
            own.path(key),
            name=note["name"],
            key=key,
            folder=note["folder"],
            written=note["written"],
        )
        if looked.fits:
            try:
                asked.picture_to_come(own.path(key), looked.sha256)
            except BadData as refused:
                looked = replace(looked, refused=str(refused.args[0]), remedy=refused.remedy)
        own.keep_looked(looked)
        note = own.note(key)
    found: dict[str, Any] = note["looked"]
    return found


def _begin_to_take(own: Card, groups: list[Group]) -> Errand:
    asked, who, by = studio(), at_work(), reader()
    where = url_for("sorting.told", token=own.token)

    def task(progress: Progress) -> Landing:
        count = take_in(asked, own, groups, who=who, by=by, progress=progress)
        says = table(FILE)["words"]["taken"].format(count=count)
        return Landing(says=str(says), where=where)

    return _begin(own, "taking", task)


def _as_data(doing: Doing) -> dict[str, Any]:
    return {
        **asdict(doing),
        "day": doing.day.isoformat(),
        "begins": doing.begins.isoformat() if doing.begins else None,
        "ends": doing.ends.isoformat() if doing.ends else None,
    }


def _doing(data: dict[str, Any]) -> Doing:
    clock = {
        name: time.fromisoformat(data[name]) if data[name] else None
        for name in ("begins", "ends")
    }
    return Doing(**{**data, "day": date.fromisoformat(data["day"]), **clock})
