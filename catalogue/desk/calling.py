"""What to call the values of a record on a page: "F1 tear", "T1.3 patch", "layer 2: ground"."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from catalogue.record import (
    Address,
    Approval,
    Attribution,
    Citation,
    ConditionCheck,
    Consent,
    Content,
    Cover,
    Departure,
    Exhibition,
    Facility,
    Hours,
    Item,
    Layer,
    Loan,
    Movement,
    Number,
    Observation,
    Offer,
    Option,
    Outlay,
    Override,
    Paper,
    PartyName,
    PartyRole,
    Photo,
    Piece,
    PlannedStep,
    Risk,
    Statement,
    Step,
    Title,
    Treatment,
    Valuation,
    Work,
    is_id,
)
from catalogue.record.rules import values_within
from catalogue.terms import label
from catalogue.wording import Naming, kind_word, said

NameOf = Callable[[str], str]
"""What to call a document by its id."""


def called(value: Any, outer: Any = None, name_of: NameOf = str) -> str:
    """What to call one value; `outer` is the value that it belongs to, if any.

    >>> from catalogue.record import Part, Step, Treatment
    >>> patch = Step(order=3, kind="step/patch")
    >>> called(Part(kind="part/stretcher")), called(patch, Treatment(number="T1", steps=(patch,)))
    ('stretcher', 'T1.3 patching')
    """
    number = getattr(value, "number", None) or ""
    match value:
        case Step():
            place = outer.label(value) if isinstance(outer, Treatment) else str(value.order)
            return f"{place} {label(value.kind)}"
        case Layer():
            which = f"layer {value.position}" if value.position else "layer"
            return f"{which}: {label(value.kind)}"
        case Treatment():
            return f"{number} {value.title or label(value.aim or 'activity/treatment')}".strip()
        case ConditionCheck():
            return f"{number} {label(value.occasion)}, {said(value.on)}".strip()
        case Paper() | Exhibition():
            return f"{number} {value.title}".strip()
        case Citation() | Address() | PartyName() | Number() | Title():
            return value.text if len(value.text) <= 60 else f"{value.text[:59]}…"
        case Photo():
            return f"{number} {label(value.face or value.view)}".strip()
        case Movement():
            return f"to {value.to}" if value.to else f"with {name_of(value.keeper or '')}"
        case Attribution():
            maker = name_of(value.artist) if value.artist else ""
            return value.written or f"{label(value.qualifier)} {maker}".strip()
        case PartyRole():
            return value.written or name_of(value.party or "")
        case Item():
            return name_of(value.work)
        case Consent():
            return f"{label(value.to)}, {said(value.on)}"
        case Content():
            return f"{value.count} × {label(value.kind)}"
        case Risk():
            return f"{label(value.kind)}: {label(value.answer)}"
        case Option():
            return f"{value.order} {value.title}"
        case PlannedStep():
            return f"{value.order} {label(value.kind)}"
        case Approval():
            return f"approval of {said(value.on)}"
        case Hours():
            return f"{value.hours:g} h, {said(value.on)}"
        case Offer():
            return f"{name_of(value.work)}: {label(value.status)}"
        case Loan():
            return value.title or name_of(value.borrower or value.work)
        case Valuation():
            return f"{label(value.basis)}, {value.low:,.0f} {label(value.currency)}"
        case Cover():
            return f"{label(value.holder)}, {said(value.since) or '…'} to {said(value.until) or '…'}"
        case Facility():
            return f"{label(value.kind)}: {label(value.answer)}"
        case Outlay() | Departure() | Piece():
            return f"{number} {value.what}".strip()
        case Override():
            return f"against {value.rule}"
        case Statement():
            return f"{label(value.kind)} “{value.written}”"
    return f"{number} {_sort(value)}".strip()


def _sort(value: Any) -> str:
    """Of what sort a value is, by the term that says so; else what kind of value."""
    for field in ("kind", "what", "material", "layer", "state", "medium"):
        term = getattr(value, field, None)
        if term:
            return label(term)
    return kind_word(type(value).__name__).label


def names_within(record: Any, name_of: NameOf = str) -> dict[str, str]:
    """What each value of a record is called, by its id, in the record's own order."""
    outer: dict[str, Any] = {}
    found: dict[str, str] = {}
    for value in values_within(record):
        for inner in _inner(value):
            outer[inner.id] = value
        own = getattr(value, "id", None)
        if own is not None and value is not record:
            found[own] = called(value, outer.get(own), name_of)
    if isinstance(record, Work):
        for finding in record.findings:
            for each in finding.observations:
                found[each.id] = f"{called(finding)} at {_check(record, each)}"
    return found


def _inner(value: Any) -> tuple[Any, ...]:
    return value.steps if isinstance(value, Treatment) else ()


def _check(work: Work, observation: Observation) -> str:
    check = work.check_of(observation)
    return check.number or said(check.on)


def naming(record: Any, name_of: NameOf) -> Naming:
    """What to call any id on a page about a record: a value's within it, else a document's."""
    names = names_within(record, name_of)

    def name(named: str) -> str:
        return names.get(named) or (
            "something no longer here" if is_id(named) else name_of(named)
        )

    return name


ATTACHABLE = (
    "inscriptions", "findings", "repairs", "treatments", "tests", "checks", "provenance", "exhibitions",
    "citations", "inquiries", "layers", "parts", "relations", "movements", "attributions", "sizes", "photos",
    "papers",
)  # fmt: skip
"""What a photo or a paper may be about, in the order in which it is offered."""


def attachable(
    record: Any, names: Mapping[str, str]
) -> list[tuple[str, list[tuple[str, str]]]]:
    """Every value that a photo or a paper may be about, by these names: (heading, [(id, name)])."""
    groups: list[tuple[str, list[tuple[str, str]]]] = []
    for field in ATTACHABLE:
        members: Any = getattr(record, field, ())
        listed = [(each.id, names[each.id]) for each in members]
        if field == "treatments":
            listed = [
                (each.id, names[each.id]) for outer in members for each in (outer, *outer.steps)
            ]
        if listed:
            groups.append((kind_word(type(members[0]).__name__).many, listed))
    items = getattr(record, "items", ())
    if items:
        groups.append((kind_word("Item").many, [(each.id, names[each.id]) for each in items]))
    return groups


def of_kinds(
    record: Any, kinds: tuple[str, ...], names: Mapping[str, str]
) -> list[tuple[str, list[tuple[str, str]]]]:
    """The values of these kinds in a record, by these names: (heading, [(id, name)])."""
    found: dict[str, list[tuple[str, str]]] = {kind: [] for kind in kinds}
    for value in values_within(record):
        kind = type(value).__name__
        if kind in found:
            found[kind].append((value.id, names[value.id]))
    return [(kind_word(kind).many, listed) for kind, listed in found.items() if listed]
