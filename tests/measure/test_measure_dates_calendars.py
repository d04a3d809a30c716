"""Other calendars against published days, a table of reigns, and PyPI convertdate."""

from __future__ import annotations

import itertools
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue import places
from catalogue.measure import Day, read_date, why_not
from catalogue.measure.calendars import from_julian, hijri_year, republican
from catalogue.measure.days import NotADate

# Days that history fixes. The last Julian day in Britain and the first Gregorian one: Calendar (New
# Style) Act 1750, 2 September and 14 September 1752. The coup of Brumaire, the fall of Thermidor and
# the last day of the French Republican calendar: general history, from memory. The Act itself is 24 Geo. II c. 23,
# the Copyright Act of 1 July 1842 is 5 & 6 Vict. c. 45: from memory.
FIXED = [
    ("2 September 1752 O.S.", "1752-09-13", "1752-09-13"),
    ("18 brumaire an VIII", "1799-11-09", "1799-11-09"),
    ("9 thermidor an II", "1794-07-27", "1794-07-27"),
    ("10 nivôse an XIV", "1805-12-31", "1805-12-31"),
    ("1er vendémiaire an I", "1792-09-22", "1792-09-22"),
    ("an VII", "1798-09-22", "1799-09-22"),
    ("l'an VII", "1798-09-22", "1799-09-22"),
    ("brumaire an 8", "1799-10-23", "1799-11-21"),
    ("6e jour complémentaire an VII", "1799-09-22", "1799-09-22"),
    ("12 March 1702/3", "1703-03-23", "1703-03-23"),
    ("March 1702/3", "1703-03-12", "1703-04-11"),
    ("5 June 1702 (O.S.)", "1702-06-16", "1702-06-16"),
    ("5 June 1702, Old Style", "1702-06-16", "1702-06-16"),
    ("5 June 1702 N.S.", "1702-06-05", "1702-06-05"),
    ("10 February 1732 O.S.", "1732-02-21", "1733-02-21"),
    ("1702/3", "1702-01-01", "1703-12-31"),
    ("24 Geo. II", "1750-06-22", "1751-06-21"),
    ("5 & 6 Vict.", "1841-06-20", "1843-06-19"),
    ("12 George III", "1771-10-25", "1772-10-24"),
    ("12th Geo. III", "1771-10-25", "1772-10-24"),
    ("60 Geo. III", "1819-10-25", "1820-01-29"),
    ("8 Eliz.", "1565-11-27", "1566-11-26"),
    ("AH 1029", "1619-12-08", "1620-11-25"),
    ("AH 1029/AD 1620", "1620-01-01", "1620-12-31"),
]

REFUSED = [
    ("31 vendémiaire an VI", "the French Republican calendar has no such day"),
    ("6e jour complémentaire an VI", "the French Republican calendar has no such day"),
    ("11 nivôse an XIV", "the French Republican calendar was given up after 10 nivôse an XIV"),
    ("12 vendémiaire", "the year of the Republic is not said"),
    ("25 March 1702/3", "two years are written only for days before 25 March"),
    ("30 February 1702 O.S.", "there is no day 1702-02-30 in the Julian calendar"),
    ("80 Geo. III", "that reign had no such year"),
    ("3 Geo. IX", "which sovereign of that name is not said, or there is none"),
]

# "A Table of British Regnal Years", Select Essays in Anglo-American Legal History, vol. 1 (1907),
# p. xviii, as Wikisource has it: commencement of reign.
ACCESSIONS = """
Henry 8 1509-04-22, Edward 6 1547-01-28, Elizabeth 1 1558-11-17, James 1 1603-03-24, Charles 1 1625-03-27,
Charles 2 1649-01-30, James 2 1685-02-06, William+and+Mary 0 1689-02-13, Anne 0 1702-03-08, George 1 1714-08-01,
George 2 1727-06-11, George 3 1760-10-25, George 4 1820-01-29, William 4 1830-06-26, Victoria 0 1837-06-20,
Edward 7 1901-01-22, George 5 1910-05-06
"""


def days(phrase):
    span = read_date(phrase)
    return (span.earliest.iso, span.latest.iso) if span else why_not(phrase)


@pytest.mark.parametrize(("phrase", "earliest", "latest"), FIXED)
def test_days_of_other_calendars_are_told_in_ours(phrase, earliest, latest):
    assert days(phrase) == (earliest, latest)


@pytest.mark.parametrize(("phrase", "why"), REFUSED)
def test_days_that_a_calendar_never_had_are_refused(phrase, why):
    assert days(phrase) == why


@pytest.mark.parametrize("row", [row.strip() for row in ACCESSIONS.split(",")])
def test_reigns_begin_as_the_table_has_it(row):
    name, number, accession = row.split()
    held = tomllib.loads((places.folder("vocab") / "dates.toml").read_text("utf-8"))
    (reigns,) = [each for each in held["sovereign"] if name.replace("+", " ") in each["names"]]
    assert reigns[number][0] == accession


def test_reigns_follow_each_other_without_a_gap():
    held = tomllib.loads((places.folder("vocab") / "dates.toml").read_text("utf-8"))
    reigns = sorted(
        reign
        for each in held["sovereign"]
        for number, reign in each.items()
        if number != "names" and reign[0] > "1700"
    )
    for before, after in itertools.pairwise(reigns):
        assert before[1] == after[0]


@given(st.dates())
def test_julian_days_are_those_of_convertdate(date):
    julian = pytest.importorskip("convertdate.julian")
    year, month, day = julian.from_gregorian(date.year, date.month, date.day)
    if year > 0:
        assert from_julian(year, month, day) == Day(date.year, date.month, date.day)


@given(st.integers(1, 14), st.integers(1, 12), st.integers(1, 30))
def test_republican_days_are_those_of_convertdate(year, month, day):
    french = pytest.importorskip("convertdate.french_republican")
    theirs = Day(*french.to_gregorian(year, month, day))
    if theirs > Day(1805, 12, 31):
        with pytest.raises(NotADate):
            republican(year, month, day)
    else:
        assert republican(year, month, day) == theirs


@given(st.integers(1, 1500))
def test_islamic_years_are_those_of_convertdate(year):
    islamic = pytest.importorskip("convertdate.islamic")
    first, last = hijri_year(year)
    assert first == Day(*islamic.to_gregorian(year, 1, 1))
    assert last.beside(1) == Day(*islamic.to_gregorian(year + 1, 1, 1))
