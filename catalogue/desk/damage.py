"""A text that was found, with its damage: doubtful, restored and lost letters as every page shows them.

What is searched is plain text; where it is that of a reading, each letter is looked up in the markup
it was typed in, and the marks around what was sought stay where they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import escape, unescape
from itertools import groupby
from typing import Final, NamedTuple

from markupsafe import Markup

from catalogue.reading import Reading
from catalogue.reading.nodes import (
    Doubtful,
    DoubtfulWord,
    Expanded,
    Gap,
    Omitted,
    Restored,
    walk,
)
from catalogue.reading.sentences import spoken
from catalogue.reading.voices import places

_PIECE: Final = re.compile(r"(</?mark>)|([^<]+)")
_SIGNS: Final = {"restored": "[]", "expanded": "()", "omitted": "<>"}
_KINDS: Final = (
    (Restored, "restored"), (Expanded, "expanded"), (Omitted, "omitted"),
    (DoubtfulWord, "doubtful-word"), (Doubtful, "doubtful"), (Gap, "gap"),
)  # fmt: skip


LONGEST: Final = 360
AROUND: Final = 110
PIECES: Final = 3
NEAR: Final = 16
"""Of a text with more than LONGEST letters, AROUND letters on each side of what was sought are shown, in
PIECES at most, each cut at a blank within NEAR letters."""


class Letter(NamedTuple):
    """One letter: whether it was sought, and what is the matter with it ("" for nothing)."""

    letter: str
    marked: bool
    damage: str
    at: int


_DOTS: Final = [Letter("…", False, "", -1), Letter(" ", False, "", -1)]


def damaged(html: str, reading: Reading) -> Markup | None:
    """The marked text with its damage; None where it is not the text of this reading.

    >>> from catalogue.reading import read
    >>> damaged("<mark>Lot</mark> 12", read("Lot 1_2"))
    Markup('<mark>Lot</mark> <span class="doubtful">1<bdi class="said"> (doubtful letter)</bdi></span>2')
    """
    letters = list(_marked(html))
    text = "".join(letter for letter, _ in letters)
    if text != reading.plain():
        return None
    found = dict(_damage(reading))
    told = [
        Letter(letter, marked, *found.get(place, ("", -1)))
        for (letter, marked), place in zip(letters, places(reading.tree, "plain"), strict=True)
    ]
    return Markup("".join(_runs(_around(told))))


def undamaged(html: str) -> Markup:
    """The marked text of what is no reading, a long one shortened around what was sought.

    >>> undamaged("a <mark>b</mark> &amp; c")
    Markup('a <mark>b</mark> &amp; c')
    """
    letters = [Letter(letter, marked, "", -1) for letter, marked in _marked(html)]
    return Markup("".join(_runs(_around(letters))))


def _around(letters: list[Letter]) -> list[Letter]:
    """All of a short text; of a long one what stands around what was sought, or its beginning."""
    if len(letters) <= LONGEST:
        return letters
    marks = [at for at, each in enumerate(letters) if each.marked] or [0]
    kept: list[list[int]] = []
    for at in marks:
        if kept and at - AROUND <= kept[-1][1]:
            kept[-1][1] = at + AROUND
        elif len(kept) < PIECES:
            kept.append([at - AROUND, at + AROUND])
    told: list[Letter] = []
    for first, last in kept:
        start, end = _between_words(letters, max(first, 0), min(last, len(letters)))
        told += [*_DOTS[: 2 * (start > 0)], *letters[start:end]]
    return [*told, *_DOTS[::-1]] if end < len(letters) else told


def _between_words(letters: list[Letter], start: int, end: int) -> tuple[int, int]:
    """The same stretch, begun and ended at a blank where one is near."""
    for at in range(start, min(start + NEAR, len(letters))):
        if start and letters[at].letter.isspace():
            start = at + 1
            break
    for at in range(end, max(end - NEAR, start), -1):
        if end < len(letters) and letters[at].letter.isspace():
            return start, at
    return start, end


def _marked(html: str) -> Iterator[tuple[str, bool]]:
    """Each letter of a marked text, and whether it stands in a mark."""
    inside = False
    for tag, words in _PIECE.findall(html):
        if tag:
            inside = tag == "<mark>"
        else:
            yield from ((letter, inside) for letter in unescape(words))


def _damage(reading: Reading) -> Iterator[tuple[int, tuple[str, int]]]:
    """For each place in the markup with damage: which, and where that damage begins."""
    for node in walk(reading.tree):
        kind = next((name for kind, name in _KINDS if isinstance(node, kind)), "")
        if isinstance(node, Restored | Expanded) and node.unsure:
            kind = f"{kind} {kind}-unsure"
        if kind:
            yield from ((place, (kind, node.start)) for place in range(node.start, node.end))


def _runs(letters: list[Letter]) -> Iterator[str]:
    for (damage, _), same in groupby(letters, key=lambda each: (each.damage, each.at)):
        inner = "".join(
            f"<mark>{_text(run)}</mark>" if marked else _text(run)
            for marked, run in groupby(same, key=lambda each: each.marked)
        )
        first = damage.partition(" ")[0]
        if not damage:
            yield inner
        elif signs := _SIGNS.get(first):
            before = _said(spoken(f"{first}_unsure" if " " in damage else first))
            yield f'<span class="{damage}">{before}{_sign(signs[0])}{inner}{_sign(signs[1])}</span>'
        elif first == "gap":
            yield f'<span class="gap"><span class="sign">{inner}</span></span>'
        else:
            yield f'<span class="{damage}">{inner}{_said(spoken(first.replace("-", "_")))}</span>'


def _text(run: Iterator[Letter]) -> str:
    return escape("".join(each.letter for each in run), quote=False)


def _said(words: str) -> str:
    return f'<bdi class="said">{escape(words)}</bdi>'


def _sign(sign: str) -> str:
    return f'<span class="sign" aria-hidden="true">{escape(sign)}</span>'
