"""Spans of days, alone and several together, against plain sets of days."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.argument import ALWAYS, Interval, both, either
from catalogue.measure import Day

JUNE = [Day(1900, 6, day) for day in range(1, 31)]


def in_june(earliest, latest):
    return Interval(earliest and Day(1900, 6, earliest), latest and Day(1900, 6, latest))


ends = st.none() | st.integers(2, 29)
intervals = (
    st.tuples(ends, ends)
    .filter(lambda pair: None in pair or pair[0] <= pair[1])
    .map(lambda pair: in_june(*pair))
)
several = st.lists(intervals, max_size=5)


def days(spans):
    """The days of June 1900 that are in one of them; open ends reach over its ends."""
    return {
        day
        for day in JUNE
        for span in spans
        if (span.earliest is None or span.earliest <= day)
        and (span.latest is None or day <= span.latest)
    }


@given(several)
def test_either_has_every_day_of_each_and_no_other(spans):
    assert days(either(spans)) == days(spans)


@given(several)
def test_spans_are_in_order_and_do_not_touch(spans):
    found = either(spans)
    for earlier, later in pairwise(found):
        assert earlier.latest is not None
        assert later.earliest is not None
        assert earlier.latest.beside(1) < later.earliest


@given(several, several)
def test_both_has_the_days_that_are_in_each(first, second):
    assert days(both(either(first), either(second))) == days(first) & days(second)


@given(several)
def test_always_leaves_them_as_they_are(spans):
    assert both(ALWAYS, either(spans)) == either(spans)


def test_no_interval_ends_before_it_begins():
    with pytest.raises(ValueError, match="cannot end"):
        in_june(5, 4)
    assert in_june(5, 5).within(in_june(6, None)) is None
