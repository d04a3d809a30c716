"""What a format is given to write: documents that have been through redaction, and names for the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from catalogue.linked.text import Node, parse, write


@dataclass(frozen=True)
class Leaving:
    """One document on its way out after redaction, and a stem for file names.

    It is held as the stored text or as nodes, whichever it came as; the other is made when asked for.
    """

    document_id: str
    stem: str
    held: bytes | Node

    @cached_property
    def body(self) -> bytes:
        """Its text."""
        return self.held if isinstance(self.held, bytes) else write(self.held)

    @cached_property
    def document(self) -> Node:
        """Its nodes."""
        return parse(self.held) if isinstance(self.held, bytes) else self.held


@dataclass(frozen=True, slots=True)
class Sender:
    """Who sends: the base that addresses are resolved against, and what other documents are called."""

    base: str | None
    labels: Callable[[str], tuple[str, str]]


Files = Iterable[tuple[str, bytes]]
"""Names and contents of the files that one document becomes."""
