"""Terms, dates and names as LIDO writes them: with the address of the term, ours and the AAT's, and its word.

What LIDO calls things (its kinds of event, of identifiers) stands in vocab/lido.toml.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from catalogue.exchange.lido.pen import element, having, text
from catalogue.measure import DateSpan, Day
from catalogue.places import table
from catalogue.record.rules import is_address
from catalogue.terms import concept, known

LANGUAGE: Final = "en"
"""The language of the words that dorse itself puts into a record."""


@cache
def said(which: str) -> str:
    """One of the words of vocab/lido.toml that stand in records."""
    found: str = table("lido.toml")["words"][which]
    return found


@cache
def numbered(which: str) -> str:
    """The address of one of LIDO's own terms ("uri": an identifier that is an address)."""
    terminology = table("lido.toml")["terminology"]
    return f"{terminology['address']}{terminology[which]}"


def address(name: str, iri: str, **also: str | None) -> str:
    """An identifier that is a full address."""
    return text(name, iri, having(type=numbered("uri"), **also))


@cache
def term(name: str, key: str, **also: str) -> str:
    """An element around a term of vocab/terms, or around an address from outside."""
    if not known(key):
        outside = address("conceptID", key) if is_address(key) else ""
        return element(name, outside, text("term", key), attributes=having(**also))
    found = concept(key)
    ids = [address("conceptID", each) for each in (found.aat, found.iri) if each]
    word = text("term", found.label, having(lang=LANGUAGE))
    return element(name, *ids, word, attributes=having(**also))


@cache
def event_type(which: str) -> str:
    """The kind of an event, by its number in LIDO's own list."""
    row: dict[str, Any] = table("lido.toml")["events"][which]
    iri = table("lido.toml")["terminology"]["address"] + row["number"]
    word = text("term", row["says"], having(lang=LANGUAGE))
    return element("eventType", address("conceptID", iri), word)


def dated(name: str, span: DateSpan | None) -> str:
    """A set of a date as written and its first and last day; an open end is not written."""
    if span is None:
        return ""
    days = element(
        "date",
        text("earliestDate", iso(span.earliest)),
        text("latestDate", iso(span.latest)),
    )
    return element(name, text("displayDate", written(span)), days)


def iso(day: Day | None) -> str | None:
    """A day as ISO 8601 writes it, None for none."""
    return day.iso if day else None


def written(span: DateSpan | None) -> str | None:
    """A span as somebody wrote it, else as EDTF; None for none."""
    return (span.written or span.edtf) if span else None


def on_day(first: Day, last: Day | None = None) -> DateSpan:
    """A day as a span, or all days from one to another.

    >>> on_day(Day(2026, 3, 2), Day(2026, 4, 1)).edtf
    '2026-03-02/2026-04-01'
    """
    last = last or first
    edtf = first.iso if first == last else f"{first.iso}/{last.iso}"
    return DateSpan(written=edtf, edtf=edtf, earliest=first, latest=last, rule="day")


def named(name: str, said: str, attributes: str = "") -> str:
    """A set around one name of somebody, a place or an event."""
    return element(name, text("appellationValue", said, attributes))


@cache
def field_label(field: str) -> str | None:
    """What people call a field (`Inscription.adhesive`), by vocab/words.toml.

    >>> field_label("Inscription.adhesive"), field_label("Treatment")
    ('stuck on with', None)
    """
    kind, _, name = field.partition("#")[0].partition(".")
    words = table("words.toml")
    row = words.get(kind, {}).get("fields", {}).get(name) or words["every"].get(name)
    found: str | None = row["label"] if isinstance(row, dict) else row
    return found


def analog(field: str, own: str | None = None) -> str:
    """Which field of our record an element comes from, and the id of the value: `Title.text#<uuid>`.

    LIDO keeps a place for that (@encodinganalog, the "internal field label in the source"), and by
    it a record of ours is known again when it comes back.
    """
    return f"{field}#{own}" if own else field


def iri_of(key: str) -> str:
    """The address of a term that most receivers know: the AAT's, else ours."""
    return concept(key).aat or concept(key).iri if known(key) else key
