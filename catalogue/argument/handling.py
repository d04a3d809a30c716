"""How a painting may be handled: whether a damage still stands, whether paint lifts."""

from __future__ import annotations

from typing import Final

from catalogue.argument.order import rule
from catalogue.record import Finding, Work
from catalogue.terms import within

_OVER: Final = ("change/treated", "change/not-found")
_TURNING: Final = "O6"


def stands(work: Work, finding: Finding) -> bool:
    """Whether a finding is still there, as it was last seen."""
    return work.course(finding)[-1].change not in _OVER


def keep_face_up(work: Work) -> bool:
    """Whether paint lifts, by the rule of the order of work against turning a work face down."""
    turning = rule(_TURNING)
    return any(
        stands(work, each)
        and within(each.kind, *turning.findings)
        and (work.course(each)[-1].stability or "stability/unknown") in turning.stability
        for each in work.findings
    )
