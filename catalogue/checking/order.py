"""What breaks the order of work, and was not decided about with a written reason."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.order import breaches
from catalogue.checking.remark import Remark, check
from catalogue.checking.where import Places
from catalogue.record import Job, Work


def order(work: Work, jobs: tuple[Job, ...], places: Places) -> Iterator[Remark]:
    """Each rule of the order of work that a step breaks; what was overridden is left alone."""
    for breach in breaches(work, jobs):
        if breach.override is None:
            row = check("order.stop" if breach.rule.level == "stop" else "order.warn")
            where = places.named(breach.value)
            told = row.remark(where, breach.value, rule=breach.rule.key, says=breach.says)
            yield Remark(told.kind, told.where, told.says, breach.rule.remedy, told.value)
