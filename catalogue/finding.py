"""Finding: the index of words kept up with the ledger, and asked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path

from catalogue.errors import NotOnFile
from catalogue.indexes.entries import entries
from catalogue.indexes.words import Entry, NeedsRebuild, Query, Results, Words
from catalogue.keeping import as_read, at
from catalogue.ledger import Head, Ledger, Progress
from catalogue.linked.text import parse
from catalogue.on_file import OnFile
from catalogue.record import Party, is_address

CATCH_UP_AT_ONCE = 200
"""How many documents a search takes into the index before it answers; more are left to a rebuild."""


class Finder:
    """The index of one ledger. It is derived: the folder may be deleted at any time."""

    def __init__(self, ledger: Ledger, folder: Path) -> None:
        self.ledger = ledger
        self._folder = folder
        self._words = Words(folder)
        self._on_file = OnFile(ledger)

    def close(self) -> None:
        """Let go of the index."""
        self._words.close()

    def search(self, query: Query) -> Results:
        """Works and people by words, artist, kind, place and years, best first, grouped by work.

        What was saved since the index last looked is taken in first; when that is too much to wait
        for, or another process is at it, the answer says how many saves it is behind.
        """
        try:
            # First the number, then the documents: a save in between is taken in twice, not lost.
            last = self.ledger.last()[0]
            self._refuse_forgotten()
            waiting = self._waiting(self._words.cursor)
            if len(waiting) > CATCH_UP_AT_ONCE:
                return self._words.search(query, behind=len(waiting))
            extra = self._words.catch_up(self._entries_of(waiting), last)
            return self._words.search(query, extra)
        except NeedsRebuild:
            # The index is derived: whatever is wrong with it, the ledger makes a new one.
            self.rebuild()
            return self._words.search(query)

    def catch_up(self, progress: Progress | None = None) -> int:
        """Take everything saved since into the index, in batches; how many documents that was."""
        try:
            last = self.ledger.last()[0]
            self._refuse_forgotten()
            waiting = self._waiting(self._words.cursor)
            if self._words.cursor == 0 and len(waiting) > CATCH_UP_AT_ONCE:
                return self.rebuild(progress)
            for start in range(0, len(waiting), CATCH_UP_AT_ONCE):
                batch = waiting[start : start + CATCH_UP_AT_ONCE]
                done = start + len(batch)
                # The cursor moves once everything is in: a batch taken in twice does no harm.
                self._words.take_in(
                    self._entries_of(batch),
                    last if done == len(waiting) else self._words.cursor,
                )
                if progress:
                    progress(done, len(waiting))
        except NeedsRebuild:
            return self.rebuild(progress)
        return len(waiting)

    def _refuse_forgotten(self) -> None:
        """What was forgotten must be gone: the engine keeps what was replaced for a while."""
        cursor = self._words.cursor
        if not 0 < cursor < self.ledger.last()[0]:
            return
        if any("forget" in acts for acts in self.ledger.acts_since(cursor).values()):
            raise NeedsRebuild(self._folder, "something was forgotten since it was made")

    def _waiting(self, cursor: int) -> list[tuple[str, Head]]:
        """The documents touched since, and the works that name a party touched since."""
        touched = self.ledger.since(cursor)
        if cursor == 0:
            return touched
        known = {document for document, _ in touched}
        told = self._on_file.also_touched(known) - known
        touched += [
            (work, self.ledger.head(work)) for work in sorted(told) if self.ledger.has(work)
        ]
        parties = [document for document in known if document.startswith("party/")]
        if not parties:
            return touched
        known |= told
        names = {words.encode() for party in parties for words in self._known_as(party)}
        named = re.compile(b"|".join(map(re.escape, sorted(names))))
        naming = [
            (revision.document, self.ledger.head(revision.document))
            for revision in self.ledger.bodies("work")
            if revision.document not in known and named.search(revision.body)
        ]
        return [*touched, *naming]

    def _known_as(self, party: str) -> Iterator[str]:
        """The ids by which works name a party: its own, a merged one's, an address elsewhere."""
        yield party
        yield from self.ledger.answering_for(party)
        with suppress(NotOnFile):
            address = parse(self.ledger.read(party).body).get("id")
            if isinstance(address, str) and is_address(address):
                yield address

    def rebuild(self, progress: Progress | None = None) -> int:
        """Make the index anew from the ledger alone; how many documents it holds."""
        last = self.ledger.last()[0]
        how_many = sum(1 for _ in self.ledger.heads())
        # An artist's names are asked for at every one of their works.
        names = cache(self._names)

        def documents() -> Iterator[tuple[str, Sequence[Entry]]]:
            for done, revision in enumerate(self.ledger.bodies(), 1):
                record = as_read(revision).record
                yield revision.document, entries(record, names, self._on_file.known(record))
                if progress and done % 20 == 0:
                    progress(done, how_many)

        self._words.rebuild(documents(), last)
        return how_many

    def _entries_of(
        self, touched: Iterable[tuple[str, Head]]
    ) -> Iterator[tuple[str, Sequence[Entry]]]:
        """What the index holds of these documents; nothing of one that was withdrawn or merged."""
        names = cache(self._names)
        for document_id, head in touched:
            if not head.listed:
                yield document_id, ()
            else:
                record = as_read(self.ledger.read(document_id)).record
                yield document_id, entries(record, names, self._on_file.known(record))

    def _names(self, party: str) -> tuple[str, ...]:
        """Every form of a party's name, the one to show first."""
        try:
            own = at(self.ledger, party) if is_address(party) else party
            record = as_read(self.ledger.read(own)).record if own else None
        except NotOnFile:
            return ()
        return tuple(name.text for name in record.names) if isinstance(record, Party) else ()
