"""One thing that is wrong, missing or open about a record, and the rows of vocab/checks.toml that say it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from catalogue.errors import BadSetting
from catalogue.places import folder
from catalogue.terms import concept

Kind = Literal["wrong", "missing", "open"]

KINDS: tuple[Kind, ...] = ("wrong", "missing", "open")
"""What contradicts itself or cannot be, what the trade asks for, what somebody has to decide."""


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing about a record: where (its number, its field), what is so, what to do about it.

    `value` is the id of the value it is about, "" for the record as a whole.
    """

    kind: Kind
    where: str
    says: str
    remedy: str
    value: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of vocab/checks.toml: what is said, for which values and terms, who says so."""

    key: str
    kind: Kind
    says: str
    remedy: str
    source: str
    value: str = ""
    terms: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    when: str = ""
    stabilities: tuple[str, ...] = ()
    field: str = ""
    low: float | None = None
    high: float | None = None

    def remark(self, where: str, value: str = "", **facts: str) -> Remark:
        """This row said of one place, its braces filled in."""
        return Remark(self.kind, where, self.says.format(**facts), self.remedy, value)


@dataclass(frozen=True, slots=True)
class Rows:
    """The whole file, read."""

    words: dict[str, tuple[str, ...]]
    needs: tuple[Row, ...]
    advice: tuple[Row, ...]
    ranges: tuple[Row, ...]
    checks: dict[str, Row]


def check(key: str) -> Row:
    """The row that says what was worked out under this key.

    >>> check("inscription.reading").remark("I2, readings").says
    'nobody has read it'
    """
    return rows().checks[key]


def words(name: str) -> tuple[str, ...]:
    """The terms that a check goes by.

    >>> words("part_of")
    ('relation/part-of',)
    """
    return rows().words[name]


@cache
def rows() -> Rows:
    """Every row of vocab/checks.toml. Raises `BadSetting`."""
    path = folder("vocab") / "checks.toml"
    try:
        held = tomllib.loads(path.read_text("utf-8"))
        found = Rows(
            {name: tuple(terms) for name, terms in held["words"].items()},
            tuple(_row(each) for each in held["needs"]),
            tuple(_row(each) for each in held["advice"]),
            tuple(_row(each) for each in held["range"]),
            {each["key"]: _row(each) for each in held["check"]},
        )
        for term in (*(t for each in found.words.values() for t in each), *_named(found)):
            concept(term)
    except (tomllib.TOMLDecodeError, KeyError, TypeError, AttributeError, ValueError) as wrong:
        raise BadSetting(
            f"{path}: {wrong!s}", remedy="see the lines at the top of that file"
        ) from None
    return found


def _named(found: Rows) -> list[str]:
    return [
        t
        for each in (*found.needs, *found.advice, *found.ranges)
        for t in (*each.terms, *each.stabilities)
    ]


def _row(held: dict[str, Any]) -> Row:
    if held["kind"] not in KINDS:
        raise ValueError(f"{held['key']}: {held['kind']!r} is none of {', '.join(KINDS)}")
    named = {"while": "stabilities"}
    given: dict[str, Any] = {
        named.get(name, name): tuple(said) if isinstance(said, list) else said
        for name, said in held.items()
    }
    return Row(**given)
