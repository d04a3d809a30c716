"""What a format is given to write: documents that have been through redaction, and names for the rest.

A format is begun once an export. Documents go in one by one and the files that are ready come out, so
that an export of any length needs the memory of one document. A format that makes one file of all
documents (a table, a parcel) writes it in the sender's scratch folder and hands it out when closed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Protocol

from catalogue.errors import BadSetting
from catalogue.exchange.parcels.pictures import Pictures
from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import Node, parse, write
from catalogue.record import Offer, Paper, Photo, Record
from catalogue.record.rules import UUID, documents_named

UNNAMED = "unnamed"
"""What is called so is not on file, or is called nothing that may leave."""

_PARTY = re.compile(rf"party/{UUID}")
_REFERRED = re.compile(rf'"id":"(party/{UUID})"')


@dataclass(frozen=True)
class Leaving:
    """One document on its way out after redaction, and a stem for file names.

    It is held as the stored text, as nodes, or as what makes them, whichever it came as; the others are
    made when asked for. `kept` is its record where redaction made one: a format that writes of the
    record alone never waits for the nodes.
    """

    document_id: str
    stem: str
    held: bytes | Node | Callable[[], Node]
    kept: Record | None = None

    @cached_property
    def body(self) -> bytes:
        """Its text."""
        return self.held if isinstance(self.held, bytes) else write(self.document)

    @cached_property
    def document(self) -> Node:
        """Its nodes."""
        if isinstance(self.held, bytes):
            return parse(self.held)
        return self.held() if callable(self.held) else self.held

    @cached_property
    def record(self) -> Record:
        """Its record, read once for all formats that are written of it."""
        return self.kept or from_jsonld(self.document, document_id=self.document_id)

    def parties(self) -> set[str]:
        """The people and firms of ours that it names, by id."""
        if self.kept is not None and callable(self.held):
            return set(filter(_PARTY.fullmatch, documents_named(self.kept)))
        return set(_REFERRED.findall(self.body.decode()))


def _no_picture(photo: Photo) -> Path | None:
    return None


def _no_offer(work: str) -> Offer | None:
    return None


def _no_original(held: Photo | Paper) -> Path | None:
    return None


@dataclass(frozen=True, slots=True)
class Sender:
    """Who sends, and what a format may ask of the studio.

    `base` is what addresses are resolved against (None: `urn:uuid:`), `labels` gives the type and the
    name of another document, `picture` a copy of a photograph that may leave (JPEG without any
    metadata, upright, at most the size asked for), None where there is none; `scratch` is a folder
    for this export alone that is gone afterwards; `profile` the list of what may leave. `original` is
    the untouched file of a photograph or a paper, None wherever not everything may leave. `studio` is
    what the sender calls itself, `changed` the day (ISO) of the last change to anything kept there.
    `offer` is what of the offer of a work (by its document) may be told, None where it is not for sale.
    `pictures` says of which photographs copies are wanted.
    """

    base: str | None
    labels: Callable[[str], tuple[str, str]]
    profile: str = "public"
    picture: Callable[[Photo], Path | None] = _no_picture
    scratch: Path | None = None
    original: Callable[[Photo | Paper], Path | None] = _no_original
    studio: str = ""
    changed: str | None = None
    offer: Callable[[str], Offer | None] = _no_offer
    pictures: Pictures = field(default_factory=Pictures)

    def needed_scratch(self) -> Path:
        """The scratch folder, for a format that cannot do without."""
        if self.scratch is None:
            raise BadSetting("this format needs a folder to work in", remedy="export into one")
        return self.scratch


Content = bytes | Path
"""The content of a file: its bytes, or a finished file in the scratch folder, which is moved away."""

Files = Iterable[tuple[str, Content]]
"""Names (with `/` for folders) and contents of files that are ready."""


class Writing(Protocol):
    """One export in one format under way."""

    def add(self, leaving: Leaving) -> Files:
        """Take in one document; the files that are ready."""

    def close(self) -> Files:
        """Take in no more; the files that had to wait for the last document."""


@dataclass(frozen=True, slots=True)
class _ByItself:
    sender: Sender
    write: Callable[[Leaving, Sender], Files]

    def add(self, leaving: Leaving) -> Files:
        return self.write(leaving, self.sender)

    def close(self) -> Files:
        return ()


def by_itself(write: Callable[[Leaving, Sender], Files]) -> Callable[[Sender], Writing]:
    """The writing of a format in which every document becomes files of its own."""
    return lambda sender: _ByItself(sender, write)
