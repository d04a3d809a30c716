"""The log, or a plan, held to the rules of the order of work: what breaks which rule, and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from heapq import heappop, heappush
from typing import Final

from catalogue.argument.order.checks import CHECKS, still_open
from catalogue.argument.order.log import Done, Log
from catalogue.argument.order.rows import Rule, is_one, rules, usual_place
from catalogue.record import ConditionCheck, Job, Option, Override, PlannedStep, Step, Work
from catalogue.terms import label

# checks by which one step comes after another
_LATER: Final = ("after", "taken_off", "rested")


@dataclass(frozen=True, slots=True)
class Breach:
    """One rule that one step breaks: what is said, and what to do.

    `value` is the id of the step (of the check, for an outgoing one), `called` what people call it.
    `override` is the decision to go on all the same, None while nobody took it.
    """

    rule: Rule
    value: str
    called: str
    says: str
    override: Override | None = None

    @property
    def stops(self) -> bool:
        """Whether nothing goes on before this is mended or overridden."""
        return self.rule.level == "stop" and self.override is None


def breaches(work: Work, jobs: Iterable[Job] = ()) -> tuple[Breach, ...]:
    """What the log of a work breaks, step by step; and its outgoing checks.

    >>> from catalogue.record import Treatment
    >>> steps = (Step(order=1, kind="step/turn-face-down"),)
    >>> found = breaches(Work(treatments=(Treatment(number="T1", steps=steps),)))
    >>> [each.rule.key for each in found], found[0].stops
    (['O2', 'O2'], True)
    """
    log = Log.of(work, tuple(jobs))
    found = [each for done in log.steps for each in _of_step(log, done, rules())]
    return (*found, *(each for check in work.checks for each in _of_check(log, check)))


def breaches_of_plan(
    work: Work, option: Option, jobs: Iterable[Job] = ()
) -> tuple[Breach, ...]:
    """What an option would break in the order in which it is planned, after what was done so far."""
    log = Log.of_plan(work, option, tuple(jobs))
    held = [each for each in rules() if each.plan]
    return tuple(
        each for done in log.steps if done.planned for each in _of_step(log, done, held)
    )


def _of_step(log: Log, done: Done, held: Iterable[Rule]) -> Iterator[Breach]:
    overrides = done.step.overrides if isinstance(done.step, Step) else ()
    taken = {each.rule: each for each in overrides}
    for rule in held:
        if rule.check not in CHECKS or not rule.speaks_of(done.step.kind):
            continue
        called = f"{done.called} {label(done.step.kind)}"
        for what in CHECKS[rule.check](log, rule, done):
            says = rule.says.format(step=called, what=what)
            yield Breach(rule, done.step.id, called, says, taken.get(rule.key))


def _of_check(log: Log, check: ConditionCheck) -> Iterator[Breach]:
    if not is_one(check.occasion, ("occasion/outgoing",)):
        return
    called = f"{check.number or ''} {label(check.occasion)}".strip()
    for rule in rules():
        if rule.check == "all_closed":
            for what in still_open(log):
                says = rule.says.format(step=called, what=what)
                yield Breach(rule, check.id, called, says)


def suggested_order(steps: Iterable[PlannedStep]) -> tuple[PlannedStep, ...] | None:
    """The steps in an order that no rule of what comes after what is against; None in a circle.

    Where no rule decides, the usual order does, and then the order in which they stand.
    """
    planned = sorted(steps, key=lambda each: each.order)
    wanted: TopologicalSorter[int] = TopologicalSorter()
    for number, step in enumerate(planned):
        wanted.add(number)
        for rule in rules():
            if rule.steps and rule.check in _LATER and rule.speaks_of(step.kind):
                kinds = rule.undone_by if rule.check == "taken_off" else rule.after
                wanted.add(number, *_numbers(planned, kinds, number))
            if rule.check == "not_yet" and rule.speaks_of(step.kind):
                for later in _numbers(planned, rule.after, number):
                    wanted.add(later, number)
    try:
        wanted.prepare()
    except CycleError:
        return None
    waiting: list[tuple[int, int]] = []
    found: list[PlannedStep] = []
    while wanted.is_active():
        for number in wanted.get_ready():
            heappush(waiting, (usual_place(planned[number].kind), number))
        _, number = heappop(waiting)
        found.append(planned[number])
        wanted.done(number)
    return tuple(found)


def _numbers(planned: list[PlannedStep], kinds: tuple[str, ...], but: int) -> Iterator[int]:
    for number, step in enumerate(planned):
        if number != but and is_one(step.kind, kinds):
            yield number
