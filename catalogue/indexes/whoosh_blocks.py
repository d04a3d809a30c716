"""Postings of the engine, written and read as whole blocks of numbers.

The engine reads an entry at a time; an answer over a hundred thousand works needs a word's entries
as one array. Here is the engine's own form of blocks with plain numbers in place of pickled ones,
and a way to read all blocks of a word at once. What the engine itself reads stays the same
(it merges parts by its own way), and a test holds the two ways together.
"""

from __future__ import annotations

import zlib
from array import array
from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from pickle import load, loads
from typing import Any

import numpy as np
from numpy.typing import NDArray
from whoosh.codec.whoosh3 import W3Codec, W3LeafMatcher, W3PostingsWriter, W3TermInfo
from whoosh.fields import FieldType
from whoosh.formats import Format

from catalogue.indexes.wholes import all_words

Numbers = NDArray[np.int32]

BLOCK = 8192
"""So many entries lie in one block; with 128, as the engine has it, a common word takes 40 times as long."""


KEY = 96
"""Bytes of a key by which works are sorted."""


@dataclass(frozen=True, slots=True)
class Postings:
    """The entries that hold a term, ascending; how often each does; and what it says there.

    `said` are the places of the words of an entry, or its figures, one entry's after the other's.
    """

    entries: Numbers
    often: Numbers
    said: NDArray[Any]

    @property
    def size(self) -> int:
        """Bytes it takes in memory."""
        return self.entries.nbytes + self.often.nbytes + self.said.nbytes


class Plain(Format):
    """Numbers of one kind at every posting: places of words ("I"), figures ("d"), or none ("")."""

    # or one piece of bytes of a fixed length ("S96")

    def __init__(self, code: str = "") -> None:
        super().__init__()
        self.code = code
        self.posting_size = -1 if code else 0

    def encode(self, numbers: Sequence[float]) -> bytes:
        """What the engine keeps at a posting."""
        return array(self.code, numbers).tobytes()

    def decode_numbers(self, kept: bytes) -> list[float]:
        """The numbers again."""
        return list(np.frombuffer(kept, self.code))


class Words(FieldType):
    """Text: a term for every form of every word, with the places where it stands."""

    def __init__(self) -> None:
        super().__init__(Plain("I"), analyzer=None)  # type: ignore[arg-type]

    def index(self, value: Any, **_: Any) -> Any:
        """The terms of a text, as the engine wants them."""
        encode = self.format.encode  # type: ignore[union-attr]
        for term, places in places_of(value).items():
            yield term.encode("utf-8", "replace"), len(places), len(places), encode(places)


class Marks(FieldType):
    """Exact terms: what they are is all there is to know."""

    def __init__(self) -> None:
        super().__init__(Plain(), analyzer=None)  # type: ignore[arg-type]

    def index(self, value: Any, **_: Any) -> Any:
        """The terms, each once."""
        for term in dict.fromkeys(value):
            yield term.encode("utf-8", "replace"), 1, 1.0, b""


class Keys(FieldType):
    """One key of bytes for some entries, to be read as one array; its term is always "key"."""

    def __init__(self) -> None:
        super().__init__(Plain(f"S{KEY}"), analyzer=None)  # type: ignore[arg-type]

    def index(self, value: Any, **_: Any) -> Any:
        """The one term, with the key said at it."""
        yield b"key", 1, 1.0, value[:KEY].ljust(KEY, b"\0")


class Figures(FieldType):
    """Figures under their names: the name is the term, the figures are said at it."""

    def __init__(self) -> None:
        super().__init__(Plain("d"), analyzer=None)  # type: ignore[arg-type]

    def index(self, value: Any, **_: Any) -> Any:
        """A term for every name, with all its figures."""
        named: dict[str, list[float]] = {}
        for name, figure in value:
            named.setdefault(name, []).append(figure)
        encode = self.format.encode  # type: ignore[union-attr]
        for name, figures in named.items():
            yield name.encode(), len(figures), len(figures), encode(figures)


def places_of(text: str) -> dict[str, list[int]]:
    """Every form of every word of a text, and its places.

    >>> places_of("Sold to the dealer, to Müller")["to"]
    [1, 4]
    """
    found: dict[str, list[int]] = {}
    for token in all_words(text):
        forms = token.forms
        if token.parts:
            forms = tuple(dict.fromkeys((*forms, *token.parts)))
        if token.whole:
            for form in forms:
                insort(found.setdefault(form, []), token.position)
        else:
            for form in forms:
                found.setdefault(form, []).append(token.position)
    return found


class PlainCodec(W3Codec):
    """The engine's way of writing, with blocks of plain numbers."""

    def __init__(self) -> None:
        super().__init__(blocklimit=BLOCK)  # type: ignore[no-untyped-call]

    def postings_writer(self, dbfile: Any, byteids: bool = False) -> Any:
        """What writes the postings of a field."""
        return _Writer(dbfile, self._blocklimit, byteids, self._compression, self._inlinelimit)  # type: ignore[no-untyped-call]

    def postings_reader(
        self, dbfile: Any, terminfo: Any, format_: Any, term: Any = None, scorer: Any = None
    ) -> Any:
        """What reads them one by one."""
        offset, length = terminfo.extent()
        return _Matcher(dbfile, offset, length, format_, term=term, scorer=scorer)  # type: ignore[no-untyped-call,abstract]


class _Writer(W3PostingsWriter):
    def _mini_ids(self) -> Any:
        return np.diff(np.asarray(self._ids, np.int32), prepend=np.int32(0)).tobytes()

    def _mini_weights(self) -> Any:
        often = np.asarray(self._weights, np.int32)
        return None if (often == 1).all() else often.tobytes()

    def _mini_values(self) -> Any:
        return b"".join(self._values)


class _Matcher(W3LeafMatcher):
    _data: Any
    _blocklength: Any
    format: Any

    def _read_ids(self) -> None:
        if self._data is None:
            self._read_data()  # type: ignore[no-untyped-call]
        self._ids = _entries(self._data[0]).tolist()

    def _read_weights(self) -> None:
        if self._data is None:
            self._read_data()  # type: ignore[no-untyped-call]
        self._weights = _often(self._data[1], self._blocklength).astype(float).tolist()

    def _read_values(self) -> None:
        if self._data is None:
            self._read_data()  # type: ignore[no-untyped-call]
        code = self.format.code
        if not code:
            self._values = (b"",) * self._blocklength
            return
        size = np.dtype(code).itemsize
        ends = np.cumsum(_often(self._data[1], self._blocklength)) * size
        starts = [0, *ends[:-1].tolist()]
        held = self._data[2]
        self._values = tuple(held[a:b] for a, b in zip(starts, ends.tolist(), strict=True))


def _entries(kept: bytes) -> Numbers:
    return np.cumsum(np.frombuffer(kept, np.int32), dtype=np.int32)


def _often(kept: bytes | None, length: int) -> Numbers:
    return np.ones(length, np.int32) if kept is None else np.frombuffer(kept, np.int32)


def postings(leaf: Any, field: str, term: bytes) -> Postings | None:
    """All postings of a term in one part of the index; None when it is not there."""
    terms = leaf._terms  # the public way gives an entry at a time
    key = terms._keycoder(field, term)
    try:
        info = W3TermInfo.from_bytes(terms._tindex[key])  # type: ignore[no-untyped-call]
    except KeyError:
        return None
    return postings_at(leaf, field, *extent(info))


def extent(info: Any) -> tuple[int, int]:
    """Where the postings of a term lie in the file, and how long they are."""
    offset, length = info.extent()
    # the engine forgets to take the length out of what it unpacked
    return offset, length[0] if isinstance(length, tuple) else length


def postings_at(leaf: Any, field: str, offset: int, length: int) -> Postings:
    """All postings that lie there, of a term of this field."""
    return _blocks(leaf._terms._postfile.get(offset, length), leaf.schema[field].format.code)


def _blocks(held: bytes, code: str) -> Postings:
    """The blocks of a term, as they lie in the file one after the other."""
    entries, often, said = [], [], []
    at, last = 4, False
    while not last:
        size = int.from_bytes(held[at : at + 4], "big", signed=True)
        last, size = size < 0, abs(size)
        block = memoryview(held)[at + 4 : at + 4 + size]
        at += 4 + size
        head = _Head(block)
        body = bytes(block[head.size :])
        ids, weights, values = loads(zlib.decompress(body) if head.compressed else body)
        entries.append(_entries(ids))
        often.append(_often(weights, head.length))
        said.append(np.frombuffer(values, code or np.uint8))
    if len(entries) == 1:
        return Postings(entries[0], often[0], said[0])
    return Postings(np.concatenate(entries), np.concatenate(often), np.concatenate(said))


class _Head:
    """What the engine says of a block before it: how many entries, and whether it is pressed."""

    __slots__ = ("compressed", "length", "size")

    def __init__(self, block: memoryview) -> None:
        # a pickle ends at its stop sign; the engine pickles a tuple of six before every block
        stream = BytesIO(block)
        self.length, _, _, self.compressed, _, _ = load(stream)
        self.size = stream.tell()


def column(leaf: Any, name: str, kind: str, default: float) -> NDArray[Any]:
    """A column of numbers of one part of the index, as one array."""
    size = leaf.doc_count_all()
    found = np.full(size, default, np.dtype(kind).newbyteorder("="))
    if leaf._perdoc.has_column(name):
        # the engine's reader gives a number at a time
        file, offset, length = leaf._perdoc._get_column_file(name)
        try:
            held = np.frombuffer(file.get(offset, length), np.dtype(kind).newbyteorder(">"))
        finally:
            file.close()
        found[: len(held)] = held
    return found
