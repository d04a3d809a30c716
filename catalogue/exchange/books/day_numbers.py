"""Days that a spreadsheet keeps as numbers, counted from 1900 or from 1904.

The count from 1900 has a 29 February 1900 (number 60) that never was, kept for the sake of a program older
still (R. Nyffenegger's notes, page "Excel: Serial number"; why is from memory): numbers
below it are one day nearer to the beginning than those above.
"""

from __future__ import annotations

from typing import Final

from catalogue.measure import Day

NEVER_WAS: Final = 60
LAST: Final = {False: 2_958_465, True: 2_957_003}
"""The number of 31 December 9999, counted from 1900 and from 1904."""

_BEFORE: Final = Day(1899, 12, 31).ordinal
_AFTER: Final = Day(1899, 12, 30).ordinal
_FROM_1904: Final = Day(1904, 1, 1).ordinal


def day_of(number: float, *, from_1904: bool = False) -> Day | None:
    """The day of a number, None where it is that of no day; a time of day in it is left out.

    >>> day_of(1).iso, day_of(59).iso, day_of(60), day_of(61).iso, day_of(31778.5).iso
    ('1900-01-01', '1900-02-28', None, '1900-03-01', '1987-01-01')
    >>> day_of(0, from_1904=True).iso
    '1904-01-01'
    """
    if not 0 <= number < LAST[from_1904] + 1:
        return None
    whole = int(number)
    if from_1904:
        return Day.from_ordinal(_FROM_1904 + whole)
    if whole in (0, NEVER_WAS):
        return None
    return Day.from_ordinal((_BEFORE if whole < NEVER_WAS else _AFTER) + whole)


def time_in(number: float) -> str:
    """The time of day in a number, "" for midnight.

    >>> time_in(31778.5), time_in(31778)
    ('12:00', '')
    """
    minutes = round((number - int(number)) * 24 * 60)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}" if minutes else ""
