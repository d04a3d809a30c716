"""A provenance as read, as plain data in plain words: what `dorse parse provenance` gives out."""

from __future__ import annotations

from typing import Any, TypeAlias

from catalogue.argument.prose.entries import Entry, ReadProvenance
from catalogue.argument.prose.reading.words import table
from catalogue.measure import DateSpan, Day

Answer: TypeAlias = dict[str, Any]
_DIRECT = {"passage/direct": True, "passage/not-known": False, "passage/gap": False}


def told_plainly(read: ReadProvenance) -> Answer:
    """The answer for one text; places are code points, days are ISO, null is open or not said."""
    return {
        "text": read.text,
        "rest": read.rest,
        "brackets": read.brackets,
        "events": [_event(entry) for entry in read.entries],
        "notes": [
            {"mark": note.mark, "text": note.text, "start": note.start, "end": note.end}
            for note in read.notes
        ],
        "warnings": [
            {"kind": each.kind, "at": each.at, "message": each.words} for each in read.warnings
        ],
    }


def _event(entry: Entry) -> Answer:
    return {
        "text": entry.text,
        "start": entry.start,
        "end": entry.end,
        "kind": table()["said"]["kind"].get(_last(entry.kind), "unknown"),
        "parties": [
            {
                "name": party.name,
                "role": _role(party.role),
                "life": party.life,
                "place": party.place,
                "relation": party.relation,
            }
            for party in entry.parties
        ],
        "place": entry.place,
        **_dates(entry.when, entry.until),
        "lot": entry.lot,
        "price": entry.price,
        "stock_number": entry.stock_number,
        "certainty": table()["said"]["certainty"][_last(entry.certainty)],
        "direct_to_next": None if entry.passage is None else _DIRECT[entry.passage],
        "notes": list(entry.notes),
        "remark": entry.remark,
        "remainder": entry.remainder,
    }


def _last(term: str) -> str:
    return term.rpartition("/")[2]


_ROLES = frozenset(
    ("owner", "dealer", "agent", "auctioneer", "custodian", "consignor", "commissioner")
)


def _role(term: str) -> str:
    role = _last(term)
    return role if role in _ROLES else "unknown"


def _dates(when: DateSpan | None, until: DateSpan | None) -> Answer:
    """One span for both ends of a holding.

    >>> from catalogue.measure import read_date
    >>> _dates(read_date("1920"), read_date("1931"))
    {'edtf': '1920/1931', 'earliest': '1920-01-01', 'latest': '1931-12-31'}
    """
    if until is None:
        first, last = (when.earliest, when.latest) if when else (None, None)
        return _told(when.edtf if when else None, first, last)
    last = until.latest or _at_least_until(until.earliest)
    end = _bound(until, last)
    if when is None:
        return _told(f"../{end}", None, last)
    known = when.edtf if when.edtf[:1].isdigit() and "/" not in when.edtf else ""
    begun = known or (when.earliest.iso if when.earliest else "..")
    return _told(f"{begun}/{end}", when.earliest, last)


def _bound(span: DateSpan, last: Day | None) -> str:
    if span.edtf[:1].isdigit() and "/" not in span.edtf:
        return span.edtf
    return last.iso if last else ".."


def _at_least_until(first: Day | None) -> Day | None:
    """The last day that "until at least" surely may mean: the end of that year or month."""
    if first is None or first.day > 1:
        return first
    return first.first_of_month(12 if first.month == 1 else 1).beside(-1)


def _told(edtf: str | None, first: Day | None, last: Day | None) -> Answer:
    return {
        "edtf": edtf,
        "earliest": first.iso if first else None,
        "latest": last.iso if last else None,
    }
