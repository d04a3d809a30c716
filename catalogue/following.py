"""What is known of every listed document of a kind, kept up with the ledger: no page walks all of them."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Generic, TypeVar, cast

from catalogue.errors import NotOnFile
from catalogue.ledger import Ledger, Revision

T = TypeVar("T")


class Following(Generic[T]):
    """What `know` makes of each document of a kind; asked again only for those that changed.

    `listed_only` leaves out what was taken out of the lists or merged.

    >>> with Ledger.create(None) as ledger:
    ...     sizes = Following(ledger, "work", lambda revision: len(revision.body))
    ...     with ledger.change(who="N. Feld", why="a first work") as change:
    ...         _ = change.save("work/1", b'{"title": "Mill"}', expected=None)
    ...     dict(sizes.now())
    {'work/1': 17}
    """

    def __init__(
        self,
        ledger: Ledger,
        kind: str,
        know: Callable[[Revision], T],
        *,
        listed_only: bool = True,
    ) -> None:
        self._listed_only = listed_only
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
                bodies = self._ledger.bodies(self._kind, listed_only=self._listed_only)
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
            listed = not head.withdrawn and head.merged_into is None
            if listed or not self._listed_only:
                with suppress(NotOnFile):  # its text was forgotten
                    revision = self._ledger.read(head.document, head.revision)
                    known[head.document] = self._know(revision)
        self._known = known


class Remembered:
    """What was worked out since the last change, the last few of it: asked again, it is there at once."""

    def __init__(self, ledger: Ledger, at_most: int = 32) -> None:
        self._ledger = ledger
        self._at_most = at_most
        self._lock = threading.Lock()
        self._held: OrderedDict[tuple[object, ...], object] = OrderedDict()

    def get(self, key: tuple[object, ...], make: Callable[[], T]) -> T:
        """What `make` gives, or gave for this key while nothing was saved."""
        asked = (self._ledger.last()[0], *key)
        with self._lock:
            if asked in self._held:
                self._held.move_to_end(asked)
                return cast("T", self._held[asked])
        found = make()
        with self._lock:
            self._held[asked] = found
            while len(self._held) > self._at_most:
                self._held.popitem(last=False)
        return found
