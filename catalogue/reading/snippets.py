"""Signs from the keyboard: one letter puts a sign around what is selected."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import Final

from catalogue.reading.sentences import meaning, snippets


@dataclass(frozen=True, slots=True, kw_only=True)
class Snippet:
    """What a letter types: `before` and `after` go around the selection.

    `sign` is the key of a sign of the markup. With `each`, `after` stands behind every letter of
    the selection. `caret` is where the typing goes on, counted from the first letter that was put
    in; None = between the two when nothing was selected, else behind all of it.
    """

    sign: str
    letter: str
    before: str = ""
    after: str = ""
    each: bool = False
    caret: int | None = None

    @property
    def shown(self) -> str:
        """The sign with a place for what it goes around.

        >>> SNIPPETS[5].letter, SNIPPETS[5].shown
        ('r', '[…]')
        """
        return f"{self.before}…{self.after}" if self.before and self.after else self.around("")

    @property
    def meaning(self) -> str:
        """What the sign means, in a few words."""
        return meaning(self.sign)

    def around(self, selected: str) -> str:
        """The text that stands in the place of what was selected.

        >>> doubtful = next(each for each in SNIPPETS if each.letter == "d")
        >>> doubtful.around("ewi")
        'e_w_i_'
        """
        if self.each and selected:
            return "".join(
                f"{self.before}{letter}{self.after}" for letter in _letters(selected)
            )
        return f"{self.before}{selected}{self.after}"


def _letters(text: str) -> list[str]:
    """The letters, each with its accents."""
    found: list[str] = []
    for letter in text:
        if found and unicodedata.combining(letter):
            found[-1] += letter
        else:
            found.append(letter)
    return found


SNIPPETS: Final = tuple(Snippet(**row) for row in snippets())
"""Every snippet in the order of the card."""
