"""The index of the graph: every document's statements under its own address, asked in SPARQL.

    indexes/graph/current           which generation is asked
    indexes/graph/graph-2/made.json what made it; another version makes it anew
    indexes/graph/graph-2/store/    the engine's files
    indexes/graph/graph-2.lock      shared by those who ask, held alone by whoever takes in

Every document is a named graph; so is every file of the vocabulary. What the index knows of itself
(the last change it has taken in, the base, which vocabulary) is in a small graph too, written after
the documents: when the process dies between the two, they are taken in again. It is in-house:
commissions and contacts are in it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib.metadata import version
from itertools import chain, islice
from pathlib import Path

from pyoxigraph import Literal, NamedNode, Quad, RdfFormat, Store

from catalogue.errors import CatalogueError
from catalogue.indexes.asked import Answer, put
from catalogue.indexes.generations import Generations, NeedsRebuild, disk, write_whole
from catalogue.indexes.lock import locked, one_writer
from catalogue.places import folder as place
from catalogue.terms import NAMESPACE

Document = tuple[str, Sequence[str]]
"""A document's address, and its statements as lines of N-Triples: none when it is gone."""

FORMAT = 1
"""Raised with every change to what lies in the index; one of another format is made anew."""

LOCK = "graph.lock"
AT_ONCE = 500
"""Documents that a rebuild hands to the engine together."""

PATIENCE_SECONDS = 2.0
"""How long to wait for those who take in, or for those who ask, before it is `Busy`."""

_STORE, _MADE = "store", "made.json"
_INDEX = NamedNode(NAMESPACE + "index")
_CURSOR, _BASE, _VOCABULARY = (
    NamedNode(NAMESPACE + name) for name in ("lastChange", "base", "vocabulary")
)


def vocabulary_digest() -> str:
    """The SHA-256 of the terms and of our own properties, as they stand in vocab/."""
    digest = hashlib.sha256()
    for address, file in _vocabulary():
        digest.update(address.encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()


def _vocabulary() -> list[tuple[str, Path]]:
    """The address of each group of terms, and the file that holds it; last our own properties."""
    vocab = place("vocab")
    groups = sorted((vocab / "terms").glob("*.ttl"))
    return [
        *((NAMESPACE + each.stem, each) for each in groups),
        (NAMESPACE, vocab / "dorse.ttl"),
    ]


@dataclass(frozen=True, slots=True)
class Facts:
    """What the index knows of itself: its last change, the base its addresses begin with.

    `vocabulary` is the digest of the terms that it holds, by default those that lie in vocab/ now.
    """

    cursor: int
    base: str | None
    vocabulary: str = field(default_factory=vocabulary_digest)


class Graph:
    """The index in a folder of its own; several threads and processes may use it at once.

    Whatever goes wrong with its files is `NeedsRebuild`. It may be deleted at any time.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._generations = Generations(folder, "graph")

    def facts(self) -> Facts | None:
        """What the index was told last; None when there is none. Raises `NeedsRebuild`, `Busy`."""
        with self._reading() as where:
            if where is None:
                return None
            with _opened(where, read_only=True) as held:
                return _facts(held.store, where)

    def take_in(self, documents: Iterable[Document], facts: Facts) -> None:
        """Put what these documents say now in place of what they said; doing it again changes nothing.

        Raises `Busy` when somebody else is writing or asking, `CannotSave` when the disk refuses.
        """
        with self._writing():
            where = self._generations.pointed()
            if where is None:
                self._make(documents, facts)
                return
            _check_made(where)
            with self._alone(where), _opened(where) as held:
                for address, lines in documents:
                    replace(held.store, address, lines)
                if _facts(held.store, where).vocabulary != facts.vocabulary:
                    _load_vocabulary(held.store)
                _note(held.store, facts)
                held.store.flush()

    def rebuild(self, documents: Iterable[Document], facts: Facts) -> None:
        """Make the index anew; the old one answers until the new one is whole, then it goes."""
        with self._writing():
            self._make(documents, facts)

    def ask(
        self, question: str, *, prefixes: Mapping[str, str], limit: int, seconds: float
    ) -> Answer:
        """What a question in SPARQL finds; nothing in an index that is not there yet."""
        with self._reading() as where:
            store = where / _STORE if where else None
            return put(question, store, prefixes=prefixes, limit=limit, seconds=seconds)

    @staticmethod
    def check(question: str, *, prefixes: Mapping[str, str]) -> None:
        """Raise `BadData` for a question that cannot be read; it is asked of an empty index."""
        put(question, None, prefixes=prefixes, limit=0, seconds=1)

    def _make(self, documents: Iterable[Document], facts: Facts) -> None:
        target = self._generations.fresh()
        write_whole(target / _MADE, json.dumps(_MADE_BY))
        with _opened(target) as held:
            rest = iter(documents)
            while batch := list(islice(rest, AT_ONCE)):
                held.store.bulk_load(_n_quads(batch), format=RdfFormat.N_QUADS, lenient=True)
            _load_vocabulary(held.store)
            _note(held.store, facts)
            held.store.flush()
        self._generations.point(target)
        self._generations.clear(target)

    @contextmanager
    def _writing(self) -> Iterator[None]:
        with one_writer(self.folder, LOCK), disk(self.folder):
            yield

    @contextmanager
    def _alone(self, generation: Path) -> Iterator[None]:
        """A generation that nobody reads meanwhile."""
        lock = self._generations.lock(generation)
        with locked(lock, patience_seconds=PATIENCE_SECONDS):
            yield

    @contextmanager
    def _reading(self) -> Iterator[Path | None]:
        """The generation to read, which nobody changes meanwhile; None when there is no index."""
        while True:
            where = self._generations.pointed()
            if where is None:
                yield None
                return
            lock = self._generations.lock(where)
            with locked(lock, shared=True, patience_seconds=PATIENCE_SECONDS):
                # A rebuild may have swapped it, and taken it away, while we waited.
                if self._generations.pointed() == where:
                    _check_made(where)
                    yield where
                    return


def replace(store: Store, address: str, lines: Iterable[str]) -> None:
    """Put these statements in place of whatever the graph of this address held."""
    graph = NamedNode(address)
    store.remove_graph(graph)
    text = "\n".join(lines)
    if text:
        store.load(text, format=RdfFormat.N_TRIPLES, to_graph=graph, lenient=True)


def _load_vocabulary(store: Store) -> None:
    for address, file in _vocabulary():
        graph = NamedNode(address)
        store.remove_graph(graph)
        store.load(file.read_bytes(), format=RdfFormat.TURTLE, to_graph=graph)


class _Held:
    """An open store; let go of by name, for an error on its way up would keep it open."""

    def __init__(self, store: Store) -> None:
        self.store = store


@contextmanager
def _opened(generation: Path, *, read_only: bool = False) -> Iterator[_Held]:
    path = generation / _STORE
    held = None
    try:
        held = _Held(Store.read_only(str(path)) if read_only else Store(str(path)))
        yield held
    except CatalogueError:
        raise
    except (OSError, ValueError, RuntimeError) as fault:
        # The engine tells a full disk from a damaged file in its words only.
        if read_only or not isinstance(fault, OSError) or "No such file" in str(fault):
            raise NeedsRebuild(generation, f"cannot be read ({fault})") from None
        raise
    finally:
        if held is not None:
            del held.store
        if not read_only:
            # The engine writes a diary at every opening, and would keep a thousand of them.
            for diary in path.glob("LOG.old.*"):
                diary.unlink(missing_ok=True)


def _facts(store: Store, generation: Path) -> Facts:
    said = {
        quad.predicate.value: quad.object.value
        for quad in store.quads_for_pattern(_INDEX, None, None, _INDEX)
        if isinstance(quad.object, Literal)
    }
    cursor = said.get(_CURSOR.value, "")
    if not cursor.isdecimal():
        raise NeedsRebuild(generation, "was never finished")
    return Facts(int(cursor), said.get(_BASE.value) or None, said.get(_VOCABULARY.value, ""))


def _note(store: Store, facts: Facts) -> None:
    store.remove_graph(_INDEX)
    store.extend(
        Quad(_INDEX, name, Literal(value), _INDEX)
        for name, value in (
            (_CURSOR, str(facts.cursor)),
            (_BASE, facts.base or ""),
            (_VOCABULARY, facts.vocabulary),
        )
    )


_MADE_BY = {"format": FORMAT, "engine": version("pyoxigraph")}


def _check_made(generation: Path) -> None:
    try:
        made_by = json.loads((generation / _MADE).read_text("utf-8", "replace"))
    except (OSError, ValueError):
        made_by = None
    if made_by != _MADE_BY:
        raise NeedsRebuild(generation, "was made by another version")


def _n_quads(documents: Iterable[Document]) -> bytes:
    lines = (
        f"{line.removesuffix('.')}<{address}> ." for address, said in documents for line in said
    )
    return "\n".join(chain(lines, [""])).encode()
