"""One point in time as it is written, before anything is worked out: a day, a season, a century."""

from __future__ import annotations

from typing import Any, NamedTuple, TypeAlias

Part: TypeAlias = dict[str, Any] | tuple[int, int]
"""An entry of the vocabulary (early, mid, late), or which of how many parts: (2, 4)."""

LACKING = frozenset({"", "number", "nth", "part"})
"""Units that are none: a bare figure, ordinal or part waits for another point to say of what; ""
stands for no point at all, where a bracket says the date.
"""


class Year(NamedTuple):
    """A year as it stands in a date; `short`: of two figures, `dual`: with the next one, 1702/3."""

    number: int
    short: bool = False
    dual: bool = False


class Point(NamedTuple):
    """One point in time as written.

    `number` counts what `unit` says: the year of a year, month, season or day, the first year of a
    decade, the number of a century. `parts` are from the outermost on (early in the second half).
    `era` is "bc", "ad" or "hijri", `style` "old_style" or "new_style", `order` whether the day stood
    before the month ("day", "month", "either"), `form` how a decade was written ("hidden" 188-,
    "decades" années 1880). `short`: two figures for a year; `lacks`: a day or month without its year;
    `last`: the day or regnal year up to which it goes; `figures`: how many a bare number has; `entry`:
    what the vocabulary says of a period or reign.
    """

    unit: str
    number: int = 0
    month: int = 0
    day: int = 0
    parts: tuple[Part, ...] = ()
    era: str = ""
    style: str = ""
    order: str = ""
    form: str = ""
    short: bool = False
    dual: bool = False
    lacks: bool = False
    doubted: bool = False
    last: int = 0
    figures: int = 0
    entry: Any = None

    @property
    def whole(self) -> bool:
        """Whether it says all that a date must say."""
        return not self.lacks and self.unit not in LACKING


At: TypeAlias = tuple[Point, int]
"""A point, and the place of the first piece behind it."""


def of_year(unit: str, year: Year, *, month: int, day: int = 0, last: int = 0) -> Point:
    """A month, season or day of that year."""
    return Point(unit, year.number, month, day, short=year.short, dual=year.dual, last=last)


def decade(figures: str) -> Point:
    """1880s; 1900s, which may be a century; 80s, of any century."""
    if len(figures) == 2:
        return Point("decade", int(figures), short=True)
    return Point("hundred" if figures[-2:] == "00" else "decade", int(figures))
