"""What a cell of a table holds: the way from a row to a value, as vocab/tables.toml writes it.

A way is fields joined by dots. It is followed once through the rules of the record's fields, to know which
fields it passes and so whether a profile lets it out, and then through each record.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final, TypeAlias, cast

from catalogue.errors import BadSetting
from catalogue.measure import Day
from catalogue.reading import read
from catalogue.record import VALUES
from catalogue.record.rules import Documents, FieldRule, Inside, Terms, fields_of, is_value
from catalogue.terms import label

Cell: TypeAlias = str | int | float | Day | None
"""What stands in a cell: a text, a number, a day, or nothing."""

ALL_BUT_FIRST, FIRST, LAST, BEST = "rest", "first", "last", "best"
_CHOICES: Final = frozenset({ALL_BUT_FIRST, FIRST, LAST, BEST})
_STEP: Final = re.compile(
    r"(?P<fields>[a-z0-9_]+(?:\|[a-z0-9_]+)*)(?:\[(?P<key>\w+)=(?P<term>[\w/-]+)\])?"
)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a way: fields of which the first that says something counts, or a choice of several."""

    fields: tuple[str, ...]
    key: str = ""
    term: str = ""

    @property
    def chooses(self) -> bool:
        """Whether it is no field but a choice among several values."""
        return len(self.fields) == 1 and self.fields[0] in _CHOICES


@dataclass(frozen=True, slots=True)
class Names:
    """What values that a cell names are called: parties and works, and values of the same work by id."""

    other: Callable[[str], str]
    inside: Mapping[str, Any]
    yes: str
    no: str


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, where its cells come from, and the fields that its way passes.

    Of each group of `passes` (`Value.field`) one at least must be let out for the column to leave.
    """

    head: str
    level: str
    steps: tuple[Step, ...]
    passes: frozenset[frozenset[str]]
    shown: str = ""
    between: str = "; "
    width: int = 14

    def cell(self, row: Mapping[str, Any], names: Names) -> Cell:
        """What stands in this column of a row, which holds the value of each level by its name."""
        start = row.get(self.level)
        found = [] if start is None else list(self._reached(start, 0, names))
        if len(found) == 1:
            return found[0]
        return self.between.join(_written(each) for each in found) or None

    def _reached(self, here: Any, at: int, names: Names) -> Iterator[Cell]:
        """The ends of the way behind one value, from step `at` on."""
        step = self.steps[at]
        for name in step.fields:
            rule = _rule(cast("Any", type(here)), name)
            held = getattr(here, name) if not name.isdigit() else here[int(name)]
            if held is None or held == () or held == "":
                continue
            several = held if rule and rule.many else (held,)
            next_at = at + 1
            if step.key:
                several = tuple(
                    each for each in several if getattr(each, step.key) == step.term
                )
            while next_at < len(self.steps) and self.steps[next_at].chooses:
                several = _chosen(several, self.steps[next_at].fields[0])
                next_at += 1
            for each in several:
                if next_at == len(self.steps):
                    yield self._said(each, rule, names)
                elif rule and rule.rule(Inside):
                    if each in names.inside:
                        yield from self._reached(names.inside[each], next_at, names)
                else:
                    yield from self._reached(each, next_at, names)
            return

    def _said(self, held: Any, rule: FieldRule | None, names: Names) -> Cell:
        if isinstance(held, bool):
            return names.yes if held else names.no
        if isinstance(held, int | float | Day):
            return held
        if self.shown == "seen":
            return read(held).seen()
        if rule and rule.rule(Terms):
            return label(held)
        if rule and rule.rule(Documents):
            return names.other(held)
        if rule and rule.rule(Inside):
            return _called(names.inside.get(held), held)
        return str(held)


def _chosen(several: tuple[Any, ...], how: str) -> tuple[Any, ...]:
    if how == ALL_BUT_FIRST:
        return several[1:]
    if not several:
        return ()
    if how == LAST:
        return several[-1:]
    if how == BEST:
        # Values lie in their order: of those that are alike in preference the last is the latest.
        preferred = [each for each in several if each.preferred]
        return (preferred[0],) if preferred else several[-1:]
    return several[:1]


def _called(value: Any, own_id: str) -> str:
    """What people call a value of a work: its number, else its kind."""
    number = getattr(value, "number", None)
    if number:
        return str(number)
    kind = getattr(value, "kind", None)
    return label(kind) if kind else str(getattr(value, "text", own_id))


def _written(cell: Cell) -> str:
    return cell.iso if isinstance(cell, Day) else "" if cell is None else f"{cell}"


def column(
    levels: Mapping[str, tuple[Any, frozenset[frozenset[str]]]],
    row: Mapping[str, Any],
    where: str,
) -> Column:
    """The column that a row of vocab/tables.toml describes.

    `levels` are the kinds of value that it may begin at, each with the fields that lead to it.

    Raises `BadSetting` where the way leads nowhere.
    """
    level, _, way = str(row["value"]).partition(".")
    if level not in levels or not way:
        raise _nowhere(where, row["value"], level)
    steps = tuple(_step(each, where, row["value"]) for each in _cut(way))
    kind, before = levels[level]
    passes = before | frozenset(_passes(kind, steps, where, row["value"]))
    return Column(
        head=row["head"],
        level=level,
        steps=steps,
        passes=passes,
        shown=row.get("shown", ""),
        between=row.get("between", "; "),
        width=row.get("width", 14),
    )


def _cut(way: str) -> list[str]:
    return re.split(r"\.(?![^\[]*\])", way)


def _step(written: str, where: str, way: str) -> Step:
    found = _STEP.fullmatch(written)
    if not found:
        raise _nowhere(where, way, written)
    return Step(tuple(found["fields"].split("|")), found["key"] or "", found["term"] or "")


def _passes(
    kind: Any, steps: tuple[Step, ...], where: str, way: str
) -> Iterator[frozenset[str]]:
    """Every field that a way passes; those of which either may speak are one group."""
    for step in steps:
        if step.chooses:
            continue
        if not is_value(kind):
            # Within a date or a place there is nothing that a profile could hold back.
            return
        yield from _passed(kind, step.fields, where, way)
        reached = _rule(kind, step.fields[0])
        kind = _target(reached) if reached else None
        if step.key:
            yield from _passed(kind, (step.key,), where, way)


def _passed(
    kind: Any, names: tuple[str, ...], where: str, way: str
) -> Iterator[frozenset[str]]:
    labels = set()
    for name in names:
        rule = _rule(kind, name)
        if rule is None:
            raise _nowhere(where, way, name)
        labels.add(rule.label)
    # An id always goes with its value.
    if "id" not in names:
        yield frozenset(labels)


def _target(rule: FieldRule) -> Any:
    """The kind of value behind a field: what it holds, or what its pointers name."""
    pointed = rule.rule(Inside)
    if pointed and pointed.kinds:
        return _kinds().get(pointed.kinds[0])
    return rule.kind


@cache
def _kinds() -> dict[str, Any]:
    return {each.__name__: each for each in VALUES}


@cache
def _rule(kind: Any, name: str) -> FieldRule | None:
    if not is_value(kind):
        return None
    return next((each for each in fields_of(kind) if each.name == name), None)


def _nowhere(where: str, way: str, step: str) -> BadSetting:
    return BadSetting(
        f"vocab/tables.toml, {where}: the way {way!r} leads nowhere at {step!r}",
        remedy="the lines at the top of that file say how a way is written",
    )
