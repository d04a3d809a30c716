"""Records with what their rules forbid, written as if nobody had looked: a copy of a value for each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from made_records import ARTIST, CLIENT, full_job, full_work

from catalogue.record import Note, Number, Party, Work, new_id
from catalogue.record.rules import (
    Between,
    Documents,
    FieldRule,
    Form,
    Inside,
    InWork,
    Terms,
    _an_id,
    _says_something,
    fields_of,
    is_value,
    values_within,
)

STRANGER = "reach/other"
"""A word of ours that has no business on any value but a way to reach somebody."""

NOBODY = "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a99"


@dataclass(frozen=True)
class Forbidden:
    """One thing that one field of one kind of value must not hold."""

    kind: type
    field: str
    value: Any

    def __str__(self) -> str:
        return f"{self.kind.__name__}.{self.field} = {self.value!r}"


WITHOUT = {
    "Title.kind", "Size.what", "Part.kind", "Layer.kind", "Inscription.face", "Inscription.kind",
    "Region.photo", "Region.corners", "Sighting.state", "Response.seen", "PartyRole.role", "Note.kind",
    "Number.kind", "Reach.medium", "Job.reason", "Location.face", "Paper.kind", "Item.work",
    "Content.kind", "Risk.kind", "Risk.answer", "PlannedStep.kind", "Piece.kind", "Offer.status",
    "Consent.to", "Loan.work", "Valuation.work", "Valuation.basis", "Valuation.currency", "Cover.holder", "Facility.kind", "Facility.answer",
}  # fmt: skip
"""Fields that their mapping cannot even write empty: their words are taken out of the documents instead."""


def forbidden(kind: type) -> Iterator[Forbidden]:
    """Everything that the table of fields of a kind of value forbids."""
    for rule in fields_of(kind):
        for value in _values(rule):
            if value in (None, ()) and rule.label in WITHOUT:
                continue
            one = value if not rule.many or value in (None, ()) else (value,)
            yield Forbidden(kind, rule.name, one)


def _values(rule: FieldRule) -> Iterator[Any]:
    if rule.needed:
        yield () if rule.many else None
    for check in rule.checks:
        match check:
            case Between(least, most):
                step = 1 if rule.kind is int else 0.001
                yield from (least - step, most + max(step, most * 1e-6 // step * step))
                if rule.kind is int:
                    yield least + 0.5
            case Terms(groups):
                yield STRANGER if "reach" not in groups else "seen/unknown"
            case Documents():
                yield from (f"job/{NOBODY}", "nobody in particular")
            case Form():
                yield "not in this form"
            case Inside(_, must):
                yield "nonsense"
                if must:
                    yield NOBODY
            case InWork():
                yield "nonsense"
            case _ if check is _says_something:
                yield "  "
            case _ if check is _an_id and rule.name != "id":
                yield "nonsense"


def _whole(kind: type) -> Any:
    """A full record that has a value of this kind in it."""
    work = full_work()
    number = Number(kind="number/lot", text="84")
    for record in (work, full_job(work), CLIENT, ARTIST):
        held = record
        if isinstance(held, Party):
            held = _made(held, {"numbers": (number,)}, {})
        if any(type(each) is kind for each in values_within(held)):
            return held
    raise LookupError(kind)


def _made(value: Any, changed: dict[str, Any], ids: dict[str, str]) -> Any:
    """The same value with some fields changed and ids as `ids` says, held to no rule."""
    made = object.__new__(type(value))
    for each in fields(value):
        held = changed.get(each.name, getattr(value, each.name))
        if each.name == "id" and each.name not in changed:
            held = ids.get(held, held)
        object.__setattr__(made, each.name, held)
    return made


def _copied(value: Any, target: Any, changed: dict[str, Any], ids: dict[str, str]) -> Any:
    """A copy with fresh ids all through; `target` within it gets what is changed."""
    inner: dict[str, Any] = {}
    for each in fields(value):
        held = getattr(value, each.name)
        if isinstance(held, tuple) and held and is_value(type(held[0])):
            inner[each.name] = tuple(_copied(one, target, changed, ids) for one in held)
        elif held is not None and is_value(type(held)):
            inner[each.name] = _copied(held, target, changed, ids)
    own = getattr(value, "id", None)
    if own is not None:
        inner["id"] = ids.setdefault(own, new_id())
    return _made(value, {**inner, **(changed if value is target else {})}, {})


@dataclass(frozen=True)
class Forced:
    """A record that holds forbidden things; `within` are the ids of the copy that holds each."""

    record: Any
    within: dict[Forbidden, set[str]]


def forced(kind: type, wanted: list[Forbidden]) -> list[Forced]:
    """Records in which each of the forbidden things stands, as few as will do."""
    record = _whole(kind)
    if type(record) is kind:
        return [
            Forced(_made(record, {each.field: each.value}, {}), {each: {"", record.id}})
            for each in wanted
        ]
    field, top, target = _where(record, kind)
    single = not isinstance(getattr(record, field), tuple)
    within: dict[Forbidden, set[str]] = {}
    copies = []
    for each in wanted:
        ids: dict[str, str] = {}
        copies.append(_copied(top, target, {each.field: each.value}, ids))
        within[each] = set(ids.values())
    if single:
        return [
            Forced(_made(record, {field: copy}, {}), {each: within[each]})
            for copy, each in zip(copies, wanted, strict=True)
        ]
    kept = getattr(record, field) if kind.__name__ != "Item" else ()
    return [Forced(_made(_bare(record, field), {field: (*kept, *copies)}, {}), within)]


def _bare(record: Any, field: str) -> Any:
    """The record with no more than what the values of one field point at."""
    if not isinstance(record, Work):
        return record
    needed = {field, "id", "number", "parts", "checks", "photos", "layers"}
    empty = {each.name: () for each in fields(record) if each.name not in needed}
    empty.update({"made": None, "medium": None})
    return _made(record, empty, {})


def _where(record: Any, kind: type) -> tuple[str, Any, Any]:
    """The field of a record that leads to a value of this kind, its member there, and the value."""
    for each in reversed(fields(record)) if kind is Note else fields(record):
        held = getattr(record, each.name)
        for top in held if isinstance(held, tuple) else (held,):
            if top is not None and is_value(type(top)):
                for value in values_within(top):
                    if type(value) is kind and (kind is not Note or value is top):
                        return each.name, top, value
    raise LookupError(kind)
