"""Days, months and seasons as people write them, in words and in figures."""

from __future__ import annotations

from catalogue.measure.place import Places
from catalogue.measure.point import At, Point, Year, of_year

_WINTER = 24
_SEPARATORS = ("-", "/", ".")


def month_first(places: Places, at: int) -> At:
    """April 12, 1903; April 12-14, 1903; April 1903; Apr-03; April '03; April."""
    month = places.pieces[at].senses["month"]
    if places.key(at + 1) in ("-", "/") and places.glued(at + 1, at + 2):
        joined = places.year(at + 2)
        if joined:
            return of_year("month", joined[0], month=month), joined[1]
    day = _day_number(places, at + 1) or _ordinal_day(places, places.behind(at + 1, "of"))
    found = _month_and_day(places, month, *day) if day else None
    if found:
        return found
    year = places.year(places.behind_of(at + 1), dual=True, short_too=not day)
    if year:
        return of_year("month", year[0], month=month), year[1]
    return Point("month", month=month, lacks=True), at + 1


def _month_and_day(places: Places, month: int, day: int, at: int) -> At | None:
    last, behind = 0, at
    if places.key(at) in ("-", "/") or places.has(at, "and"):
        last, behind = _day_number(places, at + 1) or (0, at)
    year = places.year(places.behind_of(behind), dual=True)
    if year and not _is_a_day_of_several(places, *year):
        return of_year("day", year[0], month=month, day=day, last=last), year[1]
    if not year and day <= 31 and not last:
        return Point("day", month=month, day=day, lacks=True), at
    return None


def _is_a_day_of_several(places: Places, year: Year, at: int) -> bool:
    """The 13 in April 12, 13, 1903 is no year."""
    return (
        year.short
        and places.key(at) == ","
        and places.year(at + 1, short_too=False) is not None
    )


def _day_number(places: Places, at: int) -> tuple[int, int] | None:
    """A number of one or two figures, or an ordinal, where a day may stand."""
    senses = places.pieces[at].senses
    if "nth" in senses:
        return senses["nth"], at + 1
    figures = places.figures(at)
    return (int(figures), at + 1) if 1 <= len(figures) <= 2 else None


def _ordinal_day(places: Places, at: int) -> tuple[int, int] | None:
    """The 5th in May the 5th."""
    return _day_number(places, at) if places.has(at, "nth") else None


def day_first(places: Places, at: int, day: int) -> At | None:
    """12 April 1903, the 12th of April, 15. Okt. 87, 12-Jan-1967."""
    joined = places.key(at + 1)
    behind = at + 1 + (joined == ".")
    if joined in ("-", "/") and places.has(at + 2, "month") and places.key(at + 3) == joined:
        month, year = at + 2, places.year(at + 4)
    else:
        month = places.behind(behind, "of")
        year = places.year(places.behind_of(month + 1), dual=True)
    number = places.pieces[month].senses.get("month")
    if number is None:
        return None
    if year:
        return of_year("day", year[0], month=number, day=day), year[1]
    return Point("day", month=number, day=day, lacks=True), month + 1


def division_first(places: Places, at: int) -> At:
    """spring 1911, winter 1911-12, Q1 1903, spring."""
    number = places.pieces[at].senses["division"]
    found = places.year(places.behind_of(at + 1))
    if not found:
        return Point("division", month=number, lacks=True), at + 1
    year, behind = found
    if number == _WINTER and places.key(behind) in ("-", "/"):
        other = places.figures(behind + 1)
        if other and int(other) == (year.number + 1) % 10 ** len(other):
            behind += 2
    return of_year("division", year, month=number), behind


def year_first(places: Places, at: int, year: int) -> At | None:
    """1903-04-12, 1903/4/12, 1903.04, 1903 April 12, 1903 April 12-14, 1903 (spring)."""
    separator = places.key(at + 1)
    month, day = places.figures(at + 2), places.figures(at + 4)
    if separator in _SEPARATORS and separator == places.key(at + 3):
        two_figures = separator != "-" or len(month) == len(day) == 2
        if two_figures and 1 <= len(month) <= 2 and 1 <= len(day) <= 2:
            return Point("day", year, int(month), int(day)), at + 5
    if separator == "." and len(month) == 2 and places.glued(at + 2, at + 2):
        return Point("month", year, int(month)), at + 3
    bracket = separator == "("
    found = _year_first_word(places, at + 1 + (bracket or separator in (",", ".")), year)
    if found and bracket:
        return (found[0], found[1] + 1) if places.key(found[1]) == ")" else None
    return found


def _year_first_word(places: Places, at: int, year: int) -> At | None:
    """A day, month or season behind the year, unless it has one of its own: 1883, May 1884."""
    senses = places.pieces[at].senses
    day_before = _day_number(places, at)
    if day_before:
        month = places.behind(day_before[1], "of")
        number = places.pieces[month].senses.get("month")
        if number is None or places.year(places.behind_of(month + 1), short_too=False):
            return None
        return Point("day", year, number, day_before[0]), month + 1
    if "division" in senses and not places.year(places.behind_of(at + 1)):
        return Point("division", year, senses["division"]), at + 1
    if "month" not in senses or places.year(places.behind_of(at + 1), short_too=False):
        return None
    day = _day_number(places, at + 1)
    if day is None:
        return Point("month", year, senses["month"]), at + 1
    if places.year(places.behind_of(day[1]), short_too=False):
        return None
    last, behind = 0, day[1]
    if places.key(behind) == "-":
        last, behind = _day_number(places, behind + 1) or (0, behind)
    return Point("day", year, senses["month"], day[0], last=last), behind


def numeric_day(places: Places, at: int, first: int) -> At | None:
    """12.4.1903, 12/4/1903, 12-4-03, 12/4 1903, 12 iv 1903, 12.IV.03; 12.4. before another day."""
    separator = places.key(at + 1) if places.key(at + 1) in _SEPARATORS else ""
    middle = at + 1 + bool(separator)
    second = places.key(middle + 1) if places.key(middle + 1) in _SEPARATORS else ""
    behind_second = middle + 1 + bool(second)
    if places.holds_its_point(middle):
        second = "."
    found = places.year(behind_second)
    if not found:
        return _day_before_another(places, at, first, separator) if separator else None
    year, behind = found
    if separator and second != separator and (second or year.short):
        return None
    roman = places.pieces[middle].senses.get("roman", 99)
    if roman <= 12 and (separator or not year.short):
        return of_year("day", year, month=roman, day=first), behind
    figures = places.figures(middle)
    if not separator or not 1 <= len(figures) <= 2 or first > 99:
        return None
    goes_on = places.key(behind) == separator and places.glued(behind, behind + 1)
    if goes_on and places.figures(behind + 1):
        return None
    return _in_figures(first, int(figures), year, separator), behind


def _day_before_another(places: Places, at: int, first: int, separator: str) -> At | None:
    """12.4. in 12.4.-13.5.1903: its year stands with the other."""
    figures = places.figures(at + 2)
    behind = at + 3 + (separator == "." and places.key(at + 3) == ".")
    if separator == "-" or len(figures) not in (1, 2) or places.key(behind) != "-":
        return None
    return _in_figures(first, int(figures), Year(0), separator)._replace(lacks=True), behind


def _in_figures(first: int, second: int, year: Year, separator: str) -> Point:
    """Day and month in figures: with points the day comes first, else both orders may be meant."""
    day_then_month = of_year("day", year, month=second, day=first)
    if separator == "." or first == second:
        return day_then_month
    if second > 12 >= first:
        return of_year("day", year, month=first, day=second)._replace(order="month")
    return day_then_month._replace(order="day" if first > 12 else "either")


def numeric_month(places: Places, at: int, month: int) -> At | None:
    """04/1903, 4.1903."""
    joined = places.key(at + 1) in _SEPARATORS and places.glued(at + 1, at + 2)
    year = places.figures(at + 2)
    if not joined or len(places.key(at)) > 2 or len(year) != 4:
        return None
    if places.has(at + 3, "bc", "ad"):
        return None
    return Point("month", int(year), month), at + 3
