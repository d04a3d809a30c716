"""Dates as written, EDTF and days, against published tables and two independent libraries."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import Day, read_date, read_edtf, why_not

# Bounds on which PyPI edtf 5.0.2 (strict) and npm edtf 4.11.1 agree, for examples of the Library of
# Congress EDTF specification (4 February 2019).
AGREED = [
    ("1985-04-12", "1985-04-12", "1985-04-12"),
    ("1985-04", "1985-04-01", "1985-04-30"),
    ("1985", "1985-01-01", "1985-12-31"),
    ("1964/2008", "1964-01-01", "2008-12-31"),
    ("2004-06/2006-08", "2004-06-01", "2006-08-31"),
    ("2004-02-01/2005-02-08", "2004-02-01", "2005-02-08"),
    ("2004-02-01/2005-02", "2004-02-01", "2005-02-28"),
    ("2004-02-01/2005", "2004-02-01", "2005-12-31"),
    ("2005/2006-02", "2005-01-01", "2006-02-28"),
    ("1984?", "1984-01-01", "1984-12-31"),
    ("2004-06~", "2004-06-01", "2004-06-30"),
    ("2004-06-11%", "2004-06-11", "2004-06-11"),
    ("201X", "2010-01-01", "2019-12-31"),
    ("20XX", "2000-01-01", "2099-12-31"),
    ("2004-XX", "2004-01-01", "2004-12-31"),
    ("1985-04-XX", "1985-04-01", "1985-04-30"),
    ("1985-XX-XX", "1985-01-01", "1985-12-31"),
    ("[1667,1760-12]", "1667-01-01", "1760-12-31"),
    ("{1960,1961-12}", "1960-01-01", "1961-12-31"),
    ("156X-12-25", "1560-12-25", "1569-12-25"),
    ("15XX-12-25", "1500-12-25", "1599-12-25"),
    ("1XXX-XX", "1000-01-01", "1999-12-31"),
    ("1XXX-12", "1000-12-01", "1999-12-31"),
    ("2004-06-XX/2004-07-03", "2004-06-01", "2004-07-03"),
    ("1885~/1890~", "1885-01-01", "1890-12-31"),
    ("1880~/1889~", "1880-01-01", "1889-12-31"),
    ("1885~", "1885-01-01", "1885-12-31"),
    ("188X", "1880-01-01", "1889-12-31"),
    ("18XX", "1800-01-01", "1899-12-31"),
    ("1907-04-12", "1907-04-12", "1907-04-12"),
    ("[1903-04-12,1903-12-04]", "1903-04-12", "1903-12-04"),
    ("1918-11-12/1939-08-31", "1918-11-12", "1939-08-31"),
]

# Phrases and bounds: Cataloging Cultural Objects 2006 (CCO), p. 168; UC San Diego visual-resources
# date guide (UCSD); the rest is common practice, no source, as marked.
PHRASES = [
    ("ca. 1610", "1605-01-01", "1615-12-31"),  # CCO
    ("1911 or 1912", "1911-01-01", "1912-12-31"),  # CCO
    ("early 19th c.", "1800-01-01", "1825-12-31"),  # UCSD
    ("mid 13th century", "1235-01-01", "1265-12-31"),  # UCSD
    ("16th century", "1500-01-01", "1599-12-31"),  # UCSD
    ("late 19th century", "1875-01-01", "1899-12-31"),  # UCSD, by symmetry
    ("second half of the 19th century", "1850-01-01", "1899-12-31"),  # arithmetic
    ("third quarter of the 17th century", "1650-01-01", "1674-12-31"),  # arithmetic
    ("XIX sec.", "1800-01-01", "1899-12-31"),
    ("um 1900", "1895-01-01", "1905-12-31"),
    ("vers 1885", "1880-01-01", "1890-12-31"),
    ("c. 1880-85", "1880-01-01", "1885-12-31"),
    ("before 1907", None, "1906-12-31"),
    ("by 1907", None, "1907-12-31"),
    ("not after 1907", None, "1907-12-31"),
    ("after 1907", "1908-01-01", None),
    ("not before 1907", "1907-01-01", None),
    ("between 1880 and 1885", "1880-01-01", "1885-12-31"),
    ("from 1880 to 1885", "1880-01-01", "1885-12-31"),
    ("1880\u201385", "1880-01-01", "1885-12-31"),
    ("1880/81", "1880-01-01", "1881-12-31"),
    ("1880s", "1880-01-01", "1889-12-31"),
    ("late 1880s", "1887-01-01", "1889-12-31"),
    ("[1923?]", "1923-01-01", "1923-12-31"),
    ("[197-]", "1970-01-01", "1979-12-31"),
    ("winter 1911", "1911-12-01", "1912-02-29"),
    ("12 iv 1903", "1903-04-12", "1903-04-12"),
    ("12.IV.1903", "1903-04-12", "1903-04-12"),
    ("12.4.1903", "1903-04-12", "1903-04-12"),
    ("12/4/1903", "1903-04-12", "1903-12-04"),
    ("25/4/1903", "1903-04-25", "1903-04-25"),
    ("le 4 mai 1911", "1911-05-04", "1911-05-04"),
    ("15. Okt. 1887", "1887-10-15", "1887-10-15"),
    ("April 12, 1903", "1903-04-12", "1903-04-12"),
    ("April 1903", "1903-04-01", "1903-04-30"),
    ("between the wars", "1918-11-12", "1939-08-31"),
]

REFUSED = [
    ("31 February 1900", "there is no day 1900-02-31"),
    ("25/25/1925", "there is no day"),
    ("29.2.1900", "there is no day 1900-02-29"),
    ("1899-13-45", "no way of writing"),
    ("1907-1903", "before it begins"),
    ("between 1910 and 1900", "does not end after it begins"),
    ("n.d.", "it says that it has no date"),
    ("", "nothing is written"),
    ("some time ago", "no way of writing"),
    ("x" * 500, "too long"),
]


def iso(day):
    return day.iso if day else None


@pytest.mark.parametrize(("edtf", "earliest", "latest"), AGREED)
def test_edtf_has_the_bounds_that_two_libraries_agree_on(edtf, earliest, latest):
    span = read_edtf(edtf, circa=0)
    assert (iso(span.earliest), iso(span.latest)) == (earliest, latest)


@pytest.mark.parametrize(("written", "earliest", "latest"), PHRASES)
def test_a_phrase_means_these_days(written, earliest, latest):
    span = read_date(written)
    assert span is not None, why_not(written)
    assert (iso(span.earliest), iso(span.latest)) == (earliest, latest)
    assert span.written == written
    assert span.rule


@pytest.mark.parametrize(("written", "earliest", "latest"), PHRASES)
def test_the_edtf_of_a_phrase_has_the_same_bounds(written, earliest, latest):
    if written == "between the wars":
        return
    again = read_edtf(read_date(written).edtf)
    assert (iso(again.earliest), iso(again.latest)) == (earliest, latest) or "~" in again.edtf


@pytest.mark.parametrize(("written", "says"), REFUSED)
def test_what_is_no_date_is_refused_with_the_reason(written, says):
    assert read_date(written) is None
    assert says in why_not(written)


def test_the_width_of_circa_is_the_studios():
    assert iso(read_date("c. 1900", circa=10).earliest) == "1890-01-01"


@given(st.text(max_size=60))
def test_no_text_at_all_raises(text):
    span = read_date(text)
    assert (span is None) == bool(why_not(text))


@given(st.dates(datetime.date(1, 1, 1), datetime.date(9999, 12, 31)))
def test_days_count_as_the_standard_librarys_do(date):
    """Outside check: datetime.date's proleptic Gregorian ordinals."""
    day = Day(date.year, date.month, date.day)
    assert day.ordinal == date.toordinal()
    assert day.iso == date.isoformat()
    assert Day.from_iso(day.iso) == day


@given(st.integers(-3000, 3000), st.integers(1, 12), st.integers(1, 28))
def test_days_before_our_era_follow_each_other(year, month, day):
    assert Day(year, month, day).ordinal + 1 == (
        Day(year, month, day + 1).ordinal if day < 28 else Day(year, month, 28).ordinal + 1
    )
    assert Day(year, 1, 1).ordinal - Day(year - 1, 12, 31).ordinal == 1
    assert Day.from_iso(Day(year, month, day).iso) == Day(year, month, day)
