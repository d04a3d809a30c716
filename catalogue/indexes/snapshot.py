"""One page of what a tree finds: works in order, their statements, facets, and those without a date."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.counting import counted
from catalogue.indexes.engine import Found, Page
from catalogue.indexes.entry import Entry
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.matches import Entries, Matches, once
from catalogue.indexes.sieve import Sieve, Sieving, asks_for_time
from catalogue.indexes.stored import OPEN_AFTER, OPEN_BEFORE
from catalogue.indexes.tree import Tree


class Snapshot:
    """The index at one commit with what was saved since; `cursor` is the last change in it."""

    def __init__(self, holdings: Holdings, cursor: int) -> None:
        self.holdings = holdings
        self.cursor = cursor

    def find(self, tree: Tree, page: Page) -> Found:
        """One page of what a tree finds."""
        return self._answer(Sieve(self.holdings), tree, page)

    def _answer(self, sieve: Sieving, tree: Tree, page: Page) -> Found:
        matches = self._alive(sieve.found(tree))
        undated = 0
        if asks_for_time(tree):
            wider = self._alive(sieve.found(tree, undated_too=True))
            undated = len(self._works(wider)) - len(self._works(matches))
        entries = matches.entries
        if not len(entries):
            return Found(undated=undated, facets=dict.fromkeys(page.facets, ()))
        works = self.holdings.works[entries]
        starts = np.flatnonzero(np.diff(works, prepend=-1))
        ends = np.append(starts[1:], len(entries))
        scores = np.round(matches.scores, 4)
        chosen = self._chosen(works[starts], scores, entries, starts, page)
        return Found(
            works=tuple(
                self._shown(entries[starts[at] : ends[at]], scores[starts[at] : ends[at]], page)
                for at in chosen
            ),
            total=len(starts),
            facets={
                name: counted(self.holdings.parts, name, entries, self.holdings.size)
                for name in page.facets
            },
            undated=undated,
        )

    def _alive(self, matches: Matches) -> Matches:
        return matches.only(self.holdings.alive[matches.entries])

    def _works(self, matches: Matches) -> Entries:
        return once(self.holdings.works[matches.entries])

    def _chosen(
        self,
        works: Entries,
        scores: NDArray[np.float64],
        entries: Entries,
        starts: Entries,
        page: Page,
    ) -> Entries:
        """The places of the works of this page among those found."""
        first = self._first_by(page.order, works, scores, entries, starts)
        upto = page.first + page.limit
        places = np.arange(len(works))
        if 0 < upto < len(works) // 4:
            # what cannot be on this page need not be put in order
            limit = np.partition(first, upto - 1)[upto - 1]
            places = np.flatnonzero(first <= limit)
        ranks = self.holdings.rank[works[places]]
        order = np.lexsort((ranks, first[places]))
        return places[order[page.first : upto]]

    def _first_by(
        self,
        order: str,
        works: Entries,
        scores: NDArray[np.float64],
        entries: Entries,
        starts: Entries,
    ) -> NDArray[np.float64]:
        """What works are put in order by before their numbers, least first."""
        match order:
            case "best":
                return -np.maximum.reduceat(scores, starts)
            case "newest":
                return -self.holdings.touched[works].astype(np.float64)
            case "made" | "own":
                prefix = "own_" if order == "own" else ""
                begins = self.holdings.days(prefix + "earliest")[entries].astype(np.float64)
                ends = self.holdings.days(prefix + "latest")[entries]
                open_end = ends == OPEN_AFTER
                begins = np.where(
                    begins == OPEN_BEFORE, np.where(open_end, np.inf, ends), begins
                )
                return np.minimum.reduceat(begins, starts)
            case _:
                return np.zeros(len(works))

    def _shown(
        self, entries: Entries, scores: NDArray[np.float64], page: Page
    ) -> tuple[str, tuple[tuple[float, Entry], ...]]:
        """A work with its statements, best first; of equal ones, as they stand in the record."""
        best = np.lexsort((entries, -scores))[: page.statements]
        rows = [
            (float(scores[at]), self.holdings.entry(int(entries[at]))[1]) for at in best[:1]
        ]
        if not (page.wholes and rows[0][1].whole and self._is_all(entries)):
            others = ((scores[at], entries[at]) for at in best[1:])
            rows += [(float(score), self.holdings.entry(int(at))[1]) for score, at in others]
        return rows[0][1].document, tuple(rows)

    def _is_all(self, entries: Entries) -> bool:
        """Whether these are all the entries of their work."""
        works = self.holdings.works
        work = works[entries[0]]
        begins, ends = np.searchsorted(works, [work, work + 1])
        return bool(len(entries) == ends - begins)
