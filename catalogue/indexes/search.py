"""From a question to an answer: understood, widened, found; works in order, reasons and marks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from catalogue.indexes.answer import Hit as Work
from catalogue.indexes.answer import Results, Statement
from catalogue.indexes.engine import Found, Page
from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import tokens
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.language import understanding
from catalogue.indexes.language.fields import counted
from catalogue.indexes.language.patterns import word
from catalogue.indexes.language.pieces import MOST_LETTERS
from catalogue.indexes.language.understood import Understood
from catalogue.indexes.marking import Sought, marked, reasons, sought_in
from catalogue.indexes.question import Query
from catalogue.indexes.snapshot import Snapshot
from catalogue.indexes.stored import OWN
from catalogue.indexes.tree import (
    All,
    Either,
    Elsewhere,
    Fact,
    InTime,
    Row,
    Terms,
    Tree,
)
from catalogue.indexes.wish import AllOf, Run, Wish, Word
from catalogue.measure import Day
from catalogue.reading import fold

SCATTERED = "no single statement holds all the words; these works hold them in different places"
ASK = "type a word, or choose an artist, a kind, a place or a date"

STATEMENTS = 50
"""So many statements of a work are shown."""


@dataclass(frozen=True, slots=True)
class Widening:
    """What knows the words of the index: a wish as exact terms, and words near one that is nowhere."""

    tree: Callable[[Wish], Tree]
    near: Callable[[str], Iterable[str]]
    called: Callable[[str], str] = lambda key: key


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as an engine is asked it: what is sought part by part, and what the form lets through."""

    question: Understood
    parts: tuple[Tree, ...]
    allowed: tuple[Tree, ...]

    def found(self, snapshot: Snapshot, page: Page) -> tuple[Found, bool]:
        """The works of a page, and whether their words had to be sought in different places."""
        found = snapshot.find(All((*together(self.parts), *self.allowed)), page)
        plain = [each for each in self.parts if _is_word(each)]
        if found.total or found.undated or len(plain) < 2:
            return found, False
        others = tuple(each for each in self.parts if each not in plain)
        found = snapshot.find(scattered(plain, (*others, *self.allowed)), page)
        return found, bool(found.total or found.undated)


def asked(query: Query, snapshot: Snapshot, widening: Widening, today: Day) -> Asked:
    """A query as an engine is asked it."""
    question = understanding.understand(query.words, today, widening.called)
    parts = tuple(_tree(each, widening) for each in _parts(question.wish))
    return Asked(question, parts, tuple(_allowed(query, snapshot.holdings, widening)))


def _tree(wish: Wish, widening: Widening) -> Tree:
    """A wish widened; a place is a condition, which no word in the statement's texts has to go with."""
    tree = widening.tree(wish)
    words = wish.words if isinstance(wish, Run) else (wish,)
    placed = all(isinstance(each, Word) and each.fields == ("place",) for each in words)
    return All((tree, All(()))) if placed else tree


def which(query: Query, snapshot: Snapshot, widening: Widening, today: Day) -> Found:
    """Which works an answer has, each with its best statement; without facets, marks and reasons."""
    sought = asked(query, snapshot, widening, today)
    if _asks_nothing(query, sought.question):
        return Found()
    return sought.found(snapshot, replace(_page(query, sought), statements=1))[0]


def answer(
    query: Query, snapshot: Snapshot, widening: Widening, behind: int, today: Day
) -> Results:
    """One page of what the index has for a question."""
    sought = asked(query, snapshot, widening, today)
    question = sought.question
    told = Results(
        page=query.page,
        limit=query.limit,
        notes=question.hints,
        behind=behind,
        understood=question.said,
        ignored=question.ignored,
    )
    if _asks_nothing(query, question):
        return replace(told, notes=question.hints or question.ignored or (ASK,))
    page = replace(_page(query, sought), facets=counted() if query.counting else ())
    found, is_scattered = sought.found(snapshot, page)
    if is_scattered:
        told = replace(told, notes=(*told.notes, SCATTERED))
    return _told(told, found, query, sought.parts, widening)


def _asks_nothing(query: Query, question: Understood) -> bool:
    filtered = any(map(str.strip, (query.artist, query.kind, query.place))) or query.dated
    return question.empty and bool(query.words.strip() or not filtered)


def _page(query: Query, sought: Asked) -> Page:
    return Page(
        first=(query.page - 1) * query.limit,
        limit=query.limit,
        order=sought.question.order,
        statements=STATEMENTS,
        wholes=not any(map(_is_word, (*sought.parts, *sought.allowed))),
    )


def _told(
    told: Results, found: Found, query: Query, parts: tuple[Tree, ...], widening: Widening
) -> Results:
    sought = tuple(each for part in parts for each in sought_in(part))
    return replace(
        told,
        hits=tuple(_hit(document, rows, sought, query) for document, rows in found.works),
        total=found.total,
        exact=found.exact,
        undated=found.undated,
        facets=found.facets,
        suggestions=() if found.total else _suggestions(query, sought, widening),
    )


def _parts(wish: Wish) -> tuple[Wish, ...]:
    return wish.parts if isinstance(wish, AllOf) else (wish,)


def _is_word(tree: Tree) -> bool:
    """Whether something is looked for in texts there, so that it may stand somewhere in the work."""
    match tree:
        case Terms(_, hits):
            return not any(hit.is_fact for hit in hits)
        case Row():
            return True
        case All(parts) | Either(parts):
            return bool(parts) and all(map(_is_word, parts))
        case _:
            return False


def together(parts: tuple[Tree, ...]) -> tuple[Tree, ...]:
    """Statements that hold everything, and at least one word in what is written there.

    Every statement bears the title and artist of its work, so that a word on a label can be
    sought together with the artist; but the artist's name alone must not bring up every label.
    """
    words = [each for each in parts if _is_word(each)]
    return (*parts, _own(words)) if words else parts


def _own(parts: Iterable[Tree]) -> Tree:
    whole = Fact("whole", ("yes",))
    return Either((whole, *map(_in_own, parts)))


def _in_own(tree: Tree) -> Tree:
    """What is sought, in a statement's own texts alone, and counting nothing for the order."""
    match tree:
        case Terms(written, hits):
            return Terms(written, tuple(hit for hit in hits if hit.field in OWN), 0.0)
        case Row(steps, apart):
            own = tuple(
                Terms(each.written, tuple(hit for hit in each.hits if hit.field in OWN))
                for each in steps
            )
            return Row(own, apart)
        case All(parts):
            return All(tuple(map(_in_own, parts)))
        case Either(parts):
            return Either(tuple(map(_in_own, parts)))
        case _:
            return tree


def scattered(words: Iterable[Tree], others: tuple[Tree, ...]) -> Tree:
    """Statements that hold some of the words, of works that hold all of them."""
    words = tuple(words)
    everything = tuple(Elsewhere(All((each, *others))) for each in words)
    return All((*everything, Either(words), _own(words), *others))


def _allowed(query: Query, holdings: Holdings, widening: Widening) -> Iterator[Tree]:
    """What artist, kind, place and date let through; it counts nothing for the order."""
    for field, typed in (("artist", query.artist), ("place", query.place)):
        for chunk in typed[:MOST_LETTERS].split():
            yield _unweighed(widening.tree(word(chunk, (field,))))
    if query.kind.strip():
        wanted = _words(query.kind)
        keys = holdings.keys("kind")
        fitting = (key for key in keys if wanted and wanted <= _words(key))
        yield Fact("kind", tuple(sorted(fitting)))
    if query.dated:
        yield InTime("made", query.earliest, query.latest, query.certainly)


def _words(text: str) -> set[str]:
    return {form for word in tokens(fold(text)) for form in word.forms}


def _unweighed(tree: Tree) -> Tree:
    match tree:
        case Terms(written, hits):
            return Terms(written, hits, 0.0)
        case All(parts):
            return All(tuple(map(_unweighed, parts)))
        case _:
            return tree


def _hit(
    document: str,
    rows: Iterable[tuple[float, Entry]],
    sought: tuple[Sought, ...],
    query: Query,
) -> Work:
    rows = tuple(rows)
    statements = tuple(_statement(score, entry, sought, query) for score, entry in rows)
    entry = rows[0][1]
    return Work(document, entry.number, entry.title, statements[0].score, statements)


def _statement(
    score: float, entry: Entry, sought: tuple[Sought, ...], query: Query
) -> Statement:
    return Statement(
        value=entry.value,
        where=entry.where,
        kind=entry.kind,
        text=entry.text,
        html=marked(entry.text, sought, entry.patterns),
        why=reasons(entry, sought) or _by_filters(query),
        score=score,
        private=entry.private,
        photo=entry.photo,
        corners=entry.corners,
        light=entry.light,
    )


def _by_filters(query: Query) -> str:
    chosen = {
        "artist": query.artist,
        "kind": query.kind,
        "place": query.place,
        "date": query.dated,
    }
    return "; ".join(name for name, value in chosen.items() if value)


def _suggestions(
    query: Query, sought: tuple[Sought, ...], widening: Widening
) -> tuple[str, ...]:
    """The question again, a word that is nowhere replaced by the nearest ones that are."""
    found = [
        query.words.replace(each.written, near, 1)
        for each in sought
        if len(each.steps) == 1 and not each.steps[0].hits
        for near in list(widening.near(each.written))[:3]
    ]
    return tuple(dict.fromkeys(found))[:5]
