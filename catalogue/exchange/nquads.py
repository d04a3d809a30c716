"""Every statement of what leaves as N-Quads: one file, sorted, each statement once.

The graph that a statement stands in has the address of the document that makes it. Records of ours
have no nodes without an address; those that another institution left nameless stay so.
"""

from __future__ import annotations

from pathlib import Path

from catalogue.exchange import full_graph
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.exchange.sorted_lines import RUN, SortedLines
from catalogue.linked.addresses import address_of, full_address, is_own
from catalogue.linked.ntriples import full
from catalogue.linked.quads import statements
from catalogue.linked.text import Node

SAYS = "N-Quads: every statement on a line of its own, for loading into a store of linked data."
NAME = "records.nq"


class NQuads:
    """One export as N-Quads."""

    def __init__(self, sender: Sender, scratch: Path, run: int = RUN) -> None:
        self._sender = sender
        self._target = scratch / NAME
        self._lines = SortedLines(scratch, run)

    def add(self, leaving: Leaving) -> Files:
        """Take in the statements of one document."""
        document = full_graph.named(leaving, self._sender)
        graph = graph_name(document, leaving.document_id, self._sender.base)
        ending = f" {graph} ."
        self._lines.add(
            (said.removesuffix(" .") + ending).encode()
            for said in statements(document, self._sender.base)
        )
        return ()

    def close(self) -> Files:
        """The file."""
        yield NAME, self._lines.into(self._target)


def begin(sender: Sender) -> NQuads:
    """An export as N-Quads, its runs in the sender's scratch folder."""
    return NQuads(sender, sender.needed_scratch())


def graph_name(document: Node, document_id: str, base: str | None) -> str:
    """The address of a document as N-Quads writes it; one that is no full address gets ours."""
    address = full_address(document) or document_id
    if is_own(address):
        address = address_of(address, document_id, base)
    return full(address) or f"<{address_of(document_id, document_id, base)}>"
