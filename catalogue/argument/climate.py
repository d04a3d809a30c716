"""Climate and light against limits: how much was in range, how far it swung, when water would settle.

Readings are compared with the limits of vocab/climate.toml; what follows for a work is for people to say.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue.errors import BadData, BadSetting
from catalogue.places import table
from catalogue.record import Loan

MAGNUS_A, MAGNUS_B_C = 17.625, 243.04
"""The constants of the Magnus form over water (Alduchov and Eskridge, 1996; from memory)."""

A_DAY_H = 24.0

Range = tuple[float, float]


def dew_point_c(temperature_c: float, humidity_percent: float) -> float:
    """The temperature in °C of a surface on which water begins to settle. Raises `BadData`.

    >>> round(dew_point_c(20, 50), 1)
    9.3
    """
    if not 0 < humidity_percent <= 100 or not -45 <= temperature_c <= 60:
        raise BadData("relative humidity is over 0 to 100 %, air -45 to 60 °C")
    share = math.log(humidity_percent / 100)
    share += MAGNUS_A * temperature_c / (MAGNUS_B_C + temperature_c)
    return MAGNUS_B_C * share / (MAGNUS_A - share)


def stays_dry(surface_c: float, air_c: float, humidity_percent: float) -> bool:
    """Whether a surface so cold stays dry in this air: a crate may be opened.

    >>> stays_dry(8, 20, 50), stays_dry(9.5, 20, 50)
    (False, True)
    """
    return surface_c > dew_point_c(air_c, humidity_percent)


@dataclass(frozen=True, slots=True, order=True)
class ClimateReading:
    """What a logger read: `hour` from any start on, °C, % of relative humidity."""

    hour: float
    temperature_c: float
    humidity_percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """One row of vocab/climate.toml: see there."""

    key: str
    says: str
    humidity: Range
    temperature: Range
    humidity_swing: float | None
    temperature_swing: float | None
    swing_is: str
    lux: float | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One measure over time: its bounds, its mean, how much was in range.

    `swing` is the most that lay between two readings within 24 hours, `deviation` the furthest that
    one lay from the mean of all; `steady` whether that keeps to the limits as they are meant, None
    where they say nothing.
    """

    least: float
    most: float
    mean: float
    in_range_percent: float
    swing: float
    deviation: float
    steady: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Readings against limits; `breaches` are the readings outside, in the order of time."""

    limits: Limits
    humidity: Course
    temperature: Course
    breaches: tuple[ClimateReading, ...]


@cache
def limits() -> dict[str, Limits]:
    """The limits of vocab/climate.toml by key. Raises `BadSetting`."""
    try:
        found = [_limits(row) for row in table("climate.toml")["limits"]]
    except (KeyError, TypeError, ValueError) as wrong:
        raise BadSetting(
            f"vocab/climate.toml: {wrong}", remedy="see the lines at the top of that file"
        ) from None
    return {each.key: each for each in found}


def _limits(row: dict[str, Any]) -> Limits:
    if row["swing_is"] not in ("total", "either_way"):
        raise ValueError(f"{row['key']}: swing_is is total or either_way")
    return Limits(
        key=row["key"],
        says=row["says"],
        humidity=_range(row["humidity"]),
        temperature=_range(row["temperature"]),
        humidity_swing=row.get("humidity_swing"),
        temperature_swing=row.get("temperature_swing"),
        swing_is=row["swing_is"],
        lux=row.get("lux"),
        source=row["source"],
    )


def _range(said: list[float]) -> Range:
    least, most = said
    if least > most:
        raise ValueError(f"{least} to {most} is no range")
    return least, most


def judged(readings: Sequence[ClimateReading], against: Limits) -> Judged:
    """What a logger read, against limits. Raises `BadData` without a reading."""
    if not readings:
        raise BadData("there is no reading to judge")
    ordered = sorted(readings)
    damp = [(each.hour, each.humidity_percent) for each in ordered]
    warm = [(each.hour, each.temperature_c) for each in ordered]
    return Judged(
        limits=against,
        humidity=_course(damp, against.humidity, against.humidity_swing, against.swing_is),
        temperature=_course(
            warm, against.temperature, against.temperature_swing, against.swing_is
        ),
        breaches=tuple(
            each
            for each in ordered
            if not _within(each.humidity_percent, against.humidity)
            or not _within(each.temperature_c, against.temperature)
        ),
    )


def agreed(loan: Loan) -> Limits | None:
    """The limits that a loan was agreed under, to hold a logger's readings against; None without bounds.

    A bound that nobody agreed is no bound.
    """
    humidity = _bounds(loan.humidity_least_percent, loan.humidity_most_percent)
    temperature = _bounds(loan.temperature_least_c, loan.temperature_most_c)
    if humidity == temperature == _bounds(None, None) and loan.humidity_swing_percent is None:
        return None
    return Limits(
        key="agreed",
        says=loan.climate or "",
        humidity=humidity,
        temperature=temperature,
        humidity_swing=loan.humidity_swing_percent,
        temperature_swing=None,
        swing_is="either_way",
        lux=loan.lux_most,
        source="",
    )


def outside(
    loan: Loan, temperature_c: float | None, humidity_percent: float | None
) -> tuple[str, ...]:
    """Which of two readings lie outside what a loan was agreed under: "temperature", "humidity".

    >>> dry = Loan(work="work/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01", humidity_least_percent=40)
    >>> outside(dry, 21, 38), outside(dry, 21, 40)
    (('humidity',), ())
    """
    limits = agreed(loan)
    if limits is None:
        return ()
    read = (
        ("temperature", temperature_c, limits.temperature),
        ("humidity", humidity_percent, limits.humidity),
    )
    return tuple(
        name
        for name, value, allowed in read
        if value is not None and not _within(value, allowed)
    )


def _bounds(least: float | None, most: float | None) -> Range:
    return (-math.inf if least is None else least, math.inf if most is None else most)


def _within(value: float, allowed: Range) -> bool:
    return allowed[0] <= value <= allowed[1]


def _course(
    over_time: list[tuple[float, float]], allowed: Range, most: float | None, swing_is: str
) -> Course:
    values = [value for _, value in over_time]
    mean = sum(values) / len(values)
    swing = _widest(over_time)
    deviation = max(max(values) - mean, mean - min(values))
    measure = swing if swing_is == "total" else deviation
    return Course(
        least=min(values),
        most=max(values),
        mean=mean,
        in_range_percent=100 * sum(_within(each, allowed) for each in values) / len(values),
        swing=swing,
        deviation=deviation,
        steady=None if most is None else measure <= most,
    )


def _widest(over_time: list[tuple[float, float]]) -> float:
    """The most between the highest and the lowest within any 24 hours, in one walk over the readings."""
    highest: deque[tuple[float, float]] = deque()
    lowest: deque[tuple[float, float]] = deque()
    widest = 0.0
    for hour, value in over_time:
        while highest and highest[-1][1] <= value:
            highest.pop()
        while lowest and lowest[-1][1] >= value:
            lowest.pop()
        highest.append((hour, value))
        lowest.append((hour, value))
        for line in (highest, lowest):
            while line[0][0] < hour - A_DAY_H:
                line.popleft()
        widest = max(widest, highest[0][1] - lowest[0][1])
    return widest


def lux_hours(lux: float, hours_a_day: float, days: float) -> float:
    """The light that falls on a picture over a show, in lux hours.

    >>> lux_hours(150, 8, 90)
    108000
    """
    return lux * hours_a_day * days
