"""The stages of a loan, and which check of a work was made at which of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from catalogue.record import ConditionCheck, Loan, Work
from catalogue.terms import within

STAGES: Final = (
    "occasion/loan-out",
    "occasion/loan-crate",
    "occasion/loan-arrival",
    "occasion/loan-mid-term",
    "occasion/loan-return",
)
"""Before packing, in the crate, on arrival, in between, on return (trade sheet US-25)."""

_ON_LOAN: Final = "occasion/on-loan"
_RETURN: Final = STAGES[-1]


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of a loan (`occasion`), and the check made at it; None while nobody has looked."""

    occasion: str
    check: ConditionCheck | None


def is_of_a_loan(check: ConditionCheck) -> bool:
    """Whether a check was made for a loan, at whichever stage."""
    return within(check.occasion, *STAGES, _ON_LOAN)


def stages(work: Work, loan: Loan | None) -> tuple[Stage, ...]:
    """Every stage of a loan in order, with its checks: those after the return from the loan before.

    A stage at which somebody looked twice stands twice. A check "on loan" that says no more counts
    for the arrival where nothing else does.

    >>> [each.occasion.partition("/")[2] for each in stages(Work(), None)]
    ['loan-out', 'loan-crate', 'loan-arrival', 'loan-mid-term', 'loan-return']
    """
    checks = _of_this_loan(work, loan)
    at: dict[str, list[ConditionCheck]] = {stage: [] for stage in STAGES}
    unsaid: list[ConditionCheck] = []
    for check in checks:
        stage = next((each for each in STAGES if within(check.occasion, each)), None)
        (at[stage] if stage else unsaid).append(check)
    arrival, mid_term = STAGES[2], STAGES[3]
    for check in unsaid:
        at[mid_term if at[arrival] else arrival].append(check)
    return tuple(
        Stage(stage, check)
        for stage, made in at.items()
        for check in (sorted(made, key=lambda each: each.rank) or (None,))
    )


def _of_this_loan(work: Work, loan: Loan | None) -> list[ConditionCheck]:
    """The checks of one loan: from the return before it, which it does not count, to its own return."""
    begins = (loan.began or loan.covered_from) if loan else None
    found: list[ConditionCheck] = []
    for check in sorted(filter(is_of_a_loan, work.checks), key=lambda each: each.rank):
        closed = bool(found) and within(found[-1].occasion, _RETURN)
        if closed and begins is not None and found[-1].on >= begins:
            break
        if closed:
            found = []
        found.append(check)
    if found and begins is not None and found[-1].on < begins:
        # What came back before this loan began was another loan.
        found = [] if within(found[-1].occasion, _RETURN) else found
    return found
