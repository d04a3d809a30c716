"""The distinct words of one part of the index, in arrays: by beginning, end, middle, shape and likeness.

A hundred thousand words are a megabyte of text: to find a few letters in it takes less than to ask a
database for grams of them, and nothing has to be kept in step.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray
from rapidfuzz.distance import OSA

from catalogue.indexes.lexicon import shapes
from catalogue.indexes.lexicon.damaged import Damaged
from catalogue.indexes.lexicon.shapes import ANY

Counts = NDArray[np.int32]

_MOST = "\U0010ffff"


class Wordbook:
    """Words, ascending, each with the number of entries that hold it in each field; and damaged words.

    `counts` has a row for every field of `fields`. `damaged` are patterns with their numbers.
    """

    def __init__(
        self,
        fields: Sequence[str],
        words: Sequence[str],
        counts: Counts,
        damaged: Mapping[str, int],
        entries: int,
    ) -> None:
        self.fields = tuple(fields)
        self.words = list(words)
        self.counts = counts
        self.damaged = dict(damaged)
        self.entries = entries

    @classmethod
    def of(
        cls, fields: Mapping[str, Mapping[str, int]], damaged: Mapping[str, int], entries: int
    ) -> Wordbook:
        """The book of these words and their counts, field by field.

        >>> from catalogue.indexes.lexicon.shapes import shape_of
        >>> book = Wordbook.of({"text": {"harbour": 2, "hms": 1}}, {"har.*": 1}, 3)
        >>> book.words, list(book.matching(shape_of("h.*s"))), list(book.damaged_as("harbour"))
        (['harbour', 'hms'], [1], [('har.*', 3)])
        """
        words = sorted(set().union(*fields.values()))
        at = {word: place for place, word in enumerate(words)}
        counts = np.zeros((len(fields), len(words)), np.int32)
        for row, held in enumerate(fields.values()):
            places = np.fromiter((at[word] for word in held), np.int64, len(held))
            counts[row, places] = np.fromiter(held.values(), np.int32, len(held))
        return cls(tuple(fields), words, counts, damaged, entries)

    def place(self, word: str) -> int | None:
        """Where a word stands; None when it is not there."""
        at = bisect_left(self.words, word)
        return at if at < len(self.words) and self.words[at] == word else None

    def beginning(self, begins: str) -> range:
        """The words that begin so."""
        first = bisect_left(self.words, begins)
        return range(first, bisect_left(self.words, begins + _MOST, lo=first))

    def matching(self, shape: str) -> Sequence[int]:
        """The words that a shape may be."""
        begins = shapes.head(shape)
        if begins == shape:
            at = self.place(shape)
            return [] if at is None else [at]
        if begins:
            among = self.beginning(begins)
            return among if shape == begins + ANY else self._scanned(among, shape)
        if places := self._with_run(shape):
            fits = _compiled(shapes.as_regex(shape))
            return [at for at in places() if fits(self.words[at])]
        return self._scanned(range(len(self.words)), shape)

    def matching_pattern(self, pattern: str) -> Sequence[int]:
        """The words that any regular expression matches, one after the other."""
        try:
            fits = _compiled(pattern)
        except re.error:
            return []
        return [at for at, word in enumerate(self.words) if fits(word)]

    def alike(self, word: str, most: int) -> Iterator[tuple[int, int]]:
        """The words that differ from this in so many letters at most, and in how many.

        A letter put in, left out, put in another's place, or two changing places count as one.
        """
        far = _bits(self._signatures ^ np.uint32(_signature(word))) <= 2 * most
        far &= np.abs(self._lengths - len(word)) <= most
        for at in np.flatnonzero(far).tolist():
            distance = OSA.distance(word, self.words[at], score_cutoff=most)
            if distance <= most:
                yield at, distance

    def damaged_as(self, shape: str) -> Iterator[tuple[str, int]]:
        """The damaged words that may be the same word as this, and how many letters they share.

        A whole word is a shape without open letters.
        """
        return self._damaged.as_shape(shape)

    def _scanned(self, among: range, shape: str) -> list[int]:
        """The words of a stretch that a shape may be, by one pass over their text."""
        if not len(among):
            return []
        begin, end = int(self._starts[among.start]), int(self._starts[among.stop])
        sought = _in_lines(shapes.as_regex(shape))
        found = [hit.start() + 1 for hit in sought.finditer(self._text, begin - 1, end)]
        return np.searchsorted(self._starts, found).tolist()  # type: ignore[no-any-return]

    def _with_run(self, shape: str) -> Callable[[], list[int]] | None:
        """The words that hold the longest run of letters of a shape; None when that is too short."""
        ends = shapes.tail(shape)
        longest = max([*shapes.runs(shape), ""], key=len)
        sought = f"{ends}\n" if ends and len(ends) + 1 >= len(longest) else longest
        return (lambda: self._holding(sought)) if len(sought) > 1 else None

    def _holding(self, letters: str) -> list[int]:
        found = []
        at = self._text.find(letters)
        while at >= 0:
            found.append(at)
            at = self._text.find(letters, at + 1)
        places = np.searchsorted(self._starts, found, side="right") - 1
        return np.unique(places).tolist()  # type: ignore[no-any-return]

    @cached_property
    def _text(self) -> str:
        """Every word on a line of its own."""
        return "\n" + "".join(f"{word}\n" for word in self.words)

    @cached_property
    def _starts(self) -> NDArray[np.int64]:
        """Where each word begins in the text, and where the next one would."""
        return np.cumsum([1, *(len(word) + 1 for word in self.words)])

    @cached_property
    def _lengths(self) -> NDArray[np.int16]:
        return np.fromiter(map(len, self.words), np.int16, len(self.words))

    @cached_property
    def _signatures(self) -> NDArray[np.uint32]:
        """Which letters a word has, a bit for each: an edit changes two at most."""
        return np.fromiter(map(_signature, self.words), np.uint32, len(self.words))

    @cached_property
    def _damaged(self) -> Damaged:
        return Damaged(self.damaged)


def _signature(word: str) -> int:
    bits = 0
    for letter in word:
        bits |= 1 << (ord(letter) & 31)
    return bits


def _bits(numbers: NDArray[np.uint32]) -> NDArray[np.uint32]:
    """How many bits are set in each (numpy counts them itself only from its second version on)."""
    held = numbers - ((numbers >> np.uint32(1)) & np.uint32(0x55555555))
    held = (held & np.uint32(0x33333333)) + ((held >> np.uint32(2)) & np.uint32(0x33333333))
    held = (held + (held >> np.uint32(4))) & np.uint32(0x0F0F0F0F)
    return np.asarray((held * np.uint32(0x01010101)) >> np.uint32(24), np.uint32)


@lru_cache(maxsize=2_000)
def _compiled(pattern: str) -> Callable[[str], re.Match[str] | None]:
    return re.compile(pattern).fullmatch


@lru_cache(maxsize=500)
def _in_lines(pattern: str) -> re.Pattern[str]:
    return re.compile(f"\n(?:{pattern})(?=\n)")
