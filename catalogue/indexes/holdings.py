"""What the index holds, asked word by word: which entries have it, where, how strongly.

The engine keeps the postings; putting them together is done here, because an answer has to say
of every word where it was found, and because the engine's own way with wide patterns takes
minutes (measured): the words of a field are read once, matched, and the entries of each joined.

Strength uses nothing that depends on how often the index was written to, so that an index that
was caught up save by save answers exactly as one made in one go.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import takewhile
from typing import Any

from whoosh.matching.mcore import Matcher
from whoosh.reading import IndexReader, TermNotFound

from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import tokens
from catalogue.indexes.question import Sought
from catalogue.indexes.stored import OPEN_AFTER, OPEN_BEFORE, SEARCHED, from_index
from catalogue.reading import fold

WEIGHT = {"number": 3.0, "title": 1.5, "artist": 1.5, "text": 1.0, "words": 0.6, "place": 0.5}
"""How much a word counts by where it stands."""

TYPICAL_LENGTH = {"text": 20, "words": 20}
"""Words in a field at which a word counts as it is; in a longer text it counts for less."""

BY_PATTERN = 0.6
DAMAGED = 0.4
SHORTEST_DAMAGED, LONGEST_DAMAGED = 3, 40
"""How many letters a word has that damaged ones are compared with."""

Found = dict[str, dict[int, float]]
"""By field, the entries that hold what is sought, and how strongly."""


class Holdings:
    """Entries of the open parts of the index, numbered through; `hidden` ones don't count."""

    def __init__(self, leaves: Sequence[IndexReader], hidden: Iterable[int] = ()) -> None:
        self._leaves: list[tuple[IndexReader, int]] = []
        self._size = 0
        for leaf in leaves:
            self._leaves.append((leaf, self._size))
            self._size += leaf.doc_count_all()
        self._lexicons: dict[str, list[str]] = {}
        self._columns: dict[tuple[str, int], Any] = {}
        self._hidden = frozenset(hidden)

    def __len__(self) -> int:
        """How many entries can be found."""
        return sum(leaf.doc_count() for leaf, _ in self._leaves) - len(self._hidden)

    def every(self) -> set[int]:
        """All entries."""
        found = {
            entry + offset for leaf, offset in self._leaves for entry in leaf.all_doc_ids()
        }
        return found - self._hidden

    def having(self, field: str, term: str) -> set[int]:
        """The entries that hold this very term in this field."""
        found: set[int] = set()
        for matcher, offset in self._postings(field, term):
            found.update(entry + offset for entry in matcher.all_ids())
        return found - self._hidden

    def find(self, each: Sought) -> Found:
        """The entries that hold what is sought, field by field."""
        found = {field: self.find_in(field, each) for field in SEARCHED}
        if each.is_word:
            found["damaged"] = self._damaged(each.steps[0])
        return {field: hits for field, hits in found.items() if hits}

    def find_in(self, field: str, each: Sought) -> dict[int, float]:
        """The entries that hold what is sought in this field, and how strongly."""
        if each.pattern:
            return self._by_pattern(field, each)
        if each.is_word:
            return self._by_word(field, each.steps[0])
        return self._by_phrase(field, each.steps)

    def of_kind(self, kind: str) -> set[int]:
        """The entries whose kind has all these words: its key, its group, or only "label"."""
        wanted = set(_key_words(kind))
        matching = (key for key in self.lexicon("kind") if wanted <= set(_key_words(key)))
        return set().union(*(self.having("kind", key) for key in matching)) if wanted else set()

    def lexicon(self, field: str) -> list[str]:
        """Every term of a field, in order."""
        if field not in self._lexicons:
            terms = {bytes(term) for leaf, _ in self._leaves for term in leaf.lexicon(field)}
            self._lexicons[field] = sorted(term.decode() for term in terms)
        return self._lexicons[field]

    def document(self, entry: int) -> str:
        """The document of an entry."""
        return str(self._column("document", entry))

    def number(self, entry: int) -> str:
        """The number that people know its document by."""
        return bytes(self._column("numbered", entry)).decode()

    def days(self, entry: int) -> tuple[int | None, int | None]:
        """First and last day of an entry, None = open."""
        earliest, latest = self._column("earliest", entry), self._column("latest", entry)
        return (
            None if earliest == OPEN_BEFORE else earliest,
            None if latest == OPEN_AFTER else latest,
        )

    def entry(self, entry: int) -> tuple[int, Entry]:
        """An entry as it was given, with its place among those of its document."""
        leaf, offset = self._leaf(entry)
        return from_index(leaf.stored_fields(entry - offset)["kept"])

    def _by_word(self, field: str, forms: Iterable[str]) -> dict[int, float]:
        found: dict[int, float] = {}
        pivot = TYPICAL_LENGTH.get(field)
        for form in forms:
            for matcher, offset in self._postings(field, form):
                leaf = self._leaf(offset)[0]
                while matcher.is_active():
                    number, often = matcher.id(), matcher.weight()
                    length = leaf.doc_field_length(number, field) if pivot else 0
                    strength = often / (often + 0.5 + length / pivot) if pivot else 1.0
                    found[number + offset] = max(found.get(number + offset, 0.0), strength)
                    matcher.next()
        return self._weighted(field, found)

    def _by_pattern(self, field: str, each: Sought) -> dict[int, float]:
        assert each.pattern
        lexicon = self.lexicon(field)
        start = bisect_left(lexicon, each.begins)
        near = takewhile(lambda term: term.startswith(each.begins), lexicon[start:])
        found: set[int] = set()
        for term in filter(each.pattern.fullmatch, near):
            found |= self.having(field, term)
        return self._weighted(field, dict.fromkeys(found, BY_PATTERN))

    def _by_phrase(self, field: str, steps: Sequence[Sequence[str]]) -> dict[int, float]:
        holding = [set().union(*(self.having(field, form) for form in step)) for step in steps]
        common = set.intersection(*holding)
        if not common:
            return {}
        found = dict.fromkeys(common, frozenset(range(0)))
        for number, step in enumerate(steps):
            here = self._positions(field, step, common)
            begun = {
                entry: frozenset(at - number for at in places) for entry, places in here.items()
            }
            found = (
                begun
                if not number
                else {e: found[e] & begun.get(e, frozenset()) for e in found}
            )
            common = {entry for entry, starts in found.items() if starts}
            found = {entry: found[entry] for entry in common}
        return self._weighted(field, {e: len(at) / (len(at) + 0.5) for e, at in found.items()})

    def _positions(
        self, field: str, step: Iterable[str], within: set[int]
    ) -> dict[int, set[int]]:
        """Where in each of these entries any of the forms stands."""
        found: dict[int, set[int]] = {}
        for form in step:
            for matcher, offset in self._postings(field, form):
                while matcher.is_active():
                    entry = matcher.id() + offset
                    if entry in within:
                        found.setdefault(entry, set()).update(matcher.value_as("positions"))
                    matcher.next()
        return found

    def _damaged(self, forms: Sequence[str]) -> dict[int, float]:
        if not SHORTEST_DAMAGED <= sum(map(str.isalnum, forms[0])) <= LONGEST_DAMAGED:
            return {}
        found: set[int] = set()
        for pattern in self.lexicon("damaged"):
            compiled = _compiled(pattern)
            if compiled and any(map(compiled.fullmatch, forms)):
                found |= self.having("damaged", pattern)
        return dict.fromkeys(found, DAMAGED)

    def _weighted(self, field: str, found: dict[int, float]) -> dict[int, float]:
        weight = WEIGHT[field]
        return {e: strength * weight for e, strength in found.items() if e not in self._hidden}

    def _postings(self, field: str, term: str) -> Iterator[tuple[Matcher, int]]:
        for leaf, offset in self._leaves:
            try:
                yield leaf.postings(field, term.encode("utf-8", "replace")), offset
            except TermNotFound:
                continue

    def _leaf(self, entry: int) -> tuple[IndexReader, int]:
        return next(held for held in reversed(self._leaves) if held[1] <= entry)

    def _column(self, name: str, entry: int) -> Any:
        leaf, offset = self._leaf(entry)
        column = self._columns.get((name, offset))
        if column is None:
            column = self._columns[name, offset] = leaf.column_reader(name)
        return column[entry - offset]


def _key_words(kind: str) -> list[str]:
    return [token.forms[0] for token in tokens(fold(kind))]


@lru_cache(maxsize=50_000)
def _compiled(pattern: str) -> re.Pattern[str] | None:
    try:
        return re.compile(pattern, re.DOTALL)
    except re.error:
        # one that is no pattern finds nothing; the entry's own text is still searched
        return None
