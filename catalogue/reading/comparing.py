"""Two readings of one label: how far they agree, and where they part."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from catalogue.reading.reading import Reading
from catalogue.reading.sentences import agreement

Verdict: TypeAlias = Literal["agree", "minor", "rivals"]
_MOST_CELLS: Final = (
    1_000_000  # of the table that is filled for one passage; a label needs 60,000
)


@dataclass(frozen=True, slots=True)
class Difference:
    """A passage where two readings part: what each saw, and where each typed it.

    An empty text means that this reading has nothing there.
    """

    first: str
    second: str
    first_at: int
    second_at: int


@dataclass(frozen=True, slots=True)
class Comparison:
    """How far two readings agree.

    `error_rate` is the number of letters to change, add or take away, divided by the letters of
    the first; capitals and line ends don't count.
    """

    edits: int
    error_rate: float
    verdict: Verdict
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class _Letter:
    """One letter with its accents: as seen, as compared, and where it was typed."""

    seen: str
    folded: str
    at: int


_Passage: TypeAlias = tuple[Sequence[_Letter], Sequence[_Letter]]


def compare(first: Reading, second: Reading) -> Comparison:
    """What two readings saw, side by side; what the editors supplied plays no part.

    >>> from catalogue.reading.reading import read
    >>> found = compare(read("Sea Wall, Evening"), read("Sea Wall Evenina"))
    >>> round(found.error_rate, 3), found.verdict
    (0.118, 'minor')
    >>> [(each.first, each.second) for each in found.differences]
    [(',', ''), ('g', 'a')]
    """
    mine, yours = _letters(first), _letters(second)
    passages = list(_aligned(mine, yours))
    edits = sum(max(len(a), len(b)) for a, b in passages if not _same(a, b))
    rate = edits / len(mine) if mine else float(bool(yours))
    apart = tuple(_differences(passages, first.markup, second.markup))
    return Comparison(edits, rate, _verdict(rate), apart)


def _verdict(rate: float) -> Verdict:
    if rate <= agreement("agree"):
        return "agree"
    return "minor" if rate <= agreement("minor") else "rivals"


def _letters(reading: Reading) -> list[_Letter]:
    found: list[_Letter] = []
    for letter, at in zip(reading.seen(), reading.seen_at(), strict=True):
        if found and unicodedata.combining(letter):
            last = found[-1]
            found[-1] = _Letter(last.seen + letter, last.folded + letter, last.at)
        else:
            folded = " " if letter == "\n" else letter.casefold()
            found.append(_Letter(letter, folded, at))
    return found


def _same(a: Sequence[_Letter], b: Sequence[_Letter]) -> bool:
    return [x.folded for x in a] == [y.folded for y in b]


def _aligned(a: Sequence[_Letter], b: Sequence[_Letter]) -> Iterator[_Passage]:
    """Passages that lie side by side, equal or not, with the fewest edits."""
    shorter = min(len(a), len(b))
    head = 0
    while head < shorter and a[head].folded == b[head].folded:
        head += 1
    tail = 0
    while tail < shorter - head and a[-1 - tail].folded == b[-1 - tail].folded:
        tail += 1
    middle_a, middle_b = a[head : len(a) - tail], b[head : len(b) - tail]
    yield a[:head], b[:head]
    # a text too long for the table is one difference: honest, and still quick
    if len(middle_a) * len(middle_b) > _MOST_CELLS:
        yield middle_a, middle_b
    else:
        yield from _steps(middle_a, middle_b)
    yield a[len(a) - tail :], b[len(b) - tail :]


def _steps(a: Sequence[_Letter], b: Sequence[_Letter]) -> Iterator[_Passage]:
    """Letter by letter, from the table of the fewest edits (Levenshtein)."""
    table = [list(range(len(b) + 1))]
    for i, mine in enumerate(a, start=1):
        above, row = table[-1], [i]
        for j, yours in enumerate(b, start=1):
            change = above[j - 1] + (mine.folded != yours.folded)
            row.append(min(change, above[j] + 1, row[-1] + 1))
        table.append(row)
    i, j = len(a), len(b)
    steps: list[_Passage] = []
    while i or j:
        down = i > 0 and table[i][j] == table[i - 1][j] + 1
        right = j > 0 and table[i][j] == table[i][j - 1] + 1
        if i and j:
            change = table[i - 1][j - 1] + (a[i - 1].folded != b[j - 1].folded)
            if table[i][j] == change:
                down = right = True
        steps.append((a[i - down : i], b[j - right : j]))
        if down and right:
            i, j = i - 1, j - 1
        elif down:
            i -= 1
        else:
            j -= 1
    yield from reversed(steps)


def _differences(passages: Sequence[_Passage], first: str, second: str) -> Iterator[Difference]:
    """What lies between two passages that agree is one difference."""
    mine: list[_Letter] = []
    yours: list[_Letter] = []
    for a, b in passages:
        if not _same(a, b):
            mine += a
            yours += b
        elif a:
            if mine or yours:
                yield _difference(mine, yours, a[0].at, b[0].at)
            mine, yours = [], []
    if mine or yours:
        yield _difference(mine, yours, len(first), len(second))


def _difference(
    mine: Sequence[_Letter], yours: Sequence[_Letter], mine_next: int, yours_next: int
) -> Difference:
    return Difference(
        "".join(letter.seen for letter in mine),
        "".join(letter.seen for letter in yours),
        mine[0].at if mine else mine_next,
        yours[0].at if yours else yours_next,
    )
