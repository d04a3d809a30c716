"""What is known of every listed document of a kind, kept up with the ledger: no page walks all of them."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Generic, TypeVar

from catalogue.errors import NotOnFile
from catalogue.ledger import Ledger, Revision

T = TypeVar("T")


class Following(Generic[T]):
    """What `know` makes of each listed document of a kind; asked again only for those that changed.

    >>> with Ledger.create(None) as ledger:
    ...     sizes = Following(ledger, "work", lambda revision: len(revision.body))
    ...     with ledger.change(who="N. Feld", why="a first work") as change:
    ...         _ = change.save("work/1", b'{"title": "Mill"}', expected=None)
    ...     dict(sizes.now())
    {'work/1': 17}
    """

    def __init__(self, ledger: Ledger, kind: str, know: Callable[[Revision], T]) -> None:
        self._ledger = ledger
        self._kind = kind
        self._know = know
        self._lock = threading.Lock()
        self._last: int | None = None
        self._known: Mapping[str, T] = {}

    def now(self) -> Mapping[str, T]:
        """What is known as of the last change, by document. It is never changed; take it again."""
        with self._lock:
            last = self._ledger.last()[0]
            if self._last is None:
                bodies = self._ledger.bodies(self._kind)
                self._known = {each.document: self._know(each) for each in bodies}
            elif last != self._last:
                self._catch_up(self._last)
            self._last = last
            return self._known

    def _catch_up(self, since: int) -> None:
        own = f"{self._kind}/"
        touched = [
            head for _, head in self._ledger.since(since) if head.document.startswith(own)
        ]
        if not touched:
            return
        # Whoever goes through what was known before must not see it change.
        known = dict(self._known)
        for head in touched:
            known.pop(head.document, None)
            if not head.withdrawn and head.merged_into is None:
                with suppress(NotOnFile):  # its text was forgotten
                    known[head.document] = self._know(self._ledger.read(head.document))
        self._known = known
