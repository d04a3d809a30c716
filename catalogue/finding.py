"""Finding: the index of words kept up with the ledger, and asked.

A save is held in memory by the search after it, and is written to the index in a quiet moment. Nothing
is lost with what is held: the ledger has it, and the next start holds it again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from threading import RLock, Timer

from catalogue.errors import Busy, CannotSave, NotOnFile
from catalogue.indexes.engines import words_in
from catalogue.indexes.words import Document, NeedsRebuild, Query, Results
from catalogue.ledger import Head, Ledger, Progress
from catalogue.linked.text import parse
from catalogue.projecting import AT_ONCE, NAMES, Projection
from catalogue.record import is_address
from catalogue.sharing import shared_out

CATCH_UP_AT_ONCE = 200
"""How many documents a search holds before it answers; more are left to a rebuild."""

QUIET_SECONDS = 5.0
"""So long nobody has searched when what is held is written to the index."""

HELD_AT_CLOSING = 20
"""More than these are written when the studio is closed, so that the next start need not hold them."""


class Finder:
    """The index of one ledger. It is derived: the folder may be deleted at any time."""

    def __init__(self, ledger: Ledger, folder: Path) -> None:
        self.ledger = ledger
        self._folder = folder
        self._words = words_in(folder, ledger.setting("engine"))
        self._projection = Projection(ledger)
        self._looking = RLock()
        self._quiet: Timer | None = None

    def close(self) -> None:
        """Let go of the index; what is held is written first when there is much of it."""
        if self._quiet:
            self._quiet.cancel()
        with suppress(NeedsRebuild):
            if len(self._words.waiting) > HELD_AT_CLOSING:
                self.settle()
        self._words.close()

    def search(self, query: Query) -> Results:
        """Works and people by words, artist, kind, place and years, best first, grouped by work.

        What was saved since is found as well; when that is too much to wait for, the answer says
        how many saves it is behind.
        """
        try:
            return self._words.search(query, behind=self._look(), called=self._called)
        except NeedsRebuild:
            # The index is derived: whatever is wrong with it, the ledger makes a new one.
            self.rebuild()
            return self._words.search(query, called=self._called)

    def _called(self, party: str) -> str:
        """The name of a party, to explain a question that asks for it by its id."""
        return next(iter(self._projection.names(party)), party)

    def _look(self) -> int:
        """Hold what was saved since; how many saves that leaves out."""
        with self._looking:
            # First the number, then the documents: a save in between is taken in twice, not lost.
            last = self.ledger.last()[0]
            self._refuse_forgotten()
            reached = self._words.reached
            if reached == last:
                return 0
            waiting = self._waiting(reached)
            if len(waiting) > CATCH_UP_AT_ONCE:
                return len(waiting)
            self._words.hold(self._documents(waiting), last)
            self._settle_when_quiet()
            return 0

    def settle(self) -> None:
        """Write what is held to the index, unless another process is at it."""
        with suppress(Busy, CannotSave, NeedsRebuild):
            self._words.settle()

    def _settle_when_quiet(self) -> None:
        if self._quiet:
            self._quiet.cancel()
        many = len(self._words.waiting) >= CATCH_UP_AT_ONCE
        self._quiet = Timer(0 if many else QUIET_SECONDS, self.settle)
        self._quiet.daemon = True
        self._quiet.start()

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
                    self._documents(batch),
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
        also = self._projection.on_file.also_touched(known)
        parties = [document for document in known if document.startswith("party/")]
        names = {words for party in parties for words in self._known_as(party)}
        also |= self._words.with_fact(NAMES, names)
        return touched + [
            (each, self.ledger.head(each))
            for each in sorted(also - known)
            if self.ledger.has(each)
        ]

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
        heads = [(head.document, head.touched) for head in self.ledger.heads()]
        told = progress or (lambda done, total: None)
        with self._words.making_anew(last) as target:
            if not shared_out(self.ledger.folder, target, heads, told):
                self._words.write_one(target, self._all(heads, told))
        return len(heads)

    def _all(self, heads: list[tuple[str, int]], told: Progress) -> Iterator[Document]:
        revisions = ((self.ledger.read(document), touched) for document, touched in heads)
        for done, each in enumerate(self._projection.of(revisions), 1):
            yield each
            if done % AT_ONCE == 0:
                told(done, len(heads))

    def _documents(self, touched: Iterable[tuple[str, Head]]) -> Iterator[Document]:
        """What the index holds of these documents; nothing of one that was withdrawn or merged."""
        for document, head in touched:
            if not head.listed:
                yield document, ()
            else:
                yield from self._projection.of([(self.ledger.read(document), head.touched)])
