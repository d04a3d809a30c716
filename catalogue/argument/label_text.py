"""A label as the rules of dating search it: its seen letters as one text, each with its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import Final

from catalogue.reading import GAP, Hand, Reading, SeenLetter

_HYPHENS: Final = "-‐"


class LabelText:
    """The seen text of a label, words joined over a line's end, with where each letter was typed."""

    def __init__(self, letters: Sequence[SeenLetter]) -> None:
        self.letters = letters
        self.text = "".join(each.letter for each in letters)

    @classmethod
    def of(cls, reading: Reading) -> LabelText:
        """The text of a reading.

        >>> from catalogue.reading import read
        >>> LabelText.of(read("Reichs-|bahn [Tel.] 3021")).text
        'Reichsbahn … 3021'
        """
        return cls(tuple(_joined(reading.seen_letters())))

    @cached_property
    def is_whole(self) -> bool:
        """Whether nothing at all is lost."""
        return GAP not in self.text

    def line_before(self, start: int) -> str:
        """What stands before a place on its line and the line above it, at most 80 letters."""
        before = self.text[max(0, start - 80) : start]
        return " ".join(before.rsplit("\n", 2)[-2:])

    def written(self, start: int, end: int) -> str:
        """A stretch as it stands there, on one line."""
        return " ".join(self.text[start:end].split())

    def place(self, start: int, end: int) -> tuple[int, int]:
        """Where a stretch was typed, in code points of the markup."""
        return self.letters[start].start, self.letters[end - 1].end


def _joined(letters: Sequence[SeenLetter]) -> Iterator[SeenLetter]:
    """The letters without the hyphens and line ends that only part a word."""
    for number, each in enumerate(letters):
        after = letters[number + 1] if number + 1 < len(letters) else None
        if each.joins or (after and after.joins and each.letter in _HYPHENS):
            continue
        yield each


@dataclass(frozen=True, slots=True)
class Stretch:
    """What stands under one sign of a hand; `observed` are the words of that sign."""

    hand: Hand
    observed: str
    seen: str


def stretches(text: LabelText) -> Iterator[Stretch]:
    """What stands under each sign of a hand that says how it was written."""
    for hand, letters in groupby(text.letters, key=lambda each: each.hand):
        if hand is not None:
            seen = "".join(each.letter for each in letters)
            yield Stretch(hand, f"{hand.technique} {hand.medium or ''}".strip(), seen)
