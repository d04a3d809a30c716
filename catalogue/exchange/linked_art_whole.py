"""Linked Art 1.0 in one file: all strict records of an export in one `@graph`, nothing left to fetch.

Each member is a valid record once the context that stands at the head is put back into it. They are put
into one order in the scratch folder, so that the file may be longer than the memory and is the same
in whatever order the records came.
"""

from __future__ import annotations

import json
from pathlib import Path

from catalogue.exchange import linked_art
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.exchange.sorted_lines import SortedLines
from catalogue.linked import strict
from catalogue.linked.contexts import LINKED_ART
from catalogue.linked.text import Node
from catalogue.linked.text import write as write_text

SAYS = "Linked Art 1.0 in one file: the same records as linked-art, for sending by post."
NAME = "records.linked-art.jsonld"

_RUN = 8 * 1024 * 1024


class Whole:
    """One export as one document."""

    def __init__(self, sender: Sender, scratch: Path) -> None:
        self._sender = sender
        self._scratch = scratch
        self._told: set[str] = set()
        self._lines = SortedLines(scratch, _RUN)

    def add(self, leaving: Leaving) -> Files:
        """Take in the records of one document, one a line, and the concepts not yet taken in."""
        lines: list[bytes] = []
        for _, record in linked_art.records(leaving, self._sender):
            if isinstance(record, dict):
                lines.append(_bare(record))
            elif record.iri not in self._told:
                self._told.add(record.iri)
                lines.append(_bare(strict.concept_record(record)))
        self._lines.add(lines)
        return ()

    def close(self) -> Files:
        """The file."""
        target = self._scratch / NAME
        before = b'{"@context":' + json.dumps(LINKED_ART).encode() + b',"@graph":[\n'
        with target.open("wb") as file:
            for line in self._lines.lines():
                file.write(before + line)
                before = b",\n"
            file.write(b"\n]}\n" if before == b",\n" else before + b"]}\n")
        return [(NAME, target)]


def begin(sender: Sender) -> Whole:
    """An export as one document, growing in the sender's scratch folder."""
    return Whole(sender, sender.needed_scratch())


def _bare(record: Node) -> bytes:
    return write_text({key: held for key, held in record.items() if key != "@context"})
