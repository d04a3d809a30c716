"""Days of other calendars → days of ours: Julian, French Republican, Islamic, and years of a reign.

Counted over the ordinals of `Day`, which is proleptic Gregorian.
"""

from __future__ import annotations

from catalogue.measure.days import Day, NotADate

_FIRST_REPUBLICAN = Day(1792, 9, 22)
_LAST_REPUBLICAN = Day(1805, 12, 31)
_REPUBLICAN_YEARS = 14
_SEXTILE = (3, 7, 11)
_JULIAN_HIJRA = (622, 7, 16)
_TABULAR_CYCLE = (30, 10_631)
_MONTH_STARTS = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)
_GREGORIAN_IN_BRITAIN = Day(1752, 9, 14)


def from_julian(year: int, month: int, day: int) -> Day:
    """The day that the Julian calendar called so. Raises `NotADate` where it has no such day.

    >>> from_julian(1703, 3, 12).iso, from_julian(1900, 2, 29).iso
    ('1703-03-23', '1900-03-13')
    """
    leap = year % 4 == 0
    lengths = (31, 28 + leap, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    if not 1 <= month <= 12 or not 1 <= day <= lengths[month - 1]:
        raise NotADate(
            f"there is no day {year:04d}-{month:02d}-{day:02d} in the Julian calendar"
        )
    before = year - 1
    days = before * 365 + before // 4 + _MONTH_STARTS[month - 1] + (leap and month > 2) + day
    return Day.from_ordinal(days - 2)


def julian_month_ends(year: int, month: int) -> int:
    """The last day of a month in the Julian calendar."""
    if month == 2:
        return 28 + (year % 4 == 0)
    return 30 if month in (4, 6, 9, 11) else 31


def republican(year: int, month: int, day: int) -> Day:
    """A day of the French Republican calendar; month 13 holds its complementary days.

    Source: the decree of 4 frimaire an II; the sextile years were III, VII and XI. It was given up
    after 10 nivôse an XIV. Raises `NotADate`.

    >>> republican(6, 1, 12).iso
    '1797-10-03'
    """
    longest = 30 if month < 13 else 5 + (year in _SEXTILE)
    if not 1 <= year <= _REPUBLICAN_YEARS or not 1 <= day <= longest:
        raise NotADate("the French Republican calendar has no such day")
    leap_days = sum(1 for each in _SEXTILE if each < year)
    on = (year - 1) * 365 + leap_days + (month - 1) * 30 + day - 1
    found = Day.from_ordinal(_FIRST_REPUBLICAN.ordinal + on)
    if found > _LAST_REPUBLICAN:
        raise NotADate("the French Republican calendar was given up after 10 nivôse an XIV")
    return found


def republican_year(year: int) -> tuple[Day, Day]:
    """First and last day of a year of the French Republican calendar. Raises `NotADate`."""
    first = republican(year, 1, 1)
    if year == _REPUBLICAN_YEARS:
        return first, _LAST_REPUBLICAN
    return first, republican(year + 1, 1, 1).beside(-1)


def hijri_year(year: int) -> tuple[Day, Day]:
    """First and last day of a year of the Islamic calendar, by the tabular reckoning.

    The calendar in use may differ by a day or two.

    >>> [day.iso for day in hijri_year(1029)]
    ['1619-12-08', '1620-11-25']
    """
    return _hijri_new_year(year), _hijri_new_year(year + 1).beside(-1)


def _hijri_new_year(year: int) -> Day:
    years, days = _TABULAR_CYCLE
    cycles, within = divmod(year - 1, years)
    leap_days = (11 * within + 14) // years
    on = cycles * days + within * 354 + leap_days
    return Day.from_ordinal(from_julian(*_JULIAN_HIJRA).ordinal + on)


def regnal_years(first: int, last: int, reign: list[str]) -> tuple[Day, Day]:
    """First and last day of the years of a British reign, both included. Raises `NotADate`.

    `reign` is the day of accession and the day it ended, none where it goes on; days before 14
    September 1752 are Julian.

    >>> [day.iso for day in regnal_years(12, 12, ["1760-10-25", "1820-01-29"])]
    ['1771-10-25', '1772-10-24']
    """
    begins = Day.from_iso(reign[0])
    old_style = begins < _GREGORIAN_IN_BRITAIN

    def anniversary(years: int) -> Day:
        day = begins.years_on(years)
        return from_julian(day.year, day.month, day.day) if old_style else day

    starts, ends = anniversary(first - 1), anniversary(last).beside(-1)
    ended = _in_our_calendar(Day.from_iso(reign[1])) if len(reign) > 1 else None
    if first < 1 or last < first or (ended and starts > ended):
        raise NotADate("that reign had no such year")
    return starts, min(ends, ended) if ended else ends


def _in_our_calendar(day: Day) -> Day:
    if day >= _GREGORIAN_IN_BRITAIN:
        return day
    return from_julian(day.year, day.month, day.day)
