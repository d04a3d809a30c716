"""Holdings with the days that all evidence together leaves them, not their own events alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import Event, Instant
from catalogue.argument.timing.solving import Chronology


def tightened(tenures: Iterable[Tenure], solved: Chronology) -> tuple[Tenure, ...]:
    """The holdings, their beginnings and ends as narrow as the chronology of the work makes them.

    What the record says itself stays in `said_began` and `said_ended`. Where a chronology leaves no day
    of what the events say, it contradicts them, which is told there: the holding stays as it was.
    """
    events = {each.id: each for each in solved.events}
    return tuple(_tightened(each, events.get(each.event), solved) for each in tenures)


def _tightened(each: Tenure, event: Event | None, solved: Chronology) -> Tenure:
    if event is None or event.moment or each.named or each.beside:
        return each
    return replace(
        each,
        began=_narrower(each.began, event.began, solved),
        ended=_narrower(each.ended, event.ended, solved),
    )


def _narrower(days: Interval, instant: Instant, solved: Chronology) -> Interval:
    return days.within(solved.window(instant)) or days
