"""Trees of every shape, made by chance and the same every time, from words that are in a catalogue and some that are not."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from catalogue.indexes.entry import Entry
from catalogue.indexes.stored import TEXTS, facts, patterns
from catalogue.indexes.tree import (
    All,
    Either,
    Elsewhere,
    Fact,
    Hit,
    InTime,
    Measured,
    Not,
    Row,
    Terms,
    Tree,
)
from catalogue.indexes.whoosh_blocks import places_of


class Trees:
    """What can be sought in these entries."""

    def __init__(self, entries: Sequence[Entry], seed: int) -> None:
        self._chance = random.Random(seed)
        self._entries = entries

    def any(self, depth: int = 3) -> Tree:
        """One tree; at `depth` 0 a leaf."""
        chance = self._chance
        leaves: list[Callable[[], Tree]] = [
            self.terms, self.terms, self.row, self.fact, self.measured, self.in_time,
        ]  # fmt: skip
        if depth == 0 or chance.random() < 0.15:
            return chance.choice(leaves)()
        some = tuple(self.any(depth - 1) for _ in range(chance.randint(1, 3)))
        match chance.randrange(8):
            case 0:
                return Not(some[0])
            case 1 | 2:
                return Elsewhere(some[0], chance.random() < 0.5)
            case 3 | 4:
                return Either(some if chance.random() < 0.95 else ())
            case _:
                return All(some if chance.random() < 0.95 else ())

    def terms(self) -> Terms:
        """A few forms of one thing, in one or more fields."""
        chance = self._chance
        hits = []
        for _ in range(chance.choice([1, 1, 2, 5, 40])):
            entry = chance.choice(self._entries)
            field = chance.choice([*TEXTS, "text", "text", "seen", "damaged", "fact"])
            if field == "fact":
                name, _, key = chance.choice(facts(entry)).partition("=")
                hits.append(Hit(f"fact:{name}", key, self._strength()))
                continue
            held = patterns(entry) if field == "damaged" else _terms(getattr(entry, field))
            if held:
                hits.append(Hit(field, chance.choice(held), self._strength()))
        return Terms("as typed", tuple(hits), round(chance.uniform(0.2, 4), 2))

    def _strength(self) -> float:
        return round(self._chance.uniform(0.05, 1), 3)

    def row(self) -> Row:
        """Words that do stand together somewhere, mostly."""
        chance = self._chance
        words = [
            word for entry in chance.sample(self._entries, 2) for word in _terms(entry.text)
        ] or ["nothing"]
        begin = chance.randrange(len(words))
        found = words[begin : begin + chance.randint(1, 3)]
        if chance.random() < 0.3:
            chance.shuffle(found)
        others = chance.sample(words, min(len(words), chance.choice([0, 0, 1, 4])))
        steps = tuple(
            Terms(word, tuple(Hit(field, each, 1.0) for field in ("seen", "text")
                              for each in dict.fromkeys((word, *others))))
            for word in found
        )  # fmt: skip
        return Row(steps, chance.choice([0, 0, 1, 3, 8]))

    def fact(self) -> Fact:
        """One or two values of a field of facts."""
        name, _, key = self._chance.choice(facts(self._an_entry())).partition("=")
        return Fact(
            name, tuple(dict.fromkeys((key, self._chance.choice([key, "no such thing"]))))
        )

    def measured(self) -> Measured:
        """A figure between two that there are, or open at an end."""
        chance = self._chance
        named = [
            figure for entry in chance.sample(self._entries, 20) for figure in entry.figures
        ]
        if not named:
            return Measured("width", None, None)
        name, figure = chance.choice(named)
        least = chance.choice([None, figure, figure - 20.5])
        return Measured(name, least, chance.choice([None, figure, figure + 30.25]))

    def in_time(self) -> InTime:
        """Years about those that there are."""
        chance = self._chance
        day = self._an_entry().own_earliest or chance.randint(650_000, 740_000)
        return InTime(
            chance.choice(["made", "own", "any"]),
            chance.choice([None, day, day - 3000]),
            chance.choice([None, day, day + 8000]),
            chance.random() < 0.3,
        )

    def _an_entry(self) -> Entry:
        return self._chance.choice(self._entries)


def _terms(text: str) -> list[str]:
    """The terms that can be asked for; those that only say how a word is made cannot."""
    return [term for term in places_of(text) if " " not in term]
