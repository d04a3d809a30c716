"""EDTF strings as values that write them again, and the days that they may mean.

Source of the strings and of what they mean: Library of Congress, Extended Date/Time Format
specification (4 February 2019). What other libraries make of them: test_measure_edtf_outside.py.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import read_edtf
from catalogue.measure.days import NotADate
from catalogue.measure.edtf import Date, Interval, LongYear, Missing, Part, Run, Several, parse

# Every example of the specification that names an open, far or unspecified date, and the days that
# its text gives; beyond four figures no bounds are kept.
BY_THE_SPECIFICATION = """
1985-04-12/..               1985-04-12 -
1985/..                     1985-01-01 -
../1985-04                  - 1985-04-30
../1985                     - 1985-12-31
1985/                       1985-01-01 -
/1985-04-12                 - 1985-04-12
-1985                       -1985-01-01 -1985-12-31
Y170000002                  - -
Y-170000002                 - -
Y-17E7                      - -
Y17E8                       - -
Y3388E2S3                   - -
Y-12000/2004                - 2004-12-31
-9999/Y12000                -9999-01-01 -
-1985S2                     -1999-01-01 -1900-12-31
1950S2                      1900-01-01 1999-12-31
Y171010000S3                - -
[1667,1668,1670..1672]      1667-01-01 1672-12-31
{1667,1668,1670..1672}      1667-01-01 1672-12-31
[..1760-12-03]              - 1760-12-03
[1760-12..]                 1760-12-01 -
[1760-01,1760-02,1760-12..] 1760-01-01 -
{..1984}                    - 1984-12-31
[1880..1885]                1880-01-01 1885-12-31
1984-1X                     1984-10-01 1984-12-31
190X-02-29                  1904-02-29 1908-02-29
1907-04-3X                  1907-04-30 1907-04-30
1911-21                     1911-03-01 1911-05-31
1911-24                     1911-12-01 1912-02-29
1911-29                     1911-09-01 1911-11-30
1911-32                     1911-06-01 1911-08-31
1911-36                     1911-10-01 1911-12-31
1911-39                     1911-09-01 1911-12-31
1911-41                     1911-07-01 1911-12-31
-05XX                       -0599-01-01 -0500-12-31
-00XX                       -0099-01-01 -0001-12-31
2001-21/2003                2001-03-01 2003-12-31
1985-04-12T24:00:00         1985-04-12 1985-04-12
1985-04-12T23:20:30-04      1985-04-12 1985-04-12
XXX2-02-29                  0012-02-29 9992-02-29
"""

REFUSED = """
1885-13 1907-04-31 1900-02-29 1907/1903 1907-02-30 188 18850 1885-1 1885-1-1 1885-00 1885-04-00
../.. / ../ [] [..] {1885 [1885} [1885,,1886] [1885..1880] [1885..,1886] 1885/1886/1887 1885~~
1885-04-12T25:00:00 1885-04-12T10:61:00 1885-42 1885-04T10:00:00 Y1985 Y0170000002 Y17E0 1985S5 1985S0 ?~1985 1985?-?~04 XXXX-02-30 1985-2X 1985-04-12T10:00 -0000 18XX-02-3X 1885-1Y
1985-04-12T23:20:30+0430 1985-04-12T23:20:30?
[1985-04-12T23:20:30] 1985-04-12T23:20:30/1986 Y20000/Y12000 [1985/1986] 1885- -1885- ~ X 1885-04-12-01 1885x
"""


def rows(table):
    return [line.split() for line in table.strip().splitlines()]


def bounds(span):
    return [day.iso if day else "-" for day in (span.earliest, span.latest)]


@pytest.mark.parametrize(("edtf", "earliest", "latest"), rows(BY_THE_SPECIFICATION))
def test_the_bounds_are_those_of_the_specification(edtf, earliest, latest):
    assert bounds(read_edtf(edtf)) == [earliest, latest]


@pytest.mark.parametrize(
    "edtf", ["", " 1885", *(each for row in rows(REFUSED) for each in row)]
)
def test_what_is_no_edtf_is_refused(edtf):
    assert read_edtf(edtf) is None


def test_about_a_year_is_five_years_either_way_unless_the_studio_says_otherwise():
    """Cataloging Cultural Objects (2006), 4.2.3.2.1, p. 168: ca. 1610 is 1605 to 1615."""
    assert bounds(read_edtf("1610~")) == ["1605-01-01", "1615-12-31"]
    assert bounds(read_edtf("1610%", circa=10)) == ["1600-01-01", "1620-12-31"]
    assert bounds(read_edtf("1610?")) == ["1610-01-01", "1610-12-31"]


def test_a_far_year_has_no_bounds_and_the_rule_says_why():
    far = read_edtf("Y17E8")
    assert bounds(far) == ["-", "-"]
    assert far.rule == "edtf: beyond the years -9999 to 9999, where no bounds are kept"
    assert read_edtf("1985").rule == "edtf"


def test_signs_bind_as_the_specification_says():
    """Level 2, qualification: a sign after a part holds for all to its left, one before it for it."""
    assert parse("2004-06~-11").signed("~%") == (True, True, False)
    assert parse("2004?-06-11").signed("?%") == (True, False, False)
    assert parse("?2004-06-~11").signed("?%") == (True, False, False)
    assert parse("?2004-06-~11").signed("~%") == (False, False, True)
    assert parse("2004-%06-11").signed("?%") == (False, True, False)
    assert parse("2004-06-11%").signed("~%") == (True, True, True)


def test_about_a_month_is_a_month_either_way():
    """Common practice, no source."""
    assert bounds(read_edtf("1903-04-~12")) == ["1903-03-12", "1903-05-12"]
    assert bounds(read_edtf("1903~-04-12")) == ["1898-04-12", "1908-04-12"]
    assert bounds(read_edtf("1903-XX~")) == ["1898-01-01", "1908-12-31"]
    assert bounds(read_edtf("1903-04~")) == ["1903-03-01", "1903-05-31"]
    assert bounds(read_edtf("1904-03-31~")) == ["1904-02-29", "1904-04-30"]


@given(st.text(alphabet="0123456789X-/.~?%[]{},YEST:Z", max_size=24))
def test_no_string_at_all_raises(text):
    span = read_edtf(text)
    if span and span.earliest and span.latest:
        assert span.earliest <= span.latest


@given(st.integers(0, 9999), st.integers(0, 3))
def test_unspecified_figures_hold_every_year_that_they_may_be(year, unknown):
    written = f"{year:04d}"[: 4 - unknown] + "X" * unknown
    span = read_edtf(written)
    assert span.earliest.year <= year <= span.latest.year
    assert span.latest.year - span.earliest.year + 1 == 10**unknown


# --- read and written: any value of the grammar, and the string that it writes ------------------------

signs = st.sampled_from(["", "", "", "?", "~", "%"])
some_figures = st.sampled_from("0123456789X")


def figures(count):
    return st.lists(some_figures, min_size=count, max_size=count).map("".join)


def parts(written):
    return st.builds(Part, written, signs, signs)


years = parts(
    st.tuples(st.sampled_from(["", "", "-"]), figures(4))
    .map("".join)
    .filter(lambda year: year != "-0000")
)
days = st.builds(Date, years, parts(figures(2)), parts(figures(2)))
long_years = st.builds(
    LongYear,
    st.integers(10_000, 10**12).map(str),
    st.booleans(),
    st.integers(0, 40).map(lambda power: str(power or "")),
    st.integers(0, 5).map(lambda count: str(count or "")),
    st.just("Y"),
    signs,
)
estimates = st.builds(
    LongYear, st.integers(1000, 9999).map(str), st.booleans(), st.just(""),
    st.sampled_from("1234"), st.just(""), signs,
)  # fmt: skip
singles = st.one_of(
    st.builds(Date, years),
    st.builds(Date, years, parts(figures(2))),
    days,
    long_years,
    estimates,
)
clocks = st.builds(
    Date,
    *(st.from_regex(form, fullmatch=True).map(Part) for form in ("[0-9]{4}", "[0-9]{2}", "[0-9]{2}")),
    st.times().map(lambda time: time.isoformat("seconds")),
    st.sampled_from(["", "Z", "-04", "+04:30"]),
)  # fmt: skip
ends = st.one_of(singles, st.sampled_from(Missing))
intervals = st.builds(Interval, ends, ends).filter(
    lambda between: (
        not (isinstance(between.start, Missing) and isinstance(between.end, Missing))
    )
)
sets = st.builds(
    Several,
    st.tuples(
        st.one_of(singles, st.builds(Run, st.none() | singles, singles)),
        st.lists(singles | st.builds(Run, singles, singles), max_size=3),
        st.lists(singles | st.builds(Run, singles, st.none()), max_size=1),
    ).map(lambda members: (members[0], *members[1], *members[2])),
    st.booleans(),
)  # fmt: skip


@given(st.one_of(singles, clocks, intervals, sets))
def test_what_is_written_is_read_again(value):
    assert parse(str(value)) == value


@given(st.text(alphabet="0123456789X-/.~?%[]{},YEST:Z", max_size=24))
def test_what_is_read_is_written_again(text):
    try:
        value = parse(text)
    except NotADate:
        return
    assert str(value) == text


@pytest.mark.parametrize("edtf", [row[0] for row in rows(BY_THE_SPECIFICATION)])
def test_the_examples_are_written_as_they_were_read(edtf):
    assert str(parse(edtf)) == edtf
