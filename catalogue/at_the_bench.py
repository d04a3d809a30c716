"""What a day begins with: each work in the house, what it needs, and which of them needs a hand first.

Plain values in, plain values out. `bench_kept.py` gathers the stays and keeps them up with the ledger;
the words and the order of needs are rows of vocab/bench.toml.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Final

from catalogue.argument.order import Breach, breaches, rule
from catalogue.house import whereabouts
from catalogue.measure import DateSpan, Day
from catalogue.places import table
from catalogue.record import Item, Job, Photo, Step, Treatment, Work
from catalogue.terms import label, within

DAY_HOURS: Final = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a line says of a work: its number, title and maker in words, the photograph that shows it."""

    document: str
    number: str | None
    title: str
    maker: str
    photo: str | None = None

    @property
    def id(self) -> str:
        """Its UUID, as addresses have it."""
        return self.document.partition("/")[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """A wait in the log of a work: which step, what kind, since when, until when if anybody said.

    `rests` says that nobody logged a wait: moisture came, and the order of work asks for a rest.
    """

    step: str
    kind: str
    since: Day
    until: Day | None
    rests: bool = False

    def is_over(self, today: Day) -> bool:
        """Whether its last day has come.

        >>> wait = Wait(step="T1.3", kind="step/wait", since=Day(2026, 3, 1), until=Day(2026, 3, 8))
        >>> wait.is_over(Day(2026, 3, 7)), wait.is_over(Day(2026, 3, 8))
        (False, True)
        """
        return self.until is not None and self.until <= today


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """A work that is here for a job, as it stands whatever day it is.

    `place` is where it is in words, `since` (a day, where it is one) and `moved_by` of its last move;
    `apart` the dangers that still stand, `stops` how many rules stop something, `asked` the proposal
    that nobody approved.
    `rests_on` are the documents from which all this was made.
    """

    shown: Shown
    job: str
    job_number: str
    came: Day | None
    due: Day | None
    next_step: str | None
    place: str = ""
    since: str = ""
    since_day: Day | None = None
    moved_by: str = ""
    apart: tuple[str, ...] = ()
    stops: int = 0
    asked: str = ""
    wait: Wait | None = None
    rests_on: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class InTheHouse:
    """One line of the bench: a work that is here, and what it needs today, the most urgent first."""

    stay: Stay
    needs: tuple[str, ...]
    today: Day = field(repr=False)

    @property
    def overdue(self) -> bool:
        """Whether it should have gone back."""
        return "overdue" in self.needs

    @property
    def late_days(self) -> int:
        """For how many days it should have been back, 0 where it is not late."""
        due = self.stay.due
        return max(self.today.ordinal - due.ordinal, 0) if due else 0

    @property
    def pressing(self) -> bool:
        """Whether it needs a hand today."""
        return bool(set(self.needs) & _needs_today())


def shown(work: Work, name_of: Callable[[str | None], str], photo: Photo | None) -> Shown:
    """What a line says of a work."""
    said = work.attribution()
    maker = "maker not recorded"
    if said is not None:
        by = "" if said.qualifier == "qualifier/by" else label(said.qualifier)
        maker = (
            " ".join(each for each in (by, name_of(said.artist)) if each)
            or said.written
            or maker
        )
    return Shown(
        document=work.document, number=work.number, title=work.title(), maker=maker,
        photo=photo.sha256 if photo else None,
    )  # fmt: skip


def stay(
    work: Work,
    job: Job,
    item: Item,
    jobs: Iterable[Job],
    name_of: Callable[[str | None], str],
    photo: Photo | None,
) -> Stay:
    """How a work stands that is here for a job; `jobs` are all of its commissions."""
    where = whereabouts(work, job, item)
    said = work.attribution()
    commissions = tuple(jobs)
    people = (said.artist if said else None, where.keeper, where.by)
    places = [each for each in (where.place, name_of(where.keeper)) if each]
    asked = (
        job.proposals[-1].number or job.number if job.proposals and not job.approvals else ""
    )
    return Stay(
        shown=shown(work, name_of, photo),
        job=job.document,
        job_number=job.number or "",
        came=item.came,
        due=item.due,
        next_step=item.next_step,
        place=", with ".join(places),
        since=where.since.written if where.since else "",
        since_day=_one_day(where.since),
        moved_by=name_of(where.by),
        apart=tuple(label(each.kind) for each in where.apart),
        stops=len(stops(breaches(work, commissions))),
        asked=asked or "",
        wait=waiting(work),
        rests_on=frozenset(
            each
            for each in (
                work.document, job.document, item.work, *people,
                *(other.document for other in commissions),
            )
            if each
        ),
    )  # fmt: skip


def _one_day(span: DateSpan | None) -> Day | None:
    return span.earliest if span and span.earliest == span.latest else None


def stops(found: Iterable[Breach]) -> frozenset[tuple[str, str]]:
    """What stops something and has no answer: the step and the rule."""
    return frozenset((each.value, each.rule.key) for each in found if each.stops)


def waiting(work: Work) -> Wait | None:
    """The wait that the last step begun on a work is, or calls for; None where it calls for none.

    >>> from catalogue.record import Step, Treatment, Work
    >>> steps = (Step(order=1, kind="step/flatten", began=Day(2026, 3, 1)),
    ...          Step(order=2, kind="step/wait", began=Day(2026, 3, 1), ended=Day(2026, 3, 8)))
    >>> found = waiting(Work(treatments=(Treatment(number="T1", steps=steps),)))
    >>> found.step, found.until.iso
    ('T1.2', '2026-03-08')
    """
    begun = [
        (step.began, step.began_at or "", each.number or "", step.order, each, step)
        for each in work.treatments
        for step in each.steps
        if step.began is not None
    ]
    if not begun:
        return None
    *_, treatment, step = max(begun, key=lambda each: each[:4])
    return _wait_of(treatment, step)


def _wait_of(treatment: Treatment, step: Step) -> Wait | None:
    assert step.began is not None
    said: dict[str, Any] = {
        "step": treatment.label(step),
        "kind": step.kind,
        "since": step.began,
    }
    if step.kind in _settings()["waits"]:
        return Wait(until=step.ended, **said)
    moist = rule(_settings()["rest_after"])
    if within(step.kind, *moist.after) and moist.hours:
        days = -(-int(moist.hours) // DAY_HOURS)
        last = step.ended or step.began
        return Wait(until=Day.from_ordinal(last.ordinal + days), rests=True, **said)
    return None


def needs(found: Stay, today: Day) -> tuple[str, ...]:
    """What a work needs on a day, the most urgent first, by the keys of vocab/bench.toml."""
    wait = found.wait
    left = found.due.ordinal - today.ordinal if found.due else None
    holds = {
        "apart": bool(found.apart),
        "overdue": left is not None and left < 0,
        "stopped": found.stops > 0,
        "dry": wait is not None and not wait.rests and wait.is_over(today),
        "soon": left is not None and 0 <= left <= _settings()["soon_days"],
        "nowhere": not found.place,
        "approval": bool(found.asked),
        "drying": wait is not None and not wait.is_over(today),
        "unplanned": not found.next_step,
    }
    return tuple(key for key in _order() if holds[key])


def in_order(stays: Iterable[Stay], today: Day) -> tuple[InTheHouse, ...]:
    """Every work in the house, what needs a hand first before the rest."""
    found = [InTheHouse(each, needs(each, today), today) for each in stays]
    order = _order()

    def rank(each: InTheHouse) -> tuple[Any, ...]:
        due = each.stay.due
        return (
            order.index(each.needs[0]) if each.needs else len(order),
            due.ordinal if due else Day(9999, 12, 31).ordinal,
            each.stay.shown.number or "",
        )

    return tuple(sorted(found, key=rank))


def sentence(here: Iterable[InTheHouse]) -> str:
    """What needs a hand today, in one sentence; each work is counted for what is most urgent about it."""
    counts: dict[str, int] = {}
    for each in here:
        if each.pressing:
            counts[each.needs[0]] = counts.get(each.needs[0], 0) + 1
    said = [
        row["one"] if counts[row["key"]] == 1 else row["many"].format(n=counts[row["key"]])
        for row in _settings()["need"]
        if row["key"] in counts
    ]
    if not said:
        return str(_settings()["nothing"])
    *first, last = said
    listed = f"{', '.join(first)} and {last}" if first else last
    return str(_settings()["begins"]).format(list=listed)


@cache
def _settings() -> dict[str, Any]:
    return table("bench.toml")


@cache
def _order() -> tuple[str, ...]:
    return tuple(row["key"] for row in _settings()["need"])


@cache
def _needs_today() -> frozenset[str]:
    return frozenset(row["key"] for row in _settings()["need"] if row["today"])
