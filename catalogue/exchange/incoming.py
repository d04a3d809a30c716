"""What a reader of files yields: documents as they will be kept, or what cannot be taken in and why.

A reader takes one file and looks nothing up but what the receiver tells it. It never saves: what
becomes of each document is decided where they all arrive.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from catalogue.errors import CatalogueError
from catalogue.linked.text import Node
from catalogue.record import Record


@dataclass(frozen=True, slots=True)
class Arrival:
    """One document of a file, as it will be kept: its id here, its record, what was not understood.

    `media_type` is that of the file, which is kept beside the first revision; `folder` is where the
    pictures and papers lie that came inside the file (None: beside it), `came_in` the zip that the file
    came in, `said` what a person should be told of it. `part` says that other files may tell more of
    the same document: what one import brings of it is joined. `reduced` is a record of ours in a form that
    leaves out what tells its values apart: nothing is added from it to what is on file.
    """

    source: Path
    document_id: str
    document: Node
    record: Record
    not_understood: tuple[str, ...]
    media_type: str = "application/ld+json"
    folder: Path | None = None
    part: bool = False
    came_in: Path | None = None
    said: tuple[str, ...] = ()
    reduced: bool = False

    @property
    def place(self) -> str:
        """Where it came from, as a person knows it."""
        return _place(self.source, self.came_in)


@dataclass(frozen=True, slots=True)
class Refusal:
    """One file, or one document of it, that cannot be taken in, and why."""

    source: Path
    error: CatalogueError
    came_in: Path | None = None

    @property
    def place(self) -> str:
        """Where it came from, as a person knows it."""
        return _place(self.source, self.came_in)


def _place(source: Path, came_in: Path | None) -> str:
    return str(source) if came_in is None else f"{came_in}: {source.name}"


@dataclass(frozen=True, slots=True)
class Receiver:
    """Who takes in, and what a reader may ask of the studio.

    `base` is the studio's own address (None: `urn:uuid:`), `kinds` tells which kind of document a
    UUID already names here (None: nothing on file). `scratch` is a folder for this import alone that
    is gone afterwards. `on_file` gives a document as it stands, None where there is none.
    """

    base: str | None = None
    kinds: Callable[[str], str | None] = lambda _uuid: None
    scratch: Path | None = None
    on_file: Callable[[str], Record | None] = lambda _document_id: None


Reads = Callable[[Path, Receiver], Iterator[Arrival | Refusal]]
"""A reader: the documents of one file, or what is wrong with it. It raises nothing."""
