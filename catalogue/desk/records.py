"""Whole records in one form each: a commission, a person or firm."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request

from catalogue.desk import drafts, forms
from catalogue.desk.asking import at_work, page_of, reader, studio
from catalogue.desk.blanks import Drawing, Sheet, fresh_out
from catalogue.desk.filling import Filling
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.desk.typed import Typed, written_out
from catalogue.errors import BadData, CatalogueError, NotOnFile, StaleRevision
from catalogue.keeping import Kept, subject
from catalogue.record import Item, Job, Party, PartyName, Work
from catalogue.wording import kind_word

pages = Blueprint("records", __name__)

KINDS: dict[str, type] = {"job": Job, "party": Party}
NOTHING: dict[str, Any] = {
    "job": Job(reason="reason/treatment"),
    "party": Party(kind="person", names=(PartyName(text="-"),)),
}
"""What a new one is before anything is said: nothing in it is kept."""


@pages.get("/jobs/new", defaults={"kind": "job"}, endpoint="new_job")
@pages.get("/people/new", defaults={"kind": "party"}, endpoint="new_party")
def new(kind: str) -> Any:
    """Show the form of a new commission, or of a new person or firm."""
    if not at_work():
        return ask_first(request.full_path.rstrip("?"))
    half = drafts.taken_up()
    if half:
        return _page(
            kind, None, Drawing(Filling(studio(), NOTHING[kind], drafts.typed(half), reader()))
        )
    filling = Filling(studio(), NOTHING[kind], Typed({}), reader())
    filling.typed.add(fresh_out(KINDS[kind], "", filling))
    for number in request.args.getlist("work")[:1] if kind == "job" else ():
        filling.typed.add(fresh_out(Item, "items.0.", filling) | {"items.0.work": [number]})
    return _page(kind, None, Drawing(filling))


@pages.get("/jobs/<uuid:uuid>/edit", defaults={"kind": "job"}, endpoint="job")
@pages.get("/people/<uuid:uuid>/edit", defaults={"kind": "party"}, endpoint="party")
def again(kind: str, uuid: UUID) -> Any:
    """Show a commission, a person or a firm in its form."""
    if not at_work():
        return ask_first(request.path)
    half = drafts.taken_up()
    kept = studio().read(f"{kind}/{uuid}", half.revision if half else None)
    if half:
        return _page(
            kind, kept, Drawing(Filling(studio(), kept.record, drafts.typed(half), reader()))
        )
    filling = Filling(studio(), kept.record, Typed({}), reader())
    filling.typed.add(written_out(KINDS[kind], kept.record, "", filling.wording))
    return _page(kind, kept, Drawing(filling))


@pages.post("/jobs/new", defaults={"kind": "job"})
@pages.post("/people/new", defaults={"kind": "party"})
@pages.post("/jobs/<uuid:uuid>/edit", defaults={"kind": "job"})
@pages.post("/people/<uuid:uuid>/edit", defaults={"kind": "party"})
def save(kind: str, uuid: UUID | None = None) -> Any:
    """Save a record as its form says; whatever is refused, what was typed stays."""
    kept = studio().read(f"{kind}/{uuid}", forms.revision()) if uuid else None
    record = kept.record if kept else NOTHING[kind]
    filling = Filling(studio(), record, Typed.of(request.form.lists()), reader())
    if forms.text("more"):
        return _page(kind, kept, Drawing(filling, more=forms.text("more") or ""))
    try:
        after = _told(filling, KINDS[kind], kept)
        reason = forms.text("why")
        what = subject("edit" if kept else "new", after)
        saved = studio().save(
            after,
            who=at_work(),
            why=f"{what}: {reason}" if reason else what,
            read=kept,
            draft=drafts.of_form(),
            strangers=tuple(filling.strangers.values()),
        )
    except (StaleRevision, NotOnFile):
        raise
    except CatalogueError as refused:
        if not filling.errors:
            filling.blame(refused, KINDS[kind])
        return _page(kind, kept, Drawing(filling)), status(refused)
    flash(studio().name_of(saved.document_id), "entered")
    return redirect(page_of(saved.document_id) or "/")


def _told(filling: Filling, kind: type, kept: Kept[Any] | None) -> Any:
    """The record that the form makes. Raises `BadData` when it makes none."""
    after = filling.value(kind, "", kept.record if kept else None)
    if filling.taken_away and forms.text("why") is None:
        filling.errors["why"] = "say why something is taken away; the history keeps both"
    if after is None or filling.errors:
        raise BadData("not saved yet")
    if isinstance(after, Job):
        for item in after.items:
            _must_be_a_work(item)
    return after


def _must_be_a_work(item: Item) -> None:
    own = studio().at(item.work)
    if own is None or not isinstance(studio().read(own).record, Work):
        raise BadData("Item.work: this work is not on file")


def _page(kind: str, kept: Kept[Any] | None, drawing: Drawing) -> str:
    filling = drawing.filling
    word = kind_word(KINDS[kind].__name__)
    before = kept.record if kept else None
    name = studio().name_of(kept.document_id) if kept else ""
    return render_template(
        "record.html",
        kind=kind,
        kept=kept,
        revision=kept.revision if kept else 0,
        sheet=Sheet(
            prefix="",
            own=filling.typed.one("id"),
            heading=name or f"New {word.label}",
            parts=drawing.sheet(KINDS[kind], "", before, filling.typed),
            kept=kept is not None,
        ),
        hint=word.hint,
        drawing=drawing,
        errors=filling.errors,
        why=filling.typed.one("why"),
        back=page_of(kept.document_id) if kept else ("/jobs" if kind == "job" else "/people"),
    )
