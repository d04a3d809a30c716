"""Pieces of text → one point in time as it is written: which reader reads what, and what goes around.

A point may lack what stands beside another one: the first in "12-14 April 1903", "late 17th-early
18th century". Nothing is worked out here but who stands for what; settling.py gives the days.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from catalogue.measure import days_written, years_written
from catalogue.measure.days import NotADate
from catalogue.measure.place import Places
from catalogue.measure.point import At, Part, Point
from catalogue.measure.words import Piece

_LONGEST_NUMBER = 6
_MOST_PARTS = 4
_ERAS = ("bc", "ad", "hijri")


class Points:
    """Reads the points of one text; a place is an index of its pieces."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.places = Places(pieces)

    def point(self, at: int) -> At | None:
        """The point that begins there, None where none does. Raises `NotADate` with the reason."""
        parts, behind_parts = self._parts(at)
        core = _core(self.places, behind_parts)
        if core is None:
            return (Point("part", parts=parts), self._behind_last_part(at)) if parts else None
        point, at = self._era(*core)
        later, behind = self._later_parts(at)
        if later:
            point, at = self._era(point, behind)
        point, at = self._style(point, at)
        return point._replace(parts=(*parts, *later)), at

    # --- parts: early, 2nd half of the, dernier quart du ------------------------------------------------

    def _parts(self, at: int) -> tuple[tuple[Part, ...], int]:
        """The parts there, and the place behind them and the words that lead on to a whole."""
        found: list[Part] = []
        while (one := self._part(at)) and len(found) < _MOST_PARTS:
            found.append(one[0])
            at = self._behind_link(one[1])
        return tuple(found), at

    def _behind_last_part(self, at: int) -> int:
        """The place behind the parts there, without words that would lead on to something."""
        behind = at
        for _ in range(_MOST_PARTS):
            if one := self._part(at):
                behind, at = one[1], self._behind_link(one[1])
        return behind

    def _part(self, at: int) -> tuple[Part, int] | None:
        """early; second half, 2. Hälfte."""
        senses = self.places.pieces[at].senses
        which = senses.get("ordinal", self.places.counted(at))
        if which is not None and len(self.places.figures(at)) < 2:
            behind = at + 1
            while self.places.key(behind) in (".", "-") and behind < at + 3:
                behind += 1
            of = self.places.pieces[behind].senses.get("fraction")
            if of:
                return (which, of), behind + 1
        return (senses["part"], at + 1) if "part" in senses else None

    def _behind_link(self, at: int) -> int:
        """Behind "of the", or a hyphen as in mid-1880s that parts two parts in early-mid 1880s."""
        if self.places.key(at) == "-" and not self._part(at + 1):
            return at + 1 if self._begins(at + 1) else at
        behind = self.places.behind(at, "of")
        return behind if self._begins(behind) or self._part(behind) else at

    def _begins(self, at: int) -> bool:
        return not _BEGINNINGS.isdisjoint(self.places.pieces[at].senses)

    def _later_parts(self, at: int) -> tuple[tuple[Part, ...], int]:
        """Parts behind what they are of: "19th century, second half", "1880s (early)"."""
        opening = self.places.key(at)
        behind = at + (opening in (",", "("))
        found: list[Part] = []
        while (one := self._part(behind)) and len(found) < _MOST_PARTS:
            found.append(one[0])
            behind = one[1]
        closes = opening == "(" and self.places.key(behind) == ")"
        if not found or (opening == "(" and not closes):
            return (), at
        leads_on = self.places.key(behind) == "-" or self.places.has(behind, "to")
        if leads_on or self._begins(self._behind_link(behind)):
            return (), at
        return tuple(found), behind + closes

    # --- eras and styles --------------------------------------------------------------------------------

    def _era(self, point: Point, at: int) -> At:
        for era in _ERAS:
            if self.places.has(at, era) and (
                era != "hijri" or point.unit in ("year", "century")
            ):
                return point._replace(era=era), at + 1
        return point, at

    def _style(self, point: Point, at: int) -> At:
        """Old Style, New Style: said behind the date, with a comma or in brackets or without."""
        bracket = self.places.key(at) == "("
        behind = at + (bracket or self.places.key(at) == ",")
        for style in ("old_style", "new_style"):
            closed = not bracket or self.places.key(behind + 1) == ")"
            if self.places.has(behind, style) and closed:
                return point._replace(style=style), behind + 1 + bracket
        return point, at


# --- the point itself -------------------------------------------------------------------------------------


def _core(places: Places, at: int) -> At | None:
    senses = places.pieces[at].senses
    if not senses:
        return years_written.apostrophe(places, at) if places.key(at) == "'" else None
    if "refusal" in senses:
        raise NotADate(senses["refusal"]["why"])
    for sense, read in _READERS:
        if sense in senses:
            found = read(places, at)
            if found:
                return found
    return None


def _period(places: Places, at: int) -> At:
    return Point("period", entry=places.pieces[at].senses["period"]), at + 1


def _weekday(places: Places, at: int) -> At | None:
    """Monday, 12 April 1903."""
    behind = places.behind(at + 1 + (places.key(at + 1) == ","), "lead")
    found = None if places.has(behind, "weekdays") else _core(places, behind)
    return found if found and found[0].unit == "day" else None


def _number(places: Places, at: int) -> At | None:
    """What begins with a number, the more particular first."""
    figures = places.figures(at)
    if len(figures) > _LONGEST_NUMBER:
        return None
    if len(figures) == 4:
        found = days_written.year_first(places, at, int(figures))
    else:
        found = _short_number(places, at, int(figures))
    return found or years_written.bare_number(places, at)


def _short_number(places: Places, at: int, number: int) -> At | None:
    found = (
        days_written.numeric_day(places, at, number)
        or days_written.numeric_month(places, at, number)
        or years_written.ordinal_first(places, at)
    )
    if found or number > 99:
        return found
    second = places.counted(at + 2)
    if places.has(at + 1, "and") and second and places.has(at + 3, "sovereign"):
        return years_written.regnal(places, at + 3, number, second)  # 5 & 6 Vict.
    return _counted_day(places, at, number)


def _ordinal(places: Places, at: int) -> At | None:
    """19th century; the 12th of April; 12th Geo. III."""
    found = years_written.ordinal_first(places, at)
    if found and found[0].unit != "nth":
        return found
    number = places.pieces[at].senses.get("ordinal", places.counted(at))
    return (_counted_day(places, at, number) if number else None) or found


def _counted_day(places: Places, at: int, number: int) -> At | None:
    """A day of a month of ours, of the Republic, or a year of a reign: 12 Geo. III."""
    behind = places.behind(at + 1 + (places.key(at + 1) == "."), "of")
    if places.has(behind, "revolutionary_month", "leap_days"):
        return years_written.republican(places, behind, number)
    if places.has(behind, "sovereign"):
        return years_written.regnal(places, behind, number, number)
    return days_written.day_first(places, at, number)


def _era_first(places: Places, at: int) -> At | None:
    """A.D. 200, AH 1029, A.D. 2nd century."""
    era = "ad" if places.has(at, "ad") else "hijri"
    if places.has(at + 1, *_ERAS):
        return None
    found = _core(places, at + 1)
    figures = places.figures(at + 1)
    if 1 <= len(figures) <= 4 and not (found and found[0].unit in _NOT_A_YEAR):
        return Point("year", int(figures), era=era), at + 2
    return (found[0]._replace(era=era), found[1]) if found else None


_NOT_A_YEAR = ("day", "month", "century", "millennium")
_READERS: tuple[tuple[str, Callable[[Places, int], At | None]], ...] = (
    ("period", _period),
    ("weekdays", _weekday),
    ("month", days_written.month_first),
    ("division", days_written.division_first),
    ("number", _number),
    ("tens", years_written.tens),
    ("tens_word", years_written.tens),
    ("hidden", years_written.hidden),
    ("named_century", years_written.named_century),
    ("revolutionary_month", years_written.republican),
    ("century", years_written.century_first),
    ("ad", _era_first),
    ("hijri", _era_first),
    ("revolutionary_year", years_written.republican_year),
    ("decade_lead", years_written.decade_lead),
    ("nth", _ordinal),
    ("ordinal", _ordinal),
    ("roman", _ordinal),
)
_BEGINNINGS = frozenset(sense for sense, _ in _READERS)
