"""What a format is given to write: documents that have been through redaction, and names for the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from catalogue.linked.text import Node, parse


@dataclass(frozen=True)
class Leaving:
    """One document on its way out: its stored text after redaction, and a stem for file names."""

    document_id: str
    body: bytes
    stem: str

    @cached_property
    def document(self) -> Node:
        """The same as nodes."""
        return parse(self.body)


@dataclass(frozen=True, slots=True)
class Sender:
    """Who sends: the base that addresses are resolved against, and what other documents are called."""

    base: str | None
    labels: Callable[[str], tuple[str, str]]


Files = Iterable[tuple[str, bytes]]
"""Names and contents of the files that one document becomes."""
