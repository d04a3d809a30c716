"""From a question to an answer: words together, filters, works in order, reasons and marks."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from itertools import islice

from rapidfuzz import fuzz, process

from catalogue.indexes.answer import Results, Statement, marked, reason
from catalogue.indexes.answer import Hit as Work
from catalogue.indexes.engine import Found, Page
from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import tokens
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.question import Query, Sought, sought
from catalogue.indexes.snapshot import Snapshot
from catalogue.indexes.stored import OWN, TEXTS
from catalogue.indexes.tree import All, Either, Elsewhere, Fact, Hit, InTime, Row, Terms, Tree
from catalogue.indexes.whoosh_blocks import places_of
from catalogue.reading import fold

SCATTERED = "no single statement holds all the words; these works hold them in different places"
ASK = "type a word, or choose an artist, a kind, a place or a date"
SUGGESTED_IN = ("text", "words", "title", "artist")
NEAR_ENOUGH = 70

WEIGHT = {
    "number": 1.0,
    "seen": 0.5,
    "title": 0.5,
    "artist": 0.5,
    "text": 0.4,
    "words": 0.2,
    "place": 0.15,
    "damaged": 0.1,
}
"""How much a word counts by where it stands."""

BY_PATTERN = 0.6
SHORTEST_DAMAGED, LONGEST_DAMAGED = 3, 40
"""How many letters a word has that damaged ones are compared with."""


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that was sought, and how it is looked for."""

    sought: Sought
    tree: Terms | All

    @property
    def terms(self) -> tuple[Terms, ...]:
        """All that is looked for."""
        return (
            (self.tree,)
            if isinstance(self.tree, Terms)
            else tuple(each for each in self.tree.parts if isinstance(each, Terms))
        )


def answer(query: Query, snapshot: Snapshot, behind: int) -> Results:
    """One page of what the index has for a question."""
    looked_for, notes = sought(query.words)
    filters = [query.artist.strip(), query.kind.strip(), query.place.strip()]
    if not looked_for and (query.words.strip() or not (any(filters) or query.dated)):
        return Results(page=query.page, limit=query.limit, notes=notes or (ASK,), behind=behind)
    parts = [_part(each, snapshot.holdings) for each in looked_for]
    allowed = tuple(_allowed(query, snapshot.holdings))
    page = Page(first=(query.page - 1) * query.limit, limit=query.limit, statements=10_000)
    found = snapshot.find(All((*_together(parts), *allowed)), page)
    if not found.total and not found.undated and len(parts) > 1:
        found = snapshot.find(_scattered(parts, allowed), page)
        notes += (SCATTERED,) if found.total or found.undated else ()
    return Results(
        hits=tuple(_hit(document, rows, parts, query) for document, rows in found.works),
        total=found.total,
        page=query.page,
        limit=query.limit,
        undated=found.undated,
        notes=notes,
        suggestions=() if found.total else _suggestions(query, parts, snapshot.holdings),
        behind=behind,
    )


def _part(each: Sought, holdings: Holdings) -> Part:
    if each.pattern:
        hits = [
            Hit(field, term, WEIGHT[field] * BY_PATTERN, "pattern")
            for field in TEXTS
            for term in holdings.terms(field)
            if each.pattern.fullmatch(term)
        ]
        return Part(each, _rare(each.written, hits, holdings))
    steps = [
        Terms("", tuple(Hit(field, form, WEIGHT[field]) for form in step for field in TEXTS))
        for step in each.steps
    ]
    if each.is_word:
        hits = [*steps[0].hits, *_damaged(each.steps[0], holdings)]
        return Part(each, _rare(each.written, hits, holdings))
    words = [_rare(each.written, step.hits, holdings) for step in steps]
    return Part(each, All((Row(tuple(steps)), *words)))


def _rare(written: str, hits: Iterable[Hit], holdings: Holdings) -> Terms:
    sought = Terms(written, tuple(hits))
    often = int(holdings.alive[holdings.found(sought).entries].sum())
    size = max(1, len(holdings.every))
    return Terms(written, sought.hits, math.log(1 + size / (often + 0.5)))


def _damaged(forms: Iterable[str], holdings: Holdings) -> Iterator[Hit]:
    forms = tuple(forms)
    if not SHORTEST_DAMAGED <= sum(map(str.isalnum, forms[0])) <= LONGEST_DAMAGED:
        return
    for pattern in holdings.terms("damaged"):
        compiled = _compiled(pattern)
        if compiled and any(map(compiled.fullmatch, forms)):
            yield Hit("damaged", pattern, WEIGHT["damaged"], "damaged")


def _together(parts: list[Part]) -> tuple[Tree, ...]:
    """Statements that hold everything, and at least one thing in what is written there.

    Every statement bears the title and artist of its work, so that a word on a label can be
    sought together with the artist; but the artist's name alone must not bring up every label.
    """
    return (*(part.tree for part in parts), _own(parts)) if parts else ()


def _own(parts: list[Part]) -> Tree:
    whole = Fact("whole", ("yes",))
    return Either((whole, *(_in_own(part.tree) for part in parts)))


def _in_own(tree: Tree) -> Tree:
    match tree:
        case Terms(written, hits):
            return Terms(written, tuple(hit for hit in hits if hit.field in OWN), 0.0)
        case Row(steps, apart):
            return Row(
                tuple(
                    Terms(s.written, tuple(h for h in s.hits if h.field in OWN)) for s in steps
                ),
                apart,
            )
        case All(parts):
            return All(tuple(map(_in_own, parts)))
        case _:
            return tree


def _scattered(parts: list[Part], allowed: tuple[Tree, ...]) -> Tree:
    """Statements that hold something, of works that hold everything."""
    everything = tuple(Elsewhere(All((part.tree, *allowed))) for part in parts)
    something = Either(tuple(part.tree for part in parts))
    return All((*everything, something, _own(parts), *allowed))


def _allowed(query: Query, holdings: Holdings) -> Iterator[Tree]:
    """What artist, kind, place and date let through."""
    for field, typed in (("artist", query.artist), ("place", query.place)):
        for each in sought(typed)[0]:
            yield _in_field(field, each, holdings)
    if query.kind.strip():
        wanted = set(places_of(fold(query.kind)))
        known = {
            term.partition("=")[2]
            for term in holdings.terms("fact")
            if term.startswith("kind=")
        }
        fitting = (key for key in known if wanted and wanted <= set(places_of(fold(key))))
        yield Fact("kind", tuple(sorted(fitting)))
    if query.dated:
        yield InTime("made", query.earliest, query.latest, query.certainly)


def _in_field(field: str, each: Sought, holdings: Holdings) -> Tree:
    if each.pattern:
        terms = filter(each.pattern.fullmatch, holdings.terms(field))
        return Terms(each.written, tuple(Hit(field, term, 0.0) for term in terms))
    return Row(
        tuple(
            Terms(each.written, tuple(Hit(field, form, 0.0) for form in step))
            for step in each.steps
        )
    )


def _hit(
    document: str, rows: Iterable[tuple[float, Entry]], parts: list[Part], query: Query
) -> Work:
    statements = tuple(_statement(score, entry, parts, query) for score, entry in rows)
    entry = next(iter(rows))[1]
    return Work(document, entry.number, entry.title, statements[0].score, statements)


def _statement(score: float, entry: Entry, parts: list[Part], query: Query) -> Statement:
    looked_for = [part.sought for part in parts]
    return Statement(
        value=entry.value,
        where=entry.where,
        kind=entry.kind,
        text=entry.text,
        html=marked(entry.text, looked_for) if looked_for else escape(entry.text),
        why=_why(entry, parts, query),
        score=score,
        private=entry.private,
    )


def _why(entry: Entry, parts: list[Part], query: Query) -> str:
    said = [
        reason(entry.kind, fields, phrase=len(part.sought.steps) > 1)
        for part in parts
        if (fields := _fields(entry, part))
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


def _fields(entry: Entry, part: Part) -> list[str]:
    """The fields of an entry where a part of the question is found."""
    if not part.sought.is_word and not part.sought.pattern:
        texts = [(name, list(tokens(getattr(entry, name)))) for name in TEXTS]
        return [name for name, words in texts if any(part.sought.spans(words))]
    wanted = {(hit.field, hit.term) for terms in part.terms for hit in terms.hits}
    held = [(name, term) for name in TEXTS for term in places_of(getattr(entry, name))]
    held += [("damaged", pattern) for pattern in entry.patterns]
    return [name for name, term in held if (name, term) in wanted]


def _suggestions(query: Query, parts: list[Part], holdings: Holdings) -> tuple[str, ...]:
    """The question again, a word that is nowhere replaced by the nearest ones that are."""
    words = {word for field in SUGGESTED_IN for word in holdings.terms(field)}
    found: list[str] = []
    for part in parts:
        if not part.sought.is_word or _is_found(part.terms[0].hits, holdings):
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
            if _is_found([Hit(field, word, 1.0) for field in SUGGESTED_IN], holdings)
        )
        found.extend(
            query.words.replace(part.sought.written, word, 1) for word in islice(there, 3)
        )
    return tuple(dict.fromkeys(found))[:5]


def _is_found(hits: Iterable[Hit], holdings: Holdings) -> bool:
    entries = holdings.found(Terms("", tuple(hits))).entries
    return bool(holdings.alive[entries].any())


@lru_cache(maxsize=50_000)
def _compiled(pattern: str) -> re.Pattern[str] | None:
    try:
        return re.compile(pattern, re.DOTALL)
    except re.error:
        # one that is no pattern finds nothing; the entry's own text is still searched
        return None
