"""New works and their photographs: all that was chosen is taken in, or nothing, with the reasons."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for

from catalogue.argument.photo_set import missing
from catalogue.desk import asking, forms, under_way
from catalogue.desk.asking import at_work, reader, studio
from catalogue.desk.calling import naming
from catalogue.desk.card_errands import made_ready
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.errors import BadData, BadPicture, Busy, CatalogueError
from catalogue.places import table
from catalogue.record import Photo
from catalogue.sittings import FILE

pages = Blueprint("arriving", __name__)

ROWS = (
    ("view/whole", "face/front"),
    ("view/whole", "face/back"),
    ("view/detail", "face/back"),
    ("view/detail", "face/stretcher-bar"),
)
"""What the rows of the form begin with; each takes as many files as were chosen in it."""


class Unfit(BadData):
    """Some of the files cannot be taken in; `refusals` says which and why."""

    def __init__(self, refusals: list[BadPicture]) -> None:
        super().__init__("nothing was saved")
        self.refusals = refusals


@pages.get("/work/new")
def new() -> Any:
    """Ask what is known at the door."""
    if not at_work():
        return ask_first(request.path)
    return _new_page(None)


@pages.post("/work/new")
def take_in() -> Any:
    """Save a new work with its photos, or nothing."""
    try:
        title = forms.text("title")
        if title is None:
            raise BadData(
                "a new work needs a title", remedy="if only a description: Harbour at dusk"
            )
        kept = studio().new_work(
            title=title,
            artist=forms.text("artist"),
            made=forms.text("made"),
            who=at_work(),
            photos=_photos(),
        )
    except CatalogueError as refused:
        return _new_page(refused), status(refused)
    make_ready(photo.sha256 for photo in kept.record.photos)
    flash(kept.record.number or "", "new work")
    return onward_to(url_for("folder.work", uuid=kept.record.id))


def _new_page(refused: CatalogueError | None) -> str:
    return render_template("new.html", rows=ROWS, typed=request.form, refused=refused)


@pages.get("/work/<uuid:uuid>/photos")
def photos(uuid: UUID) -> Any:
    """Ask for further photos of a work."""
    if not at_work():
        return ask_first(request.path)
    return _photos_page(uuid, None)


@pages.post("/work/<uuid:uuid>/photos")
def add(uuid: UUID) -> Any:
    """Save further photos of a work, or none of them."""
    try:
        chosen = _photos()
        if not chosen:
            raise BadData("no photo was chosen", remedy="choose one or more files")
        studio().add_photos(asking.work(uuid, forms.revision()), chosen, who=at_work())
    except CatalogueError as refused:
        return _photos_page(uuid, refused), status(refused)
    make_ready(photo.sha256 for photo, _ in chosen)
    flash(str(len(chosen)), "photos")
    return onward_to(url_for("folder.work", uuid=uuid, _anchor="photos"))


def _photos_page(uuid: UUID, refused: CatalogueError | None) -> str:
    kept = asking.work(uuid)
    return render_template(
        "photos.html",
        work=kept.record,
        revision=kept.revision,
        rows=ROWS,
        refused=refused,
        attached=naming(kept.record, studio().name_of),
        lacking=missing(kept.record),
    )


def onward_to(page: str) -> Any:
    """The way to the next page; a script that watched the files travel goes there by itself."""
    return {"onward": page} if request.headers.get("X-Onward") else redirect(page)


def make_ready(sha256s: Iterable[str | None]) -> None:
    """Have the sizes and tiles of new photographs made under way, so that they can be read at once."""
    wanted = [each for each in sha256s if each]
    if not wanted:
        return
    says = str(table(FILE)["words"]["ready"])
    with suppress(Busy):  # they are made when they are first asked for, then
        under_way.begin(says, at_work(), made_ready(studio(), wanted))


def _photos() -> list[tuple[Photo, bytes]]:
    """Every file that was chosen, looked at; all refusals are gathered before anything is said.

    Raises `Unfit`.
    """
    fit: list[tuple[Photo, bytes]] = []
    unfit: list[BadPicture] = []
    for row in range(len(ROWS)):
        facts = {
            name: forms.text(f"{name}-{row}") for name in ("view", "face", "light", "stage")
        }
        given: dict[str, Any] = {name: value for name, value in facts.items() if value}
        given["about"] = tuple(request.form.getlist("about"))
        for file in request.files.getlist(f"files-{row}"):
            if not file.filename:
                continue
            content = file.read()
            try:
                photo = studio().taken_in(content, name=file.filename, by=reader(), **given)
            except BadPicture as refused:
                unfit.append(refused)
            else:
                fit.append((photo, content))
    if unfit:
        raise Unfit(unfit)
    return fit
