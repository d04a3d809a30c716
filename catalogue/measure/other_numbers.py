"""Numbers beside a date that are none: of a street, a lot, a price, a size, an edition.

The words are in vocab/dates.toml, under `counted`.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

from catalogue.measure.words import Piece, table


@cache
def _counted() -> dict[str, frozenset[str]]:
    held: dict[str, Any] = table()["counted"]
    return {name: frozenset(words) for name, words in held.items()}


def counted(pieces: Sequence[Piece], at: int) -> bool:
    """Whether what stands around a number says that it counts something else than years.

    No. 1887, £1887, 1887 mm, 1887 Elm Street, 1887A.
    """
    return counts_before(pieces, at) or counts_behind(pieces, at)


def counts_what_was_done(pieces: Sequence[Piece], at: int) -> bool:
    """Whether it counts prints and casts, not years: edition of 50, print 12/25."""
    before = at - 1
    while before > 0 and (
        pieces[before].key in ("of", "/") or "number" in pieces[before].senses
    ):
        before -= 1
    return before >= 0 and ("act" in pieces[before].senses or counted(pieces, before + 1))


def counts_before(pieces: Sequence[Piece], at: int) -> bool:
    """Whether what stands before the number says so: No. 1887, £1887, A 1887."""
    before = pieces[at - 1] if at else None
    if before and before.key == "." and at > 1:
        before = pieces[at - 2]
    if before is None or "act" in before.senses:
        return False
    if any(piece.key in _counted()["telephone"] for piece in _on_the_line(pieces, at)):
        return True  # Telephone: Marlow 1903
    one_letter = len(before.key) == 1 and before.key.isalpha() and not before.senses
    return one_letter or before.key in _counted()["before"]


def _on_the_line(pieces: Sequence[Piece], at: int) -> Sequence[Piece]:
    """The few pieces before one that stand on its line."""
    first = at
    while first > max(at - 4, 0) and not pieces[first].new_line:
        first -= 1
    return pieces[first:at]


def counts_behind(pieces: Sequence[Piece], at: int) -> bool:
    """Whether what stands behind the number says so: 1887 mm, 1887A, 1887 Elm Street."""
    behind = pieces[at + 1]
    glued_word = behind.glued and behind.key[:1].isalpha()
    return glued_word or behind.key in _counted()["behind"] or _in_an_address(pieces, at)


def _in_an_address(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a street follows within three words, with no sign between."""
    for piece in pieces[at + 1 : at + 5]:
        if piece.key in _counted()["street"]:
            return True
        if not piece.key[:1].isalpha():
            return False
    return False
