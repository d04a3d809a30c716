"""The lines of a draft as markup to go on from: signs escaped, doubtful letters with the sign of doubt."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence

from catalogue.drafting.draft import TABLE, Line, MachineDraft
from catalogue.places import table
from catalogue.reading import read

_ALWAYS = frozenset("[]{}<>_\\|~*^@")
_WHERE_NEEDED = frozenset("()+/=#")
"""These are signs only beside others, and are escaped only where the text would else be misread."""


def rows(lines: Iterable[Line]) -> tuple[tuple[Line, ...], ...]:
    """The lines as they stand on the label, from the top, those beside each other from the left.

    >>> line = lambda text, x, y: Line(text=text, sure=(1.0,) * len(text), score=1.0,
    ...     corners=((x, y), (x + 9, y), (x + 9, y + 4), (x, y + 4)))
    >>> found = rows([line("2217", 12, 11), line("Lot", 0, 10), line("Sea", 0, 0)])
    >>> [[each.text for each in row] for row in found]
    [['Sea'], ['Lot', '2217']]
    """
    found: list[list[Line]] = []
    for line in sorted(lines, key=lambda each: sum(_span(each))):
        row = next((each for each in found if any(_beside(one, line) for one in each)), None)
        if row is None:
            found.append([line])
        else:
            row.append(line)
    return tuple(tuple(sorted(row, key=_left)) for row in found)


def _span(line: Line) -> tuple[float, float]:
    """The top and the bottom of a line at its own middle."""
    (_, ay), (_, by), (_, cy), (_, dy) = line.corners
    return (ay + by) / 2, (cy + dy) / 2


def _left(line: Line) -> float:
    return min(x for x, _ in line.corners)


def _right(line: Line) -> float:
    return max(x for x, _ in line.corners)


def _beside(one: Line, other: Line) -> bool:
    """Whether two lie on one line of one label: at one height, neither over the other, nor far apart."""
    rules = table(TABLE)["lines"]
    (top, bottom), (its_top, its_bottom) = _span(one), _span(other)
    lower = min(bottom - top, its_bottom - its_top)
    both = min(bottom, its_bottom) - max(top, its_top)
    gap = max(_left(other) - _right(one), _left(one) - _right(other))
    # boxes of neighbouring words may touch
    level: bool = both > rules["shared"] * lower
    near: bool = -0.5 * lower < gap < rules["gap"] * lower
    return level and near


def as_markup(draft: MachineDraft) -> str:
    """The draft as markup, a line for each line of the label; what is read from it is what was drafted."""
    return "\n".join(_row(row) for row in rows(draft.lines))


def _row(row: Sequence[Line]) -> str:
    letters = [
        pair
        for number, line in enumerate(row)
        for pair in (
            *([(" ", False)] if number else []),
            *zip(line.text, line.doubtful(), strict=True),
        )
    ]
    text = "".join(letter for letter, _ in letters)
    for escaped in (_ALWAYS, _ALWAYS | _WHERE_NEEDED):
        typed = "".join(_typed(letters, escaped)).strip()
        reading = read(typed)
        if not reading.faults and reading.seen() == _seen(text):
            break
    return typed


def _typed(letters: Sequence[tuple[str, bool]], escaped: frozenset[str]) -> Iterator[str]:
    for number, (letter, doubtful) in enumerate(letters):
        yield f"\\{letter}" if letter in escaped else letter
        behind = letters[number + 1][0] if number + 1 < len(letters) else ""
        # the mark stands behind a letter and all its accents
        if doubtful and letter.isalnum() and not (behind and unicodedata.combining(behind)):
            yield "_"


def _seen(text: str) -> str:
    return read(
        "".join(f"\\{x}" if x in _ALWAYS | _WHERE_NEEDED else x for x in text.strip())
    ).seen()
