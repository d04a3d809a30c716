"""Dates as written and days, against published tables of what cataloguers mean by them."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import Day, overlaps, read_date, read_edtf, why_not

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
    # CCO p. 168: the words never mean less than they say; common practice, no source, from here on.
    ("c1885", "1880-01-01", "1890-12-31"),
    ("1885 ca.", "1880-01-01", "1890-12-31"),
    ("[c. 1885]", "1880-01-01", "1890-12-31"),
    ("painted about 1885", "1880-01-01", "1890-12-31"),
    ("wohl um 1923", "1918-01-01", "1928-12-31"),
    ("possibly c. 1923", "1918-01-01", "1928-12-31"),
    ("probably 1923", "1923-01-01", "1923-12-31"),
    ("1923 (?)", "1923-01-01", "1923-12-31"),
    ("c. 1880s", "1875-01-01", "1894-12-31"),
    ("c. April 1903", "1903-03-01", "1903-05-31"),
    ("1885 \u00b1 3", "1882-01-01", "1888-12-31"),
    ("vor 1907", None, "1906-12-31"),
    ("avant 1907", None, "1906-12-31"),
    ("prima del 1907", None, "1906-12-31"),
    ("pre-1907", None, "1906-12-31"),
    ("before April 1903", None, "1903-03-31"),
    ("before c. 1907", None, "1911-12-31"),
    ("until 1907", None, "1907-12-31"),
    ("1907 or earlier", None, "1907-12-31"),
    ("in or before 1907", None, "1907-12-31"),
    ("bis 1907", None, "1907-12-31"),
    ("jusqu'en 1907", None, "1907-12-31"),
    ("nicht nach 1907", None, "1907-12-31"),
    ("nach 1907", "1908-01-01", None),
    ("apr\u00e8s 1907", "1908-01-01", None),
    ("dopo il 1907", "1908-01-01", None),
    ("after about 1907", "1903-01-01", None),
    ("after 12 April 1903", "1903-04-13", None),
    ("from 1907", "1907-01-01", None),
    ("1907 or later", "1907-01-01", None),
    ("nicht vor 1907", "1907-01-01", None),
    ("1907\u2013", "1907-01-01", None),
    ("zwischen 1880 und 1885", "1880-01-01", "1885-12-31"),
    ("entre 1880 et 1885", "1880-01-01", "1885-12-31"),
    ("tra il 1880 e il 1885", "1880-01-01", "1885-12-31"),
    ("dal 1880 al 1885", "1880-01-01", "1885-12-31"),
    ("de 1880 \u00e0 1885", "1880-01-01", "1885-12-31"),
    ("1880 bis 1885", "1880-01-01", "1885-12-31"),
    ("1903-4", "1903-01-01", "1904-12-31"),
    ("1907-04", "1907-04-01", "1907-04-30"),
    ("1898-02", "1898-02-01", "1898-02-28"),
    ("1911-21", "1911-01-01", "1921-12-31"),
    ("1880/90", "1880-01-01", "1890-12-31"),
    ("1885 and 1887", "1885-01-01", "1887-12-31"),
    ("April or May 1903", "1903-04-01", "1903-05-31"),
    ("early 1880s", "1880-01-01", "1883-12-31"),
    ("mid-1880s", "1884-01-01", "1886-12-31"),
    ("1880er Jahre", "1880-01-01", "1889-12-31"),
    ("ann\u00e9es 1880", "1880-01-01", "1889-12-31"),
    ("1870s-80s", "1870-01-01", "1889-12-31"),
    ("1800s", "1800-01-01", "1899-12-31"),
    ("1933\u20131945", "1933-01-01", "1945-12-31"),
    ("XIXe si\u00e8cle", "1800-01-01", "1899-12-31"),
    ("19. Jh.", "1800-01-01", "1899-12-31"),
    ("nineteenth century", "1800-01-01", "1899-12-31"),
    ("Anfang des 19. Jahrhunderts", "1800-01-01", "1825-12-31"),
    ("fin du XIXe si\u00e8cle", "1875-01-01", "1899-12-31"),
    ("seconda met\u00e0 del XIX secolo", "1850-01-01", "1899-12-31"),
    ("2. H\u00e4lfte 19. Jh.", "1850-01-01", "1899-12-31"),
    ("first quarter of the 19th century", "1800-01-01", "1824-12-31"),
    ("mid to late 19th century", "1835-01-01", "1899-12-31"),
    ("late 19th-early 20th century", "1875-01-01", "1925-12-31"),
    ("18th-19th century", "1700-01-01", "1899-12-31"),
    ("turn of the century", "1890-01-01", "1910-12-31"),
    ("[197-?]", "1970-01-01", "1979-12-31"),
    ("early 1903", "1903-01-01", "1903-04-30"),
    ("spring 1911", "1911-03-01", "1911-05-31"),
    ("winter 1911\u201312", "1911-12-01", "1912-02-29"),
    ("April-May 1903", "1903-04-01", "1903-05-31"),
    ("12\u201314 April 1903", "1903-04-12", "1903-04-14"),
    ("12 April - 3 May 1903", "1903-04-12", "1903-05-03"),
    ("Monday, 12 April 1903", "1903-04-12", "1903-04-12"),
    ("the 12th of April, 1903", "1903-04-12", "1903-04-12"),
    ("1er mai 1911", "1911-05-01", "1911-05-01"),
    ("1903/4/12", "1903-04-12", "1903-04-12"),
]

# The EDTF that the house writes for a phrase.
WRITTEN_AS = [
    ("c. 1885", "1885~"),
    ("c. 1880-85", "1880~/1885~"),
    ("before 1907", "[..1906]"),
    ("by 1907", "[..1907]"),
    ("after 1907", "[1908..]"),
    ("not before 1907", "[1907..]"),
    ("between 1880 and 1885", "[1880..1885]"),
    ("from 1880 to 1885", "1880/1885"),
    ("1880/81", "[1880,1881]"),
    ("1885 or 1886", "[1885,1886]"),
    ("1880s", "188X"),
    ("c. 1880s", "1880~/1889~"),
    ("19th century", "18XX"),
    ("early 19th century", "1800/1825"),
    ("probably 1923", "1923?"),
    ("possibly c. 1923", "1923%"),
    ("[197-]", "197X"),
    ("[197-?]", "1970?/1979?"),
    ("spring 1911", "1911-21"),
    ("winter 1911-12", "1911-24"),
    ("12 iv 1903", "1903-04-12"),
    ("12/4/1903", "[1903-04-12,1903-12-04]"),
    ("before April 1903", "[..1903-03]"),
]

REFUSED = [
    ("31 February 1900", "there is no day 1900-02-31"),
    ("25/25/1925", "there is no month 25"),
    ("29.2.1900", "there is no day 1900-02-29"),
    ("1899-13-45", "there is no month 13"),
    ("1907-02-31", "there is no day 1907-02-31"),
    ("1885-13", "there is no month 13"),
    ("turn of the 19th century", "say which"),
    ("before the war", "which war"),
    ("25th century", "no 25. century"),
    ("by by by by by by by 1907", "what 'by' says"),
    ("1907-1903", "does not end after it begins"),
    ("between 1910 and 1900", "does not end after it begins"),
    ("n.d.", "it says that it has no date"),
    ("", "nothing is written"),
    ("some time ago", "no way of writing"),
    ("x" * 500, "too long"),
]


def iso(day):
    return day.iso if day else None


@pytest.mark.parametrize(("written", "earliest", "latest"), PHRASES)
def test_a_phrase_means_these_days(written, earliest, latest):
    span = read_date(written)
    assert span is not None, why_not(written)
    assert (iso(span.earliest), iso(span.latest)) == (earliest, latest)
    assert span.written == written
    assert span.rule


@pytest.mark.parametrize(("written", "edtf"), WRITTEN_AS)
def test_a_phrase_is_kept_as_this_edtf(written, edtf):
    assert read_date(written).edtf == edtf


@pytest.mark.parametrize(("written", "earliest", "latest"), PHRASES)
def test_the_edtf_of_a_phrase_has_the_same_bounds(written, earliest, latest):
    again = read_edtf(read_date(written).edtf)
    assert (iso(again.earliest), iso(again.latest)) == (earliest, latest) or set("~%") & set(
        again.edtf
    )


@pytest.mark.parametrize(("written", "says"), REFUSED)
def test_what_is_no_date_is_refused_with_the_reason(written, says):
    assert read_date(written) is None
    assert says in why_not(written)


def test_the_width_of_circa_is_the_studios():
    assert iso(read_date("c. 1900", circa=10).earliest) == "1890-01-01"


def test_spans_meet_where_there_may_be_a_common_day():
    early, about, late = read_date("before 1907"), read_date("c. 1910"), read_date("1916")
    assert overlaps(early, about)
    assert overlaps(about, early)
    assert not overlaps(about, late)
    assert not overlaps(late, early)
    assert late.lies_within(read_date("after 1907"))
    assert not about.lies_within(read_date("after 1907"))


@given(st.integers(1000, 2100), st.integers(0, 30))
def test_about_a_year_is_never_narrower_than_the_year(year, circa):
    span = read_date(f"c. {year}", circa=circa)
    assert (span.earliest.year, span.latest.year) == (year - circa, year + circa)


@given(
    st.lists(
        st.sampled_from(
            [
                "before",
                "c.",
                "1885",
                "or",
                "-",
                "to",
                "early",
                "s",
                "April",
                "?",
                "19th century",
            ]
        ),
        max_size=12,
    )
)
def test_words_of_dates_in_any_order_never_raise(words):
    text = " ".join(words)
    assert (read_date(text) is None) == bool(why_not(text))


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
