"""What a tree finds among parts of both kinds: large ones are asked, those in memory are sieved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from tantivy import Query

from catalogue.indexes.holdings import Holdings
from catalogue.indexes.large.part import LargePart
from catalogue.indexes.large.questions import Questions
from catalogue.indexes.matches import NOTHING, Matches
from catalogue.indexes.part import Part
from catalogue.indexes.sieve import Sieve
from catalogue.indexes.tree import Tree


class LargeSieve:
    """One question to all parts; every document lies in one of them, so each can be asked alone."""

    def __init__(self, parts: Sequence[tuple[Part, int]]) -> None:
        self._large = [held for held in parts if isinstance(held[0], LargePart)]
        self._others = [held for held in parts if not isinstance(held[0], LargePart)]
        self._questions: dict[tuple[int, bool], Questions] = {}

    def questions(
        self, tree: Tree, *, undated_too: bool = False
    ) -> Iterator[tuple[LargePart, int, Query]]:
        """The large parts, and the tree as each is asked it."""
        for part, offset in self._large:
            assert isinstance(part, LargePart)
            key = offset, undated_too
            if key not in self._questions:
                self._questions[key] = Questions(part, undated_too=undated_too)
            yield part, offset, self._questions[key].of(tree)

    def found(self, tree: Tree, *, undated_too: bool = False) -> Matches:
        """What a tree finds; with `undated_too` a span lets through what has no date at all."""
        found = [
            moved(part.all_of(question), offset)
            for part, offset, question in self.questions(tree, undated_too=undated_too)
        ]
        return joined([*found, self.found_in_memory(tree, undated_too=undated_too)])

    def found_in_memory(self, tree: Tree, *, undated_too: bool = False) -> Matches:
        """What it finds in what was saved last."""
        return joined(
            [
                moved(
                    Sieve(Holdings([(part, [])])).found(tree, undated_too=undated_too), offset
                )
                for part, offset in self._others
            ]
        )


def moved(matches: Matches, offset: int) -> Matches:
    """Matches of a part among those of all."""
    return Matches(matches.entries + np.int32(offset), matches.scores)


def joined(found: Sequence[Matches]) -> Matches:
    """Matches of parts that follow each other."""
    found = [each for each in found if len(each.entries)]
    if len(found) < 2:
        return found[0] if found else NOTHING
    return Matches(
        np.concatenate([each.entries for each in found]),
        np.concatenate([each.scores for each in found]),
    )
