"""The books of words of an index's parts: made from the terms a part holds, kept in a file beside it.

A file is a copy of what the part says, in plain numbers and text; one that is missing or not whole is
made anew. What a commit or a later save took out of a part is counted out of its entries.
"""

from __future__ import annotations

import zipfile
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.entry import Entry
from catalogue.indexes.lexicon.lexicon import DAMAGED, Gone, Lexicon
from catalogue.indexes.lexicon.wordbook import Wordbook
from catalogue.indexes.stored import TEXTS, patterns
from catalogue.indexes.whoosh_blocks import places_of

Counted = Mapping[str, Mapping[str, int]]
"""By field, the terms, each with the number of entries that hold it."""

FORMAT = 1


class HasBook(Protocol):
    """A part of the index."""

    size: int

    @property
    def book(self) -> Book:
        """Its words."""
        ...

    def entry(self, at: int) -> tuple[int, Entry]:
        """An entry as it was given."""
        ...


class Holds(Protocol):
    """What holds parts, and knows which entries count."""

    @property
    def parts(self) -> Iterable[tuple[HasBook, int]]:
        """Every part, and how many entries come before it."""
        ...

    @property
    def alive(self) -> NDArray[np.bool_]:
        """Which entries count."""
        ...


class Book:
    """The words of a part, and of those of its entries that count no more."""

    def __init__(self, words: Wordbook) -> None:
        self.words = words
        self._counted: set[int] = set()
        self._gone: dict[str, Counter[str]] = {}

    def gone(self, dead: Iterable[int], entry: Callable[[int], Entry]) -> Gone:
        """How often each word stood in these entries; what was counted before is not counted again."""
        wanted = set(dead)
        if not self._counted <= wanted:
            self._counted, self._gone = set(), {}
        for at in sorted(wanted - self._counted):
            for field, words in words_of(entry(at)).items():
                self._gone.setdefault(field, Counter()).update(words)
        self._counted = wanted
        return self._gone


def lexicon_of(holdings: Holds) -> Lexicon:
    """The words of all parts that are open, as they count now."""
    books = []
    for part, offset in holdings.parts:
        dead = np.flatnonzero(~holdings.alive[offset : offset + part.size]).tolist()
        books.append((part.book.words, part.book.gone(dead, partial(_entry, part))))
    return Lexicon(books, int(holdings.alive.sum()))


def words_of(entry: Entry) -> dict[str, list[str]]:
    """The distinct words of an entry by field, and its damaged ones."""
    held = {field: list(places_of(getattr(entry, field))) for field in TEXTS}
    return held | {DAMAGED: patterns(entry)}


def book_of(counted: Counted, entries: int) -> Book:
    """The book of these terms."""
    texts = {field: counted.get(field, {}) for field in TEXTS}
    return Book(Wordbook.of(texts, counted.get(DAMAGED, {}), entries))


def kept_book(file: Path, counted: Callable[[], Counted], entries: int) -> Book:
    """The book that was kept in a file; made anew and kept when it is not there or not whole."""
    with suppress(OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return Book(_read(file, entries))
    made = book_of(counted(), entries)
    # a folder that cannot be written to is still read from
    with suppress(OSError):
        _write(file, made.words)
    return made


def _entry(part: HasBook, at: int) -> Entry:
    return part.entry(at)[1]


def _write(file: Path, book: Wordbook) -> None:
    making = file.with_name(f"{file.name}.new")
    with making.open("wb") as opened:
        np.savez(
            opened,
            format=np.array([FORMAT, book.entries]),
            fields=_as_bytes(book.fields),
            words=_as_bytes(book.words),
            counts=book.counts,
            damaged=_as_bytes(book.damaged),
            often=np.fromiter(book.damaged.values(), np.int32, len(book.damaged)),
        )
    making.replace(file)


def _read(file: Path, entries: int) -> Wordbook:
    with np.load(file, allow_pickle=False) as held:
        if held["format"].tolist() != [FORMAT, entries]:
            raise ValueError("of another part or another version")
        words, fields = _as_words(held["words"]), _as_words(held["fields"])
        damaged = dict(zip(_as_words(held["damaged"]), held["often"].tolist(), strict=True))
        counts = held["counts"]
    if counts.shape != (len(fields), len(words)) or tuple(fields) != TEXTS:
        raise ValueError("not the fields of today")
    return Wordbook(fields, words, counts, damaged, entries)


def _as_bytes(words: Iterable[str]) -> NDArray[np.uint8]:
    return np.frombuffer("\n".join(words).encode("utf-8", "replace"), np.uint8)


def _as_words(held: NDArray[np.uint8]) -> list[str]:
    return held.tobytes().decode().split("\n") if len(held) else []
