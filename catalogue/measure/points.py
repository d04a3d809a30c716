"""Pieces of text → one point in time as it is written: a day, season, year, decade, century.

A point may lack what stands beside another one: the first in "12-14 April 1903", "late 17th-early
18th century". Nothing is worked out here but who stands for what; settling.py gives the days.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple, TypeAlias

from catalogue.measure.days import NotADate
from catalogue.measure.words import Piece

Part: TypeAlias = dict[str, Any] | tuple[int, int]
"""An entry of the vocabulary (early, mid, late), or which of how many parts: (2, 4)."""

LACKING = frozenset({"number", "nth", "part"})
"""Units that are none: a bare figure, ordinal or part waits for another point to say of what."""
_LONGEST_NUMBER = 6
_MOST_PARTS = 4
_SEPARATORS = ("-", "/", ".")


class Point(NamedTuple):
    """One point in time as written.

    `number` counts what `unit` says: the year of a year, month, season or day, the first year of a
    decade, the number of a century. `short`: two figures for a year; `lacks`: a day or month
    without its year; `order`: whether the day stood before the month ("day", "month", "either").
    """

    unit: str
    number: int = 0
    month: int = 0
    day: int = 0
    parts: tuple[Part, ...] = ()
    era: str = ""
    short: bool = False
    lacks: bool = False
    order: str = ""
    style: str = ""
    doubted: bool = False
    last: int = 0
    dual: bool = False
    entry: Any = None

    @property
    def whole(self) -> bool:
        """Whether it says all that a date must say."""
        return not self.lacks and self.unit not in LACKING


At: TypeAlias = tuple[Point, int]
"""A point, and the place of the first piece behind it."""
_Year: TypeAlias = tuple[int, bool, bool, int]
"""A year, whether it has but two figures, whether it is a dual one (1702/3), the place behind it."""


class Points:
    """Reads the points of one text; a place is an index of its pieces."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = pieces

    def has(self, at: int, sense: str) -> bool:
        """Whether the piece there has that sense."""
        return sense in self.pieces[at].senses

    def key(self, at: int) -> str:
        """The piece there as it is written, in small letters."""
        return self.pieces[at].key

    def behind(self, at: int, sense: str) -> int:
        """The place behind all pieces there that have the sense."""
        while sense in self.pieces[at].senses:
            at += 1
        return at

    def point(self, at: int) -> At | None:
        """The point that begins there, None where none does. Raises `NotADate` with the reason."""
        parts, behind_parts = self._parts(at)
        core = self._core(behind_parts)
        if core is None:
            return (Point("part", parts=parts), self._last_part(at)) if parts else None
        point, at = core
        point, at = self._era(point, at)
        later, behind = self._later_parts(at)
        if later:
            at = behind
            point, at = self._era(point, at)
        point, at = self._style(point, at)
        return point._replace(parts=(*parts, *later)), at

    # --- parts: early, 2nd half of the, dernier quart du ------------------------------------------------

    def _parts(self, at: int) -> tuple[tuple[Part, ...], int]:
        found: list[Part] = []
        while (one := self._part(at)) and len(found) < _MOST_PARTS:
            found.append(one[0])
            at = self._behind_link(one[1])
        return tuple(found), at

    def _last_part(self, at: int) -> int:
        """The place behind the parts there, without the words that would lead on to something."""
        behind = at
        for _ in range(_MOST_PARTS):
            if one := self._part(at):
                behind, at = one[1], self._behind_link(one[1])
        return behind

    def _part(self, at: int) -> tuple[Part, int] | None:
        senses = self.pieces[at].senses
        which = senses.get("ordinal", senses.get("nth", senses.get("roman")))
        behind = at + 1
        if which is None and len(senses.get("number", "")) == 1:
            which = int(senses["number"])
            behind += self.key(behind) == "."
        if which is not None:
            behind += self.key(behind) == "-"
            if "fraction" in self.pieces[behind].senses:
                return (which, self.pieces[behind].senses["fraction"]), behind + 1
        if "part" in senses:
            return senses["part"], at + 1
        return None

    def _behind_link(self, at: int) -> int:
        """Behind "of the", or a hyphen as in mid-1880s that parts two parts in early-mid 1880s."""
        if self.key(at) == "-" and not self._part(at + 1):
            behind = at + 1
            return behind if self._begins(behind) else at
        behind = self.behind(at, "of")
        return behind if self._begins(behind) or self._part(behind) else at

    def _begins(self, at: int) -> bool:
        senses = self.pieces[at].senses
        return bool(senses) and any(sense in senses for sense in _BEGINNINGS)

    def _later_parts(self, at: int) -> tuple[tuple[Part, ...], int]:
        """Parts behind what they are of: "19th century, second half", "1880s (early)"."""
        opens = self.key(at) in (",", "(")
        behind = at + opens
        found: list[Part] = []
        while (one := self._part(behind)) and len(found) < _MOST_PARTS:
            found.append(one[0])
            behind = one[1]
        closes = self.key(behind) == ")" and self.key(at) == "("
        if not found or (self.key(at) == "(" and not closes):
            return (), at
        leads_on = self.key(behind) == "-" or self.has(behind, "to")
        if leads_on or self._begins(self._behind_link(behind)):
            return (), at
        return tuple(found), behind + closes

    # --- eras and styles --------------------------------------------------------------------------------

    def _era(self, point: Point, at: int) -> At:
        for era in ("bc", "ad", "hijri"):
            if self.has(at, era) and (era != "hijri" or point.unit in ("year", "century")):
                return point._replace(era=era), at + 1
        return point, at

    def _style(self, point: Point, at: int) -> At:
        """Old Style, New Style: said behind the date, with a comma or in brackets or without."""
        bracket = self.key(at) == "("
        behind = at + (self.key(at) in (",", "("))
        for style in ("old_style", "new_style"):
            if self.has(behind, style) and (not bracket or self.key(behind + 1) == ")"):
                return point._replace(style=style), behind + 1 + bracket
        return point, at

    # --- the point itself -------------------------------------------------------------------------------

    def _core(self, at: int) -> At | None:
        senses = self.pieces[at].senses
        if not senses:
            return self._apostrophe(at) if self.key(at) == "'" else None
        if "refusal" in senses:
            raise NotADate(senses["refusal"]["why"])
        for sense, read in _READERS:
            if sense in senses:
                found = read(self, at)
                if found:
                    return found
        return None

    def _period(self, at: int) -> At:
        return Point("period", entry=self.pieces[at].senses["period"]), at + 1

    def _weekday(self, at: int) -> At | None:
        behind = at + 1 + (self.key(at + 1) == ",")
        behind = self.behind(behind, "lead")
        found = None if self.has(behind, "weekdays") else self._core(behind)
        return found if found and found[0].unit == "day" else None

    def _hidden(self, at: int) -> At:
        """188-, 18--: figures that are not said."""
        figures, doubted = self.pieces[at].senses["hidden"], self.pieces[at].senses["doubted"]
        unit = "decade" if len(figures) == 3 else "hundred"
        size = 10 if len(figures) == 3 else 100
        return Point(unit, int(figures) * size, doubted=doubted, entry="hidden"), at + 1

    def _tens(self, at: int) -> At:
        """1880s; 80s; 80er Jahre des 19. Jahrhunderts."""
        return self._of_a_century(_decade(self.pieces[at].senses["tens"]), at + 1)

    def _tens_word(self, at: int) -> At:
        """anni Ottanta, the eighties."""
        return self._of_a_century(_decade(f"{self.pieces[at].senses['tens_word']:02d}"), at + 1)

    def _of_a_century(self, decade: Point, at: int) -> At:
        """A decade of two figures with the century that is named behind it."""
        behind = self.behind(at, "of")
        if decade.short and behind > at and not self.has(behind, "tens"):
            found = self._ordinal_or_century(behind)
            if found and found[0].unit == "century" and found[0].number:
                first = (found[0].number - 1) * 100
                return Point("decade", first + decade.number, era=found[0].era), found[1]
        return decade, at

    def _ordinal_or_century(self, at: int) -> At | None:
        senses = self.pieces[at].senses
        if "century" in senses:
            return self._century_first(at)
        ordinal = ("nth", "ordinal", "roman", "number")
        return self._ordinal_first(at) if any(each in senses for each in ordinal) else None

    def _decade_lead(self, at: int) -> At | None:
        """années 1880, les années 80, gli anni '80."""
        behind = at + 1 + (self.key(at + 1) == "'")
        senses = self.pieces[behind].senses
        figures = senses.get("number", senses.get("tens", ""))
        if len(figures) in (2, 3, 4) and figures[-1] == "0":
            decade, behind = self._of_a_century(_decade(figures), behind + 1)
            return decade._replace(entry="decades"), behind
        return self._tens_word(behind) if "tens_word" in senses else None

    def _named_century(self, at: int) -> At:
        return Point("century", self.pieces[at].senses["named_century"]), at + 1

    def _century_first(self, at: int) -> At | None:
        """siècle XIX, sec. XIX, s. XIX."""
        senses = self.pieces[at + 1].senses
        number = senses.get("roman", senses.get("nth"))
        if number is None and len(senses.get("number", "")) in (1, 2):
            spelt_out = len(self.key(at)) > 1
            number = (
                int(senses["number"])
                if spelt_out and "circa" not in self.pieces[at].senses
                else None
            )
        return None if number is None else (Point("century", number), at + 2)

    def _era_first(self, at: int) -> At | None:
        """A.D. 200."""
        era = next(era for era in ("ad", "hijri", "bc") if self.has(at, era))
        senses = self.pieces[at + 1].senses
        if any(each in senses for each in ("ad", "hijri", "bc")):
            return None
        figures = senses.get("number", "")
        if era != "bc" and 1 <= len(figures) <= 4 and not self._day_or_century(at + 1):
            return Point("year", int(figures), era=era), at + 2
        found = self._core(at + 1) if era != "bc" and senses else None
        return (found[0]._replace(era=era), found[1]) if found else None

    def _day_or_century(self, at: int) -> bool:
        found = self._core(at)
        return bool(found and found[0].unit in ("day", "century", "millennium", "month"))

    def _apostrophe(self, at: int) -> At | None:
        """'87."""
        senses = self.pieces[at + 1].senses
        figures = senses.get("number", "")
        if len(figures) == 2 and self.pieces[at + 1].glued:
            return Point("year", int(figures), short=True), at + 2
        if len(senses.get("tens", "")) == 2:
            return _decade(senses["tens"]), at + 2
        return None

    # --- months and seasons -----------------------------------------------------------------------------

    def _month_first(self, at: int) -> At:
        """April 12, 1903; April 12-14, 1903; April 1903; April '03; April."""
        month = self.pieces[at].senses["month"]
        joined = (
            self.key(at + 1) in ("-", "/")
            and self.pieces[at + 1].glued
            and self.pieces[at + 2].glued
        )
        if joined and (year := self.year(at + 2)):
            return _of_year("month", year, month=month), year[3]
        day = self._day_number(at + 1)
        if day:
            found = self._month_and_day(month, day[0], day[1])
            if found:
                return found
        year = self.year(self._behind_of(at + 1), dual=True, short_too=not day)
        if year:
            return _of_year("month", year, month=month), year[3]
        return Point("month", month=month, lacks=True), at + 1

    def _month_and_day(self, month: int, day: int, at: int) -> At | None:
        last, behind = 0, at
        if self.key(at) in ("-", "/") or self.has(at, "and"):
            other = self._day_number(at + 1)
            if other:
                last, behind = other
        year = self.year(self._behind_of(behind), dual=True)
        if (
            year
            and year[1]
            and self.key(year[3]) == ","
            and self.year(year[3] + 1, short_too=False)
        ):
            return None  # April 12, 13, 1903
        if year:
            return _of_year("day", year, month=month, day=day, last=last), year[3]
        if day <= 31 and not last:
            return Point("day", month=month, day=day, lacks=True), at
        return None

    def _day_number(self, at: int) -> tuple[int, int] | None:
        """A number of one or two figures, or an ordinal, where a day may stand."""
        senses = self.pieces[at].senses
        if "nth" in senses:
            return senses["nth"], at + 1
        figures = senses.get("number", "")
        return (int(figures), at + 1) if 1 <= len(figures) <= 2 else None

    def _behind_of(self, at: int) -> int:
        behind = at + (self.key(at) in (",", "."))
        return self.behind(behind, "of")

    def _division_first(self, at: int) -> At:
        """spring 1911, winter 1911-12, spring."""
        number = self.pieces[at].senses["division"]
        year = self.year(self._behind_of(at + 1))
        if not year:
            return Point("division", month=number, lacks=True), at + 1
        behind = year[3]
        if number == _WINTER and self.key(behind) in ("-", "/"):
            other = self.pieces[behind + 1].senses.get("number", "")
            if other and int(other) == (year[0] + 1) % 10 ** len(other):
                behind += 2
        return _of_year("division", year, month=number), behind

    # --- years ------------------------------------------------------------------------------------------

    def year(self, at: int, *, dual: bool = False, short_too: bool = True) -> _Year | None:
        """A year of four figures, of two, or of any number with its era behind it."""
        if self.key(at) == "'":
            figures = self.pieces[at + 1].senses.get("number", "")
            return (int(figures), True, False, at + 2) if len(figures) == 2 else None
        figures = self.pieces[at].senses.get("number", "")
        if len(figures) == 4:
            year = int(figures)
            other = self.pieces[at + 2].senses.get("number", "")
            two_years = self.key(at + 1) == "/" and 1 <= len(other) <= 2
            if dual and two_years and int(other) == (year + 1) % 10 ** len(other):
                return year, False, True, at + 3
            return year, False, False, at + 1
        if 1 <= len(figures) <= 4 and (self.has(at + 1, "bc") or self.has(at + 1, "ad")):
            return int(figures), False, False, at + 1
        if len(figures) == 2 and short_too:
            return int(figures), True, False, at + 1
        return None

    def _number_first(self, at: int) -> At | None:
        figures = self.pieces[at].senses["number"]
        if len(figures) > _LONGEST_NUMBER:
            return None
        for read in _BY_LENGTH[len(figures) == 4]:
            found = read(self, at, int(figures))
            if found:
                return found
        return self._bare_number(at, figures)

    def _bare_number(self, at: int, figures: str) -> At | None:
        """A year; or a figure that waits for another point."""
        doubted = bool(self.pieces[at].senses.get("doubted"))
        if len(figures) == 4:
            return Point("year", int(figures), doubted=doubted), at + 1
        number, behind = int(figures), at + 1
        thousands = self.pieces[at + 2].senses.get("number", "")
        if self.key(at + 1) == "," and len(thousands) == 3 and self.has(at + 3, "bc"):
            number, behind = number * 1000 + int(thousands), at + 3
        if self.has(behind, "bc") or self.has(behind, "ad") or self.has(behind, "hijri"):
            return Point("year", number), behind
        if len(figures) > 3:
            return None
        if self.key(behind) == "." and self._joins(behind + 1):
            behind += 1
        return Point("number", number, last=len(figures)), behind

    def _joins(self, at: int) -> bool:
        """Whether a word or hyphen stands there that joins two dates: 12.-14. April."""
        return self.key(at) in ("-", "/") or any(
            self.has(at, sense) for sense in ("to", "and", "either")
        )

    def _year_first_day(self, at: int, year: int) -> At | None:
        """1903-04-12, 1903/4/12, 1903 April 12, 1903 April 12-14, 1903 April."""
        separator = self.key(at + 1)
        month, day = (self.pieces[each].senses.get("number", "") for each in (at + 2, at + 4))
        if separator in _SEPARATORS and separator == self.key(at + 3):
            two_figures = separator != "-" or len(month) == len(day) == 2
            if two_figures and 1 <= len(month) <= 2 and 1 <= len(day) <= 2:
                return Point("day", year, int(month), int(day)), at + 5
        if separator == "." and len(month) == 2 and self.pieces[at + 2].glued:
            return Point("month", year, int(month)), at + 3
        bracket = separator == "("
        behind = at + 1 + (bracket or separator in (",", "."))
        found = self._year_first_word(behind, year)
        if found and bracket:
            return (found[0], found[1] + 1) if self.key(found[1]) == ")" else None
        return found

    def _year_first_word(self, at: int, year: int) -> At | None:
        """A month or season behind the year: 1883 (spring), 1883, May 5."""
        senses = self.pieces[at].senses
        if "month" in senses:
            return self._year_first_month(at, year)
        if "division" in senses and not self.year(self._behind_of(at + 1)):
            return Point("division", year, senses["division"]), at + 1
        return None

    def _year_first_month(self, at: int, year: int) -> At | None:
        """What follows the year: "April 12", unless that April has a year of its own."""
        month = self.pieces[at].senses["month"]
        if self.year(self._behind_of(at + 1), short_too=False):
            return None
        day = self._day_number(at + 1)
        if day is None:
            return Point("month", year, month), at + 1
        if self.year(self._behind_of(day[1]), short_too=False):
            return None
        last, behind = 0, day[1]
        if self.key(behind) == "-" and (other := self._day_number(behind + 1)):
            last, behind = other
        return Point("day", year, month, day[0], last=last), behind

    def _numeric_day(self, at: int, first: int) -> At | None:
        """12.4.1903, 12/4/1903, 12-4-03, 12/4 1903, 12 iv 1903, 12.IV.03."""
        separator = self.key(at + 1) if self.key(at + 1) in _SEPARATORS else ""
        middle = at + 1 + bool(separator)
        senses = self.pieces[middle].senses
        second = self.key(middle + 1) if self.key(middle + 1) in _SEPARATORS else ""
        year = self.year(middle + 1 + bool(second))
        if not year and separator:
            return self._day_before_another(at, first, separator)
        if not year or (separator and second != separator and (second or year[1])):
            return None
        if "roman" in senses and senses["roman"] <= 12 and (separator or not year[1]):
            return _of_year("day", year, month=senses["roman"], day=first), year[3]
        figures = senses.get("number", "")
        if not separator or not 1 <= len(figures) <= 2 or first > 99:
            return None
        goes_on = self.key(year[3]) == separator and self.pieces[year[3] + 1].glued
        if goes_on and self.has(year[3] + 1, "number"):
            return None
        return _numeric(first, int(figures), year, separator), year[3]

    def _day_before_another(self, at: int, first: int, separator: str) -> At | None:
        """12.4. in 12.4.-13.5.1903: its year stands with the other."""
        figures = self.pieces[at + 2].senses.get("number", "")
        behind = at + 3 + (separator == "." and self.key(at + 3) == ".")
        if separator == "-" or len(figures) not in (1, 2) or self.key(behind) != "-":
            return None
        day = _numeric(first, int(figures), (0, False, False, 0), separator)
        return day._replace(lacks=True), behind

    def _numeric_month(self, at: int, month: int) -> At | None:
        """04/1903, 4.1903."""
        year = self.pieces[at + 2]
        if self.key(at + 1) not in _SEPARATORS or not 1 <= len(self.key(at)) <= 2:
            return None
        if (
            len(year.senses.get("number", "")) != 4
            or not year.glued
            or not self.pieces[at + 1].glued
        ):
            return None
        if self.has(at + 3, "bc") or self.has(at + 3, "ad"):
            return None
        return Point("month", int(year.senses["number"]), month), at + 3

    def _day_and_month(self, at: int, day: int) -> At | None:
        """12 April 1903, the 12th of April, 15. Okt. 87; 12 vendémiaire an VI; 12 Geo. III."""
        behind = at + 1 + (self.key(at + 1) == ".")
        joined = self.key(at + 1)
        if joined in ("-", "/") and self.has(at + 2, "month") and self.key(at + 3) == joined:
            return self._joined_day(at + 2, day)
        behind = self.behind(behind, "of")
        senses = self.pieces[behind].senses
        if "revolutionary_month" in senses or "leap_days" in senses:
            return self._republican(behind, day)
        if "sovereign" in senses:
            return self._regnal(behind, day, day)
        if "month" not in senses or day > 99:
            return None
        year = self.year(self._behind_of(behind + 1), dual=True)
        if year:
            return _of_year("day", year, month=senses["month"], day=day), year[3]
        return Point("day", month=senses["month"], day=day, lacks=True), behind + 1

    def _joined_day(self, at: int, day: int) -> At | None:
        """12-Jan-1967, 12/Jan/67."""
        year = self.year(at + 2)
        if not year:
            return None
        return _of_year("day", year, month=self.pieces[at].senses["month"], day=day), year[3]

    def _ordinal_first(self, at: int) -> At | None:
        """19th century, XIXe siècle, nineteenth-century, 19. Jh.; 12th April; 2nd millennium."""
        senses = self.pieces[at].senses
        number = senses.get("nth", senses.get("ordinal", senses.get("roman")))
        if number is None:
            number = int(senses["number"])
        behind = at + 1
        while self.key(behind) in (".", "-", "°", "º") and behind < at + 3:
            behind += 1
        if self.has(behind, "century"):
            return Point("century", number), behind + 1
        if self.has(behind, "millennium"):
            return Point("millennium", number), behind + 1
        if "number" in senses:
            return None
        day = self._day_and_month(at, number)
        if day:
            return day
        return (Point("nth", number), at + 1) if number else None

    def _century_of_number(self, at: int, number: int) -> At | None:
        return self._ordinal_first(at)

    # --- other calendars --------------------------------------------------------------------------------

    def _republican_month(self, at: int) -> At | None:
        return self._republican(at, 0)

    def _republican(self, at: int, day: int) -> At | None:
        """vendémiaire an VI, with the day before it; the 3rd complementary day."""
        senses = self.pieces[at].senses
        month = senses.get("revolutionary_month", 13)
        behind = at + 1 + (self.key(at + 1) == ",")
        while self.has(behind, "revolutionary_year") or self.has(behind, "lead"):
            behind += 1
        year = self._small_number(behind)
        if year is None:
            raise NotADate("the year of the Republic is not said")
        return Point("republican", year, month, day), behind + 1

    def _republican_year(self, at: int) -> At | None:
        """an VII, and only with a roman year or so written: an 7."""
        number = self._small_number(at + 1)
        if number is None or number > 14 or self.key(at) not in ("an", "l'an"):
            return None
        return Point("republican", number), at + 2

    def _small_number(self, at: int) -> int | None:
        senses = self.pieces[at].senses
        number = senses.get("roman", senses.get("nth"))
        if number is None and len(senses.get("number", "")) in (1, 2):
            number = int(senses["number"])
        return None if number is None else int(number)

    def _regnal(self, at: int, first: int, last: int) -> At | None:
        """Geo. III, Vict., behind the number of the year."""
        reigns = self.pieces[at].senses["sovereign"]
        number = self._small_number(at + 1)
        # the first of a name is cited without a number: 8 Eliz.
        reign = reigns.get(str(number)) if number else reigns.get("0", reigns.get("1"))
        if reign is None:
            raise NotADate("which sovereign of that name is not said, or there is none")
        behind = self.pieces[at + 1]
        if not number and behind.key[:1].isalpha() and not behind.senses:
            return None  # 5 Victoria Street
        return Point("regnal", first, last=last, entry=reign), at + 1 + bool(number)

    def _regnal_pair(self, at: int, first: int) -> At | None:
        """5 & 6 Vict."""
        second = self._small_number(at + 2)
        if self.has(at + 1, "and") and second and self.has(at + 3, "sovereign"):
            return self._regnal(at + 3, first, second)
        return None


_WINTER = 24


def _decade(figures: str) -> Point:
    if len(figures) == 2:
        return Point("decade", int(figures), short=True)
    unit = "hundred" if figures[-2:] == "00" else "decade"
    return Point(unit, int(figures))


def _of_year(unit: str, year: _Year, *, month: int, day: int = 0, last: int = 0) -> Point:
    return Point(unit, year[0], month, day, short=year[1], dual=year[2], last=last)


def _numeric(first: int, second: int, year: _Year, separator: str) -> Point:
    """Day and month in figures: with points the day comes first, else both orders may be meant."""
    if separator == "." or first == second:
        return _of_year("day", year, month=second, day=first)
    if second > 12 >= first:
        return _of_year("day", year, month=first, day=second)._replace(order="month")
    if first > 12:
        return _of_year("day", year, month=second, day=first)._replace(order="day")
    return _of_year("day", year, month=second, day=first)._replace(order="either")


_READERS = (
    ("period", Points._period),
    ("weekdays", Points._weekday),
    ("month", Points._month_first),
    ("division", Points._division_first),
    ("number", Points._number_first),
    ("tens", Points._tens),
    ("tens_word", Points._tens_word),
    ("hidden", Points._hidden),
    ("named_century", Points._named_century),
    ("revolutionary_month", Points._republican_month),
    ("century", Points._century_first),
    ("ad", Points._era_first),
    ("hijri", Points._era_first),
    ("revolutionary_year", Points._republican_year),
    ("decade_lead", Points._decade_lead),
    ("nth", Points._ordinal_first),
    ("ordinal", Points._ordinal_first),
    ("roman", Points._ordinal_first),
)
_BEGINNINGS = frozenset(sense for sense, _ in _READERS)
_OTHER_NUMBER = (
    Points._numeric_day,
    Points._numeric_month,
    Points._century_of_number,
    Points._day_and_month,
    Points._regnal_pair,
)
_BY_LENGTH = {True: (Points._year_first_day,), False: _OTHER_NUMBER}
