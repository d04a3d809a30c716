"""One point in time as written → its days; and what a point takes over from one beside it.

What a text leaves open is settled by a `World`; where a point needs what none has settled `Undecided`
is raised.
"""

from __future__ import annotations

from catalogue.measure.calendars import (
    from_julian,
    hijri_year,
    julian_month_ends,
    regnal_years,
    republican,
    republican_year,
)
from catalogue.measure.days import Day, NotADate, days_in
from catalogue.measure.edtf import parse
from catalogue.measure.edtf_days import FARTHEST, bounds
from catalogue.measure.found import BEYOND, Found, days, one_of, probable, year_text, years
from catalogue.measure.point import Part, Point
from catalogue.measure.worlds import Undecided, World

LAST_CENTURY = 21
_WHOLE = 99
"""The last year of a century, counted from its first."""
_LADY_DAY = (3, 25)
"""Until 1752 the year began on it in England, so that of the days before it the year is doubtful."""


def settle(point: Point, world: World) -> Found:
    """The days of a whole point. Raises `NotADate` with the reason, and `Undecided`."""
    point = _decided(point, world)
    found = _UNITS[point.unit](point)
    if point.parts:
        found = _cut(point, found)
    return probable(found) if point.doubted else found


def _decided(point: Point, world: World) -> Point:
    if point.order:
        point = _ordered(point, world)
    if point.short:
        if world.century is None:
            raise Undecided("century")
        point = point._replace(number=world.century * 100 + point.number, short=False)
    return point


def _ordered(point: Point, world: World) -> Point:
    if not world.order:
        raise Undecided("order")
    if point.order == "either" and world.order == "month":
        return point._replace(day=point.month, month=point.day)
    if point.order != "either" and point.order != world.order:
        raise NotADate("day and month stand in another order elsewhere in it")
    return point


# --- units ----------------------------------------------------------------------------------------------


def _counted(point: Point) -> int:
    """The year in astronomical numbering: 1 BC is 0."""
    if point.era == "bc":
        if point.number == 0:
            raise NotADate("there is no year 0 BC")
        year = 1 - point.number
    else:
        year = point.number
    if abs(year) > FARTHEST and point.unit != "year":
        raise NotADate(f"its days lie {BEYOND}")
    return year


def _year(point: Point) -> Found:
    if point.era == "hijri":
        return days(*hijri_year(point.number), "year of the Islamic calendar")
    if point.style == "old_style":
        return _old_style(point, (1, 1), (12, 31))
    return years(_counted(point), _counted(point), "year")


def _decade(point: Point) -> Found:
    if point.era == "bc":
        return years(1 - point.number - 9, 1 - point.number, "decade")
    first = point.number
    rule = "decade in brackets" if point.form == "hidden" else "decade"
    return years(first, first + 9, rule, f"{first // 10:03d}X")


def _hundred(point: Point) -> Found:
    if point.era == "bc":
        return years(1 - point.number - 99, 1 - point.number, "hundreds: decade or century")
    first = point.number
    hidden = point.form == "hidden"
    rule = "century in brackets" if hidden else "hundreds: decade or century"
    return years(first, first + 99, rule, f"{first // 100:02d}XX")


def _century(point: Point) -> Found:
    number = point.number
    if point.era == "hijri":
        first_year, last_year = hijri_year(number * 100 - 99), hijri_year(number * 100)
        return days(first_year[0], last_year[1], "century of the Islamic calendar")
    if point.era == "bc":
        if not 1 <= number <= 99:
            raise NotADate(f"there is no {number}. century BC")
        return years(1 - number * 100, -(number - 1) * 100, "century")
    if not 1 <= number <= LAST_CENTURY:
        raise NotADate(f"there is no {number}. century to date paintings by")
    first = (number - 1) * 100
    if not first:
        return years(1, 99, "century")
    return years(first, first + 99, "century", f"{number - 1:02d}XX")


def _millennium(point: Point) -> Found:
    number = point.number
    if point.era == "bc":
        return years(1 - number * 1000, -(number - 1) * 1000, "millennium")
    if number not in (1, 2, 3):
        raise NotADate(f"there is no {number}. millennium to date by")
    return years(max((number - 1) * 1000, 1), number * 1000 - 1, "millennium")


def _division(point: Point) -> Found:
    edtf = f"{year_text(_counted(point))}-{point.month}"
    rule = "season of the northern half" if point.month <= 24 else "quarter of a year"
    return Found(edtf, *bounds(parse(edtf), 0)[:2], rule)


def _month(point: Point) -> Found:
    year, month = _counted(point), point.month
    if not 1 <= month <= 12:
        raise NotADate(f"there is no month {month}")
    if point.style == "old_style" or point.dual:
        return _old_style(point, (month, 1), (month, julian_month_ends(year, month)))
    last = Day(year, month, days_in(year, month))
    return Found(f"{year_text(year)}-{month:02d}", Day(year, month, 1), last, "month")


def _day(point: Point) -> Found:
    if point.style == "old_style" or point.dual:
        return _old_style(
            point, (point.month, point.day), (point.month, point.last or point.day)
        )
    first = _one_day(_counted(point), point.month, point.day)
    if point.last:
        return days(first, _one_day(first.year, point.month, point.last), "span of days")
    return Found(first.iso, first, first, _RULES_OF_DAYS.get(point.order, "day"))


_RULES_OF_DAYS = {"either": "day and month in figures", "month": "day, month first"}


def _one_day(year: int, month: int, day: int) -> Day:
    if not 1 <= month <= 12:
        raise NotADate(f"there is no month {month}, so no day {year:04d}-{month:02d}-{day:02d}")
    try:
        return Day(year, month, day)
    except ValueError as refused:
        raise NotADate(str(refused)) from None


def _old_style(point: Point, first: tuple[int, int], last: tuple[int, int]) -> Found:
    """Julian days in our calendar. A dual year (1702/3) is the later one, since it began in January."""
    year = _counted(point) + point.dual
    if point.dual and first >= _LADY_DAY:
        raise NotADate("two years are written only for days before 25 March")
    rule = "Old Style: a Julian day in our calendar"
    found = days(from_julian(year, *first), from_julian(year, *last), rule)
    if point.dual or first >= _LADY_DAY or point.unit == "year":
        return found
    next_year = days(from_julian(year + 1, *first), from_julian(year + 1, *last), rule)
    return one_of((found, next_year), f"{rule}; the year may have begun on 25 March")


def _republican(point: Point) -> Found:
    rule = "French Republican calendar"
    if not point.month:
        return days(*republican_year(point.number), rule)
    if point.day:
        day = republican(point.number, point.month, point.day)
        return days(day, day, rule)
    last = 30 if point.month < 13 else 5
    first = republican(point.number, point.month, 1)
    return days(first, republican(point.number, point.month, last), rule)


def _regnal(point: Point) -> Found:
    return days(*regnal_years(point.number, point.last, point.entry), "regnal year")


def _period(point: Point) -> Found:
    if "years" in point.entry:
        first, last = point.entry["years"]
        return years(first, last, "period")
    start, end = (Day.from_iso(each) for each in point.entry["days"])
    return Found(f"{start.iso}/{end.iso}", start, end, "period")


_UNITS = {
    "year": _year, "decade": _decade, "hundred": _hundred, "century": _century, "millennium": _millennium,
    "division": _division, "month": _month, "day": _day, "republican": _republican, "regnal": _regnal,
    "period": _period,
}  # fmt: skip


# --- parts ----------------------------------------------------------------------------------------------


def _cut(point: Point, whole: Found) -> Found:
    """The part of a part of a whole, the innermost first: early in the second half of a century."""
    if whole.earliest is None or whole.latest is None or point.unit in ("day", "regnal"):
        raise NotADate("it says a part of what has no parts here")
    if point.unit == "month":
        return _part_of_month(point, whole.earliest)
    if point.unit == "year":
        return _part_of_year(point, whole.earliest.year)
    if point.unit == "division":
        return whole._replace(rule=f"{whole.rule}, whole: its parts have no bounds")
    first, last = whole.earliest.year, whole.latest.year
    unit = "decade" if point.unit == "decade" else "century"
    for part in reversed(point.parts):
        first, last = _cut_years(part, first, last, unit)
        unit = "century"
    named = "century" if point.unit == "hundred" else point.unit
    return years(first, last, f"part of a {named}")


def _cut_years(part: Part, first: int, last: int, unit: str) -> tuple[int, int]:
    length = last - first + 1
    if isinstance(part, tuple):
        which, of = _which(part)
        return first + (which - 1) * length // of, first + which * length // of - 1
    if unit == "decade":
        starts, ends = part["decade"]
        return first + starts, first + ends
    starts, ends = part["century"]
    reaches = last if ends == _WHOLE else first + ends * length // 100
    return first + starts * length // 100, reaches


def _which(part: tuple[int, int]) -> tuple[int, int]:
    which, of = part
    if which > of:
        raise NotADate(f"there is no part {which} of {of}")
    return which or of, of


def _part_of_year(point: Point, year: int) -> Found:
    first, last = 1, 12
    for part in reversed(point.parts):
        if isinstance(part, tuple):
            which, of = _which(part)
            if of not in (2, 3, 4):
                raise NotADate("a year is not cut into so many parts")
            length = (last - first + 1) // of
            first, last = first + (which - 1) * length, first + which * length - 1
        else:
            first, last = part["year"]
    text = year_text(year)
    start, end = Day(year, first, 1), Day(year, last, days_in(year, last))
    return Found(f"{text}-{first:02d}/{text}-{last:02d}", start, end, "part of a year")


def _part_of_month(point: Point, month: Day) -> Found:
    first, last = 1, days_in(month.year, month.month)
    for part in reversed(point.parts):
        if isinstance(part, tuple):
            which, of = _which(part)
            length = last - first + 1
            first, last = first + (which - 1) * length // of, first + which * length // of - 1
        else:
            first, last = part["month"][0], min(part["month"][1], last)
    year = month.year
    return days(Day(year, month.month, first), Day(year, month.month, last), "part of a month")


# --- what a point takes over from one beside it ---------------------------------------------------------


def lean(point: Point, other: Point, *, backwards: bool) -> Point:
    """A point completed by one behind it, or (`backwards`) by one before it.

    "April" in April-May 1903 is April 1903, "17th" in 17th-18th century a century, "85" in 1880-85
    the year 1885. What is already whole takes over an era at most.
    """
    if point.unit == "part":
        return other._replace(parts=(*point.parts, *other.parts[1:])) if other.whole else point
    if point.unit == "nth":
        return _lean_nth(point, other)
    if point.unit == "decade" and point.short:
        return _lean_tens(point, other)
    if point.unit == "number":
        return _lean_number(point, other, backwards=backwards)
    if point.lacks and other.unit in _WITH_A_YEAR and not other.lacks:
        return point._replace(
            number=other.number,
            era=other.era,
            short=other.short,
            style=point.style or other.style,
            lacks=False,
        )
    if point.short and other.unit in _WITH_A_YEAR and not other.short and other.number >= 1000:
        number = other.number // 100 * 100 + point.number
        if backwards and number < other.number:
            number += 100
        return point._replace(number=number, short=False)
    if (
        backwards
        and point.unit == "year"
        and other.form == "decades"
        and point.number % 10 == 0
    ):
        return other._replace(number=point.number)
    if (
        backwards
        and point.era == "ad"
        and other.unit == point.unit == "year"
        and other.era != "bc"
    ):
        return _full_year(point, other)
    return _lean_era(point, other, backwards=backwards)


def _full_year(point: Point, other: Point) -> Point:
    """57 in 1756-57 CE."""
    figures = len(str(point.number))
    if point.number >= other.number or figures >= len(str(other.number)):
        return point
    return point._replace(number=other.number - other.number % 10**figures + point.number)


_WITH_A_YEAR = ("year", "month", "division", "day")


def _lean_era(point: Point, other: Point, *, backwards: bool) -> Point:
    if (
        point.era
        or not other.era
        or point.unit not in ("year", "decade", "hundred", "century", "millennium")
    ):
        return point
    if backwards and other.era == "bc" and point.number > other.number:
        return point
    if not backwards and other.era != "bc":
        return point
    return point._replace(era=other.era)


def _lean_nth(point: Point, other: Point) -> Point:
    fraction = other.parts[0] if other.parts else None
    if isinstance(fraction, tuple) and point.number <= fraction[1] and not point.parts:
        # 3rd-4th quarter of a century
        return other._replace(parts=((point.number, fraction[1]), *other.parts[1:]))
    if other.unit in ("century", "millennium"):
        return point._replace(unit=other.unit, era=point.era or other.era)
    if other.unit == "day" and not other.lacks:
        return other._replace(day=point.number)
    return point


def _lean_tens(point: Point, other: Point) -> Point:
    """80s beside 1870s."""
    if other.unit in ("decade", "year", "hundred") and other.number >= 1000:
        return point._replace(number=other.number // 100 * 100 + point.number, short=False)
    return point


def _lean_number(point: Point, other: Point, *, backwards: bool) -> Point:
    figures, number = point.figures, point.number
    if other.unit == "day" and not other.lacks and figures <= 2:
        return other._replace(day=number, order="")
    if other.unit in ("century", "millennium") and figures <= 2:
        return point._replace(unit=other.unit, era=other.era)
    if other.unit == "year" and other.era == "bc" and (not backwards or number < other.number):
        return Point("year", number, era="bc", parts=point.parts)
    of_years = other.unit in ("year", "decade", "hundred")
    if of_years and backwards and other.era != "bc" and figures < len(str(other.number)):
        full = other.number - other.number % 10**figures + number
        unit = "decade" if other.unit == "decade" and number % 10 == 0 else "year"
        return Point(unit, full, era=other.era, parts=point.parts)
    if other.unit == "year" and (other.era or figures == 3):
        return Point("year", number, era=other.era, parts=point.parts)
    if other.unit == "number" and figures == 3:
        return Point("year", number, parts=point.parts)
    return point
