"""The steps of one work in the order in which they were done or are planned; what lies where they work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from catalogue.argument.covering import present, side_of
from catalogue.argument.order.rows import is_one
from catalogue.record import (
    Finding,
    Inscription,
    Job,
    Location,
    Observation,
    Option,
    PlannedStep,
    PriorRepair,
    Step,
    Work,
)
from catalogue.surface import Box, Shape, Sheet, distance_mm, mirror

Moment = tuple[str, str]
"""A local day and a time of day, as they are ordered; a day without a time begins it or ends it."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where something is: its face, and its outline in mm as seen on that face where it is known."""

    face: str | None = None
    place: Box | Shape | None = None


EVERYWHERE = Spot()


@dataclass(frozen=True, slots=True)
class Done:
    """One step in its place: what people call it, where it works, when it began and ended."""

    step: Step | PlannedStep
    called: str
    place: int
    planned: bool = False

    @property
    def spot(self) -> Spot:
        """Where it works; everywhere, when nobody said where."""
        return spot_of(self.step.location)

    @property
    def began(self) -> Moment | None:
        """When it began, None where nobody said so."""
        step = self.step
        if isinstance(step, PlannedStep) or step.began is None:
            return None
        return (step.began.iso, step.began_at or "00:00")

    @property
    def ended(self) -> Moment | None:
        """When it ended; a step without an end of its own ends on the day on which it began."""
        step = self.step
        if isinstance(step, PlannedStep) or step.began is None:
            return None
        return ((step.ended or step.began).iso, step.ended_at or step.began_at or "24:00")

    def is_before(self, other: Done) -> bool:
        """Whether it was over when the other one began; on one day without times, by their order."""
        if self.ended and other.began:
            if self.ended[0] == other.began[0] and not (self.timed and other.timed):
                return self.place < other.place
            return self.ended <= other.began
        return self.place < other.place

    @property
    def timed(self) -> bool:
        """Whether a time of day is known."""
        step = self.step
        return isinstance(step, Step) and (step.ended_at or step.began_at) is not None


def spot_of(location: Location | None) -> Spot:
    """The spot of a location; what was not seen from its own side may lie anywhere on it."""
    return Spot(location.face, location.on_its_face(None)) if location else EVERYWHERE


@dataclass(frozen=True)
class Log:
    """One work with its steps, and the jobs in which it is here."""

    work: Work
    jobs: tuple[Job, ...]
    steps: tuple[Done, ...]

    @classmethod
    def of(cls, work: Work, jobs: tuple[Job, ...] = ()) -> Log:
        """The log of what was done: by day and time where they are known, else as they were written."""
        told = [
            (treatment.label(step), step)
            for treatment in work.treatments
            for step in treatment.steps
        ]
        ranked = []
        last: Moment = (
            "",
            "",
        )  # an undated step stands right behind the one that is written before it
        for number, (called, step) in enumerate(told):
            last = (step.began.iso, step.began_at or "00:00") if step.began else last
            ranked.append((last, number, called, step))
        ranked.sort(key=lambda each: each[:2])
        steps = (Done(step, called, place) for place, (*_, called, step) in enumerate(ranked))
        return cls(work, jobs, tuple(steps))

    @classmethod
    def of_plan(cls, work: Work, option: Option, jobs: tuple[Job, ...] = ()) -> Log:
        """What was done so far, and what an option foresees for this work after it."""
        log = cls.of(work, jobs)
        planned = [each for each in option.steps if each.work in (None, work.document)]
        first = len(log.steps)
        more = (
            Done(step, f"step {step.order}", first + number, planned=True)
            for number, step in enumerate(planned)
        )
        return cls(work, jobs, (*log.steps, *more))

    @cached_property
    def sheet(self) -> Sheet | None:
        """The size of the work, None while nobody has measured it."""
        return self.work.sheet

    def earlier(self, done: Done, kinds: tuple[str, ...]) -> Iterator[Done]:
        """The steps of these kinds that were over before this one."""
        for each in self.steps:
            if each is not done and is_one(each.step.kind, kinds) and each.is_before(done):
                yield each

    def meets(
        self, one: Spot, other: Spot, *, margin: float = 0, through: bool = False
    ) -> bool:
        """Whether two spots meet, or come as near as the margin; what is not known may meet anything.

        `through` also meets what lies on the other side of the canvas.
        """
        if one.face is None or other.face is None:
            return True
        here, there = side_of(one.face), side_of(other.face)
        if here != there and not (through and {here, there} == {"front", "back"}):
            return False
        if one.place is None or other.place is None:
            return True
        place = other.place
        if here != there:
            if self.sheet is None:
                return True
            place = mirror(place, self.sheet)
        return distance_mm(one.place, place) <= margin

    def findings_at(self, done: Done, kinds: tuple[str, ...]) -> Iterator[Finding]:
        """The findings of these kinds where a step works, on the front or the back."""
        for finding in self.work.findings:
            if is_one(finding.kind, kinds) and any(
                self.meets(done.spot, spot_of(each.location), through=True)
                for each in finding.observations
            ):
                yield finding

    def latest(self, finding: Finding) -> Observation:
        """How a finding was when it was last looked at."""
        return self.work.course(finding)[-1]

    def repairs_at(self, done: Done, kinds: tuple[str, ...]) -> Iterator[PriorRepair]:
        """The earlier repairs of these kinds where a step works, on either side."""
        for repair in self.work.repairs:
            if is_one(repair.kind, kinds) and self.meets(
                done.spot, spot_of(repair.location), through=True
            ):
                yield repair

    def inscriptions_at(
        self, done: Done, *, margin: float, through: bool
    ) -> Iterator[Inscription]:
        """The inscriptions, of those still there, where a step works, or so near."""
        for each in present(self.work):
            where = Spot(each.face, each.place)
            if self.meets(done.spot, where, margin=margin, through=through):
                yield each
