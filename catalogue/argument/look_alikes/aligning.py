"""Two rows of printed words laid side by side: which stand for each other, and what it costs.

Costs are letters, as in the distance of Levenshtein, but a lost part costs nothing whatever stands
against it, and a letter that the reader doubted, or one that worn print makes of another, costs less.
Pairs of words are remembered: the forms of a catalogue are made of few words.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from catalogue.argument.look_alikes.print_words import BLANK, TABLE, Print, PrintWord
from catalogue.places import table
from catalogue.reading import GAP

_MOST_JOINED = 4  # so many words of one label may stand against one damaged word of the other
_DOUBTED = 0.3
_NEVER = 1e6  # a blank stands for no printed word


@dataclass(frozen=True, slots=True)
class Pair:
    """Words of one label and of the other that stand for each other; either side may be empty."""

    one: tuple[PrintWord, ...]
    other: tuple[PrintWord, ...]
    cost: float


@dataclass(frozen=True, slots=True)
class Alignment:
    """The pairs in order, their cost in letters, and how many letters could be compared."""

    pairs: tuple[Pair, ...]
    cost: float
    letters: int
    most: int

    @property
    def likeness(self) -> float:
        """1 where everything that is left agrees, 0 where nothing does."""
        return max(0.0, 1 - self.cost / self.most) if self.most else 0.0


def align(one: Print, other: Print) -> Alignment:
    """The cheapest way to lay two rows of words side by side.

    >>> row = lambda text: tuple(map(PrintWord, text.split()))
    >>> found = align(row("galerie morvane 14 rue des tanneurs gand no"),
    ...               row("galerie morvan 14 rue d tanneurs gand no"))
    >>> found.cost, round(found.likeness, 3)
    (3.0, 0.93)
    >>> align(row("galerie mor… … gand"), row("galerie morvane 14 rue des tanneurs gand")).likeness
    1.0
    """
    rows, columns = len(one), len(other)
    far = float("inf")
    costs = [[far] * (columns + 1) for _ in range(rows + 1)]
    ways: list[list[tuple[int, int, float]]] = [
        [(0, 0, 0.0)] * (columns + 1) for _ in range(rows + 1)
    ]
    costs[0][0] = 0.0
    for i in range(rows + 1):
        line = costs[i]
        for j in range(columns + 1):
            here = line[j]
            if here == far:
                continue
            for down, along, cost in _moves(one, other, i, j):
                total = here + cost
                if total < costs[i + down][j + along]:
                    costs[i + down][j + along] = total
                    ways[i + down][j + along] = (down, along, cost)
    pairs: list[Pair] = []
    i, j = rows, columns
    while i or j:
        down, along, cost = ways[i][j]
        pairs.append(Pair(one[i - down : i], other[j - along : j], cost))
        i, j = i - down, j - along
    pairs.reverse()
    return _measured(tuple(pairs), costs[rows][columns])


def _moves(one: Print, other: Print, i: int, j: int) -> list[tuple[int, int, float]]:
    found: list[tuple[int, int, float]] = []
    left, right = len(one) - i, len(other) - j
    if left:
        found.append((1, 0, _alone(one[i])))
    if right:
        found.append((0, 1, _alone(other[j])))
    if left and right:
        found.append((1, 1, distance(one[i], other[j])))
        most = _MOST_JOINED if one[i].lost else 2
        found += [
            (1, along, distance(one[i], _joined(other[j : j + along])))
            for along in range(2, min(most, right) + 1)
        ]
        most = _MOST_JOINED if other[j].lost else 2
        found += [
            (down, 1, distance(_joined(one[i : i + down]), other[j]))
            for down in range(2, min(most, left) + 1)
        ]
        if one[i].text == GAP and right > _MOST_JOINED:
            found += [(1, along, 0.0) for along in range(_MOST_JOINED + 1, right + 1)]
        if other[j].text == GAP and left > _MOST_JOINED:
            found += [(down, 1, 0.0) for down in range(_MOST_JOINED + 1, left + 1)]
    return found


def _alone(word: PrintWord) -> float:
    """What a word costs that stands against nothing: its letters and the space."""
    return (
        0.0
        if word.text in (GAP, BLANK)
        else word.letters + 1.0 - _DOUBTED * bin(word.doubt).count("1")
    )


@lru_cache(maxsize=100_000)
def _joined(words: tuple[PrintWord, ...]) -> PrintWord:
    text, doubt = "", 0
    for word in words:
        doubt |= word.doubt << len(text)
        text += word.text
    return PrintWord(text, doubt)


@lru_cache(maxsize=500_000)
def distance(one: PrintWord, other: PrintWord) -> float:
    """How many letters two words are apart.

    >>> distance(PrintWord("tan…eurs"), PrintWord("tanneurs"))
    0.0
    >>> distance(PrintWord("harrowell"), PrintWord("harrovell", 1 << 5))
    0.3
    >>> distance(PrintWord("corn"), PrintWord("com"))
    0.5
    """
    if one.text == other.text or one.text == GAP or other.text == GAP:
        return 0.0
    if BLANK in one.text or BLANK in other.text:
        return _NEVER
    a, b = one.text, other.text
    before = [0.0] * (len(b) + 1)
    for j, letter in enumerate(b, 1):
        before[j] = before[j - 1] + (0 if letter == GAP else 1)
    older = before
    for i, letter in enumerate(a, 1):
        lost = letter == GAP
        line = [before[0] if lost else before[0] + 1]
        for j, against in enumerate(b, 1):
            if lost:
                cost = min(before[j], line[j - 1], before[j - 1])
            elif against == GAP:
                cost = min(line[j - 1], before[j], before[j - 1])
            else:
                doubted = one.doubt >> i - 1 & 1 or other.doubt >> j - 1 & 1
                step = (
                    0.0
                    if letter == against
                    else _DOUBTED
                    if doubted
                    else _swap(letter, against)
                )
                cost = min(before[j - 1] + step, before[j] + 1, line[j - 1] + 1)
                if i > 1 and (a[i - 2 : i], against) in _two_for_one():
                    cost = min(cost, older[j - 1] + 0.5)
                if j > 1 and (b[j - 2 : j], letter) in _two_for_one():
                    cost = min(cost, before[j - 2] + 0.5)
            line.append(cost)
        older, before = before, line
    return before[-1]


@cache
def _misread() -> tuple[tuple[str, str], ...]:
    told = [tuple(each.split()) for each in table(TABLE)["misread"]["pairs"]]
    return tuple((one, other) for one, other in told)


@cache
def _two_for_one() -> frozenset[tuple[str, str]]:
    return frozenset(each for each in _misread() if len(each[0]) == 2)


@cache
def _alike() -> frozenset[frozenset[str]]:
    return frozenset(frozenset(each) for each in _misread() if len(each[0]) == 1)


def _swap(one: str, other: str) -> float:
    return 0.5 if frozenset((one, other)) in _alike() else 1.0


def _measured(pairs: tuple[Pair, ...], cost: float) -> Alignment:
    """Letters that stand against a lost part are not among those that were compared."""
    seen = [0, 0]
    compared = 0
    for pair in pairs:
        one, other = (sum(each.letters for each in side) for side in (pair.one, pair.other))
        gaps = [any(each.lost for each in side) for side in (pair.one, pair.other)]
        if any(gaps):
            # As many letters of the whole side can be held against the damaged one as it has.
            least = min(one, other) if all(gaps) else (one if gaps[0] else other)
            one = other = least
        spaces = int(bool(one or other))
        compared += min(one, other)
        seen[0] += one + spaces * bool(pair.one)
        seen[1] += other + spaces * bool(pair.other)
    return Alignment(pairs, cost, compared, max(0, *(each - 1 for each in seen)))
