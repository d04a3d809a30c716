"""Two readings of one label: how far they agree, and where they part."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, zip_longest
from typing import Final, Literal, NamedTuple, TypeAlias

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
class Stretch:
    """Letters of both readings that lie side by side, as each saw them."""

    first: str
    second: str
    same: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the first reading, and what lies beside it in the second.

    `words` are the whole words in which they part, of the first and of the second.
    """

    stretches: tuple[Stretch, ...]
    edits: int
    error_rate: float
    words: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """How far two readings agree on what was seen; capitals and line ends don't count.

    `edits` is the least number of letters to change, to take away and to add that make the
    second of the first (Levenshtein); a letter with its accents is one, a gap of any size is one.

    `error_rate`, the character error rate, is `edits` / letters of the first. The first is the
    yardstick, so it is not symmetric, and may be more than 1. `agreement` is 1 - `edits` /
    letters of the longer: symmetric, from 0 to 1; the `verdict` rests on it.

    `counted` is False where a passage was too long to be compared letter by letter: `edits` is
    then the most that it can be, and `agreement` the least.
    """

    edits: int
    error_rate: float
    agreement: float
    verdict: Verdict
    differences: tuple[Difference, ...]
    lines: tuple[Line, ...]
    counted: bool = True


@dataclass(frozen=True, slots=True)
class _Letter:
    """One letter with its accents: as seen, as compared, and where it was typed."""

    seen: str
    folded: str
    at: int


class _Pair(NamedTuple):
    """A letter of the first beside one of the second; None where one has none."""

    mine: _Letter | None
    yours: _Letter | None
    same: bool


def compare(first: Reading, second: Reading) -> Comparison:
    """What two readings saw, side by side; what the editors supplied plays no part.

    >>> from catalogue.reading.reading import read
    >>> found = compare(read("Sea Wall, Evening"), read("Sea Wall Evenina"))
    >>> round(found.error_rate, 3), found.verdict
    (0.118, 'minor')
    >>> [(each.first, each.second) for each in found.differences]
    [(',', ''), ('g', 'a')]
    >>> found.lines[0].words
    (('Wall,', 'Wall'), ('Evening', 'Evenina'))
    """
    mine, yours = _letters(first), _letters(second)
    head, tail = _common_ends(mine, yours)
    middle = mine[head : len(mine) - tail], yours[head : len(yours) - tail]
    counted = len(middle[0]) * len(middle[1]) <= _MOST_CELLS
    pairs = [
        *_beside(mine[:head], yours[:head], same=True),
        *(_steps(*middle) if counted else _beside(*middle, same=False)),
        *_beside(mine[len(mine) - tail :], yours[len(yours) - tail :], same=True),
    ]
    edits = _edits(pairs)
    share = edits / max(len(mine), len(yours), 1)
    return Comparison(
        edits=edits,
        error_rate=_rate(edits, len(mine)),
        agreement=1 - share,
        verdict=_verdict(share),
        differences=tuple(_differences(pairs, first.markup, second.markup)),
        lines=tuple(map(_line, _by_line(pairs))),
        counted=counted,
    )


def _rate(edits: int, letters: int) -> float:
    return edits / letters if letters else float(bool(edits))


def _edits(pairs: Iterable[_Pair]) -> int:
    return sum(not pair.same for pair in pairs)


def _verdict(share: float) -> Verdict:
    if share <= agreement("agree"):
        return "agree"
    return "minor" if share <= agreement("minor") else "rivals"


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


def _common_ends(a: Sequence[_Letter], b: Sequence[_Letter]) -> tuple[int, int]:
    """How many letters are the same at the beginning, and at the end of what is left."""
    shorter = min(len(a), len(b))
    head = 0
    while head < shorter and a[head].folded == b[head].folded:
        head += 1
    tail = 0
    while tail < shorter - head and a[-1 - tail].folded == b[-1 - tail].folded:
        tail += 1
    return head, tail


def _beside(a: Sequence[_Letter], b: Sequence[_Letter], *, same: bool) -> Iterator[_Pair]:
    return (_Pair(mine, yours, same) for mine, yours in zip_longest(a, b))


def _steps(a: Sequence[_Letter], b: Sequence[_Letter]) -> Iterator[_Pair]:
    """Letter by letter with the fewest edits, from the table of them."""
    table = [list(range(len(b) + 1))]
    for i, mine in enumerate(a, start=1):
        above, row = table[-1], [i]
        for j, yours in enumerate(b, start=1):
            change = above[j - 1] + (mine.folded != yours.folded)
            row.append(min(change, above[j] + 1, row[-1] + 1))
        table.append(row)
    i, j = len(a), len(b)
    steps: list[_Pair] = []
    while i or j:
        same = bool(i and j) and a[i - 1].folded == b[j - 1].folded
        if i and j and table[i][j] == table[i - 1][j - 1] + (not same):
            i, j = i - 1, j - 1
            steps.append(_Pair(a[i], b[j], same))
        elif i and table[i][j] == table[i - 1][j] + 1:
            i -= 1
            steps.append(_Pair(a[i], None, False))
        else:
            j -= 1
            steps.append(_Pair(None, b[j], False))
    return reversed(steps)


def _differences(pairs: Iterable[_Pair], first: str, second: str) -> Iterator[Difference]:
    """What lies between two passages that agree is one difference."""
    waiting: list[_Pair] = []
    for pair in (*pairs, None):
        if pair is not None and not pair.same:
            waiting.append(pair)
            continue
        if waiting:
            mine = [each.mine for each in waiting if each.mine]
            yours = [each.yours for each in waiting if each.yours]
            ends = (pair.mine, pair.yours) if pair else (None, None)
            yield Difference(
                _text(mine),
                _text(yours),
                next((each.at for each in (*mine, ends[0]) if each), len(first)),
                next((each.at for each in (*yours, ends[1]) if each), len(second)),
            )
        waiting = []


def _by_line(pairs: Iterable[_Pair]) -> Iterator[list[_Pair]]:
    """The pairs of each line of the first; a line end belongs to the line before it."""
    line: list[_Pair] = []
    for pair in pairs:
        line.append(pair)
        if pair.mine and pair.mine.seen == "\n":
            yield line
            line = []
    if line:
        yield line


def _line(pairs: list[_Pair]) -> Line:
    edits = _edits(pairs)
    return Line(
        tuple(
            Stretch(*_texts(list(run)), same=same)
            for same, run in groupby(pairs, key=lambda pair: pair.same)
        ),
        edits,
        _rate(edits, sum(pair.mine is not None for pair in pairs)),
        tuple(
            _texts(word)
            for between, run in groupby(pairs, key=_between_words)
            if not between and _edits(word := list(run))
        ),
    )


def _between_words(pair: _Pair) -> bool:
    """Whether both readings have a space or line end here."""
    return pair.same and pair.mine is not None and pair.mine.folded.isspace()


def _texts(pairs: Sequence[_Pair]) -> tuple[str, str]:
    return _text(each.mine for each in pairs), _text(each.yours for each in pairs)


def _text(letters: Iterable[_Letter | None]) -> str:
    return "".join(letter.seen for letter in letters if letter)
