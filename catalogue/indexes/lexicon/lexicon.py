"""All words of the index: the books of its parts read as one, less what was taken out of them since.

A word of which nothing is left is not there any more, and a count is that of the entries that count:
so every engine, however its parts are cut, weighs a word alike.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence

from catalogue.indexes.lexicon.wordbook import Wordbook
from catalogue.indexes.wholes import BETWEEN

Gone = Mapping[str, Counter[str]]
"""By field, how often a word stood in entries that were taken out."""

DAMAGED = "damaged"

Finder = Callable[[Wordbook], Iterable[int]]


class Lexicon:
    """Books of words with what is gone from each.

    >>> old = Wordbook.of({"text": {"harbour": 2, "row": 1}}, {}, 3)
    >>> new = Wordbook.of({"text": {"harbour": 1}}, {}, 1)
    >>> lexicon = Lexicon([(old, {"text": Counter(row=1)}), (new, {})], entries=3)
    >>> lexicon.held("harbour"), lexicon.held("row")
    ({'text': 3}, {})
    """

    def __init__(self, books: Sequence[tuple[Wordbook, Gone]], entries: int) -> None:
        self._books = books
        self.entries = entries

    def held(self, word: str) -> dict[str, int]:
        """In how many entries a word stands, field by field; nothing when it is nowhere."""
        return self.found(lambda book: _one(book.place(word))).get(word, {})

    def splits(self, word: str) -> set[tuple[str, ...]]:
        """The parts in which a word stands in the texts that is asked for in one: hms as h, m, s."""
        said = f"{word}{BETWEEN}"
        return {
            tuple(book.words[at].split(BETWEEN)[1:])
            for book, _ in self._books
            for at in book.beginning(said)
        }

    def matching(self, shape: str) -> dict[str, dict[str, int]]:
        """The words that a shape may be, each with its counts."""
        return self.found(lambda book: book.matching(shape))

    def matching_pattern(self, pattern: str) -> dict[str, dict[str, int]]:
        """The words that any regular expression matches."""
        return self.found(lambda book: book.matching_pattern(pattern))

    def alike(self, word: str, most: int) -> dict[str, tuple[int, dict[str, int]]]:
        """The words that differ in so many letters at most: in how many, and their counts."""
        far: dict[str, int] = {}

        def finder(book: Wordbook) -> Iterable[int]:
            for at, distance in book.alike(word, most):
                far[book.words[at]] = distance
                yield at

        held = self.found(finder)
        return {each: (far[each], counts) for each, counts in held.items()}

    def damaged_as(self, shape: str) -> dict[str, tuple[int, int]]:
        """The damaged words that may be the same word: letters shared, and how many entries hold it."""
        shared: dict[str, int] = {}
        often: Counter[str] = Counter()
        for book, gone in self._books:
            lost = gone.get(DAMAGED, Counter[str]())
            for pattern, letters in book.damaged_as(shape):
                shared[pattern] = letters
                often[pattern] += book.damaged[pattern] - lost[pattern]
        return {each: (shared[each], count) for each, count in often.items() if count > 0}

    def found(self, finder: Finder) -> dict[str, dict[str, int]]:
        """The words that are found in any book, with their counts by field."""
        found: dict[str, dict[str, int]] = {}
        nothing: Counter[str] = Counter()
        for book, gone in self._books:
            places = list(finder(book))
            if not places:
                continue
            columns = book.counts[:, places].T.tolist()
            for at, column in zip(places, columns, strict=True):
                word = book.words[at]
                if BETWEEN in word:
                    # it only says how a word is made
                    continue
                held = found.setdefault(word, {})
                for field, count in zip(book.fields, column, strict=True):
                    if count and (left := count - gone.get(field, nothing)[word]):
                        held[field] = held.get(field, 0) + left
        return {word: held for word, held in found.items() if held}

    def words(self, fields: Iterable[str]) -> set[str]:
        """Every word of these fields."""
        wanted = set(fields)
        every = self.found(lambda book: range(len(book.words)))
        return {word for word, held in every.items() if not wanted.isdisjoint(held)}


def _one(place: int | None) -> list[int]:
    return [] if place is None else [place]
