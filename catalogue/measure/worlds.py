"""What a date leaves open - the century of two figures, day or month first - read in every way it can be.

A `World` settles both. A reader that meets something open raises `Undecided`; then the text is read in
all worlds, those that make no date are dropped, and what remains stands together as one of them.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeAlias

from catalogue.measure.days import Day, NotADate
from catalogue.measure.found import Found, one_of
from catalogue.measure.words import table

Window: TypeAlias = tuple[Day | None, Day | None]
"""Between which days other evidence puts a date, both included; None is open."""
ANY_TIME: Window = (None, None)


class World(NamedTuple):
    """What a text leaves open, settled: a century (18 for 18xx), and "day" or "month" first."""

    century: int | None = None
    order: str = ""


class Undecided(Exception):
    """Something is open that this world has not settled: "century" or "order"."""


def read_in_every_world(read: Callable[[World], Found], within: Window = ANY_TIME) -> Found:
    """What `read` finds, in as many worlds as it needs. Raises the reason where no world has a date.

    Of several centuries those remain that are not in the future and lie `within`; where none lies
    within, all remain, and the rule says so.
    """
    centuries: Sequence[int | None] = (None,)
    orders: Sequence[str] = ("",)
    while True:
        try:
            found = _found_in([World(c, o) for c in centuries for o in orders], read)
        except Undecided as undecided:
            if str(undecided) == "century":
                centuries = _centuries()
            else:
                orders = ("day", "month")
        else:
            several_centuries = len(centuries) > 1
            return _of_centuries(found, within) if several_centuries else _of_orders(found)


def _centuries() -> range:
    """The centuries that two figures may be of, by the first figures of their years."""
    earliest: int = table()["two_figures"]["earliest"]
    return range(earliest // 100, datetime.date.today().year // 100 + 1)


def _found_in(worlds: list[World], read: Callable[[World], Found]) -> list[Found]:
    """What each world finds, without repeats. Raises the first reason where none finds anything."""
    found: list[Found] = []
    refused: NotADate | None = None
    for world in worlds:
        try:
            found.append(read(world))
        except NotADate as reason:
            refused = refused or reason
    if not found and refused:
        raise refused
    return list(dict.fromkeys(found))


def _of_orders(found: list[Found]) -> Found:
    if len(found) == 1:
        return found[0]
    return one_of(found, "day and month in either order")


def _of_centuries(found: list[Found], within: Window) -> Found:
    this_year = datetime.date.today().year
    past = [each for each in found if each.earliest is None or each.earliest.year <= this_year]
    if not past:
        raise NotADate("it would lie in the future in any century")
    argued = [each for each in past if _meets(each, within)]
    if within == ANY_TIME or not argued:
        why = (
            "the century is not said"
            if within == ANY_TIME
            else "no century lies within the evidence"
        )
        return one_of(past, f"two-digit year: {why}") if len(past) > 1 else past[0]
    if len(argued) > 1:
        return one_of(argued, "two-digit year: several centuries lie within the evidence")
    rule = f"two-digit year: the only one within {_told(within)}"
    return argued[0]._replace(rule=rule)


def _meets(found: Found, within: Window) -> bool:
    earliest, latest = within
    return not (
        (earliest and found.latest and found.latest < earliest)
        or (latest and found.earliest and found.earliest > latest)
    )


def _told(within: Window) -> str:
    return "/".join(day.iso if day else ".." for day in within)
