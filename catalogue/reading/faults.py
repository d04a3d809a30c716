"""What is wrong with a label as typed: where, which sign, what to do; saved all the same."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from catalogue.reading.sentences import fault_sentence

MOST_LISTED: Final = 1_000
_SHOWN: Final = 22  # columns of the label shown on each side of the sign


@dataclass(frozen=True, slots=True)
class Fault:
    """One sign that was typed wrongly, or that may mean something else than the typist thinks.

    `at` is a code-point offset into the markup. `literal` says that the sign was kept as a
    letter; otherwise it was read as a sign and this is a question.
    """

    at: int
    sign: str
    message: str
    remedy: str
    literal: bool = True

    def place(self, markup: str) -> tuple[int, int]:
        """The line as typed and the letter in it, both counted from 1.

        >>> from catalogue.reading.reading import read
        >>> read("Lot 12\\nSm[ith").faults[0].place("Lot 12\\nSm[ith")
        (2, 3)
        """
        before = markup[: self.at].replace("\r\n", "\n").replace("\r", "\n")
        return before.count("\n") + 1, len(before) - before.rfind("\n")

    def shown(self, markup: str) -> str:
        """The message, the line of the label, and a caret under the sign.

        >>> from catalogue.reading.reading import read
        >>> label = "Sm[ith"
        >>> print(read(label).faults[0].shown(label))
        this '[' has no partner: kept as a letter
          Sm[ith
            ^
        """
        begin = max(markup.rfind(end, 0, self.at) for end in "\r\n") + 1
        line = markup[begin:].splitlines()[0] if markup[begin:] else ""
        column = self.at - begin
        first = max(0, column - _SHOWN)
        line = line[first : column + _SHOWN]
        caret = "".join(_blank(letter) for letter in line[: column - first])
        return f"{self.message}\n  {line}\n  {caret}^"


def _blank(letter: str) -> str:
    """White space as wide as a letter on a terminal."""
    if letter == "\t":
        return letter
    if unicodedata.combining(letter):
        return ""
    return "  " if unicodedata.east_asian_width(letter) in "WF" else " "


@dataclass(slots=True)
class Faults:
    """The faults of one label as they are found; nobody reads more than `MOST_LISTED` of them."""

    listed: list[Fault] = field(default_factory=list)
    unlisted: int = 0
    _first_unlisted: int = 0

    def add(self, key: str, at: int, sign: str, partner: str = "") -> None:
        """List the fault of that key in vocab/markup_signs.toml, or count it."""
        if len(self.listed) < MOST_LISTED:
            self.listed.append(Fault(at, sign, *_told(key, sign, partner)))
            return
        self.unlisted += 1
        self._first_unlisted = min(self._first_unlisted or at, at)

    def in_order(self) -> tuple[Fault, ...]:
        """By place; the first one that is not listed says how many more there are."""
        found = self.listed
        if self.unlisted:
            told = _told("more", f"{self.unlisted:,}", "")
            found = [*found, Fault(self._first_unlisted, "", *told)]
        return tuple(sorted(found, key=lambda fault: fault.at))


@lru_cache(maxsize=256)
def _told(key: str, sign: str, partner: str) -> tuple[str, str, bool]:
    told = fault_sentence(key)
    escaped = "".join(f"\\{letter}" for letter in sign)
    words = {"sign": sign, "partner": partner, "escaped": escaped}
    return told.message.format(**words), told.remedy.format(**words), told.literal
