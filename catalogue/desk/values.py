"""The pages on which the values of a work or a job are entered, each in the form that its own rules make.

A step of a treatment, a further observation of a finding and an option of a proposal have a page of their
own within the outer value.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for

from catalogue.desk import asking, drafts, forms
from catalogue.desk.asking import at_work, reader, studio
from catalogue.desk.blanks import Drawing, Sheet, fresh_out
from catalogue.desk.calling import called, names_within
from catalogue.desk.filling import Filling
from catalogue.desk.layout import APART, typed_fields
from catalogue.desk.person import ask_first, safe
from catalogue.desk.refusals import status
from catalogue.desk.stops import Told, answered, beyond, figures, of_step
from catalogue.desk.typed import Typed, written_out
from catalogue.errors import BadData, CatalogueError, NotOnFile, StaleRevision, Stopped
from catalogue.keeping import Kept
from catalogue.record import ConditionCheck, Job, Note, Step, Treatment, Work
from catalogue.record.rules import fields_of, is_value, pointers, values_within
from catalogue.terms import Caution, cautions, labelled, standing
from catalogue.wording import kind_word

pages = Blueprint("values", __name__)

ELSEWHERE = frozenset({"inscriptions", "titles", "attributions", "sizes"})
"""Values of a work that have forms of their own: on the reading page, in the folder."""

WITH_A_FILE = {"photos": "arriving.photos", "papers": "papers.new"}
"""Values that begin with a file, and the page that takes it in."""

PAGE_OF = {
    "layers": "leaves.check", "checks": "leaves.check", "findings": "leaves.check",
    "repairs": "leaves.treat", "tests": "leaves.treat", "treatments": "leaves.treat",
    "provenance": "leaves.argue", "exhibitions": "leaves.argue", "citations": "leaves.argue",
    "relations": "leaves.argue", "inquiries": "leaves.argue",
}  # fmt: skip
"""The page on which a value is shown; all others are in the folder."""


HAZARDOUS = frozenset({"repairs", "tests", "treatments", "proposals"})
"""Values whose form carries the cautions."""


OWNERS: dict[str, type] = {"work": Work, "job": Job}
A_WORK, A_JOB = {"of": "work"}, {"of": "job"}
"""Whose values are entered: what stands in the address says which."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where in a work or a job a value stands: in a field of it, or in one of a value there (`outer`)."""

    field: str
    outer: str | None = None
    inner: str | None = None
    owner: type = Work

    @property
    def kind(self) -> Any:
        """The kind of value that stands here."""
        own = _kind(self.owner, self.field)
        return _kind(own, self.inner) if self.inner else own

    def members(self, record: Any) -> tuple[Any, ...]:
        """The values that stand here. Raises `NotOnFile` when the outer one is gone."""
        held: tuple[Any, ...] = getattr(record, self.field)
        return getattr(_member(held, self.outer), self.inner) if self.inner else held

    def with_members(self, record: Any, members: tuple[Any, ...]) -> Any:
        """The record with these values here."""
        if self.inner:
            held = getattr(record, self.field)
            outer = replace(_member(held, self.outer), **{self.inner: members})
            members = tuple(outer if each.id == outer.id else each for each in held)
        changed: dict[str, Any] = {self.field: members}
        return replace(record, **changed)


@dataclass(frozen=True, slots=True)
class Order:
    """What the order of work says of the value in a form: after it was `refused`, or `looked` at.

    `figures` are those outside the studio's own ranges.
    """

    found: tuple[Told, ...] = ()
    figures: tuple[str, ...] = ()
    refused: bool = False
    looked: bool = False


NO_ORDER = Order()


def _kind(owner: type, name: str) -> Any:
    return next(each.kind for each in fields_of(owner) if each.name == name)


def _member(held: tuple[Any, ...], wanted: str | None) -> Any:
    for each in held:
        if each.id == wanted:
            return each
    raise NotOnFile("this is no longer there", remedy="load the page again")


def _spot(of: str, field: str, outer: UUID | None, inner: str | None) -> Spot:
    """The spot of an address; a page that says 404 for any other word."""
    owner = OWNERS[of]
    values = {each.name for each in fields_of(owner) if each.many and is_value(each.kind)}
    if field not in values - ELSEWHERE:
        abort(404)
    if inner and inner not in APART.get(_kind(owner, field).__name__, ()):
        abort(404)
    return Spot(field, str(outer) if outer else None, inner, owner)


def _read(of: str, uuid: UUID, revision: int | None = None) -> Kept[Any]:
    return studio().read(f"{of}/{uuid}", revision)


@pages.get("/work/<uuid:uuid>/enter/<field>", defaults=A_WORK)
@pages.get("/work/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>", defaults=A_WORK)
@pages.get("/jobs/<uuid:uuid>/enter/<field>", defaults=A_JOB, endpoint="new_of_job")
@pages.get(
    "/jobs/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>",
    defaults=A_JOB,
    endpoint="new_of_job",
)
def new(
    of: str, uuid: UUID, field: str, outer: UUID | None = None, inner: str | None = None
) -> Any:
    """Show the form for a new value."""
    if not at_work():
        return ask_first(request.full_path.rstrip("?"))
    if field in WITH_A_FILE and of == "work":
        return redirect(
            url_for(WITH_A_FILE[field], uuid=uuid, about=request.args.getlist("about"))
        )
    spot = _spot(of, field, outer, inner)
    half = drafts.taken_up()
    kept = _read(of, uuid, half.revision if half else None)
    spot.members(kept.record)
    if half:
        filling = Filling(studio(), kept.record, drafts.typed(half), reader())
        return _page(kept, spot, None, Drawing(filling))
    filling = Filling(studio(), kept.record, Typed({}), reader())
    filling.typed.add(fresh_out(spot.kind, "", filling))
    filling.typed.add(_next_in_order(spot, kept.record))
    filling.typed.add(_asked_for(spot))
    return _page(kept, spot, None, Drawing(filling))


@pages.get("/work/<uuid:uuid>/enter/<field>/<uuid:value>", defaults=A_WORK)
@pages.get("/work/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>/<uuid:value>", defaults=A_WORK)
@pages.get(
    "/jobs/<uuid:uuid>/enter/<field>/<uuid:value>", defaults=A_JOB, endpoint="again_of_job"
)
@pages.get(
    "/jobs/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>/<uuid:value>",
    defaults=A_JOB,
    endpoint="again_of_job",
)
def again(
    of: str,
    uuid: UUID,
    field: str,
    value: UUID,
    outer: UUID | None = None,
    inner: str | None = None,
) -> Any:
    """Show a value in its form."""
    if not at_work():
        return ask_first(request.path)
    spot = _spot(of, field, outer, inner)
    half = drafts.taken_up()
    kept = _read(of, uuid, half.revision if half else None)
    before = _member(spot.members(kept.record), str(value))
    if half:
        filling = Filling(studio(), kept.record, drafts.typed(half), reader())
        return _page(kept, spot, before, Drawing(filling))
    filling = Filling(studio(), kept.record, Typed({}), reader())
    filling.typed.add(written_out(spot.kind, before, "", filling.wording))
    return _page(kept, spot, before, Drawing(filling), _order(kept.record, before))


@pages.post("/work/<uuid:uuid>/enter/<field>", defaults=A_WORK)
@pages.post("/work/<uuid:uuid>/enter/<field>/<uuid:value>", defaults=A_WORK)
@pages.post("/work/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>", defaults=A_WORK)
@pages.post(
    "/work/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>/<uuid:value>", defaults=A_WORK
)
@pages.post("/jobs/<uuid:uuid>/enter/<field>", defaults=A_JOB)
@pages.post("/jobs/<uuid:uuid>/enter/<field>/<uuid:value>", defaults=A_JOB)
@pages.post("/jobs/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>", defaults=A_JOB)
@pages.post("/jobs/<uuid:uuid>/enter/<field>/<uuid:outer>/<inner>/<uuid:value>", defaults=A_JOB)
def save(
    of: str,
    uuid: UUID,
    field: str,
    value: UUID | None = None,
    outer: UUID | None = None,
    inner: str | None = None,
) -> Any:
    """Save a value, or take one out with the reason; whatever is refused, what was typed stays."""
    spot = _spot(of, field, outer, inner)
    kept = _read(of, uuid, forms.revision())
    members = spot.members(kept.record)
    before = _member(members, str(value)) if value else None
    filling = Filling(studio(), kept.record, Typed.of(request.form.lists()), reader())
    if forms.text("more"):
        return _page(kept, spot, before, Drawing(filling, more=forms.text("more") or ""))
    if spot.kind is Step:
        answered(filling.typed, studio().name_of(at_work()), studio().today().iso)
    changed, after = kept.record, None
    try:
        after, why = _told(filling, spot, before)
        changed = spot.with_members(kept.record, _placed(members, before, after))
        if forms.flag("look"):
            order = _order(_as_of_now(kept, spot, changed, after), after, looked=True)
            return _page(kept, spot, before, Drawing(filling), order)
        studio().save(
            changed,
            who=at_work(),
            why=why,
            read=kept,
            draft=drafts.of_form(),
            strangers=tuple(filling.strangers.values()),
        )
    except (StaleRevision, NotOnFile):
        raise
    except Stopped as refused:
        order = _order(_as_of_now(kept, spot, changed, after), after, refused)
        return _page(kept, spot, before, Drawing(filling), order), status(refused)
    except CatalogueError as refused:
        if not filling.errors:
            filling.blame(refused, spot.kind)
        return _page(kept, spot, before, Drawing(filling)), status(refused)
    flash(
        called(before if after is None else after), "taken out" if after is None else "entered"
    )
    return redirect(where(kept.record, spot.field, after.id if after is not None else None))


@pages.post("/work/<uuid:uuid>/release/<uuid:note>")
def release(uuid: UUID, note: UUID) -> Any:
    """Let the very text of a note leave the house, wherever in the work the note stands."""
    kept = asking.work(uuid, forms.revision())
    held = (each for each in values_within(kept.record) if isinstance(each, Note))
    before = next((each for each in held if each.id == str(note)), None)
    if before is None:
        raise NotOnFile("there is no such note to release")
    after = studio().release(before, by=studio().name_of(at_work()))
    changed = _with_note(kept.record, after)
    studio().save(changed, who=at_work(), why=f"release of {kept.record.number}", read=kept)
    flash("release", "saved")
    return redirect(safe(forms.text("next")))


def _with_note(value: Any, note: Note) -> Any:
    """The same value with this note in the place of the one it was."""
    if getattr(value, "id", None) == note.id:
        return note
    changed: dict[str, Any] = {}
    for rule in fields_of(value.__class__):
        held = getattr(value, rule.name)
        if not is_value(rule.kind) or not held:
            continue
        if rule.many:
            changed[rule.name] = tuple(_with_note(each, note) for each in held)
        else:
            changed[rule.name] = _with_note(held, note)
    return replace(value, **changed) if changed else value


def _told(filling: Filling, spot: Spot, before: Any) -> tuple[Any, str]:
    """The value that the form makes (None: it is to go) and why. Raises `BadData` when it makes none."""
    what = " ".join(
        filter(None, (kind_word(spot.kind.__name__).label, getattr(before, "number", None)))
    )
    reason = forms.text("why")
    if forms.flag("remove") and before is not None:
        if reason is None:
            filling.errors["why"] = "say why it is taken out; the history keeps both"
            raise BadData("a reason is needed")
        resting = _resting_on(filling.record, before)
        if resting:
            filling.errors[""] = (
                f"{', '.join(resting)} would hang in the air: change that first"
            )
            raise BadData("something rests on it")
        return None, f"{what} of {filling.record.number} taken out: {reason}"
    after = filling.value(spot.kind, "", before)
    if filling.taken_away and reason is None:
        filling.errors["why"] = "say why something is taken away; the history keeps both"
    if after is None or filling.errors:
        raise BadData("not saved yet")
    new = "" if before is not None else "new "
    said = f"{new}{what} of {filling.record.number}"
    return after, f"{said}: {reason}" if reason else said


def _resting_on(record: Any, value: Any) -> list[str]:
    """What cannot be without a value, by name: an observation without its check."""
    names = names_within(record, studio().name_of)
    gone = {each.id for each in values_within(value) if hasattr(each, "id")}
    held = (each for each in values_within(record) if getattr(each, "id", None) not in gone)
    return [
        names.get(getattr(each, "id", ""), kind_word(type(each).__name__).label)
        for each in held
        if any(pointer.rule.must and pointer.target in gone for pointer in pointers(each))
    ]


def _placed(members: tuple[Any, ...], before: Any, after: Any) -> tuple[Any, ...]:
    if before is None:
        return (*members, after)
    kept = (after if each.id == before.id else each for each in members)
    return tuple(each for each in kept if each is not None)


def _next_in_order(spot: Spot, record: Any) -> dict[str, list[str]]:
    """The next place in order, where the values here stand in one."""
    if "order" not in {each.name for each in typed_fields(spot.kind)}:
        return {}
    taken = (each.order or 0 for each in spot.members(record))
    return {"order": [str(max(taken, default=0) + 1)]}


def _asked_for(spot: Spot) -> dict[str, list[str]]:
    """What the link to a new form already knows: on which inscription, at which place."""
    names = {each.name for each in typed_fields(spot.kind)}
    return {
        path: request.args.getlist(path)
        for path in request.args
        if path.partition(".")[0] in names
    }


def where(record: Any, field: str, value: str | None) -> str:
    """The address at which a value of a work or a job is shown."""
    if isinstance(record, Job):
        return url_for("aside.job", uuid=record.id, _anchor=value or field)
    work: Work = record
    return url_for(PAGE_OF.get(field, "folder.work"), uuid=work.id, _anchor=value or field)


def _as_of_now(kept: Kept[Any], spot: Spot, changed: Any, after: Any) -> Any:
    """What was changed, put into the record as it stands on file now.

    Whoever mends what a stop misses does so on another page, and comes back to a form that was begun
    before: what is asked of the form is asked of what has been mended since.
    """
    newest = studio().read(kept.document_id)
    if after is None or newest.revision == kept.revision:
        return changed
    try:
        members = spot.members(newest.record)
        there = next((each for each in members if each.id == after.id), None)
        return spot.with_members(newest.record, _placed(members, there, after))
    except CatalogueError:
        return changed


def _order(
    record: Any, value: Any, refused: Stopped | None = None, *, looked: bool = False
) -> Order:
    """What the order of work says of a step, of every step of a treatment, or of a check."""
    if not isinstance(record, Work):
        return NO_ORDER
    if isinstance(value, Treatment):
        held: tuple[Any, ...] = value.steps
    else:
        held = (value,) if isinstance(value, Step | ConditionCheck) else ()
    found = [each for one in held for each in of_step(record, one.id)]
    if refused:
        found += beyond(record, refused, found)
    strange = figures(record, value) if value is not None else []
    return Order(tuple(found), tuple(strange), refused is not None, looked)


def _page(
    kept: Kept[Any], spot: Spot, before: Any, drawing: Drawing, order: Order = NO_ORDER
) -> str:
    kind = spot.kind
    word = kind_word(kind.__name__)
    outer = _member(getattr(kept.record, spot.field), spot.outer) if spot.outer else None
    sheet = Sheet(
        prefix="",
        own=drawing.filling.typed.one("id"),
        heading=called(before, outer) if before is not None else f"New {word.label}",
        parts=drawing.sheet(kind, "", before, drawing.filling.typed),
        kept=before is not None,
    )
    return render_template(
        "enter.html",
        record=kept.record,
        is_job=isinstance(kept.record, Job),
        revision=kept.revision,
        sheet=sheet,
        outer=called(outer) if outer is not None else "",
        hint=word.hint,
        drawing=drawing,
        errors=drawing.filling.errors,
        order=order,
        is_step=kind is Step,
        why=drawing.filling.typed.one("why"),
        within=_within(kept.record, spot, before),
        back=where(kept.record, spot.field, before.id if before is not None else None),
        place=PAGE_OF.get(spot.field, "folder.work"),
        cautions=_cautions(_named(drawing.filling.typed)) if spot.field in HAZARDOUS else (),
        sheets=studio().data_sheets(_named(drawing.filling.typed))
        if spot.field in HAZARDOUS
        else (),
    )


def _named(typed: Typed) -> set[str]:
    """The terms that a form names, by key or by word."""
    texts = {text.strip() for held in typed.held.values() for text in held if len(text) < 80}
    words = (labelled(text, name) for text in texts for name in ("material", "step", "test"))
    return {*texts, *(each.key for each in words if each)}


def _cautions(named: set[str]) -> tuple[Caution, ...]:
    """What to mind about what the form names; the standing words in any case."""
    return cautions(named) or standing()


def _within(record: Any, spot: Spot, before: Any) -> tuple[str, list[tuple[str, str]]] | None:
    """The values that have a page of their own within this one: the field, [(name, address)]."""
    if before is None or spot.kind.__name__ not in APART:
        return None
    (inner,) = APART[spot.kind.__name__]
    members = getattr(before, inner)
    if inner == "observations":
        members = record.course(before)
    page = "values.new_of_job" if isinstance(record, Job) else "values.new"
    address = url_for(page, uuid=record.id, field=spot.field, outer=before.id, inner=inner)
    return inner, [(called(each, before), f"{address}/{each.id}") for each in members] + [
        ("", address)
    ]
