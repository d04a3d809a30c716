"""The course of a damage from check to check: what changed, whether that is more than the ruler's error.

Two measures differ when they lie further apart than twice their joint uncertainty; a rate is given from
three measures on (trade sheet C4: statistics, and this tool's own design).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Final, Literal

from catalogue.measure import Day
from catalogue.places import table
from catalogue.record import ConditionCheck, Finding, Observation, Work
from catalogue.terms import in_order

MEASURES: Final = ("length_mm", "gap_mm", "depth_mm", "area_mm2", "count")
"""What of an observation is measured."""
UNCERTAINTY_MM: Final = 1.0
"""By how much a measure may be out where nobody said so: a ruler (trade sheet 2.0)."""
_SIGMAS: Final = 2
_YEAR: Final = 365.25
_FEWEST: Final = 3
_SHORTEST_DAYS: Final = 182  # half a year: less says nothing of a year (this tool's own design)

Verdict = Literal["new", "unchanged", "worse", "better", "treated", "not seen"]


@dataclass(frozen=True, slots=True)
class Measured:
    """One measure on one day; `within` is by how much it may be out, in its own unit."""

    on: Day
    value: float
    within: float = UNCERTAINTY_MM


@dataclass(frozen=True, slots=True)
class Difference:
    """From one measure to a later one: the difference, and whether it is more than the uncertainty."""

    change: float
    threshold: float

    @property
    def significant(self) -> bool:
        """Whether it is more than the two measures may be out together."""
        return abs(self.change) > self.threshold


@dataclass(frozen=True, slots=True)
class Trend:
    """How a measure went over the years.

    `differences` are from each measure to the next, `whole` from the first to the last. `rate` is per year
    by least squares, None under three measures or when they are all of one day.
    """

    points: tuple[Measured, ...]
    differences: tuple[Difference, ...]
    whole: Difference | None
    rate: float | None

    @property
    def rate_to_tell(self) -> float | None:
        """The rate, where it says something about years to come.

        That is, where the whole change is more than the error of measuring, and the measures lie half a
        year apart at least; else None.
        """
        if self.whole is None or not self.whole.significant:
            return None
        days = self.points[-1].on.ordinal - self.points[0].on.ordinal
        return self.rate if days >= _SHORTEST_DAYS else None

    def years_until(self, threshold: float) -> float | None:
        """How many years after the last measure the rate reaches a threshold.

        None where there is no rate to tell, or where it goes the other way.
        """
        rate = self.rate_to_tell
        if not rate:
            return None
        years = (threshold - self.points[-1].value) / rate
        return years if years >= 0 else None


def difference(first: Measured, second: Measured) -> Difference:
    """The difference of two measures.

    >>> found = difference(Measured(Day(2024, 1, 1), 62.0), Measured(Day(2025, 2, 6), 64.5))
    >>> found.change, round(found.threshold, 2), found.significant
    (2.5, 2.83, False)
    """
    return Difference(second.value - first.value, _SIGMAS * hypot(first.within, second.within))


def trend(measures: Iterable[Measured]) -> Trend:
    """How a measure went, by day."""
    points = tuple(sorted(measures, key=lambda each: each.on))
    differences = tuple(difference(one, other) for one, other in pairwise(points))
    whole = difference(points[0], points[-1]) if len(points) > 1 else None
    return Trend(points, differences, whole, _slope(points))


def _slope(points: Sequence[Measured]) -> float | None:
    """Change a year by least squares."""
    if len(points) < _FEWEST:
        return None
    years = [(each.on.ordinal - points[0].on.ordinal) / _YEAR for each in points]
    middle, mean = sum(years) / len(years), sum(each.value for each in points) / len(points)
    spread = sum((year - middle) ** 2 for year in years)
    if not spread:
        return None
    shared = sum(
        (year - middle) * (each.value - mean) for year, each in zip(years, points, strict=True)
    )
    return shared / spread


def trend_of(work: Work, finding: Finding, measure: str) -> Trend:
    """How one measure of a finding went from check to check; observations without it are passed over."""
    return trend(
        Measured(work.check_of(each).on, float(value), _within(each, measure))
        for each in work.course(finding)
        if (value := getattr(each, measure)) is not None
    )


def _within(observation: Observation, measure: str) -> float:
    """By how much a measure may be out: the tolerance of its place, round all of an area."""
    location = observation.location
    told = location.tolerance_mm if location and location.tolerance_mm else UNCERTAINTY_MM
    if measure == "count":
        return 0
    if measure == "area_mm2":
        around = location.shape.length_mm if location and location.shape else 0
        return 0.5 * around or told  # the way round times half a millimetre (trade sheet C3)
    return told


@dataclass(frozen=True, slots=True)
class Compared:
    """One finding at two checks; an observation of None: nobody noted it then.

    `differences` are of the measures that both have. `verdict` is the examiner's word on the later check
    where there is one, else what the measures and the scales say.
    """

    finding: Finding
    then: Observation | None
    now: Observation | None
    differences: dict[str, Difference]
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two checks of one work, the earlier first; `method_changed` says what makes them hard to compare."""

    first: ConditionCheck
    second: ConditionCheck
    findings: tuple[Compared, ...]
    method_changed: tuple[Literal["examiner", "light", "framed", "limits"], ...]


def compare_checks(work: Work, first: str, second: str) -> Comparison:
    """Two checks of a work, by number ("K1") or id, finding by finding. Raises `NotOnFile`."""
    checks = [work.value("checks", each) for each in (first, second)]
    earlier, later = sorted(checks, key=lambda each: each.rank)
    seen = [(each, _at(each, earlier), _at(each, later)) for each in work.findings]
    compared = tuple(_compared(*each) for each in seen if each[1] or each[2])
    return Comparison(earlier, later, compared, _method(earlier, later))


def course_of(work: Work, finding: Finding) -> tuple[tuple[ConditionCheck, Compared], ...]:
    """A finding from check to check: each time it was noted, held against the time before."""
    seen = work.course(finding)
    before: tuple[Observation | None, ...] = (None, *seen[:-1])
    return tuple(
        (work.check_of(now), _compared(finding, then, now))
        for then, now in zip(before, seen, strict=True)
    )


def unseen(work: Work) -> tuple[Finding, ...]:
    """The findings of which the latest check says nothing; not those that were over before it."""
    over = table("checks.toml")["words"]["over"]
    latest = work.checks[-1].id if work.checks else None
    last = ((finding, work.course(finding)[-1]) for finding in work.findings)
    return tuple(
        finding for finding, seen in last if seen.check != latest and seen.change not in over
    )


def _at(finding: Finding, check: ConditionCheck) -> Observation | None:
    return next((each for each in finding.observations if each.check == check.id), None)


def _method(
    one: ConditionCheck, other: ConditionCheck
) -> tuple[Literal["examiner", "light", "framed", "limits"], ...]:
    told: list[Literal["examiner", "light", "framed", "limits"]] = []
    if one.by != other.by:
        told.append("examiner")
    if set(one.lights) != set(other.lights):
        told.append("light")
    if one.framed != other.framed or one.glazed != other.glazed:
        told.append("framed")
    if one.limits != other.limits:
        told.append("limits")
    return tuple(told)


def _compared(finding: Finding, then: Observation | None, now: Observation | None) -> Compared:
    differences = {}
    if then and now:
        for measure in MEASURES:
            before, after = getattr(then, measure), getattr(now, measure)
            if before is not None and after is not None:
                threshold = _SIGMAS * hypot(_within(then, measure), _within(now, measure))
                differences[measure] = Difference(float(after) - float(before), threshold)
    return Compared(finding, then, now, differences, _verdict(then, now, differences))


_SAID: Final[dict[str | None, Verdict]] = {
    "change/new": "new", "change/unchanged": "unchanged", "change/grown": "worse", "change/shrunk": "better",
    "change/treated": "treated", "change/not-found": "not seen",
}  # fmt: skip


def _verdict(
    then: Observation | None, now: Observation | None, differences: dict[str, Difference]
) -> Verdict:
    if now is None:
        return "not seen"
    if now.change in _SAID:
        return _SAID[now.change]
    if then is None:
        return "new"
    ways = {each.change > 0 for each in differences.values() if each.significant}
    ways |= {
        higher
        for scale in ("severity", "extent")
        if (higher := _higher(scale, getattr(then, scale), getattr(now, scale))) is not None
    }
    if True in ways:
        return "worse"
    return "better" if False in ways else "unchanged"


def _higher(scale: str, before: str | None, after: str | None) -> bool | None:
    """Whether a value lies higher on its scale; None where it is the same or not judged."""
    if before is None or after is None or before == after:
        return None
    places = [each.key for each in in_order(scale)]
    return places.index(after) > places.index(before)
