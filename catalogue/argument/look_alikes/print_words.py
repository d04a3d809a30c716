"""The printed words of a label as far as they are seen, ready to be laid beside those of another.

What was filled in is left out. A lost part stays as "…": it may have been anything. Letters that the
reader doubted are remembered, since they say little against a likeness.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from catalogue.places import table
from catalogue.reading import GAP, Reading, fold
from catalogue.terms import within

TABLE = "look_alikes.toml"
BLANK = "□"
"""What stands for whatever was filled in: a blank of the form."""


class PrintWord(NamedTuple):
    """One printed word, folded; `doubt` has a bit for each letter that the reader doubted."""

    text: str
    doubt: int = 0

    @property
    def lost(self) -> bool:
        """Whether letters of it, or whole words, are lost."""
        return GAP in self.text

    @property
    def letters(self) -> int:
        """How many letters are there."""
        return 0 if self.text == BLANK else len(self.text) - self.text.count(GAP)

    @property
    def number(self) -> bool:
        """Whether there is a figure in it."""
        return any(letter.isdigit() for letter in self.text)


Print = tuple[PrintWord, ...]


def printed_words(reading: Reading, techniques: Iterable[str] = ()) -> Print:
    """The printed words, in order.

    `techniques` are concepts of vocab/terms; the first is that of what stands before any sign of a
    hand. Where no hand is told apart, numbers after a caption ("No 2217") count as filled in.

    >>> from catalogue.reading import read
    >>> [each.text for each in printed_words(read("GALERIE Mor[...]e | No @h 2217 @p Tel. 4_25"))]
    ['galerie', 'mor…e', 'no', '□', 'tel', '425']
    """
    techniques = tuple(techniques)
    by_hand = bool(techniques) and all(
        within(each, "technique/handwritten") for each in techniques
    )
    letters = reading.seen_letters()
    told = any(each.hand for each in letters)
    found: list[PrintWord] = []
    text, doubt, hidden = "", 0, False
    for each in (*letters, None):
        inked = each is not None and (
            each.hand.technique == "printed" if each.hand else not by_hand
        )
        if each is not None and not inked:
            if not hidden and each.letter.strip():
                if text:
                    found.append(PrintWord(text, doubt))
                    text, doubt = "", 0
                found.append(PrintWord(BLANK))
            hidden = hidden or bool(each.letter.strip())
            continue
        hidden = False
        if each is not None and each.joins:
            continue
        if each is not None and _reaches_far(
            each.letter, reading.markup[each.start : each.end]
        ):
            # A loss of unknown extent ends the word before it and may hold whole words.
            found += [PrintWord(text + GAP, doubt)] if text else []
            found.append(PrintWord(GAP))
            text, doubt = GAP, 0
            continue
        folded = fold(each.letter) if each is not None else ""
        kept = "".join(one for one in folded if one.isalnum() or one == GAP)
        if kept:
            assert each is not None
            if each.doubtful:
                doubt |= (1 << len(kept)) - 1 << len(text)
            text += kept
        elif (
            text == GAP
            and found
            and found[-1].text == GAP
            and (each is None or not each.letter.strip())
        ):
            text, doubt = "", 0
        elif text and (each is None or not each.letter.strip() or each.letter in "-/,:;"):
            found.append(PrintWord(text, doubt))
            text, doubt = "", 0
    return tuple(found if told else _without_numbers(found))


def _reaches_far(letter: str, typed: str) -> bool:
    """Whether a loss is of unknown extent: `[---]`, not `[..]`."""
    return letter == GAP and "-" in typed


def _without_numbers(found: list[PrintWord]) -> Iterator[PrintWord]:
    """Numbers behind a caption were most likely filled in: they become a blank."""
    after = False
    for each in found:
        if after and each.number:
            yield PrintWord(BLANK)
        else:
            yield each
        after = each.text in _captions()


@cache
def _captions() -> frozenset[str]:
    return frozenset(table(TABLE)["forms"]["captions"])
