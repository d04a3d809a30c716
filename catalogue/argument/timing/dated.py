"""Dates as recorded: how firm they are, and what they claim of the two ends of an event."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from catalogue.argument.timing.claims import Claim, Event, Firmness
from catalogue.argument.timing.saying import Bounds, between, claim, not_after, not_before
from catalogue.measure import DateSpan, Day, read_edtf

_BY_CERTAINTY = {
    "certainty/probable": Firmness.LIKELY,
    "certainty/possible": Firmness.WEAK,
    "certainty/doubtful": Firmness.WEAK,
}
_BY_THEN = "by then"
"""The rule of `measure` for "by 1937": the day of the evidence, not of the beginning."""


def firmness_of(span: DateSpan, certainty: str | None = None) -> Firmness:
    """How firm a date is: as certain as the statement that it stands in, less where it is about a day.

    >>> from catalogue.measure import read_date
    >>> firmness_of(read_date("1931")), firmness_of(read_date("c. 1931"))
    (<Firmness.HARD: 3>, <Firmness.LIKELY: 2>)
    """
    about = any(sign in span.edtf for sign in "~?%")
    own = Firmness.LIKELY if about else Firmness.HARD
    return min(own, _BY_CERTAINTY.get(certainty or "", Firmness.HARD))


def lasting(
    event: Event, span: DateSpan | None, whose: str, what: str, certainty: str | None = None,
    kind: str = "date",
) -> Iterator[Claim]:  # fmt: skip
    """That all of an event lies within a date: its first day and its last."""
    if span:
        bounds = between(event.began, span.earliest, event.ended, span.latest)
        yield from _date(kind, event, span, bounds, whose, what, certainty)


def beginning(
    event: Event, span: DateSpan | None, whose: str, what: str, certainty: str | None = None
) -> Iterator[Claim]:
    """That an event began within a date; by a date of evidence ("by 1937") it was still going on."""
    if span is None:
        return
    bounds = between(event.began, span.earliest, event.began, span.latest)
    yield from _date("date", event, span, bounds, whose, what, certainty)
    known = _first_day_known(span)
    if known and not event.moment:
        yield claim(
            "by-then", whose, not_before(event.ended, known), (whose,),
            min(Firmness.LIKELY, firmness_of(span, certainty)),
            what=what, called=event.called, written=span.written,
        )  # fmt: skip


def ending(
    event: Event, span: DateSpan | None, whose: str, what: str, certainty: str | None = None
) -> Iterator[Claim]:
    """That an event ended within a date."""
    if span:
        bounds = between(event.ended, span.earliest, event.ended, span.latest)
        yield from _date("until", event, span, bounds, whose, what, certainty)


def on_days(
    event: Event, began: Day | None, ended: Day | None, whose: str, what: str
) -> Iterator[Claim]:
    """That something was done on its days; begun and not told to be over it lasted some time."""
    bounds = (*not_before(event.began, began), *not_after(event.began, began))
    if ended:
        bounds += (*not_before(event.ended, ended), *not_after(event.ended, ended))
    if bounds:
        days = dict.fromkeys(day.iso for day in (began, ended) if day)
        yield claim(
            "day", whose, bounds, (whose,),
            what=what, called=event.called, written=" to ".join(days),
        )  # fmt: skip


def _date(
    kind: str, event: Event, span: DateSpan, bounds: Bounds, whose: str, what: str,
    certainty: str | None,
) -> Iterator[Claim]:  # fmt: skip
    if bounds:
        yield claim(
            kind, whose, bounds, (whose,),
            firmness_of(span, certainty),
            what=what, called=event.called, written=span.written,
        )  # fmt: skip


def _first_day_known(span: DateSpan) -> Day | None:
    """The first day of the date in "by 1937"; None where the date says nothing of evidence.

    >>> from catalogue.measure import read_date
    >>> _first_day_known(read_date("by 1937")).iso, _first_day_known(read_date("before 1937"))
    ('1937-01-01', None)
    """
    if not span.rule.startswith(_BY_THEN) or not span.edtf.startswith("[.."):
        return None
    with suppress(ValueError):
        held = read_edtf(span.edtf.removeprefix("[..").removesuffix("]"))
        return held.earliest if held else None
    return None
