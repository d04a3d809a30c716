"""From a question to an answer: words together, filters, works in order, reasons and marks."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from html import escape
from itertools import islice

from rapidfuzz import fuzz, process

from catalogue.indexes.answer import Hit, Results, Statement, marked, reason
from catalogue.indexes.entry import Entry
from catalogue.indexes.holdings import Found, Holdings
from catalogue.indexes.question import Query, Sought, sought
from catalogue.indexes.stored import OWN

SCATTERED = "no single statement holds all the words; these works hold them in different places"
ASK = "type a word, or choose an artist, a kind, a place or a date"
SUGGESTED_IN = ("text", "words", "title", "artist")
NEAR_ENOUGH = 70


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that was sought, where it was found, and how rare it is."""

    sought: Sought
    found: Found
    rarity: float

    def entries(self, fields: Iterable[str] | None = None) -> set[int]:
        """The entries that hold it, in any field or in these."""
        names = self.found if fields is None else fields
        return set().union(*(self.found.get(name, {}) for name in names))

    def score(self, entry: int) -> float:
        """How strongly an entry holds it, 0 for not at all."""
        best = max((hits.get(entry, 0.0) for hits in self.found.values()), default=0.0)
        return best * self.rarity


def answer(query: Query, holdings: Holdings, behind: int) -> Results:
    """One page of what the holdings have for a question."""
    looked_for, notes = sought(query.words)
    filters = [query.artist.strip(), query.kind.strip(), query.place.strip()]
    if not looked_for and (query.words.strip() or not (any(filters) or query.dated)):
        return _page(query, (), behind, notes or (ASK,))
    parts = [_part(each, holdings) for each in looked_for]
    allowed = _allowed(query, holdings)
    entries = _together(parts, holdings)
    entries = entries if allowed is None else entries & allowed
    if not entries and len(parts) > 1:
        entries = _scattered(parts, holdings, allowed)
        notes += (SCATTERED,) if entries else ()
    entries, undated = _in_time(query, holdings, entries)
    ranked = _ranked(parts, holdings, entries)
    found = _page(query, ranked, behind, notes)
    shown = ranked[(query.page - 1) * query.limit : query.page * query.limit]
    hits = tuple(_hit(entries, parts, holdings, query) for _, entries in shown)
    missing = () if ranked else _suggestions(query, parts, holdings)
    return replace(found, hits=hits, undated=undated, suggestions=missing)


def _part(each: Sought, holdings: Holdings) -> Part:
    found = holdings.find(each)
    often = len(set().union(*found.values()))
    rarity = math.log(1 + (len(holdings) - often + 0.5) / (often + 0.5))
    return Part(each, found, rarity)


def _together(parts: list[Part], holdings: Holdings) -> set[int]:
    """The entries that hold everything, and at least one thing in what is written there.

    Every statement bears the title and artist of its work, so that a word on a label can be
    sought together with the artist; but the artist's name alone must not bring up every label.
    """
    if not parts:
        return holdings.every()
    return set.intersection(*(part.entries() for part in parts)) & _own(parts, holdings)


def _own(parts: list[Part], holdings: Holdings) -> set[int]:
    own = set().union(*(part.entries(OWN) for part in parts))
    return own | holdings.having("whole", "yes")


def _scattered(parts: list[Part], holdings: Holdings, allowed: set[int] | None) -> set[int]:
    """The entries that hold something, of documents that hold everything."""
    found = [part.entries() if allowed is None else part.entries() & allowed for part in parts]
    documents = [{holdings.document(entry) for entry in entries} for entries in found]
    common = set.intersection(*documents)
    own = set().union(*found) & _own(parts, holdings)
    return {entry for entry in own if holdings.document(entry) in common}


def _allowed(query: Query, holdings: Holdings) -> set[int] | None:
    """The entries that artist, kind and place let through; None for all."""
    sets = [
        set(holdings.find_in(field, each))
        for field, typed in (("artist", query.artist), ("place", query.place))
        for each in sought(typed)[0]
    ]
    if query.kind.strip():
        sets.append(holdings.of_kind(query.kind))
    return set.intersection(*sets) if sets else None


def _in_time(query: Query, holdings: Holdings, entries: set[int]) -> tuple[set[int], int]:
    """The entries within the span asked for, and how many works fell out for want of a date."""
    if not query.dated:
        return entries, 0
    first = -math.inf if query.earliest is None else query.earliest
    last = math.inf if query.latest is None else query.latest
    within: set[int] = set()
    undated: set[int] = set()
    for entry in entries:
        earliest, latest = holdings.days(entry)
        if earliest is None and latest is None:
            undated.add(entry)
            continue
        begins = -math.inf if earliest is None else earliest
        ends = math.inf if latest is None else latest
        if (
            (first <= begins and ends <= last)
            if query.certainly
            else (begins <= last and first <= ends)
        ):
            within.add(entry)
    found = {holdings.document(entry) for entry in within}
    return within, len({holdings.document(entry) for entry in undated} - found)


def _ranked(
    parts: list[Part], holdings: Holdings, entries: set[int]
) -> list[tuple[str, list[tuple[float, int]]]]:
    """Each document with its entries and their scores, the documents best first."""
    grouped: dict[str, list[tuple[float, int]]] = {}
    for entry in sorted(entries):
        score = round(sum(part.score(entry) for part in parts), 4)
        grouped.setdefault(holdings.document(entry), []).append((score, entry))

    def place(item: tuple[str, list[tuple[float, int]]]) -> tuple[float, list[object], str]:
        document, scored = item
        return -max(scored)[0], _natural(holdings.number(scored[0][1])), document

    return sorted(grouped.items(), key=place)


def _natural(number: str) -> list[object]:
    """A number as people count: 2026-9 before 2026-10, and what has none at the end."""
    pieces = re.split("([0-9]+)", number)
    return [not number, *(int(each) if at % 2 else each for at, each in enumerate(pieces))]


def _hit(
    scored: list[tuple[float, int]], parts: list[Part], holdings: Holdings, query: Query
) -> Hit:
    rows = [(score, number, *holdings.entry(number)) for score, number in scored]
    rows.sort(key=lambda row: (-row[0], row[2]))
    entry = rows[0][3]
    statements = tuple(
        _statement(score, number, each, parts, query) for score, number, _, each in rows
    )
    return Hit(entry.document, entry.number, entry.title, rows[0][0], statements)


def _statement(
    score: float, number: int, entry: Entry, parts: list[Part], query: Query
) -> Statement:
    looked_for = [part.sought for part in parts]
    return Statement(
        value=entry.value,
        where=entry.where,
        kind=entry.kind,
        text=entry.text,
        html=marked(entry.text, looked_for) if looked_for else escape(entry.text),
        why=_why(number, entry, parts, query),
        score=score,
        private=entry.private,
    )


def _why(number: int, entry: Entry, parts: list[Part], query: Query) -> str:
    said = [
        reason(entry.kind, fields, phrase=len(part.sought.steps) > 1)
        for part in parts
        if (fields := [name for name, hits in part.found.items() if number in hits])
    ]
    if not parts:
        chosen = {
            "artist": query.artist,
            "kind": query.kind,
            "place": query.place,
            "date": query.dated,
        }
        said = [name for name, value in chosen.items() if value]
    return "; ".join(dict.fromkeys(said))


def _page(
    query: Query, ranked: Iterable[object], behind: int, notes: tuple[str, ...]
) -> Results:
    return Results(
        total=len(list(ranked)), page=query.page, limit=query.limit, notes=notes, behind=behind
    )


def _suggestions(query: Query, parts: list[Part], holdings: Holdings) -> tuple[str, ...]:
    """The question again, a word that is nowhere replaced by the nearest ones that are."""
    words = {word for field in SUGGESTED_IN for word in holdings.lexicon(field)}
    found: list[str] = []
    for part in parts:
        if part.found or not part.sought.is_word:
            continue
        near = process.extract(
            part.sought.steps[0][0],
            sorted(words),
            scorer=fuzz.ratio,
            score_cutoff=NEAR_ENOUGH,
            limit=None,
        )
        # A lexicon still lists the words of what was taken out since: those would find nothing.
        there = (
            word
            for word, _, _ in near
            if any(holdings.having(field, word) for field in SUGGESTED_IN)
        )
        found.extend(
            query.words.replace(part.sought.written, word, 1) for word in islice(there, 3)
        )
    return tuple(dict.fromkeys(found))[:5]
