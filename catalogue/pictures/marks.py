"""What a condition map shows: every value of a work that has a place, and why the others are not drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from catalogue.argument.covering import side_of
from catalogue.pictures.signs import Kind
from catalogue.pictures.words import table
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Location,
    Observation,
    PriorRepair,
    Work,
)
from catalogue.surface import Box, Shape, Sheet, in_words
from catalogue.surface.words import off_in_words
from catalogue.terms import label, within

SIDES = ("front", "back")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One value of a work on its map.

    `called` is its letter and number, `what` it is in words, `where` the same for its place. `shape`
    is in mm as seen on `side`, None where it is not drawn: `left_out` then says why. A `faint` mark
    is no longer there, or was not looked at at the check whose map it is.
    """

    value: str
    kind: Kind
    called: str
    what: str
    where: str
    side: str
    shape: Shape | None = None
    left_out: str = ""
    faint: bool = False

    @property
    def said(self) -> str:
        """All of it in one line."""
        told: str = table("map")["here"]
        return told.format(called=self.called, what=self.what, where=self.where)


def marks(work: Work, check: ConditionCheck | None = None) -> tuple[Mark, ...]:
    """Every inscription, finding, repair, test and step of a work as it is on its map.

    With a check, findings are as they were on that day: what was found later is not there yet, what
    was not looked at is faint.
    """
    every = (
        *(_inscription(work, each) for each in work.inscriptions),
        *_findings(work, check),
        *(_repair(work, each) for each in work.repairs),
        *(
            _located(work, each, "test", each.number or "X", each.location)
            for each in work.tests
        ),
        *_steps(work),
    )
    return tuple(every)


def placed(work: Work, shape: Shape | Box | None, face: str, called: str = "") -> Mark:
    """A planned region as a mark: a patch, a lining that somebody thinks of."""
    told = table("map")["planned"]
    whole = _whole(shape, work.sheet)
    return _mark(work, "planned", "planned", called or told, told, face, whole)


def _whole(shape: Shape | Box | None, sheet: Sheet | None) -> Shape | None:
    place = shape or (sheet.whole if sheet else None)
    return Shape.of_box(place) if isinstance(place, Box) else place


def _inscription(work: Work, each: Inscription) -> Mark:
    shape = Shape.of_box(each.place) if each.place else None
    return _mark(
        work, each.id, "inscription", each.number or "I", label(each.kind), each.face, shape,
        "", _gone(each),
    )  # fmt: skip


def _repair(work: Work, each: PriorRepair) -> Mark:
    return _located(work, each, "repair", each.number or "R", each.location, _gone(each))


def _steps(work: Work) -> Iterator[Mark]:
    for treatment in work.treatments:
        for step in treatment.steps:
            if step.location is not None:
                called = treatment.label(step)
                yield _located(work, step, "treatment", called, step.location)


def _findings(work: Work, check: ConditionCheck | None) -> Iterator[Mark]:
    for finding in work.findings:
        course = [
            each
            for each in work.course(finding)
            if check is None or work.check_of(each).rank <= check.rank
        ]
        if not course:
            continue
        last = course[-1]
        unseen = check is not None and last.check != check.id
        yield _located(
            work, finding, "finding", finding.number or "F", _last_place(course, finding),
            table("map")["not_looked_at"] if unseen else "", _as_seen(finding, last),
        )  # fmt: skip


def _last_place(course: Iterable[Observation], finding: Finding) -> Location | None:
    """Where it was last measured; before that, where it was measured later."""
    known = [each.location for each in course if each.location and each.location.shape]
    later = (each.location for each in finding.observations if each.location)
    return known[-1] if known else next(later, None)


def _as_seen(finding: Finding, seen: Observation) -> str:
    told = (
        label(finding.kind),
        *(label(each) for each in (seen.severity, seen.change) if each),
    )
    return ", ".join(told)


def _located(
    work: Work,
    value: Any,
    kind: Kind,
    called: str,
    location: Location | None,
    faint: str = "",
    what: str = "",
) -> Mark:
    face = location.face if location else ""
    shape = location.on_its_face(work.sheet) if location else None
    seen = location.seen if location and location.shape and not shape else ""
    what = what or label(value.kind)
    return _mark(work, value.id, kind, called, what, face, shape, seen, faint)


def _mark(
    work: Work,
    value: str,
    kind: Kind,
    called: str,
    what: str,
    face: str,
    shape: Shape | None,
    seen: str = "",
    faint: str = "",
) -> Mark:
    """A mark; `seen` is how its place was seen where that leaves open how it lies on its face."""
    side, sheet = side_of(face) if face else "", work.sheet
    left_out = _left_out(face, side, shape, seen, sheet)
    where = label(face) if face else ""
    if shape is not None and side in SIDES and not left_out:
        words = in_words(shape, sheet, side)
        where = words if where == side else f"{where}; {words}"
    return Mark(
        value=value,
        kind=kind,
        called=called,
        what=", ".join(filter(None, (what, faint))),
        where=where or left_out,
        side=side,
        shape=None if left_out else shape,
        left_out=left_out,
        faint=bool(faint),
    )


def _left_out(face: str, side: str, shape: Shape | None, seen: str, sheet: Sheet | None) -> str:
    """Why something is not drawn, "" where it is."""
    why: dict[str, str] = table("map")["left_out"]
    if seen:
        return why["seen"].format(seen=label(seen))
    if shape is None or not face:
        return why["no_place"]
    if side not in SIDES or face in table("map")["apart"]:
        return why["apart"].format(face=label(face))
    off = off_in_words(shape, sheet) if sheet else None
    return why["outside"].format(why=off) if off else ""


def _gone(each: Inscription | PriorRepair) -> str:
    """The words for what is no longer there, "" for what is."""
    state = each.latest()
    gone = state is not None and within(state.state, *table("map")["gone_states"])
    return table("map")["gone"] if gone else ""
