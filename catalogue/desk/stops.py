"""What the order of work says of a step, for its form and its leaf: rule by rule, with the way to mend it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from flask import url_for

from catalogue.argument.order import Breach, breaches, breaches_of_plan, suggested_order
from catalogue.desk.asking import studio
from catalogue.desk.typed import Typed, new_member
from catalogue.errors import Stopped
from catalogue.record import Job, Option, Override, Work
from catalogue.record.rules import values_within
from catalogue.terms import label

ANSWER = "answer."
"""How the blanks begin in which one writes why something is done against a rule: "answer.O4"."""

WAYS: dict[str, tuple[str, ...]] = {
    "approved": ("job",),
    "photographed": ("photos",),
    "recorded": ("photos", "read"),
    "seen_beneath": ("photos", "read"),
    "ink_tested": ("tests",),
    "agent_tested": ("tests",),
    "tested": ("tests",),
    "handled": ("map", "job"),
    "all_closed": ("treat", "job"),
    "COST": ("job",),
}
"""Where one can mend what a check of the rules misses; templates/_order.html has the words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One rule about one step: `level` is stop, overridden, warn or info.

    `says` are its sentences, `answer` the decision to go on all the same, `ways` the pages on which
    what is missing can be supplied: which, the number of a job, the address. An `urgent` one gives
    way to emergency stabilisation.
    """

    rule: str
    level: str
    says: tuple[str, ...]
    remedy: str
    answer: Override | None = None
    ways: tuple[tuple[str, str, str], ...] = ()
    urgent: bool = False

    @property
    def stops(self) -> bool:
        """Whether nothing goes on before this is mended or answered."""
        return self.level == "stop"


def of_work(work: Work, jobs: tuple[Job, ...] | None = None) -> dict[str, tuple[Told, ...]]:
    """What the rules say of each step of a work, by its id; its jobs are asked for where not given."""
    jobs = studio().jobs_of(work.document) if jobs is None else jobs
    by_value: dict[str, list[Breach]] = {}
    for each in breaches(work, jobs):
        by_value.setdefault(each.value, []).append(each)
    return {value: _told(found, work, jobs) for value, found in by_value.items()}


def of_plan(works: Iterable[Work], option: Option) -> tuple[Told, ...]:
    """What an option would break in the order in which it is planned, for each of its works."""
    found: list[Told] = []
    for work in works:
        jobs = studio().jobs_of(work.document)
        found += _told(breaches_of_plan(work, option, jobs), work, jobs)
    return tuple(found)


def better_orders(option: Option) -> tuple[tuple[str | None, tuple[str, ...]], ...]:
    """The order that the rules suggest, for each work whose steps stand otherwise: its id, the steps.

    The id is None where the job has one work. Where the rules go round in a circle there is no
    better order.
    """
    found = []
    for work in dict.fromkeys(step.work for step in option.steps):
        planned = sorted(
            (it for it in option.steps if it.work == work), key=lambda it: it.order
        )
        suggested = suggested_order(planned)
        if suggested and list(suggested) != planned:
            steps = tuple(f"{each.order}. {label(each.kind)}" for each in suggested)
            found.append((work, steps))
    return tuple(found)


def open_stops(work: Work) -> int:
    """How many rules stop something in the log of a work."""
    return sum(each.stops for found in of_work(work).values() for each in found)


def of_step(work: Work, value: str) -> tuple[Told, ...]:
    """What the rules say of one step as it is, or would be."""
    return of_work(work).get(value, ())


def beyond(work: Work, refused: Stopped, found: Iterable[Told]) -> list[Told]:
    """What refused to save it and is not among what was found."""
    known = {each.rule for each in found}
    jobs = studio().jobs_of(work.document)
    refusals = refused.refusals or (refused,)
    return [_of_refusal(each, work, jobs) for each in refusals if each.rule not in known]


def figures(work: Work, value: Any, found: Iterable[Any] | None = None) -> list[str]:
    """What of a step or test, or of a material in it, lies outside the studio's own ranges.

    `found` is what of the work does, where that is known already.
    """
    inside = {getattr(each, "id", "") for each in values_within(value)}
    return [
        f"{each.where}: {each.says}. {each.remedy}"
        for each in (studio().out_of_range(work) if found is None else found)
        if each.value in inside
    ]


def answered(typed: Typed, by: str, on: str) -> None:
    """Write the reasons that were given beside a stop into the step's own blanks for them."""
    reasons = {
        path.removeprefix(ANSWER): typed.one(path)
        for path in list(typed.held)
        if path.startswith(ANSWER)
    }
    place = max(typed.places("overrides"), default=-1) + 1
    for rule, reason in reasons.items():
        typed.held.pop(f"{ANSWER}{rule}")
        if reason:
            prefix = f"overrides.{place}."
            typed.add(new_member(Override, prefix))
            typed.add({f"{prefix}rule": [rule], f"{prefix}reason": [reason]})
            typed.add({f"{prefix}by": [by], f"{prefix}on": [on]})
            place += 1


def _told(found: Iterable[Breach], work: Work, jobs: Iterable[Job]) -> tuple[Told, ...]:
    """One for each rule; the stops first."""
    by_rule: dict[str, list[Breach]] = {}
    for each in found:
        by_rule.setdefault(each.rule.key, []).append(each)
    told = [
        Told(
            rule=key,
            level="overridden" if each[0].override else each[0].rule.level,
            says=tuple(_together(each)),
            remedy=each[0].rule.remedy,
            answer=each[0].override,
            ways=_ways(each[0].rule.check, work, jobs),
            urgent=each[0].rule.check in _URGENT,
        )
        for key, each in by_rule.items()
    ]
    return tuple(sorted(told, key=lambda each: _LEVELS.index(each.level)))


def _together(found: list[Breach]) -> Iterator[str]:
    """What one rule says of one step after the other, its common beginning once for each step."""
    for _, held in groupby(found, key=lambda each: each.called):
        says = [each.says for each in held]
        begin = "".join(says[0].partition(": ")[:2])
        if len(says) > 1 and all(each.startswith(begin) for each in says):
            yield begin + "; ".join(each.removeprefix(begin) for each in says)
        else:
            yield from says


_URGENT = frozenset({"approved", "COST"})
_LEVELS = ("stop", "warn", "overridden", "info")


def _of_refusal(refused: Stopped, work: Work, jobs: Iterable[Job]) -> Told:
    said = refused.args[0].removeprefix(f"{refused.rule}: ")
    return Told(
        rule=refused.rule,
        level="stop",
        says=(said,),
        remedy=refused.remedy,
        ways=_ways(refused.rule, work, jobs),
        urgent=refused.rule in _URGENT,
    )


def _ways(check: str, work: Work, jobs: Iterable[Job]) -> tuple[tuple[str, str, str], ...]:
    uuid: Any = work.id
    pages = {
        "photos": lambda: url_for("arriving.photos", uuid=uuid),
        "read": lambda: url_for("slip.begin", uuid=uuid),
        "tests": lambda: url_for("values.new", uuid=uuid, field="tests"),
        "map": lambda: url_for("mapping.show", uuid=uuid),
        "treat": lambda: url_for("leaves.treat", uuid=uuid),
    }
    found = []
    for way in WAYS.get(check, ()):
        if way == "job":
            found += [
                (way, job.number or "", url_for("aside.job", uuid=job.id)) for job in jobs
            ]
        else:
            found.append((way, "", pages[way]()))
    return tuple(found)
