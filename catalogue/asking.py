"""Asking: the index of the graph kept up with the ledger, and asked in SPARQL."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from catalogue.errors import Busy
from catalogue.indexes.asked import Answer
from catalogue.indexes.generations import NeedsRebuild
from catalogue.indexes.graph import Document, Facts, Graph
from catalogue.indexes.sparql import refuse
from catalogue.ledger import Ledger, Progress, Revision
from catalogue.linked.addresses import address_of
from catalogue.linked.contexts import prefixes
from catalogue.linked.documents import as_today
from catalogue.linked.quads import statements
from catalogue.linked.text import parse

BATCH = 200
"""How many documents are taken into the index at a time, and told of by a progress bar."""

REBUILT_FROM = 2000
"""With so many waiting it is quicker to make the index anew than to take them in one by one."""


class Asker:
    """The graph of one ledger. It is derived: the folder may be deleted at any time."""

    def __init__(self, ledger: Ledger, folder: Path) -> None:
        self.ledger = ledger
        self._graph = Graph(folder)

    def ask(
        self,
        question: str,
        *,
        limit: int = 1000,
        seconds: float = 10,
        progress: Progress | None = None,
    ) -> Answer:
        """What a question in SPARQL finds: at most `limit` rows, what was found after `seconds`.

        What was saved since the index last looked is taken in first, which `progress` is told of
        and the seconds don't count; when another process is at it, the answer says how many saves
        it is behind. Raises `BadData` for a question that cannot be read, would change something
        or would ask another machine.
        """
        refuse(question)
        behind = self._caught_up(question, progress)
        try:
            found = self._put(question, limit, seconds)
        except NeedsRebuild:
            self.rebuild(progress)
            found = self._put(question, limit, seconds)
        return replace(found, behind=behind)

    def catch_up(self, progress: Progress | None = None) -> int:
        """Take everything saved since into the index, in batches; how many documents that was."""
        known = self._known()
        # First the number, then the documents: a save in between is taken in twice, not lost.
        last = self.ledger.last()[0]
        if known == Facts(last, self._base):
            return 0
        touched = [document for document, _ in self.ledger.since(known.cursor)] if known else []
        if known is None or len(touched) > REBUILT_FROM:
            return self.rebuild(progress)
        done_to = self.ledger.acts_since(known.cursor)
        acts = {each: done_to.get(each, set()) for each in touched}
        if any("forget" in done for done in acts.values()):
            # The engine keeps what was replaced for a while; what was forgotten must be gone.
            return self.rebuild(progress)
        waiting = [*acts, *self._naming(acts)]
        merged = self._merged()
        try:
            for start in range(0, max(len(waiting), 1), BATCH):
                batch = waiting[start : start + BATCH]
                done = start + len(batch)
                # The cursor moves once everything is in: a batch taken in twice does no harm.
                upto = last if done == len(waiting) else known.cursor
                self._graph.take_in(self._of(batch, merged), Facts(upto, self._base))
                if progress:
                    progress(done, len(waiting))
        except NeedsRebuild:
            return self.rebuild(progress)
        return len(waiting)

    def rebuild(self, progress: Progress | None = None) -> int:
        """Make the index anew from the ledger alone; how many documents it holds."""
        last = self.ledger.last()[0]
        how_many = sum(1 for _ in self.ledger.heads())
        merged = self._merged()

        def documents() -> Iterator[Document]:
            for done, revision in enumerate(self.ledger.bodies(), 1):
                yield self._said(revision, merged)
                if progress and done % 20 == 0:
                    progress(done, how_many)

        self._graph.rebuild(documents(), Facts(last, self._base))
        return how_many

    @property
    def _base(self) -> str | None:
        return self.ledger.setting("base") or None

    def _put(self, question: str, limit: int, seconds: float) -> Answer:
        return self._graph.ask(question, prefixes=prefixes(), limit=limit, seconds=seconds)

    def _known(self) -> Facts | None:
        """What the index knows of itself; None when it cannot be caught up, only made anew."""
        try:
            known = self._graph.facts()
        except NeedsRebuild:
            return None
        return known if known and known.base == self._base else None

    def _caught_up(self, question: str, progress: Progress | None) -> int:
        """Take in what was saved since; how many documents are left out, for others are at work."""
        known = self._known()
        waiting = len(self.ledger.since(known.cursor)) if known else 0
        if known is None or waiting > BATCH:
            # A slip of the pen is told of before ten thousand works are taken in.
            self._graph.check(question, prefixes=prefixes())
        try:
            self.catch_up(progress)
        except Busy:
            if known is None:
                raise
            return waiting
        return 0

    def _naming(self, acts: Mapping[str, set[str]]) -> list[str]:
        """The other documents that name one which was merged into another, or no longer is."""
        moved = [each for each, done in acts.items() if done & {"merge", "unmerge"}]
        naming = [named for each in moved for named in self.ledger.mentioning(each)]
        return [each for each in dict.fromkeys(naming) if each not in acts]

    def _merged(self) -> dict[str, str]:
        """Every merged document as statements name it, and the one that answers in its stead."""
        into = {
            head.document: head.merged_into
            for head in self.ledger.heads(listed_only=False)
            if head.merged_into
        }

        def answering(document: str) -> str:
            return answering(into[document]) if document in into else document

        return {
            f"<{self._address(each)}>": f"<{self._address(answering(each))}>" for each in into
        }

    def _address(self, document: str) -> str:
        return address_of(document, document, self._base)

    def _of(self, documents: Iterable[str], merged: dict[str, str]) -> Iterator[Document]:
        """What the index holds of these; nothing of one that was withdrawn or merged."""
        for document in documents:
            if self.ledger.head(document).listed:
                yield self._said(self.ledger.read(document), merged)
            else:
                yield self._address(document), ()

    def _said(self, revision: Revision, merged: dict[str, str]) -> Document:
        """The statements of a document, a merged one named by the one that answers for it."""
        document = as_today(parse(revision.body), revision.format)
        lines = statements(document, self._base)
        if merged:
            lines = tuple(_renamed(line, merged) for line in lines)
        return self._address(revision.document), lines


def _renamed(line: str, names: dict[str, str]) -> str:
    """A statement with the names of its subject and its object replaced."""
    subject, verb, value = line.removesuffix(" .").split(" ", 2)
    return f"{names.get(subject, subject)} {verb} {names.get(value, value)} ."
