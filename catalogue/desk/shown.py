"""The values of a record in plain words for a page: labels, numbers, dates, people with their page."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from catalogue.desk.calling import called
from catalogue.desk.layout import how, typed_fields
from catalogue.record import (
    Evidence,
    Location,
    MaterialUse,
    Note,
    Paper,
    PartyRole,
    Photo,
    Price,
    Response,
    Sighting,
)
from catalogue.record.rules import OPEN, FieldRule, values_within
from catalogue.surface import Shape
from catalogue.terms import cautions, known, label
from catalogue.wording import Naming, field_word, kind_word, said

_TERM = re.compile(r"[a-z][a-z0-9-]*/[a-z0-9][a-z0-9-]*")


@dataclass(frozen=True, slots=True)
class Words:
    """Some words, and the page that they lead to, None for none."""

    text: str
    page: str | None = None
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One field of a value: what it is called, what it says."""

    label: str
    words: tuple[Words, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One value: its number and its other words apart, its lines, its notes, what was attached to it."""

    own: str
    number: str
    name: str
    lines: tuple[Line, ...]
    notes: tuple[Note, ...]
    visibility: str
    photos: tuple[Photo, ...]
    papers: tuple[Paper, ...]
    value: Any


@dataclass(frozen=True, slots=True)
class Showing:
    """How the values of one record are shown: what ids are called, to which page they lead."""

    record: Any
    naming: Naming
    page_of: Callable[[str], str | None]

    def value(self, value: Any, *, leave: tuple[str, ...] = (), outer: Any = None) -> Shown:
        """One value in words; fields to `leave` out are said elsewhere on the page."""
        name = called(value, outer)
        number = getattr(value, "number", None) or ""
        return Shown(
            own=value.id,
            number=number,
            name=name.removeprefix(number).strip() if number else name,
            lines=tuple(self.lines(value, leave)),
            notes=getattr(value, "notes", ()),
            visibility=getattr(value, "visibility", OPEN),
            photos=self._about(getattr(self.record, "photos", ()), value.id),
            papers=self._about(getattr(self.record, "papers", ()), value.id),
            value=value,
        )

    def lines(self, value: Any, leave: tuple[str, ...] = ()) -> Iterator[Line]:
        """Every field that says something, in the order of its form."""
        kind = type(value).__name__
        for rule in typed_fields(value.__class__):
            held = getattr(value, rule.name)
            if rule.name in ("notes", "visibility", *leave) or held in (None, ()):
                continue
            if rule.kind is bool and rule.default is False and not held:
                continue
            words = tuple(self._words(kind, rule, held))
            if words:
                yield Line(field_word(kind, rule.name).label, words)

    def _words(self, kind: str, rule: FieldRule, held: Any) -> Iterator[Words]:
        unit = field_word(kind, rule.name).unit
        way = how(rule, kind)
        for each in held if rule.many else (held,):
            if way in ("party", "parties", "document"):
                yield Words(self.naming(each), self.page_of(each))
            elif way in ("inside", "several"):
                yield Words(self.naming(each))
            elif way in ("one", "many"):
                yield self.brief(each)
            else:
                yield Words(said(each, self.naming, unit))

    def brief(self, value: Any) -> Words:
        """A small value in one line of words."""
        match value:
            case Location():
                return Words(self.place(value))
            case MaterialUse():
                return self._material(value)
            case PartyRole():
                name = self.naming(value.party) if value.party else ""
                as_written = f"“{value.written}”" if value.written else ""
                who = " ".join(filter(None, (name, as_written)))
                page = self.page_of(value.party) if value.party else None
                return Words(f"{who} ({label(value.role)}){_hidden(value)}", page)
            case Evidence():
                what = self.naming(value.source) if value.source else ""
                bits = (label(value.kind), what, value.text or "")
                strength = f" [{label(value.strength)}]" if value.strength else ""
                return Words(
                    ": ".join(filter(None, (bits[0], "; ".join(filter(None, bits[1:])))))
                    + strength
                    + _hidden(value)
                )
            case Price():
                amount = (
                    f" ({said(value.amount)} {label(value.currency)})"
                    if value.amount is not None and value.currency
                    else ""
                )
                return Words(f"{value.written}{amount}{_hidden(value)}")
            case Response():
                return Words(f"{label(value.layer)}: {said(value.seen)}")
            case Sighting():
                by = f" by {value.covered_by}" if value.covered_by else ""
                return Words(f"{said(value.on) or 'some day'}: {label(value.state)}{by}")
        told = (
            f"{line.label} {', '.join(each.text for each in line.words)}"
            for line in self.lines(value)
        )
        return Words("; ".join(told) or kind_word(type(value).__name__).label)

    def place(self, place: Location) -> str:
        """A place on a face in words, its outline in mm as measured."""
        told = [self.naming(place.part) if place.part else "", _outline(place.shape)]
        if place.tolerance_mm is not None:
            told.append(f"give or take {said(place.tolerance_mm)} mm")
        if place.seen != "seen/that-side":
            told.append(f"seen {label(place.seen)}")
        if place.orientation:
            told.append(f"turned {place.orientation}°")
        if place.wording:
            told.append(f"“{place.wording}”")
        if place.by or place.on or place.instrument:
            by = f"by {self.naming(place.by)}" if place.by else ""
            on = f"on {said(place.on)}" if place.on else ""
            tool = f"with {place.instrument}" if place.instrument else ""
            told.append(" ".join(filter(None, ("measured", by, on, tool))))
        return "; ".join((label(place.face), *filter(None, told)))

    def _material(self, use: MaterialUse) -> Words:
        strength = ""
        if use.concentration_percent is not None and use.basis:
            strength = f" {said(use.concentration_percent)} % {label(use.basis)}"
        role = f" as {label(use.role)}" if use.role else ""
        leave = ("material", "role", "concentration_percent", "basis")
        rest = (f"{line.label} {line.words[0].text}" for line in self.lines(use, leave))
        doubt = ""
        if use.data_sheet is None and cautions((use.material,)):
            doubt = "no safety data sheet noted"
        return Words("; ".join((f"{label(use.material)}{strength}{role}", *rest)), doubt=doubt)

    def _about(self, attached: tuple[Any, ...], own: str) -> tuple[Any, ...]:
        return tuple(each for each in attached if own in each.about)


def _outline(shape: Shape | None) -> str:
    if shape is None:
        return ""
    box = shape.box
    if shape.kind == "area" and box and shape == Shape.of_box(box):
        return said(box)
    if shape.kind == "point":
        ((across, down),) = shape.corners
        return f"{said(across)} mm from the left and {said(down)} mm from the top"
    if shape.kind == "line":
        return (
            f"a line {said(round(shape.length_mm, 1))} mm long ({len(shape.corners)} corners)"
        )
    return f"an outline of {said(round(shape.area_mm2, 1))} mm² ({len(shape.corners)} corners)"


def _hidden(value: Any) -> str:
    return f" [{label(value.visibility)}]" if value.visibility != OPEN else ""


def terms_in(values: Any) -> set[str]:
    """Every term that these values name, at any depth."""
    found: set[str] = set()
    for value in values:
        for inner in values_within(value):
            for rule in typed_fields(inner.__class__):
                held = getattr(inner, rule.name)
                for each in held if isinstance(held, tuple) else (held,):
                    if isinstance(each, str) and _TERM.fullmatch(each) and known(each):
                        found.add(each)
    return found
