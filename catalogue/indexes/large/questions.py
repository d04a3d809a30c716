"""A tree as the second engine is asked it: terms that count what the tree says, and nothing else.

What the engine has no question for (words near each other many places apart, statements of works of
which another statement has something) is asked first, and put in as the set of what was found.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice, product
from typing import Any, Protocol

import tantivy
from tantivy import Occur, Query

from catalogue.indexes.large.fields import SCHEMA, SPANS, clean, safe, sortable
from catalogue.indexes.tree import (
    All,
    Either,
    Elsewhere,
    Fact,
    Hit,
    InTime,
    Measured,
    Not,
    Row,
    Terms,
    Tree,
)

UNIT = 10_000
"""Scores are counted in these parts, so that the engine's short numbers add them up exactly."""

MOST_ROWS = 64
"""So many ways in which words can stand are asked one by one; more are compared in the text."""


class Asking(Protocol):
    """What a question must be able to ask beforehand."""

    index: tantivy.Index

    def works_with(self, query: Query) -> Sequence[int]:
        """The documents of which some entry is found."""
        ...

    def entries_with(self, query: Query, row: Row) -> Sequence[int]:
        """The entries found in which the words of the row stand as they should."""
        ...


class Questions:
    """The trees of one question, for one part of the index; each is made once.

    With `undated_too` a span lets through what has no date at all.
    """

    def __init__(self, part: Asking, *, undated_too: bool = False) -> None:
        self._part = part
        self._undated_too = undated_too
        self._made: dict[int, Query] = {}

    def of(self, tree: Tree) -> Query:
        """The question for a tree."""
        if id(tree) not in self._made:
            self._made[id(tree)] = self._make(tree)
        return self._made[id(tree)]

    def _make(self, tree: Tree) -> Query:
        match tree:
            case Terms():
                return _terms(tree)
            case Row():
                return _counting(self._row(tree), 0)
            case Fact(field, values):
                return _counting(_one_of("fact", [f"{field}={each}" for each in values]), 0)
            case Measured():
                return _counting(self._measured(tree), 0)
            case InTime():
                return _counting(_in_time(tree, self._undated_too), 0)
            case All(parts):
                return self._all(parts)
            case Either(parts):
                return _either([self.of(each) for each in parts])
            case Not(part):
                return self._all((Not(part),))
            case Elsewhere(part, there):
                return self._elsewhere(part, there)

    def _all(self, parts: Sequence[Tree]) -> Query:
        wanted = [(Occur.Must, self.of(each)) for each in parts if not isinstance(each, Not)]
        # what is refused is refused whatever is known of its date
        refused = [
            (Occur.MustNot, _refusing(self, each.part))
            for each in parts
            if isinstance(each, Not)
        ]
        if not wanted:
            wanted = [(Occur.Must, _counting(Query.all_query(), 0))]
        if len(wanted) == 1 and not refused:
            return wanted[0][1]
        return Query.boolean_query([*wanted, *refused])

    def _elsewhere(self, part: Tree, there: bool) -> Query:
        questions = self if there else self.dated
        works = self._part.works_with(questions.of(part))
        found = _counting(Query.term_set_query(SCHEMA, "work", list(works)), 0)
        if there:
            return found
        every = _counting(Query.all_query(), 0)
        return Query.boolean_query([(Occur.Must, every), (Occur.MustNot, found)])

    @property
    def dated(self) -> Questions:
        """The same, without what has no date."""
        return Questions(self._part) if self._undated_too else self

    def _measured(self, wanted: Measured) -> Query:
        least = "*" if wanted.least is None else str(sortable(wanted.least))
        most = "*" if wanted.most is None else str(sortable(wanted.most))
        name = f"figures.{safe(wanted.field)}"
        if least == most == "*":
            return _one_of("figure", [wanted.field])
        return self._part.index.parse_query(f"{name}:[{least} TO {most}]")

    def _row(self, row: Row) -> Query:
        if not row.steps:
            return Query.empty_query()
        fields = set.intersection(*({hit.field for hit in step.hits} for step in row.steps))
        found = [self._row_in(row, field) for field in sorted(fields)]
        return _either(found)

    def _row_in(self, row: Row, field: str) -> Query:
        steps = [_terms_of(step.hits, field) for step in row.steps]
        if len(steps) == 1:
            return _one_of(field, steps[0])
        ways = list(islice(_ways(steps, row.apart), MOST_ROWS + 1))
        if len(ways) <= MOST_ROWS:
            return _either([_standing(field, steps, way) for way in ways])
        whole = Query.boolean_query([(Occur.Must, _one_of(field, step)) for step in steps])
        only = Row(tuple(_only(step, field) for step in row.steps), row.apart)
        return Query.term_set_query(
            SCHEMA, "serial", list(self._part.entries_with(whole, only))
        )


def _refusing(questions: Questions, tree: Tree) -> Query:
    return questions.dated.of(tree)


def _only(step: Terms, field: str) -> Terms:
    return Terms(step.written, tuple(hit for hit in step.hits if hit.field == field))


def _terms_of(hits: Iterable[Hit], field: str) -> list[str]:
    return list(dict.fromkeys(clean(hit.term) for hit in hits if hit.field == field))


def _terms(sought: Terms) -> Query:
    """What is sought as any of its hits; the best counts."""
    alike: dict[tuple[str, float], list[str]] = {}
    for hit in sought.hits:
        field, term = hit.held_as
        score = round(round(hit.strength * sought.rarity, 4) * UNIT)
        alike.setdefault((field, score), []).append(term)
    return _either(
        [_counting(_one_of(field, terms), score) for (field, score), terms in alike.items()]
    )


def _one_of(field: str, terms: Sequence[str]) -> Query:
    terms = [clean(term) for term in terms]
    if len(terms) == 1:
        return Query.term_query(SCHEMA, field, terms[0], "basic")
    return Query.term_set_query(SCHEMA, field, terms)


def _either(questions: Sequence[Query]) -> Query:
    if not questions:
        return Query.empty_query()
    return questions[0] if len(questions) == 1 else Query.disjunction_max_query(questions)


def _counting(question: Query, score: float) -> Query:
    return Query.const_score_query(question, float(score))


def _ways(steps: Sequence[Sequence[str]], apart: int) -> Iterator[tuple[int, ...]]:
    """Where the words of a row can stand, from the first of them on."""
    if apart == 0:
        yield tuple(range(len(steps)))
        return
    for way in product(range(apart + 1), repeat=len(steps)):
        alike = {(at, tuple(step)) for at, step in zip(way, steps, strict=True)}
        if min(way) == 0 and len(alike) == len(steps):
            yield way


def _standing(field: str, steps: Sequence[Sequence[str]], way: Sequence[int]) -> Query:
    at = sorted(zip(way, steps, strict=True), key=lambda each: each[0])
    if all(len(step) == 1 for step in steps):
        return Query.phrase_query(SCHEMA, field, [(place, step[0]) for place, step in at])
    return Query.regex_phrase_query(
        SCHEMA, field, [(place, "|".join(map(_escaped, step))) for place, step in at]
    )


def _escaped(term: str) -> str:
    return re.sub(r"[!-/:-@[-`{-~]", lambda sign: f"\\{sign.group()}", term)


def _in_time(wanted: InTime, undated_too: bool) -> Query:
    names = SPANS if wanted.what == "any" else {wanted.what: SPANS[wanted.what]}
    through = [_in_span(wanted, begins) for begins in names.values()]
    if undated_too:
        dated = [Query.exists_query(f"{begins}earliest") for begins in names.values()]
        through.append(
            Query.boolean_query(
                [
                    (Occur.Must, Query.all_query()),
                    *((Occur.MustNot, each) for each in dated),
                ]
            )
        )
    return _either(through)


def _in_span(wanted: InTime, begins: str) -> Query:
    earliest, latest = f"{begins}earliest", f"{begins}latest"
    if wanted.certainly:
        sides = [
            _between(earliest, wanted.earliest, None),
            _between(latest, None, wanted.latest),
        ]
    else:
        sides = [
            _between(earliest, None, wanted.latest),
            _between(latest, wanted.earliest, None),
        ]
    return Query.boolean_query([(Occur.Must, side) for side in sides])


def _between(field: str, least: int | None, most: int | None) -> Query:
    if least is most is None:
        return Query.exists_query(field)
    kind: Any = tantivy.FieldType.Integer
    return Query.range_query(SCHEMA, field, kind, least, most)
