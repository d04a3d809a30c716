"""EDTF strings against the bounds that two independent libraries agree on, and the specification.

Source of the strings: Library of Congress, Extended Date/Time Format specification (4 February
2019). Source of the bounds: PyPI edtf 5.0.2 (strict bounds) and npm edtf 4.11.1 (min, max), only
where both agree.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import read_edtf

AGREED = """
1985-04-12                  1985-04-12 1985-04-12
1985-04                     1985-04-01 1985-04-30
1985                        1985-01-01 1985-12-31
1985-04-12T23:20:30         1985-04-12 1985-04-12
1985-04-12T23:20:30Z        1985-04-12 1985-04-12
1985-04-12T23:20:30+04:30   1985-04-12 1985-04-12
1964/2008                   1964-01-01 2008-12-31
2004-06/2006-08             2004-06-01 2006-08-31
2004-02-01/2005-02-08       2004-02-01 2005-02-08
2004-02-01/2005-02          2004-02-01 2005-02-28
2004-02-01/2005             2004-02-01 2005-12-31
2005/2006-02                2005-01-01 2006-02-28
1984?                       1984-01-01 1984-12-31
2004-06~                    2004-06-01 2004-06-30
2004-06-11%                 2004-06-11 2004-06-11
201X                        2010-01-01 2019-12-31
20XX                        2000-01-01 2099-12-31
2004-XX                     2004-01-01 2004-12-31
1985-04-XX                  1985-04-01 1985-04-30
1985-XX-XX                  1985-01-01 1985-12-31
2001-34                     2001-04-01 2001-06-30
[1667,1760-12]              1667-01-01 1760-12-31
{1960,1961-12}              1960-01-01 1961-12-31
2004-06~-11                 2004-06-11 2004-06-11
2004?-06-11                 2004-06-11 2004-06-11
?2004-06-~11                2004-06-11 2004-06-11
2004-%06-11                 2004-06-11 2004-06-11
156X-12-25                  1560-12-25 1569-12-25
15XX-12-25                  1500-12-25 1599-12-25
XXXX-12-XX                  0000-12-01 9999-12-31
1XXX-XX                     1000-01-01 1999-12-31
1XXX-12                     1000-12-01 1999-12-31
2004-06-~01/2004-06-~20     2004-06-01 2004-06-20
2004-06-XX/2004-07-03       2004-06-01 2004-07-03
1885~/1890~                 1885-01-01 1890-12-31
1880~/1889~                 1880-01-01 1889-12-31
1885~                       1885-01-01 1885-12-31
188X                        1880-01-01 1889-12-31
18XX                        1800-01-01 1899-12-31
1907-04-12                  1907-04-12 1907-04-12
[1903-04-12,1903-12-04]     1903-04-12 1903-12-04
1918-11-12/1939-08-31       1918-11-12 1939-08-31
"""

# Where the two libraries differ only in how they write "open", or one of them is known to be wrong;
# the bounds are what the specification's text says. 1950S2: "some year between 1900 and 1999".
BY_THE_SPECIFICATION = """
1985-04-12/..               1985-04-12 -
1985/..                     1985-01-01 -
../1985-04                  - 1985-04-30
../1985                     - 1985-12-31
1985/                       1985-01-01 -
/1985-04-12                 - 1985-04-12
-1985                       -1985-01-01 -1985-12-31
Y170000002                  170000002-01-01 170000002-12-31
Y-170000002                 -170000002-01-01 -170000002-12-31
Y-17E7                      -170000000-01-01 -170000000-12-31
Y17E8                       1700000000-01-01 1700000000-12-31
1950S2                      1900-01-01 1999-12-31
Y171010000S3                171000000-01-01 171999999-12-31
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
"""

REFUSED = """
1885-13 1907-04-31 1900-02-29 1907/1903 1907-02-30 188 18850 1885-1 1885-1-1 1885-00 1885-04-00
../.. / ../ [] [..] {1885 [1885} [1885,,1886] [1885..1880] [1885..,1886] 1885/1886/1887 1885~~
1885-04-12T25:00:00 1885-04-12T10:61:00 1885-42 1885-04T10:00:00 Y99E99 -0000 18XX-02-3X 1885-1Y
1885- -1885- ~ X 1885-04-12-01 1885x
"""


def rows(table):
    return [line.split() for line in table.strip().splitlines()]


def bounds(span):
    return [day.iso if day else "-" for day in (span.earliest, span.latest)]


@pytest.mark.parametrize(("edtf", "earliest", "latest"), rows(AGREED))
def test_the_bounds_are_those_that_two_libraries_agree_on(edtf, earliest, latest):
    assert bounds(read_edtf(edtf, circa=0)) == [earliest, latest]


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


def test_about_a_month_is_a_month_either_way():
    """Common practice, no source."""
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
