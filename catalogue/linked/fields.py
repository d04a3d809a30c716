"""Mappings written down as tables: which field of a value stands under which key of its node.

A `Form` describes a value as a node and recognises it again. `form` makes one from a table of
fields, so that both directions are said once and cannot drift apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import MISSING, dataclass, fields
from typing import Any, Generic, TypeVar

from catalogue.linked import concepts, names, spans
from catalogue.linked.node import (
    Misplaced,
    actor,
    actor_of,
    is_a,
    many,
    node,
    nodes,
    one,
    own_id,
    recognised,
    text,
    truth,
    whole,
)
from catalogue.linked.node import number as number_under
from catalogue.linked.text import Node
from catalogue.measure import Day
from catalogue.record import Location
from catalogue.surface import Shape

V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class Field:
    """One field both ways: what it writes on the node `own` ("#<uuid>"), and what it reads there."""

    describe: Callable[[Any, str], Node]
    recognise: Callable[[Node], Any]


@dataclass(frozen=True, slots=True)
class Form(Generic[V]):
    """One kind of value both ways. `wanted` tells its nodes from those of others."""

    describe: Callable[[V], Node]
    wanted: Callable[[Node], bool]
    recognise: Callable[[Node], V]

    def describe_all(self, values: Iterable[V]) -> list[Node]:
        """The nodes of several values."""
        return [self.describe(value) for value in values]

    def recognise_all(self, here: Node, key: str) -> tuple[V, ...]:
        """The values among the nodes under a key; what is not one of them is left alone."""
        return tuple(
            recognised(found, self.recognise)
            for found in nodes(here, key)
            if self.wanted(found)
        )


def form(kind: type[V], node_type: str, mark: str | None, table: dict[str, Field]) -> Form[V]:
    """The form of a kind of value whose nodes have one type, and the class `mark` where it is given.

    A node that lacks a field which the value cannot do without is somebody else's way of saying
    something: it is left alone.
    """
    needed = [
        each.name
        for each in fields(kind)  # type: ignore[arg-type]
        if each.name != "id" and each.default is MISSING and each.default_factory is MISSING
    ]

    def describe(value: V) -> Node:
        own = f"#{value.id}"  # type: ignore[attr-defined]
        found: Node = {"id": own, "type": node_type}
        if mark:
            found["classified_as"] = [concepts.describe(mark)]
        for name, field in table.items():
            held = getattr(value, name)
            if held is not None and held != ():
                join(found, field.describe(held, own))
        return found

    def wanted(here: Node) -> bool:
        address = str(here.get("id", ""))
        return (
            is_a(here, node_type)
            and address.startswith("#")
            and "/" not in address
            and (mark is None or mark in _classes(here, mark.partition("/")[0]))
            and all(table[name].recognise(here) not in (None, ()) for name in needed)
        )

    def recognise(here: Node) -> V:
        said = {name: field.recognise(here) for name, field in table.items()}
        known = {name: held for name, held in said.items() if held is not None and held != ()}
        return kind(id=own_id(here), **known)  # type: ignore[call-arg]

    return Form(describe, wanted, recognise)


def join(here: Node, more: Node) -> None:
    """Write more on a node: lists grow, nodes are completed."""
    for key, value in more.items():
        held = here.get(key)
        if isinstance(held, list) and isinstance(value, list):
            here[key] = held + value
        elif isinstance(held, dict) and isinstance(value, dict):
            join(held, value)
        else:
            here[key] = value


def _classes(here: Node, group: str) -> set[str]:
    return {
        term
        for each in nodes(here, "classified_as")
        if (term := concepts.recognise(each, group)) is not None
    }


# --- words, numbers and days on the node itself --------------------------------------------------


def words(key: str) -> Field:
    """A text under a key."""
    return Field(lambda held, _: {key: held}, lambda here: text(here, key))


def texts(key: str) -> Field:
    """Several texts under a key."""

    def recognise(here: Node) -> tuple[str, ...]:
        found = many(here, key)
        for each in found:
            if not isinstance(each, str):
                raise Misplaced(here, f"{key!r} holds {each!r} where a text is expected")
        return tuple(found)

    return Field(lambda held, _: {key: list(held)}, recognise)


def amount(key: str) -> Field:
    """A number under a key; whole numbers are written without a fraction."""
    return Field(lambda held, _: {key: whole(held)}, lambda here: number_under(here, key))


def count(key: str) -> Field:
    """A whole number under a key."""

    def recognise(here: Node) -> int | None:
        found = number_under(here, key)
        if found is not None and found != int(found):
            raise Misplaced(here, f"{key!r} holds {found} where a whole number is expected")
        return None if found is None else int(found)

    return Field(lambda held, _: {key: held}, recognise)


def yes(key: str) -> Field:
    """A yes or no under a key."""
    return Field(lambda held, _: {key: held}, lambda here: truth(here, key))


def date(key: str) -> Field:
    """A local day under a key."""

    def recognise(here: Node) -> Day | None:
        said = text(here, key)
        try:
            return Day.from_iso(said) if said else None
        except ValueError as wrong:
            raise Misplaced(here, f"{key!r}: {wrong}") from None

    return Field(lambda held, _: {key: held.iso}, recognise)


def visibility() -> Field:
    """How far the value may be told."""
    return Field(
        lambda held, _: node(visibility=concepts.describe_visibility(held)),
        concepts.recognise_visibility,
    )


# --- concepts ------------------------------------------------------------------------------------


def term(group: str, key: str = "classified_as") -> Field:
    """A term of one group among the concepts under a key."""
    return Field(
        lambda held, _: {key: [concepts.describe(held)]},
        lambda here: concepts.first(here, key, group),
    )


def terms(group: str, key: str = "classified_as") -> Field:
    """Every term of one group among the concepts under a key."""
    return Field(
        lambda held, _: {key: concepts.describe_all(held)},
        lambda here: tuple(
            found
            for each in nodes(here, key)
            if (found := concepts.recognise(each, group)) is not None
        ),
    )


def materials(key: str) -> Field:
    """Materials under a key that holds nothing else; somebody else's addresses stand for themselves."""
    return Field(
        lambda held, _: {key: concepts.describe_all(held, "Material")},
        lambda here: concepts.all_of(here, key, "material"),
    )


# --- when, who, and other values -----------------------------------------------------------------


def span() -> Field:
    """A date span as the time-span of an event."""
    return Field(
        lambda held, own: {"timespan": spans.describe(held, own)},
        lambda here: spans.recognise(one(here, "timespan")),
    )


def day() -> Field:
    """A day as the time-span of an event."""
    return Field(
        lambda held, own: {"timespan": spans.describe_day(held, own)},
        lambda here: spans.recognise_day(one(here, "timespan")),
    )


def first_day() -> Field:
    """The day on which an event began."""
    return _end_of_span("begin_of_the_begin", "T00:00:00Z", 0)


def last_day() -> Field:
    """The day on which an event ended."""
    return _end_of_span("end_of_the_end", "T23:59:59Z", 1)


def _end_of_span(key: str, clock: str, which: int) -> Field:
    def recognise(here: Node) -> Day | None:
        found = one(here, "timespan")
        return spans.bounds(found)[which] if found else None

    return Field(
        lambda held, own: {
            "timespan": {"id": f"{own}/timespan", "type": "TimeSpan", key: held.iso + clock}
        },
        recognise,
    )


def party(key: str) -> Field:
    """Somebody, by id only."""
    return Field(lambda held, _: {key: actor(held)}, lambda here: actor_of(here, key))


def parties(key: str) -> Field:
    """Several people, by id only."""
    return Field(
        lambda held, _: {key: [found for each in held for found in actor(each)]},
        lambda here: tuple(
            each["id"] for each in nodes(here, key) if isinstance(each.get("id"), str)
        ),
    )


def pointer(key: str, kind: str) -> Field:
    """Another value of the record, by id and type."""
    return Field(
        lambda held, _: {key: [{"id": f"#{held}", "type": kind}]},
        lambda here: next(iter(_pointed(here, key, kind)), None),
    )


def pointers(key: str) -> Field:
    """Other values of the record, by id only."""
    return Field(
        lambda held, _: {key: [{"id": f"#{each}"} for each in held]},
        lambda here: _pointed(here, key, None),
    )


def values_elsewhere(key: str) -> Field:
    """Values of another document, by id; `in_document` says of which, where it is known."""
    return Field(
        lambda held, _: {key: [{"id": f"#{each}"} for each in held]},
        lambda here: _pointed_elsewhere(here, key),
    )


def value_elsewhere(key: str) -> Field:
    """One value of another document, by id."""
    return Field(
        lambda held, _: {key: [{"id": f"#{held}"}]},
        lambda here: next(iter(_pointed_elsewhere(here, key)), None),
    )


def _pointed_elsewhere(here: Node, key: str) -> tuple[str, ...]:
    found = (str(each.get("id", "")).partition("#")[2] for each in nodes(here, key))
    return tuple(each for each in found if each)


def in_document(inner: Form[V], name: str, keys: Iterable[str]) -> Form[V]:
    """The same form, its pointers under these keys leading into the document that the field `name` names."""

    def describe(held: V) -> Node:
        found, document_id = inner.describe(held), getattr(held, name)
        if document_id:
            for key in found.keys() & set(keys):
                found[key] = [{"id": f"{document_id}{each['id']}"} for each in found[key]]
        return found

    return Form(describe, inner.wanted, inner.recognise)


def _pointed(here: Node, key: str, kind: str | None) -> tuple[str, ...]:
    return tuple(
        str(each["id"])[1:]
        for each in nodes(here, key)
        if str(each.get("id", "")).startswith("#")
        and (kind is None or (is_a(each, kind) and each.keys() <= {"id", "type", "_label"}))
    )


def document(key: str, kind: str, *, elsewhere: str | None = None) -> Field:
    """Another document, by id and type, such as a place on file.

    `elsewhere` is the type of one that is no work of ours, where that is another.
    """
    others = (kind, elsewhere or kind)
    return Field(
        lambda held, _: {key: [{"id": held, "type": others[not held.startswith("work/")]}]},
        lambda here: next(
            (
                str(each["id"])
                for each in nodes(here, key)
                if is_a(each, *others) and not str(each.get("id", "#")).startswith("#")
            ),
            None,
        ),
    )


def value(key: str, inner: Form[Any]) -> Field:
    """The one value of a form under a key."""
    return Field(
        lambda held, _: {key: [inner.describe(held)]},
        lambda here: next(iter(inner.recognise_all(here, key)), None),
    )


def values(key: str, inner: Form[Any]) -> Field:
    """Every value of a form under a key."""
    return Field(
        lambda held, _: {key: inner.describe_all(held)},
        lambda here: inner.recognise_all(here, key),
    )


# --- names, numbers and statements that belong to a value ----------------------------------------


def own_number(what: str) -> Field:
    """The number that people call the value by (`number/<what>` of vocab/terms)."""
    return Field(
        lambda held, own: {"identified_by": names.describe_own(own, what, held)},
        lambda here: names.recognise_own(here, what),
    )


def named(what: str) -> Field:
    """A Name that belongs to the value."""

    def recognise(here: Node) -> str | None:
        for each in nodes(here, "identified_by"):
            if is_a(each, "Name") and str(each.get("id", "")).endswith(f"/{what}"):
                return text(each, "content")
        return None

    return Field(
        lambda held, own: {
            "identified_by": [{"id": f"{own}/{what}", "type": "Name", "content": held}]
        },
        recognise,
    )


def statement(what: str, kind: str = "note/description") -> Field:
    """A sentence that belongs to the value."""
    return Field(
        lambda held, own: {"referred_to_by": names.describe_statement(own, what, kind, held)},
        lambda here: names.recognise_statement(here, what),
    )


NOTE = Form(names.describe_note, names.is_note, names.recognise_note)


def notes() -> Field:
    """Free notes."""
    return values("referred_to_by", NOTE)


def somewhere(what: str = "at") -> Field:
    """A place in words, where something happened."""

    def recognise(here: Node) -> str | None:
        for each in nodes(here, "took_place_at"):
            if str(each.get("id", "")).endswith(f"/{what}"):
                name = one(each, "identified_by")
                return text(name, "content") if name else None
        return None

    return Field(
        lambda held, own: {
            "took_place_at": [
                {
                    "id": f"{own}/{what}",
                    "type": "Place",
                    "identified_by": [
                        {"id": f"{own}/{what}/name", "type": "Name", "content": held}
                    ],
                }
            ]
        },
        recognise,
    )


# --- places on the painting ----------------------------------------------------------------------


def location(key: str = "took_place_at") -> Field:
    """A place on the painting, under the key that says how the value stands to it."""
    return Field(
        lambda held, own: {key: [describe_location(held, own)]},
        lambda here: next(
            (
                recognised(each, recognise_location)
                for each in nodes(here, key)
                if is_location(each, str(here.get("id")))
            ),
            None,
        ),
    )


def is_location(here: Node, own: str) -> bool:
    """Whether a node is the place on the painting of the value `own`."""
    return here.get("id") == f"{own}/place"


def describe_location(place: Location, own: str) -> Node:
    """The Place of the value `own`: its face, its outline in mm, and who measured it."""
    at = f"{own}/place"
    classes = [place.face, *([place.seen] if place.seen != "seen/that-side" else [])]
    measured = node(
        id=f"{at}/measured",
        type="AttributeAssignment",
        identified_by=[
            {"id": f"{at}/measured/instrument", "type": "Name", "content": place.instrument}
        ]
        if place.instrument
        else [],
        carried_out_by=actor(place.by),
        timespan=spans.describe_day(place.on, f"{at}/measured"),
    )
    return node(
        id=at,
        type="Place",
        classified_as=concepts.describe_all(classes),
        identified_by=[{"id": f"{at}/wording", "type": "Name", "content": place.wording}]
        if place.wording
        else [],
        located_on_or_within=[{"id": f"#{place.part}", "type": "HumanMadeObject"}]
        if place.part
        else [],
        defined_by=place.shape.wkt() if place.shape else None,
        orientation=place.orientation or None,
        tolerance_mm=whole(place.tolerance_mm),
        attributed_by=[measured] if len(measured) > 2 else [],
    )


def recognise_location(here: Node) -> Location:
    """The place on the painting that a Place says."""
    said = text(here, "defined_by")
    try:
        shape = Shape.from_wkt(said) if said else None
    except ValueError as wrong:
        raise Misplaced(here, str(wrong)) from None
    measured = one(here, "attributed_by") or {}
    name, instrument = one(here, "identified_by"), one(measured, "identified_by")
    return Location(
        face=concepts.first(here, "classified_as", "face") or "",
        part=next(iter(_pointed(here, "located_on_or_within", None)), None),
        shape=shape,
        orientation=int(number_under(here, "orientation") or 0),
        wording=text(name, "content") if name else None,
        seen=concepts.first(here, "classified_as", "seen") or "seen/that-side",
        tolerance_mm=number_under(here, "tolerance_mm"),
        by=actor_of(measured, "carried_out_by"),
        instrument=text(instrument, "content") if instrument else None,
        on=spans.recognise_day(one(measured, "timespan")),
    )
