"""One page of what a tree finds with the second engine; of very many entries only the best are looked at.

Up to `MOST_LOOKED_AT` entries everything is exact: they are put in order and counted as in the first
engine. Of more the engine gives the first by score or by date, and counts works and facets itself, a
little roughly (`Found.exact` is False).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
from tantivy import Occur, Query

from catalogue.indexes.counting import counted
from catalogue.indexes.engine import Found, Page
from catalogue.indexes.entry import Entry
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.large.fields import ORDERS, SCHEMA, safe
from catalogue.indexes.large.part import LargePart
from catalogue.indexes.large.sieve import LargeSieve, joined, moved
from catalogue.indexes.matches import Entries, Matches
from catalogue.indexes.sieve import asks_for_time
from catalogue.indexes.snapshot import Snapshot
from catalogue.indexes.tree import Tree

MOST_LOOKED_AT = 40_000
"""Entries that are all looked at (about 10 ms)."""

FOR_A_WORK = 30
"""So many entries are fetched at first for every work that is shown."""

MOST_VALUES = 500
"""Values of a facet that are counted when not everything is looked at."""

ROUGHLY = 0.97
"""The engine counts works with an error of one or two in a hundred; so many are there at least."""

_Asked = Sequence[tuple[LargePart, int, Query]]


class LargeSnapshot(Snapshot):
    """The index at one commit with what was saved since; `cursor` is the last change in it."""

    def __init__(
        self, holdings: Holdings, cursor: int, *, most_looked_at: int = MOST_LOOKED_AT
    ) -> None:
        super().__init__(holdings, cursor)
        self._most = most_looked_at

    def find(self, tree: Tree, page: Page) -> Found:
        """One page of what a tree finds."""
        sieve = LargeSieve(self.holdings.parts)
        asked = list(sieve.questions(tree))
        often = sum(part.count(question) for part, _, question in asked)
        if often <= self._most or not all(part.in_one_piece for part, _, _ in asked):
            return self._answer(sieve, tree, page)
        return self._first_ones(sieve, asked, tree, page)

    def _first_ones(self, sieve: LargeSieve, asked: _Asked, tree: Tree, page: Page) -> Found:
        """The page from the first entries of each part, the rest only counted."""
        upto = max(1, page.first + page.limit)
        recent = self._alive(sieve.found_in_memory(tree))
        first = [self._first_of(held, page.order, upto) for held in asked]
        looked_at = joined([*first, recent])
        works = self.holdings.works[looked_at.entries]
        starts = np.flatnonzero(np.diff(works, prepend=-1))
        scores = np.round(looked_at.scores, 4)
        chosen = self._chosen(works[starts], scores, looked_at.entries, starts, page)
        undated = 0
        if asks_for_time(tree):
            wider = [part.rough(q) for part, _, q in sieve.questions(tree, undated_too=True)]
            undated = max(0, sum(wider) - sum(part.rough(q) for part, _, q in asked))
        roughly = ROUGHLY * sum(
            part.rough(question) * (1 - len(part.dead) / part.size)
            for part, _, question in asked
            if part.size
        )
        return Found(
            works=self._all_of_works(asked, recent, works[starts][chosen].tolist(), page),
            total=max(len(starts), int(roughly) + len(self._works(recent))),
            exact=False,
            facets={name: self._counted(asked, recent.entries, name) for name in page.facets},
            undated=undated,
        )

    def _first_of(self, held: tuple[LargePart, int, Query], order: str, works: int) -> Matches:
        """The first entries of a part, of so many works at least."""
        part, offset, question = held
        limit = works * FOR_A_WORK
        while True:
            here = part.first_of(question, limit, ORDER_BY.get(order))
            found = self._alive(moved(here, offset))
            if len(self._works(found)) >= works or len(here.entries) < limit:
                return found
            limit *= 4

    def _all_of_works(
        self, asked: _Asked, recent: Matches, works: Sequence[int], page: Page
    ) -> tuple[tuple[str, tuple[tuple[float, Entry], ...]], ...]:
        """The works of a page with all their statements that were found."""
        found = [recent]
        for part, offset, question in asked:
            before = int(self.holdings.works[offset]) if part.size else 0
            here = [at - before for at in works if 0 <= at - before < len(part.firsts)]
            if here:
                of_these = Query.const_score_query(
                    Query.term_set_query(SCHEMA, "work", here), 0.0
                )
                both = [(Occur.Must, question), (Occur.Must, of_these)]
                found.insert(-1, moved(part.all_of(Query.boolean_query(both)), offset))
        matches = self._alive(joined(found))
        of_work = self.holdings.works[matches.entries]
        scores = np.round(matches.scores, 4)
        shown = []
        for work in works:
            at = np.flatnonzero(of_work == work)
            shown.append(self._shown(matches.entries[at], scores[at], page))
        return tuple(shown)

    def _counted(self, asked: _Asked, recent: Entries, field: str) -> list[tuple[str, int]]:
        """The values of a facet with their works, most first."""
        counts: Counter[str] = Counter()
        for part, _, question in asked:
            counts.update(part.counted(question, safe(field), MOST_VALUES))
        counts.update(dict(counted(self.holdings.parts, field, recent, self.holdings.size)))
        return sorted(counts.items(), key=lambda item: (-item[1], item[0]))


ORDER_BY = {"number": "serial", **{name: name for name in ORDERS}}
"""By what an order of works is asked; entries lie in the order of numbers, which is how ties fall."""
