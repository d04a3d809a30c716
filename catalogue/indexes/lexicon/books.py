"""The book of words of a part of the index, kept in a file beside it.

A file is a copy of what the part says, in plain numbers and text; one that is missing, not whole or of
another part is made anew.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.lexicon.lexicon import DAMAGED
from catalogue.indexes.lexicon.wordbook import Wordbook

Counted = Mapping[str, Mapping[str, int]]
"""By field, the terms, each with the number of entries that hold it; damaged words as a field too."""

FORMAT = 1


def book_of(counted: Counted, entries: int) -> Wordbook:
    """The book of these terms."""
    texts = {field: held for field, held in counted.items() if field != DAMAGED}
    return Wordbook.of(texts, counted.get(DAMAGED, {}), entries)


def kept_book(file: Path, counted: Callable[[], Counted], entries: int) -> Wordbook:
    """The book that was kept in a file; made anew and kept when it is not there or not whole."""
    with suppress(OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return _read(file, entries)
    made = book_of(counted(), entries)
    # a folder that cannot be written to is still read from
    with suppress(OSError):
        _write(file, made)
    return made


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
    with file.open("rb") as opened, np.load(opened, allow_pickle=False) as held:
        if held["format"].tolist() != [FORMAT, entries]:
            raise ValueError("of another part or another version")
        words, fields = _as_words(held["words"]), _as_words(held["fields"])
        damaged = dict(zip(_as_words(held["damaged"]), held["often"].tolist(), strict=True))
        counts = held["counts"]
    if counts.shape != (len(fields), len(words)):
        raise ValueError("cut off")
    return Wordbook(fields, words, counts, damaged, entries)


def _as_bytes(words: Iterable[str]) -> NDArray[np.uint8]:
    return np.frombuffer("\n".join(words).encode("utf-8", "replace"), np.uint8)


def _as_words(held: NDArray[np.uint8]) -> list[str]:
    return held.tobytes().decode().split("\n") if len(held) else []
