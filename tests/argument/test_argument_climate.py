"""Dew points and limits of climate, against published figures and the worked example of the trade sheet (C13)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue import places
from catalogue.argument.climate import (
    ClimateReading,
    dew_point_c,
    judged,
    limits,
    lux_hours,
    stays_dry,
)
from catalogue.errors import BadData, BadSetting

DAY = (52, 54, 58, 61, 63, 59, 55, 50, 47, 49, 52, 54)
READINGS = [ClimateReading(2 * place, 20, value) for place, value in enumerate(DAY)]


def test_the_worked_dew_point():
    """Trade sheet, C13: 20 °C and 50 % give 9.3 °C; a crate at 8 °C stays shut."""
    assert round(dew_point_c(20, 50), 1) == 9.3
    assert not stays_dry(8, 20, 50)
    assert stays_dry(9.4, 20, 50)


@pytest.mark.parametrize(
    ("air", "damp", "dew"),
    [
        (20, 60, 12.0),
        (20, 70, 14.4),
        (25, 50, 13.9),
        (25, 60, 16.7),
        (15, 60, 7.3),
        (30, 50, 18.4),
    ],
)
def test_the_dew_points_of_building_practice(air, damp, dew):
    """DIN 4108-3, table of dew points (°C by air temperature and relative humidity), from memory."""
    assert dew_point_c(air, damp) == pytest.approx(dew, abs=0.1)


@given(st.floats(0, 40), st.floats(5, 100))
def test_another_formula_agrees(air, damp):
    """The Magnus form of Sonntag (1990; from memory: 17.62, 243.12) agrees within a tenth of a degree."""
    share = math.log(damp / 100) + 17.62 * air / (243.12 + air)
    assert dew_point_c(air, damp) == pytest.approx(243.12 * share / (17.62 - share), abs=0.1)


@given(st.floats(-40, 60))
def test_full_air_settles_at_its_own_temperature(air):
    assert dew_point_c(air, 100) == pytest.approx(air, abs=1e-9)


@pytest.mark.parametrize("asked", [(20, 0), (20, 101), (90, 50), (-60, 50)])
def test_what_no_air_has_is_refused(asked):
    with pytest.raises(BadData):
        dew_point_c(*asked)


def test_the_worked_day():
    """Trade sheet, C13: 83.3 % in range, mean 54.5, range 16; steady about the mean, not in all."""
    green = judged(READINGS, limits()["green-protocol"]).humidity
    assert round(green.in_range_percent, 1) == 83.3
    assert (green.most - green.least, green.mean, green.deviation) == (16, 54.5, 8.5)
    assert green.steady
    close = judged(READINGS, limits()["museum-manual"]).humidity
    assert (close.swing, close.steady) == (16, False)


def test_the_breaches_are_told_in_the_order_of_time():
    found = judged(READINGS[::-1], limits()["green-protocol"])
    assert [each.hour for each in found.breaches] == [6, 8]


hours = st.lists(st.integers(0, 200), min_size=1, max_size=30, unique=True)


@given(
    hours.flatmap(
        lambda at: st.tuples(
            st.just(at), st.lists(st.integers(0, 100), min_size=len(at), max_size=len(at))
        )
    )
)
def test_the_swing_is_what_a_plain_look_at_every_pair_finds(made):
    at, damp = made
    readings = [ClimateReading(hour, 20, each) for hour, each in zip(at, damp, strict=True)]
    plain = max(
        abs(one.humidity_percent - other.humidity_percent)
        for one in readings
        for other in readings
        if abs(one.hour - other.hour) <= 24
    )
    assert judged(readings, limits()["green-protocol"]).humidity.swing == plain


def test_light_adds_up():
    """Trade sheet, C13: 150 lux for 8 hours on 90 days are 108 000 lux hours."""
    assert lux_hours(150, 8, 90) == 108_000


def test_no_reading_is_no_judgement():
    with pytest.raises(BadData, match="no reading"):
        judged([], limits()["green-protocol"])


@pytest.mark.parametrize(
    ("old", "new"),
    [('"either_way"', '"somehow"'), ("[40, 60]", "[60, 40]"), ("humidity = ", "damp = ")],
)
def test_a_spoilt_row_is_refused_with_its_file(tmp_path, monkeypatch, old, new):
    whole = (places.folder("vocab") / "climate.toml").read_text("utf-8")
    rows = whole[whole.index("[[limits]]") :]
    (tmp_path / "climate.toml").write_text(rows.replace(old, new), "utf-8")
    monkeypatch.setattr("catalogue.places.folder", lambda name: tmp_path)
    places.table.cache_clear()
    limits.cache_clear()
    try:
        with pytest.raises(BadSetting, match=r"climate\.toml"):
            limits()
    finally:
        places.table.cache_clear()
        limits.cache_clear()
