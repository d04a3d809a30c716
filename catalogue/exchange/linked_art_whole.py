"""Linked Art 1.0 in one file: all strict records of an export in one `@graph`, nothing left to fetch.

Each member is a valid record once the context that stands at the head is put back into it. The file
grows in the scratch folder, so that it may be longer than the memory.
"""

from __future__ import annotations

import json
from pathlib import Path

from catalogue.exchange import linked_art
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked import strict
from catalogue.linked.contexts import LINKED_ART
from catalogue.linked.text import Node
from catalogue.linked.text import write as write_text

SAYS = "Linked Art 1.0 in one file: the same records as linked-art, for sending by post."
NAME = "records.linked-art.jsonld"


class Whole:
    """One export as one document."""

    def __init__(self, sender: Sender, scratch: Path) -> None:
        self._sender = sender
        self._target = scratch / NAME
        self._told: set[str] = set()
        self._between = b"\n"
        self._append(b'{"@context":' + json.dumps(LINKED_ART).encode() + b',"@graph":[')

    def add(self, leaving: Leaving) -> Files:
        """Write the records of one document, one a line, and the concepts not yet written."""
        lines: list[bytes] = []
        for _, record in linked_art.records(leaving, self._sender):
            if isinstance(record, dict):
                lines.append(_bare(record))
            elif record.iri not in self._told:
                self._told.add(record.iri)
                lines.append(_bare(strict.concept_record(record)))
        if lines:
            self._append(self._between + b",\n".join(lines))
            self._between = b",\n"
        return ()

    def close(self) -> Files:
        """The file."""
        self._append(b"\n]}\n")
        yield NAME, self._target

    def _append(self, text: bytes) -> None:
        with self._target.open("ab") as file:
            file.write(text)


def begin(sender: Sender) -> Whole:
    """An export as one document, growing in the sender's scratch folder."""
    return Whole(sender, sender.needed_scratch())


def _bare(record: Node) -> bytes:
    return write_text({key: held for key, held in record.items() if key != "@context"})
