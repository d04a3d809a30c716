"""Days and date spans ⇄ TimeSpan: the phrase, the EDTF, the bounds, and the rule that made them."""

from __future__ import annotations

from catalogue.linked.node import Misplaced, node, one, text
from catalogue.linked.text import Node
from catalogue.measure import DateSpan, Day, read_date


def describe(span: DateSpan | None, owner: str) -> Node | None:
    """The TimeSpan of the node `owner` ("#<uuid>"); bounds are whole days, both included."""
    if span is None:
        return None
    at = f"{owner}/timespan"
    return node(
        id=at,
        type="TimeSpan",
        identified_by=[{"id": f"{at}/name", "type": "Name", "content": span.written}],
        begin_of_the_begin=f"{span.earliest.iso}T00:00:00Z" if span.earliest else None,
        end_of_the_end=f"{span.latest.iso}T23:59:59Z" if span.latest else None,
        edtf=span.edtf,
        date_rule=span.rule,
    )


def recognise(here: Node | None) -> DateSpan | None:
    """The span of a TimeSpan; one that says only bounds gets a phrase and an EDTF made from them."""
    if here is None:
        return None
    earliest, latest = bounds(here)
    name = one(here, "identified_by")
    written = text(name, "content") if name else None
    edtf, rule = text(here, "edtf"), text(here, "date_rule")
    if edtf is None and written:
        read = read_date(written)
        if read and (read.earliest, read.latest) == (earliest, latest):
            return read
    if edtf is None:
        edtf = _edtf_of(earliest, latest)
    if not edtf:
        return None
    return DateSpan(
        written=written or edtf,
        edtf=edtf,
        earliest=earliest,
        latest=latest,
        rule=rule or "bounds",
    )


def describe_end(span: DateSpan, owner: str) -> Node:
    """The TimeSpan of something of which only the end is known: that it ended within these days."""
    said = describe(span, owner) or {}
    within = {"begin_of_the_begin": "begin_of_the_end"}
    return {within.get(key, key): held for key, held in said.items()}


def recognise_end(here: Node | None) -> DateSpan | None:
    """The days within which something ended, from its TimeSpan."""
    if here is None:
        return None
    within = {"begin_of_the_end": "begin_of_the_begin", "begin_of_the_begin": ""}
    return recognise({within.get(key, key): held for key, held in here.items()})


def describe_day(day: Day | None, owner: str) -> Node | None:
    """The TimeSpan of something that was so on one day."""
    if day is None:
        return None
    return {
        "id": f"{owner}/timespan",
        "type": "TimeSpan",
        "begin_of_the_begin": f"{day.iso}T00:00:00Z",
        "end_of_the_end": f"{day.iso}T23:59:59Z",
    }


def recognise_day(here: Node | None) -> Day | None:
    """The day on which something began, from the TimeSpan of a node; None where it says none."""
    return bounds(here)[0] if here else None


def bounds(here: Node) -> tuple[Day | None, Day | None]:
    """The first and last day of a TimeSpan; None where it is open or says nothing."""
    return _day(here, "begin_of_the_begin"), _day(here, "end_of_the_end")


def _day(here: Node, key: str) -> Day | None:
    said = text(here, key)
    if said is None:
        return None
    try:
        return Day.from_iso(said.partition("T")[0])
    except ValueError:
        raise Misplaced(
            here, f"{key!r} holds {said!r} where 1887-03-01T00:00:00Z is expected"
        ) from None


def _edtf_of(earliest: Day | None, latest: Day | None) -> str | None:
    if earliest is None and latest is None:
        return None
    if earliest == latest and earliest is not None:
        return earliest.iso
    if earliest and latest and earliest.year == latest.year:
        whole_year = (earliest.month, earliest.day, latest.month, latest.day) == (1, 1, 12, 31)
        if whole_year and 0 <= earliest.year <= 9999:
            return f"{earliest.year:04d}"
    return f"{earliest.iso if earliest else '..'}/{latest.iso if latest else '..'}"
