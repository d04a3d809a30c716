"""What a job has cost so far, against what was approved: when to say so, and when to stop and ask."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from catalogue.measure.costs import cents, cost_settings, exact
from catalogue.record import Approval, Job

Level = Literal["within", "warn", "stop"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spending:
    """What was spent and what was approved, tax included, in one currency.

    `approved` and `percent` are None where nothing was approved, or for nothing. `level` is "warn"
    from nine tenths on, "stop" where no new step begins before somebody was asked; the marks are
    the studio's own (vocab/costs.toml).
    """

    spent: Decimal
    approved: Decimal | None
    hours: Decimal
    percent: Decimal | None
    level: Level
    currency: str | None


def in_force(job: Job) -> Approval | None:
    """The approval that a job goes by: the last that was given; None before there is any."""
    return job.approvals[-1] if job.approvals else None


def spending(job: Job) -> Spending:
    """What a job has cost, against its approval in force.

    Approved is the cap, else the likely total; what a departure adds counts once the client agreed.
    Spent are the hours at the approved rate and the outlays, with the approved tax.
    """
    hours = sum((exact(each.hours) for each in job.hours), Decimal(0))
    outlays = sum((exact(each.amount) for each in job.outlays), Decimal(0))
    approval = in_force(job)
    if approval is None:
        return Spending(
            spent=cents(outlays),
            approved=None,
            hours=hours,
            percent=None,
            level="within",
            currency=None,
        )
    option = job.option(approval)
    taxed = 1 + exact(option.tax_percent or 0) / 100
    added = sum((exact(it.cost or 0) for it in job.departures if it.approved), Decimal(0))
    agreed = option.costs().likely.total if approval.cap is None else exact(approval.cap)
    spent = cents((hours * exact(option.rate or 0) + outlays) * taxed)
    approved = cents(agreed + added * taxed)
    percent = spent / approved * 100 if approved else None
    return Spending(
        spent=spent,
        approved=approved,
        hours=hours,
        percent=percent and percent.quantize(Decimal("0.1")),
        level=_level(spent, approved),
        currency=option.currency,
    )


def _level(spent: Decimal, approved: Decimal) -> Level:
    settings = cost_settings()
    if spent == 0:
        return "within"
    if spent * 100 >= approved * settings.stop_percent:
        return "stop"
    return "warn" if spent * 100 >= approved * settings.warn_percent else "within"
