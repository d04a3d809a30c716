"""Two rows of printed words laid side by side: which stand for each other, and what it costs.

Costs are letters, as in the distance of Levenshtein, but a lost part costs nothing whatever stands
against it, and a letter that the reader doubted, or one that worn print makes of another, costs less.
Pairs of words are remembered: the forms of a catalogue are made of few words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from catalogue.argument.look_alikes.print_words import BLANK, TABLE, Print, PrintWord
from catalogue.places import table
from catalogue.reading import GAP

_MOST_JOINED = 4  # so many words of one label may stand against one damaged word of the other
_DOUBTED = 0.3
_UNLIKE = 1.5  # so that an unlike word is sooner left out than set against another
_STRAIN = (
    0.02  # a letter that a lost stretch may have held, else it would swallow what stands there
)
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


def align(one: Print, other: Print, cut: tuple[bool, bool] = (False, False)) -> Alignment:
    """The cheapest way to lay two rows of words side by side.

    `cut` says of each whether it was cut or torn: what it lacks at its end then costs next to nothing.

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
    lost = any(each.lost for each in (*one, *other))
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
            for down, along, cost in _moves(one, other, i, j, cut):
                total = here + cost
                if lost:
                    total += _strain(one[i : i + down], other[j : j + along])
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
    return _measured(tuple(pairs), sum(each.cost for each in pairs))


def _moves(
    one: Print, other: Print, i: int, j: int, cut: tuple[bool, bool]
) -> Iterator[tuple[int, int, float]]:
    left, right = len(one) - i, len(other) - j
    if left:
        yield 1, 0, _alone(one[i]) * (_STRAIN if cut[1] and not right else 1)
    if right:
        yield 0, 1, _alone(other[j]) * (_STRAIN if cut[0] and not left else 1)
    if left and right:
        yield 1, 1, cost_of(one[i], other[j])
        for along in range(2, _reach(one[i], right) + 1):
            if _may_be(one[i], other[j : j + along]):
                yield 1, along, cost_of(one[i], _joined(other[j : j + along]))
        for down in range(2, _reach(other[j], left) + 1):
            if _may_be(other[j], one[i : i + down]):
                yield down, 1, cost_of(_joined(one[i : i + down]), other[j])


def _reach(word: PrintWord, left: int) -> int:
    """How many words of the other label one word may stand for: a lost stretch for any number."""
    return left if word.text == GAP else min(left, _MOST_JOINED if word.lost else 2)


@lru_cache(maxsize=100_000)
def _may_be(word: PrintWord, several: Print) -> bool:
    """Whether a word may stand for several: it begins as they do, and is not much longer or shorter."""
    if word.text == GAP:
        return True
    if any(each.text in (GAP, BLANK) for each in several):
        return False
    long = sum(each.letters for each in several)
    if word.lost:
        begins = word.text[0] == GAP or word.text[0] == several[0].text[0]
        return begins and word.letters <= long
    return word.text[:2] == several[0].text[:2] and abs(long - word.letters) <= 2


def _strain(one: Print, other: Print) -> float:
    """How far a lost stretch is strained: by the letters that would have stood there."""
    if not one or not other or not (one[0].lost or other[0].lost):
        return 0.0
    held = [sum(each.letters for each in side) for side in (one, other)]
    return _STRAIN * abs(held[0] - held[1])


@lru_cache(maxsize=100_000)
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
def cost_of(one: PrintWord, other: PrintWord) -> float:
    """What it costs that two words stand for each other; unlike words cost more than being left out."""
    if GAP in (one.text, other.text):
        return 0.0
    most, least = max(one.letters, other.letters), min(one.letters, other.letters)
    damaged = [each.letters for each in (one, other) if each.lost]
    shared, first = len(set(one.text) & set(other.text)), len(set(one.text))
    if least > 3 and 2 * shared < first and not damaged:
        return most + _UNLIKE
    found = distance(one, other)
    left = min(damaged or [most])
    short, long = sorted((one.text, other.text), key=len)
    unlike = found > 0.6 * left and not long.startswith(short)
    return max(found, left) + _UNLIKE if unlike else found


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
