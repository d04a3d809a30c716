"""Windows of years in which it matters who had a painting: vocab/windows.toml, read once."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue import places
from catalogue.argument.chain.passages import length
from catalogue.argument.spans import Interval
from catalogue.errors import BadSetting, NotOnFile
from catalogue.measure import DateSpan, Day


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Years that matter, from `first` to `last`, both in it; `made_before` is who is concerned.

    `where` says which paintings it concerns as far as places go, which a person judges; `why` why
    it matters, `source` who says so.
    """

    key: str
    name: str
    first: Day
    last: Day
    made_before: Day | None
    default: bool
    where: str
    why: str
    source: str

    @property
    def days(self) -> int:
        """How many days it has."""
        return length(Interval(self.first, self.last))

    def concerns(self, made: DateSpan | None) -> bool:
        """Whether a painting made then may have been there; one of no known date may."""
        first = made.earliest if made else None
        if first is None:
            return True
        return first <= self.last and (self.made_before is None or first < self.made_before)


@cache
def windows() -> tuple[Window, ...]:
    """Every window of vocab/windows.toml, in its order. Raises `BadSetting`.

    >>> [(each.key, each.days) for each in default_windows()]
    [('europe-1933', 4482), ('unesco-1970', 1)]
    """
    rows = places.table("windows.toml").get("window", [])
    found = tuple(map(_window, rows))
    if len({each.key for each in found}) < len(found):
        raise BadSetting(
            "vocab/windows.toml: two windows have the same key",
            remedy="give each a key of its own",
        )
    return found


def default_windows() -> tuple[Window, ...]:
    """The windows that are looked at unasked."""
    return tuple(each for each in windows() if each.default)


def window(key: str) -> Window:
    """The window of a key. Raises `NotOnFile`."""
    for each in windows():
        if each.key == key:
            return each
    known = ", ".join(each.key for each in windows())
    raise NotOnFile(f"vocab/windows.toml has no window {key!r}", remedy=f"there are {known}")


def _window(row: dict[str, Any]) -> Window:
    try:
        first, last = _day(row["first"]), _day(row["last"])
        if first > last:
            raise ValueError("it ends before it begins")
        made_before = row.get("made_before")
        return Window(
            key=row["key"],
            name=row["name"],
            first=first,
            last=last,
            made_before=_day(made_before) if made_before else None,
            default=bool(row.get("default", False)),
            where=row.get("where", ""),
            why=row["why"],
            source=row["source"],
        )
    except (KeyError, TypeError, ValueError, AttributeError) as wrong:
        raise BadSetting(
            f"vocab/windows.toml, window {row.get('key', '?')!r}: {wrong}",
            remedy="see the lines at the top of that file",
        ) from None


def _day(said: datetime.date) -> Day:
    return Day(said.year, said.month, said.day)
