"""The course of reading one step: what it has told so far, and what is awaited next.

The readers of words, names, figures and brackets all go on from here and leave here what they found.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from catalogue.argument.prose.reading.notes import Mark
from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.words import Word
from catalogue.measure import DateSpan


@dataclass(slots=True)
class Somebody:
    """A party of a step as far as it is read; places of the scan, not yet text."""

    start: int
    end: int
    role: str
    life: str | None = None
    place: tuple[int, int] | None = None
    relation: str | None = None
    bracket: str = ""
    more: tuple[int, int] | None = None  # a title behind the life dates


@dataclass(slots=True)
class Told:
    """What a step has told so far."""

    parties: list[Somebody] = field(default_factory=list)
    passings: list[tuple[Word, int, int]] = field(default_factory=list)
    place: tuple[int, int] | None = None
    when: DateSpan | None = None
    until: DateSpan | None = None
    lot: str | None = None
    price: str | None = None
    stock_number: str | None = None
    sure: str = "certain"
    gap: bool = False
    maker: bool = False
    editorial: bool = False
    aside: bool = False  # a remark on the whole text
    perhaps_house: bool = False  # whether a name may be a sale's house or the buyer's
    remarks: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    habits: list[tuple[str, int]] = field(default_factory=list)


class Course:
    """The words `first` to before `behind` of a scan, as far as they are read; `told` is what they say."""

    def __init__(
        self,
        scan: Scan,
        first: int,
        behind: int,
        cited: dict[int, Mark],
        one: Callable[[Course, int, int], int],
    ) -> None:
        self.scan = scan
        self.first = first
        self.behind = behind
        self.cited = cited
        self.one = one  # reads what stands at a word
        self.told = Told()
        self.placed = bytearray(behind - first)
        self.expect = "holder"  # what whoever is named next was
        self.then = "holder"  # and who is led to by "to"
        self.fresh = True  # whether somebody new is to be named
        self.kin: tuple[int, int] | None = None
        self.last = ""  # what was read last: party, place, date, number, bracket, sale
        self.comma = False
        self.in_sale = False
        self.sale_named = False
        self.bracket = ""  # within which sort of bracket of its own a dealer stands
        self.depth = 0
        self.nested = 0
        self.last_party_end = -1
        self.bracket_named = False  # whether its dealer was named

    def read_words(self, at: int, behind: int) -> None:
        """Read all the words of a stretch."""
        while at < behind:
            at = self.one(self, at, behind)

    def place(self, start: int, end: int) -> int:
        """Mark words as understood."""
        for at in range(start, end):
            self.placed[at - self.first] = 1
        return end

    def text(self, start: int, end: int) -> str:
        """The letters of some words."""
        return self.scan.text[self.scan.starts[start] : self.scan.ends[end - 1]]

    def is_capital(self, at: int, behind: int) -> bool:
        """Whether a word stands there and begins with a capital."""
        return at < behind and self.scan.is_capital(at)

    def closed(self, at: int, behind: int) -> bool:
        """Whether a phrase ends here: at a comma, a bracket or the end."""
        return at >= behind or self.scan.words[at] in ",;.()[]"

    def note(self, at: int, behind: int, mark: Mark) -> int:
        """Take up a mark of notes."""
        end = self.scan.first_from(at + 1, mark.end, behind)
        self.told.notes += [each for each in mark.marks if each not in self.told.notes]
        return self.place(at, end)

    def left(self) -> str:
        """The words that found no place, in order."""
        runs: list[str] = []
        at = self.first
        while at < self.behind:
            if self.placed[at - self.first] or not self._says(at):
                at += 1
                continue
            start = at
            end = at
            while at < self.behind and not self.placed[at - self.first]:
                if self._says(at):
                    end = at
                at += 1
            runs.append(self.scan.text[self.scan.starts[start] : self.scan.ends[end]])
        return " ".join(runs)

    def _says(self, at: int) -> bool:
        return any(letter.isalnum() for letter in self.scan.words[at])
