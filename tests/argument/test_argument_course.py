"""The course of a damage: C4's worked figures, and any two checks compared finding by finding."""

from itertools import pairwise

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.argument.course import (
    Measured,
    compare_checks,
    difference,
    trend,
    trend_of,
)
from catalogue.errors import NotOnFile
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Location,
    Observation,
    Work,
)

WHO = "party/11111111-1111-4111-8111-111111111111"
OTHER = "party/22222222-2222-4222-8222-222222222222"
START = Day(2024, 1, 1)


def after(years):
    day = Day(START.year + int(years), 1, 1)
    for _ in range(round((years - int(years)) * 365.25)):
        day = day.beside(1)
    return day


TEAR = (Measured(START, 62.0), Measured(after(1.1), 64.5), Measured(after(2.4), 68.0))


def test_the_sheets_worked_tear():
    # trade sheet C4: 62.0 (t0), 64.5 (1.1 y), 68.0 (2.4 y), each +-1 mm, k = 2
    found = trend(TEAR)
    assert [round(each.threshold, 2) for each in found.differences] == [2.83, 2.83]
    assert [each.significant for each in found.differences] == [False, True]
    assert found.whole.change == 6.0
    assert found.whole.significant
    assert found.rate == pytest.approx(2.51, abs=0.01)


def test_no_rate_under_three_measures_or_on_one_day():
    assert trend(TEAR[:2]).rate is None
    assert trend(TEAR[:1]).whole is None
    assert trend(()).points == ()
    assert trend([Measured(START, value) for value in (1, 2, 3)]).rate is None


def test_no_rate_is_told_of_a_few_weeks_or_within_the_error_of_measuring():
    weeks = [
        Measured(Day(2026, month, 1), value) for month, value in ((9, 59.7), (10, 65), (11, 67))
    ]
    assert trend(weeks).whole.significant
    assert trend(weeks).rate_to_tell is None
    assert trend(weeks).years_until(90) is None
    small = [
        Measured(Day(year, 1, 1), value)
        for year, value in ((2020, 0.3), (2022, 1), (2024, 1.1))
    ]
    assert trend(small).rate is not None
    assert trend(small).rate_to_tell is None
    assert trend(TEAR).rate_to_tell == trend(TEAR).rate


def test_when_it_would_reach_a_length():
    found = trend(TEAR)
    assert found.years_until(78.0) == pytest.approx(10 / found.rate)
    assert found.years_until(60.0) is None  # it goes the other way
    still = trend([Measured(each.on, 62.0) for each in TEAR])
    assert still.years_until(70.0) is None


@given(
    st.lists(
        st.tuples(st.integers(0, 60), st.floats(0, 500, allow_subnormal=False)), min_size=3, max_size=8,
        unique_by=lambda each: each[0],
    )
)  # fmt: skip
def test_the_rate_is_that_of_numpy(told):
    # numpy.polyfit as a second method
    points = [Measured(Day(1960 + year, 1, 1), value) for year, value in told]
    found = trend(points)
    years = [(each.on.ordinal - found.points[0].on.ordinal) / 365.25 for each in found.points]
    wanted = numpy.polyfit(years, [each.value for each in found.points], 1)[0]
    assert found.rate == pytest.approx(wanted, rel=1e-6, abs=1e-6)
    assert len(found.differences) == len(list(pairwise(points)))


@given(st.floats(0, 1000), st.floats(0, 1000), st.floats(0.1, 10), st.floats(0.1, 10))
def test_a_step_back_is_as_significant_as_one_on(first, second, one, other):
    a, b = Measured(START, first, one), Measured(after(1), second, other)
    assert difference(a, b).significant is difference(b, a).significant
    assert not difference(a, a).significant


OUT = ConditionCheck(
    number="K1", occasion="occasion/outgoing", on=START, by=WHO, lights=("light/normal",)
)
BACK = ConditionCheck(
    number="K2", occasion="occasion/loan-return", on=after(1), by=OTHER, lights=("light/raking",), framed=True
)  # fmt: skip


def seen(check, **more):
    return Observation(check=check.id, **more)


def finding(*observations, number="F1", kind="damage/tear"):
    return Finding(number=number, layer="layer/support", kind=kind, observations=observations)


def work(*findings):
    return Work(checks=(OUT, BACK), findings=findings)


@pytest.mark.parametrize(
    ("then", "now", "verdict"),
    [
        ({"length_mm": 62.0}, {"length_mm": 64.5}, "unchanged"),
        ({"length_mm": 62.0}, {"length_mm": 68.0}, "worse"),
        ({"length_mm": 68.0}, {"length_mm": 62.0}, "better"),
        ({"severity": "severity/visible"}, {"severity": "severity/threatening"}, "worse"),
        ({"count": 2}, {"count": 3}, "worse"),
        ({}, {"change": "change/treated"}, "treated"),
        ({"length_mm": 62.0}, {"length_mm": 80.0, "change": "change/unchanged"}, "unchanged"),
        ({}, {}, "unchanged"),
    ],
)
def test_what_is_said_of_a_finding_at_two_checks(then, now, verdict):
    # the examiner's own word goes before what the measures say
    record = work(finding(seen(OUT, **then), seen(BACK, **now)))
    (found,) = compare_checks(record, "K1", "K2").findings
    assert found.verdict == verdict


def test_new_ones_and_those_not_looked_at():
    record = work(finding(seen(BACK)), finding(seen(OUT), number="F2"))
    one, two = compare_checks(record, "K2", "K1").findings
    assert (one.verdict, two.verdict) == ("new", "not seen")


def test_two_checks_made_differently_say_so():
    found = compare_checks(work(), "K1", "K2")
    assert (found.first.number, found.second.number) == ("K1", "K2")
    assert found.method_changed == ("examiner", "light", "framed")
    with pytest.raises(NotOnFile):
        compare_checks(work(), "K1", "K9")


def test_the_tolerance_of_a_place_is_that_of_its_measure():
    fine = Location(face="face/front", tolerance_mm=0.5)
    record = work(
        finding(
            seen(OUT, length_mm=62.0, location=fine), seen(BACK, length_mm=64.0, location=fine)
        )
    )
    found = trend_of(record, record.findings[0], "length_mm")
    assert [each.within for each in found.points] == [0.5, 0.5]
    assert found.whole.significant
