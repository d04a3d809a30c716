"""A label as the rules of dating search it: its seen letters as one text, each with its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import Final, Literal

from catalogue.reading import GAP, Hand, Reading, SeenLetter
from catalogue.terms import within

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

    def is_doubtful(self, start: int, end: int) -> bool:
        """Whether one of its letters is."""
        return any(each.doubtful for each in self.letters[start:end])

    def is_struck(self, start: int, end: int) -> bool:
        """Whether one of its letters was struck out."""
        return any(each.struck for each in self.letters[start:end])


def _joined(letters: Sequence[SeenLetter]) -> Iterator[SeenLetter]:
    """The letters without the hyphens and line ends that only part a word."""
    for number, each in enumerate(letters):
        after = letters[number + 1] if number + 1 < len(letters) else None
        if each.joins or (after and after.joins and each.letter in _HYPHENS):
            continue
        yield each


class Layers:
    """What of a label is the mark itself, and what was put on it later: filled in, or stamped.

    `techniques` are concepts of vocab/terms; the first is that of the letters before any sign of a
    hand, printed when there is none.
    """

    def __init__(self, text: LabelText, techniques: Sequence[str] = ()) -> None:
        self._text = text
        self._unsaid = _in_the_markup(techniques[0] if techniques else "technique/printed")
        used = [self._technique(each) for each in text.letters if each.letter.strip()]
        self._base = "printed" if "printed" in used or not used else used[0]

    def dates(self, start: int, end: int) -> Literal["printing", "use"]:
        """What this stretch can date: when the mark was made, or when it was used.

        >>> from catalogue.reading import read
        >>> text = LabelText.of(read("@p Price: @h 30 gns"))
        >>> Layers(text).dates(0, 6), Layers(text).dates(0, 10)
        ('printing', 'use')
        """
        letters = (each for each in self._text.letters[start:end] if each.letter.strip())
        return (
            "use"
            if any(self.is_later(self._technique(each)) for each in letters)
            else "printing"
        )

    def is_later(self, technique: str) -> bool:
        """Whether a technique of the markup is not that in which the mark was made."""
        return technique == "handwritten" or technique != self._base

    def _technique(self, letter: SeenLetter) -> str:
        return letter.hand.technique if letter.hand else self._unsaid


def _in_the_markup(concept: str) -> str:
    """The technique of the markup that a concept of vocab/terms comes under."""
    for each in ("handwritten", "typed", "stamped", "stencilled", "branded"):
        if within(concept, f"technique/{each}"):
            return each
    return "printed"


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
