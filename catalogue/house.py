"""What is in the house: where each work is, what is overdue, what is kept apart, which bags are left.

Plain values in, plain values out; the studio reads the records and asks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from catalogue.argument.costs import Spending, spending
from catalogue.errors import BadData, Stopped
from catalogue.measure import DateSpan, Day
from catalogue.record import (
    Cover,
    Item,
    Job,
    Movement,
    Option,
    Piece,
    PlannedStep,
    Risk,
    Step,
    Work,
)
from catalogue.terms import concept, group, label

BENCH = "movement/bench"
TREATS = frozenset({"reason/treatment", "reason/framing"})
ADVISES = frozenset({"reason/valuation", "reason/consignment", "reason/purchase-offer"})
"""Reasons of a job for which the studio works on a picture, and for which it advises on its sale."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """Where a work is now: `place` in words, `keeper` a party, since when, moved by whom and why.

    Where nobody wrote down a move since it came, the place is the one that its job names. `apart`
    are the dangers for which it is to be kept apart.
    """

    work: Work
    job: Job
    item: Item
    place: str | None
    keeper: str | None
    since: DateSpan | None
    by: str | None
    reason: str | None
    apart: tuple[Risk, ...]


def whereabouts(work: Work, job: Job, item: Item) -> Whereabouts:
    """Where a work is that is here for a job."""
    moved = last_move(work, item)
    if moved is None:
        place, keeper = item.kept_at, None
    else:
        place, keeper = moved.to, moved.keeper
    return Whereabouts(
        work=work,
        job=job,
        item=item,
        place=place,
        keeper=keeper,
        since=moved.when if moved else None,
        by=moved.by if moved else None,
        reason=moved.reason if moved else None,
        apart=tuple(risk for risk in item.risks if risk.stands),
    )


@dataclass(frozen=True, slots=True)
class Now:
    """Where a painting is as far as anybody wrote down: a move, or else what its commission says.

    Both are None where neither says anything; `item` alone is a painting that is in the house.
    """

    move: Movement | None
    item: Item | None


def where_now(work: Work, jobs: Iterable[Job], named: Iterable[str] = ()) -> Now:
    """Where a work is now; `named` are further ids under which commissions may have it."""
    names = {work.document, *named}
    here = (item for job in jobs for item in job.items if item.left is None)
    moves = [move for move in work.movements if move.piece is None]
    return Now(
        moves[-1] if moves else None, next((it for it in here if it.work in names), None)
    )


@dataclass(frozen=True, slots=True)
class Planned:
    """What a client approved for a work: the option, and each planned step with the one in the log.

    A step of the log is taken for a planned one by its kind, in order; None: not begun.
    """

    job: Job
    option: Option
    steps: tuple[tuple[PlannedStep, Step | None], ...]


def planned(work: Work, jobs: Iterable[Job]) -> Iterator[Planned]:
    """What was approved for a work, commission by commission, and how far it is."""
    log = [step for each in work.treatments for step in each.steps if step.began is not None]
    for job in jobs:
        for approval in job.approvals:
            option = job.option(approval)
            left = list(log)
            held = []
            for step in option.steps:
                if step.work in (None, work.document):
                    done = next((each for each in left if each.kind == step.kind), None)
                    if done:
                        left.remove(done)
                    held.append((step, done))
            if held:
                yield Planned(job, option, tuple(held))


def last_move(work: Work, item: Item) -> Movement | None:
    """The last move of the painting itself since it came for a job; None where there is none on record."""
    moves = (move for move in work.movements if move.piece is None)
    return next(
        (move for move in reversed(list(moves)) if not _before(move, item.came)),
        None,
    )


def _before(move: Movement, came: Day | None) -> bool:
    """Whether a move was over before a work came; one without a day may be of today."""
    latest = move.when.latest if move.when else None
    return latest is not None and came is not None and latest < came


# --- whose risk it is --------------------------------------------------------------------------------


def borne_by(job: Job, work: str, on: Day) -> tuple[Cover, ...]:
    """Who bears the risk of a work on a day; several where two policies meet, none where nobody does."""
    return tuple(each for each in job.covers if each.holds(work, on))


def unborne(job: Job, item: Item, today: Day) -> tuple[tuple[Day, Day], ...]:
    """The days on which a work is here and nobody bears its risk, as spells from day to day.

    They are asked for only where somebody began to write covers down.
    """
    if not job.covers or item.came is None:
        return ()
    first, last = item.came.ordinal, (item.left or today).ordinal
    spells: list[tuple[Day, Day]] = []
    about = [each for each in job.covers if each.work in (None, item.work)]
    spans = sorted(
        (
            each.since.ordinal if each.since else first,
            each.until.ordinal if each.until else last,
        )
        for each in about
    )
    for begins, ends in [*spans, (last + 1, last + 1)]:
        if begins > first and first <= last:
            spells.append((Day.from_ordinal(first), Day.from_ordinal(min(begins - 1, last))))
        first = max(first, ends + 1)
    return tuple(spells)


# --- kept apart ------------------------------------------------------------------------------------


def keep_off_the_bench(work: Work, before: Work | None, items: Iterable[Item]) -> None:
    """Refuse a new move to the bench of a work that is to be kept apart. Raises `BadData`.

    `before` is the work as it was read, None for a new one; `items` are its stays here.
    """
    known = set(before.movements) if before else set()
    new = [move for move in work.movements if move not in known and _to_the_bench(move)]
    for item in items:
        if item.quarantine and any(not _before(move, item.came) for move in new):
            raise apart(work.number or work.title(), item)


def keep_away(job: Job, before: Job | None) -> None:
    """Refuse a job that newly says a work kept apart is at the bench. Raises `BadData`."""
    known = {item.id: item.kept_at for item in before.items} if before else {}
    for item in job.items:
        if item.quarantine and item.kept_at != known.get(item.id) and _says_bench(item.kept_at):
            raise apart("it", item)


def apart(called: str, item: Item) -> BadData:
    """The refusal: for which dangers a work is kept apart, and what opens the way."""
    dangers = ", ".join(label(risk.kind) for risk in item.risks if risk.stands)
    return BadData(
        f"{called} is to be kept apart ({dangers}) and cannot go to the bench; nothing was saved",
        remedy="keep it apart, have it looked at by somebody who knows, then write in the job on "
        "which day the danger was over, and how",
    )


def _to_the_bench(move: Movement) -> bool:
    return move.piece is None and (move.reason == BENCH or _says_bench(move.to))


def _says_bench(words: str | None) -> bool:
    """Whether a place in words is a bench or an easel, by the words of the term for it."""
    term = concept(BENCH)
    names = {said.split()[-1].casefold() for said in (term.label, *term.alternatives)}
    return bool(words and names & set(words.casefold().replace(",", " ").split()))


# --- what was approved is spent -----------------------------------------------------------------------

SPENT = "COST"
"""The key by which a decision to go on beyond what was approved names its rule."""


def keep_to_what_was_approved(work: Work, before: Work | None, jobs: Iterable[Job]) -> None:
    """Refuse to begin a step when a job of the work has spent what was approved. Raises `Stopped`.

    A step that says why it could not wait, or has a decision against this rule, may begin.
    """
    begun = {step.id for step in _begun(before)} if before else set()
    new = [step for step in _begun(work) if step.id not in begun and not _answered(step)]
    if not new:
        return
    for job in jobs:
        found = spending(job)
        if found.level == "stop":
            raise Stopped(
                f"{job.number or 'the job'} has spent {found.spent} of the {found.approved} that "
                "were approved: no new step begins before the client was asked",
                rule=SPENT,
                remedy="write the departure and the client's answer in the job, or on the step why "
                f"it is begun all the same (the rule is {SPENT})",
            )


def _begun(work: Work) -> Iterator[Step]:
    return (step for each in work.treatments for step in each.steps if step.began)


def _answered(step: Step) -> bool:
    return step.emergency is not None or any(each.rule == SPENT for each in step.overrides)


# --- days, bags, receipts, conflicts -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Overdue:
    """A work that should have gone back: for which job, since when, for how many days."""

    job: Job
    item: Item
    days: int


def overdue(jobs: Iterable[Job], today: Day) -> tuple[Overdue, ...]:
    """Every work that is still here after the day agreed, the longest overdue first."""
    late = [
        Overdue(job, item, today.ordinal - item.due.ordinal)
        for job in jobs
        for item in job.items
        if item.left is None and item.due is not None and item.due < today
    ]
    return tuple(sorted(late, key=lambda each: (-each.days, each.job.number or "")))


@dataclass(frozen=True, slots=True)
class Balance:
    """The bags of a job: every one that was taken off is kept, went back, or was thrown away."""

    kept: tuple[Piece, ...]
    returned: tuple[Piece, ...]
    discarded: tuple[Piece, ...]

    @property
    def taken(self) -> int:
        """How many were taken off: those kept, returned and thrown away together."""
        return len(self.kept) + len(self.returned) + len(self.discarded)


def balance(job: Job) -> Balance:
    """What became of what was taken off."""

    def in_state(state: str) -> tuple[Piece, ...]:
        return tuple(each for each in job.pieces if each.state == f"piece-state/{state}")

    return Balance(in_state("kept"), in_state("returned"), in_state("discarded"))


def lacks_on_entry(job: Job, item: Item | None = None) -> Iterator[str]:
    """What an entry receipt cannot do without and nobody wrote down, in words.

    Without an item, only what the job says once for all its works.
    """
    if job.client is None:
        yield "who the client is"
    brought, owns = job.depositor or job.client, job.owner or job.client
    if brought != owns and job.authority is None:
        yield "by what right somebody who is not the owner brings it"
    if item is None:
        return
    if item.came is None:
        yield "the day on which it came"
    if item.due is None:
        yield "the day on which it is to go back"
    if item.arrived_by is None:
        yield "how it came"
    if item.condition is None:
        yield "its condition in brief"
    if not item.contents:
        yield "what came with it, counted"
    asked = {risk.kind for risk in item.risks}
    for danger in group("risk"):
        if danger.key not in asked:
            yield f"whether it was looked over for {danger.label}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Commission:
    """A job with what is to be known about it.

    `lacks` are, by the id of an item, what its receipt cannot do without and nobody wrote down;
    `holding` the ids of the approvals whose proposal still says what was approved; `also` the other
    jobs by which the studio both treats a work of this one and advises on its sale.
    """

    job: Job
    spending: Spending
    balance: Balance
    lacks: dict[str, tuple[str, ...]]
    holding: frozenset[str]
    also: tuple[Job, ...]


def commission(job: Job, held: Job, others: Iterable[Job]) -> Commission:
    """What is to be known about a job; `held` is the job with those approvals only that still hold."""
    return Commission(
        job=job,
        spending=spending(held),
        balance=balance(job),
        lacks={item.id: tuple(lacks_on_entry(job, item)) for item in job.items},
        holding=frozenset(each.id for each in held.approvals),
        also=conflicts(job, others),
    )


def conflicts(job: Job, others: Iterable[Job]) -> tuple[Job, ...]:
    """The other jobs for a work of this one in which the studio has the other part: it treats, and advises.

    The client is told of it in writing, on a day (`Job.disclosure`, `Job.disclosed`).
    """
    if job.reason in TREATS:
        wanted = ADVISES
    elif job.reason in ADVISES:
        wanted = TREATS
    else:
        return ()
    works = {item.work for item in job.items}
    return tuple(
        other
        for other in others
        if other.id != job.id
        and other.reason in wanted
        and any(item.work in works for item in other.items)
    )
