"""A card of photographs handed over at once: laid on the tray, sorted by time onto works, taken in.

What takes long (looking at every file, taking in) goes on under way; the page of the card leads there.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from functools import lru_cache
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
from markupsafe import Markup

from catalogue.card import Looked
from catalogue.desk import card_tray, forms, under_way
from catalogue.desk.asking import at_work, studio
from catalogue.desk.card_errands import (
    begin_to_look,
    begin_to_take,
    doing,
    going_on,
    is_over_soon,
    look,
)
from catalogue.desk.card_thrown import without
from catalogue.desk.card_tray import Card
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.desk.sorted_onto import FACTS, Typed, groups_chosen
from catalogue.errors import BadData, CatalogueError
from catalogue.sittings import (
    Sitting,
    proposed,
    read_off,
    shifted,
    sittings,
)
from catalogue.terms import group

pages = Blueprint("sorting", __name__)

FIELDS: Final = ("work", "title", *FACTS, *(f"all-{name}" for name in FACTS))
"""What is said of a photograph, or of the sitting that begins with it."""
A_SHEET: Final = 60
"""So many photographs are shown on one page, where whole sittings allow it."""
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
                looked = look(studio(), own, key)
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
    going = going_on(own)
    if going:
        return redirect(under_way.page_of(going))
    if own.not_looked_at() or own.doings() is None:
        begun = begin_to_look(own)
        if own.not_looked_at() or not is_over_soon(begun):
            return redirect(under_way.page_of(begun))
    return _page(own)


def _page(own: Card, refused: CatalogueError | None = None) -> Any:
    sorting = own.sorting()
    found = own.looked()
    looked = {each.key: each for each in found}
    known = [doing(each) for each in own.doings() or ()]
    sheets = _sheets(_parted(found, sorting))
    sheet = min(max(request.values.get("sheet", 1, int), 1), max(len(sheets), 1))
    sorted_out = [proposed(each, known) for each in (sheets[sheet - 1] if sheets else ())]
    page = render_template(
        "card_sort.html",
        card=own,
        sittings=sorted_out,
        sheet=sheet,
        sheets=len(sheets),
        options=options,
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


def _parted(found: list[Looked], sorting: dict[str, Any]) -> tuple[Sitting, ...]:
    frames = shifted((each.frame for each in found if each.fits), sorting["ahead"])
    return sittings(frames, cuts=sorting["cuts"], joins=sorting["joins"])


def _sheets(sorted_out: Iterable[Sitting]) -> list[list[Sitting]]:
    """Whole sittings on sheets of some sixty photographs each; a longer one has a sheet of its own."""
    sheets: list[list[Sitting]] = []
    for sitting in sorted_out:
        held = sum(len(each.frames) for each in sheets[-1]) if sheets else A_SHEET
        if held + len(sitting.frames) > A_SHEET:
            sheets.append([])
        sheets[-1].append(sitting)
    return sheets


@lru_cache(maxsize=512)
def options(name: str, current: str, empty: str) -> Markup:
    """The choices of a field; a sheet repeats the same ones for every photograph."""
    rows = [("", empty), *((each.key, each.label) for each in group(name))]
    row = Markup('<option value="{}"{}>{}</option>')
    return Markup("").join(
        row.format(key, Markup(" selected") if key == current else "", label)
        for key, label in rows
    )


@pages.post("/card/<token>")
def change(token: str) -> Any:
    """Keep what was chosen on the page; then part or join, put the clock right, take in or throw away."""
    own = card_tray.lying(studio().folder, token)
    sheet = request.form.get("sheet", 1, int)
    onward = redirect(url_for("sorting.sort", token=token, sheet=sheet), code=303)
    if forms.flag("throw_away"):
        own.clear()
        return redirect(url_for("sorting.hand_over"), code=303)
    sorting = own.sorting()
    keys = set(own.keys())
    typed = {
        name: values for name, values in request.form.lists() if _is_of_the_page(name, keys)
    }
    own.keep_sorting(typed=_typed_so_far(sorting["typed"], typed))
    thrown = forms.text("throw") or ""
    if thrown in keys:
        parted = [each.frames for each in _parted(own.looked(), own.sorting())]
        own.keep_sorting(**without(own.sorting(), parted, thrown))
        own.drop([thrown])
        return onward
    cut, join = forms.text("cut"), forms.text("join")
    if (cut or join) in keys:
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
            found = own.looked()
            parted = [each.frames for each in _parted(found, sorting)]
            fit = {each.key: each for each in found if each.fits}
            groups = groups_chosen(studio(), typed, parted, fit)
            begun = begin_to_take(own, groups)
            if is_over_soon(begun):
                return redirect(url_for("sorting.told", token=token), code=303)
            return redirect(under_way.page_of(begun), code=303)
    except CatalogueError as refused:
        return _page(own, refused)
    return onward


def _is_of_the_page(name: str, keys: Container[str]) -> bool:
    """Whether a field is one of the page's own: of all of it, or of a photograph on the tray."""
    field, _, key = name.rpartition("-")
    return name in ("ahead", "shown", "take") or (field in FIELDS and key in keys)


def _typed_so_far(before: Typed, now: Typed) -> dict[str, Any]:
    """What was typed on all sheets: those that this form shows say anew what is ticked on them."""
    shown = set(now.get("shown", ()))
    both = {**before, **now}
    for name in ("shown", "take"):
        both[name] = [
            *(each for each in before.get(name, ()) if each not in shown),
            *now.get(name, ()),
        ]
    return both


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
