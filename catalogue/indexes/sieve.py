"""What a tree finds among the holdings: entries and their scores, by joining arrays."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.holdings import Holdings
from catalogue.indexes.matches import (
    NOTHING,
    Entries,
    Matches,
    all_of,
    both,
    either,
    inside,
    unscored,
)
from catalogue.indexes.rows import in_a_row, near
from catalogue.indexes.stored import OPEN_AFTER, OPEN_BEFORE
from catalogue.indexes.tree import (
    All,
    Either,
    Elsewhere,
    Fact,
    InTime,
    Measured,
    Not,
    Row,
    Terms,
    Tree,
)

SPANS = {
    "made": (("earliest", "latest"),),
    "own": (("own_earliest", "own_latest"),),
    "any": (("earliest", "latest"), ("own_earliest", "own_latest")),
}


class Sieving(Protocol):
    """What finds the entries of a tree, in either engine."""

    def found(self, tree: Tree, *, undated_too: bool = False) -> Matches:
        """What a tree finds; with `undated_too` a span lets through what has no date at all."""
        ...


class Sieve:
    """One question to the holdings; what was found for a part of it is remembered."""

    def __init__(self, holdings: Holdings) -> None:
        self._holdings = holdings
        self._size = holdings.size
        self._found: dict[tuple[int, bool], Matches] = {}

    def found(self, tree: Tree, *, undated_too: bool = False) -> Matches:
        """What a tree finds; with `undated_too` a span lets through what has no date at all."""
        key = id(tree), undated_too
        if key not in self._found:
            self._found[key] = self._find(tree, undated_too)
        return self._found[key]

    def _find(self, tree: Tree, undated_too: bool) -> Matches:
        match tree:
            case Terms():
                return self._holdings.found(tree)
            case Row():
                return unscored(self._row(tree))
            case Fact(field, values):
                keys = [f"{field}={value}" for value in values]
                return either(
                    [unscored(self._holdings.holding("fact", k)) for k in keys], self._size
                )
            case Measured(field, least, most):
                return self._holdings.measured(field, least, most)
            case InTime():
                every = self._holdings.every
                return unscored(every[self._in_time(tree, every, undated_too)])
            case All(parts):
                return self._all(parts, undated_too)
            case Either(parts):
                return either(
                    [self.found(each, undated_too=undated_too) for each in parts], self._size
                )
            case Not(part):
                every = self._holdings.every
                return unscored(every[~inside(every, self.found(part).entries, self._size)])
            case Elsewhere(part, there):
                return self._elsewhere(part, there, undated_too)

    def _all(self, parts: tuple[Tree, ...], undated_too: bool) -> Matches:
        """What is sought is joined first; spans and refusals then look at what is left alone."""
        last = (InTime, Not)
        sought = [each for each in parts if not isinstance(each, last)]
        if sought:
            found = [self.found(each, undated_too=undated_too) for each in sought]
            joined = all_of(found, self._size)
        else:
            joined = unscored(self._holdings.every)
        for each in parts:
            if isinstance(each, InTime):
                joined = joined.only(self._in_time(each, joined.entries, undated_too))
            elif isinstance(each, Not):
                refused = self.found(each.part).entries
                joined = joined.only(~inside(joined.entries, refused, self._size))
        return joined

    def _row(self, row: Row) -> Entries:
        """The entries where all steps stand together in one of the fields."""
        fields = (
            set.intersection(*({hit.field for hit in step.hits} for step in row.steps))
            if row.steps
            else set()
        )
        found = [unscored(self._row_in(row, field)) for field in sorted(fields)]
        return either(found, self._size).entries

    def _row_in(self, row: Row, field: str) -> Entries:
        steps = [[hit for hit in step.hits if hit.field == field] for step in row.steps]
        common: Entries | None = None
        for step in steps:
            found = self._holdings.found(Terms("", tuple(step))).entries
            common = found if common is None else both(common, found, self._size)
            if not len(common):
                return NOTHING.entries
        within = np.zeros(self._size, bool)
        within[common] = True
        places = [self._holdings.places(step, within) for step in steps]
        if row.apart == 0:
            return in_a_row(places).astype(np.int32)
        same = [steps[:at].count(step) for at, step in enumerate(steps)]
        return near(places, row.apart, same).astype(np.int32)

    def _in_time(
        self, wanted: InTime, entries: Entries, undated_too: bool
    ) -> NDArray[np.bool_]:
        """Which of these entries a span lets through."""
        through = np.zeros(len(entries), bool)
        undated = np.ones(len(entries), bool)
        first = OPEN_BEFORE if wanted.earliest is None else wanted.earliest
        last = OPEN_AFTER if wanted.latest is None else wanted.latest
        for begins, ends in SPANS[wanted.what]:
            earliest = self._holdings.days(begins)[entries]
            latest = self._holdings.days(ends)[entries]
            dated = (earliest != OPEN_BEFORE) | (latest != OPEN_AFTER)
            undated &= ~dated
            if wanted.certainly:
                through |= dated & (first <= earliest) & (latest <= last)
            else:
                through |= dated & (earliest <= last) & (first <= latest)
        return through | undated if undated_too else through

    def _elsewhere(self, part: Tree, there: bool, undated_too: bool) -> Matches:
        holdings = self._holdings
        found = self.found(part, undated_too=undated_too and there).entries
        works = np.zeros(holdings.how_many_works, bool)
        works[holdings.works[found[holdings.alive[found]]]] = True
        kept = works[holdings.works[holdings.every]]
        return unscored(holdings.every[kept if there else ~kept])


def asks_for_time(tree: Tree) -> bool:
    """Whether a span somewhere in it, not refused, can leave out what has no date."""
    match tree:
        case InTime():
            return True
        case All(parts) | Either(parts):
            return any(map(asks_for_time, parts))
        case Elsewhere(part, there):
            return there and asks_for_time(part)
        case _:
            return False
