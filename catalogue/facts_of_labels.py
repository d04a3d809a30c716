"""What an inscription says that can be asked for: its town, price, numbers, firm, and its own years.

What a person decided about a statement counts before what a reader finds; what was rejected does not
count. Where no date stands on a label, the argument about its form gives its years (`date_label`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from typing import cast

from catalogue.arguing import without
from catalogue.argument import KnownAddress, date_label
from catalogue.argument.statements import find_statements
from catalogue.indexes.facts_of import Fact, Figure, Worked, key_of
from catalogue.measure import DateSpan, find_addresses, read_date, read_money
from catalogue.measure.address_words import any_town
from catalogue.places import table
from catalogue.reading import Reading
from catalogue.record import Inscription, Transcript
from catalogue.terms import within

Own = tuple[int | None, int | None]

_DIGIT = re.compile(r"\d")
_A_GUINEA = Fraction(21, 20)
"""In pounds (trade sheet C11)."""
_FIRST_NUMBER = re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class Firms:
    """Firms on file: their addresses with years, and their names as words to look for."""

    addresses: tuple[KnownAddress, ...] = ()
    names: Mapping[str, Sequence[tuple[str, str]]] = field(default_factory=dict)
    """By the first word of a folded name: the whole folded name, and the party."""

    def named_in(self, words: str) -> Iterator[str]:
        """The parties whose whole name stands in these folded words."""
        padded = f" {words} "
        for word in dict.fromkeys(words.split()):
            for name, party in self.names.get(word, ()):
                if f" {name} " in padded:
                    yield party


@dataclass(frozen=True, slots=True)
class _Said:
    """One statement: its kind, its letters, what a person made of it ("" where nobody did)."""

    kind: str
    written: str
    value: str


def of_inscription(inscription: Inscription, firms: Firms) -> Worked | None:
    """What its readings say; None where there is nothing to ask for."""
    transcript = inscription.preferred()
    if transcript is None:
        return None
    reading = transcript.reading()
    said = tuple(_said(inscription, transcript, reading))
    words = name_words(reading.plain())
    facts: list[Fact] = [("firm", party) for party in firms.named_in(words)]
    figures: list[Figure] = []
    for each in said:
        facts += _facts(each)
        figures += _figures(each)
    own = _own_days(inscription, transcript, reading, said, firms)
    if not (facts or figures or own):
        return None
    return Worked(tuple(dict.fromkeys(facts)), tuple(dict.fromkeys(figures)), own)


def years_said(inscription: Inscription) -> frozenset[int]:
    """The years that stand on it, in full or by their last two figures after a name.

    >>> mark = Transcript(markup="H. Tönnemark 12")
    >>> years_said(Inscription(kind="inscription/signature", face="face/front", transcripts=(mark,)))
    frozenset({12})
    """
    transcript = inscription.preferred()
    if transcript is None:
        return frozenset()
    reading = transcript.reading()
    found = set()
    for each in _said(inscription, transcript, reading):
        span = _span(each) if each.kind == "statement/date" else None
        if span and span.earliest and span.latest and span.earliest.year == span.latest.year:
            found.add(span.earliest.year)
    if not found and (short := re.search(r"[^\W\d_]\.?\s+['’]?(\d\d)\s*$", reading.seen())):
        found.add(int(short[1]))
    return frozenset(found)


def name_words(text: str) -> str:
    """A name as folded words alone, so that commas and `&` make no difference.

    >>> name_words("AMBRY & FELL, Dealers")
    'ambry fell dealers'
    """
    return " ".join(re.findall(r"[^\W_]+", key_of(text)))


def towns_of(text: str) -> Iterator[str]:
    """The keys of the towns named in a text, each with the other names of the same town.

    >>> sorted(towns_of("Vlaswegstraat 9 – GENT"))
    ['gand', 'gent', 'ghent']
    """
    if _town().search(text):
        for found in find_addresses(text):
            if town := found.value.get("town"):
                yield from _twins().get(key_of(str(town)), (key_of(str(town)),))


def _said(
    inscription: Inscription, transcript: Transcript, reading: Reading
) -> Iterator[_Said]:
    decided = [each for each in inscription.statements if each.transcript == transcript.id]
    for each in decided:
        if each.stands:
            yield _Said(each.kind, each.written, each.value or "")
    text = reading.seen()
    if not _DIGIT.search(text) and not _town().search(text):
        return
    places = {(each.start, each.end) for each in decided}
    for found in find_statements(reading):
        if not found.struck and not found.doubt and (found.start, found.end) not in places:
            yield _Said(found.kind, found.written, found.value)


def _facts(said: _Said) -> Iterator[Fact]:
    match said.kind:
        case "statement/address":
            for town in towns_of(said.written):
                yield "town", town
        case "statement/postal":
            yield "postal", key_of(said.written)
        case "statement/telephone":
            yield "telephone", key_of(said.written)
        case "statement/name":
            yield "named", key_of(said.written)
        case "statement/money":
            for amount in read_money(said.written):
                for reading in amount.readings:
                    for word in (reading.unit, reading.currency, *_also(reading.unit)):
                        yield "unit", key_of(word)


def _figures(said: _Said) -> Iterator[Figure]:
    match said.kind:
        case "statement/address":
            for found in find_addresses(said.written):
                number = _FIRST_NUMBER.match(str(found.value.get("number", "")))
                if number:
                    yield "street-number", float(number[0])
        case "statement/money":
            for amount in read_money(said.written):
                reading = amount.readings[0]
                guineas = reading.unit == "guinea"
                yield "price", float(reading.value / _A_GUINEA if guineas else reading.value)
        case "statement/number":
            if number := _FIRST_NUMBER.search(said.value or said.written):
                yield "stock-number", float(number[0])


def _own_days(
    inscription: Inscription,
    transcript: Transcript,
    reading: Reading,
    said: Sequence[_Said],
    firms: Firms,
) -> Own | None:
    """The date that stands on it; else, of a label or a stamp, the years that its form proves."""
    spans = [span for each in said if each.kind == "statement/date" and (span := _span(each))]
    if spans:
        last = spans[-1]
        return _ordinals(last)
    if not within(inscription.kind, *table("facts.toml")["dated_by_their_form"]):
        return None
    dating = date_label(reading, addresses=firms.addresses, techniques=inscription.techniques)
    main = without(
        dating,
        [
            (each.start, each.end)
            for each in inscription.statements
            if each.standing == "standing/rejected" and each.transcript == transcript.id
        ],
    ).main
    if not main.reasons:
        return None
    earliest, latest = main.earliest or main.soft_earliest, main.latest or main.soft_latest
    if earliest is None and latest is None:
        return None
    return earliest.ordinal if earliest else None, latest.ordinal if latest else None


def _span(said: _Said) -> DateSpan | None:
    return read_date(said.value or said.written) or read_date(said.written)


def _ordinals(span: DateSpan) -> Own:
    return (
        span.earliest.ordinal if span.earliest else None,
        span.latest.ordinal if span.latest else None,
    )


@cache
def _town() -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){any_town()}(?!\w)")


def _also(unit: str) -> Sequence[str]:
    return cast("list[str]", table("facts.toml")["units"].get(unit, []))


@cache
def _twins() -> dict[str, tuple[str, ...]]:
    groups = [tuple(map(key_of, names)) for names in table("facts.toml")["one_town"]]
    return {name: names for names in groups for name in names}
