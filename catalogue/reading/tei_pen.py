"""Typing a label as a program does: letters with the escapes they need, signs beside each other.

A `Pen` writes what stands inside one sign, or the label itself. It knows the signs around it, since
they decide which letters would be signs here.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from typing import Final

from catalogue.reading.nodes import Node
from catalogue.reading.reading import read

DEEPEST: Final = 60
_ALWAYS: Final = frozenset("[]{}<>_\\|~*^")
# after one of these a "(" would complete a word
_ENDS_WORD: Final = frozenset("]>}^)_.'’")
_HYPHENS: Final = "-‐⸗"
_SPACES: Final = re.compile(r"[ \t\r\n]+")
_LONGEST_TRIED: Final = 20_000


class Pen:
    """Writes inside the signs `around`, outermost first; `doubtful`: every letter with its mark."""

    def __init__(self, around: tuple[str, ...] = (), *, doubtful: bool = False) -> None:
        self.around = around
        self.doubtful = doubtful
        self._written: list[str] = []

    def inside(self, sign: str, *, doubtful: bool = False) -> Pen:
        """A pen for what stands inside a sign that begins here."""
        return Pen((*self.around, sign), doubtful=self.doubtful or doubtful)

    @property
    def markup(self) -> str:
        """What has been written."""
        return "".join(self._written)

    @property
    def empty(self) -> bool:
        """Whether nothing has been written but spaces."""
        return not any(map(str.strip, self._written))

    @property
    def last(self) -> str:
        """The last sign of what has been written, "" at the beginning."""
        return self._written[-1][-1] if self._written else ""

    @property
    def behind_a_word(self) -> bool:
        """Whether what comes next stands right behind letters, or a sign that may end a word."""
        last = self.last
        return bool(last) and (
            last.isalnum() or last in _ENDS_WORD or bool(unicodedata.combining(last))
        )

    def apart(self, typed: str, fits: Callable[[Node], bool]) -> bool:
        """Whether a sign with its word, written here, takes in none of what stands before it."""
        if not self.behind_a_word and self.last not in ("/", "*"):
            return True
        before = self.markup
        if len(before) > _LONGEST_TRIED:
            return False
        tree = read(before + typed).tree
        return bool(tree) and tree[-1].start == len(before) and fits(tree[-1])

    def sign(self, markup: str) -> None:
        """Something that is markup already."""
        if markup:
            # "/" and "*" together would begin a note, unless the "/" ends one
            if self.last == "/" and markup[0] == "*" and self._written[-1][:2] != "/*":
                self._written.append(" ")
            self._written.append(markup)

    def spaced_sign(self, markup: str) -> bool:
        """A sign that must stand at the beginning or after a space; False if one was put in."""
        if not self.around and self._written[-1:] == ["\\("]:
            # a "(" that is no sign still opens: what it holds begins there
            self._written.pop()
            self._written.append("\\(" if self.behind_a_word else "(")
        last = self.last
        fits = not last or last.isspace() or last == "|" or self._written[-1] == "("
        self._written.append(markup if fits else f" {markup}")
        return fits

    def line(self, *, block: bool, runs_on: bool) -> None:
        """The end of a line; a word runs on where it can, and a hyphen says so by itself."""
        self._trim()
        sign = "||" if block else "|" if self.around else "\n"
        if sign[0] == "|" and self.last == "|":
            self._written.append(" ")
        runs = runs_on and self.behind_a_word and self.last not in _HYPHENS
        self._written.append(f"={sign}" if runs else sign)

    def _trim(self) -> None:
        while self._written and not (kept := self._written[-1].rstrip(" ")):
            self._written.pop()
        if self._written:
            self._written[-1] = kept

    def letters(self, text: str) -> tuple[bool, bool]:
        """Text as it stands in a file; whether some of it could not be marked doubtful, or is so.

        The first answer: a sign that is no letter stands among doubtful ones. The second: a letter
        that has a dot below of its own, which our markup reads as doubt.
        """
        text = unicodedata.normalize("NFC", _SPACES.sub(" ", text))
        if self.last in ("", "\n", "|") and not self.around:
            text = text.removeprefix(" ")
        plain = dotted = False
        for number, letter in enumerate(text):
            after = text[number + 1 : number + 3]
            typed = self._typed(letter, after, last=number == len(text) - 1)
            if self.doubtful and not _combines(after[:1]):
                # the mark of doubt stands behind a letter and all its accents
                marked = letter.isalnum() or _combines(letter)
                typed += "_" if marked else ""
                plain = plain or not (marked or letter.isspace())
            dotted = dotted or (
                "\N{COMBINING DOT BELOW}" in unicodedata.normalize("NFD", letter)
            )
            self._written.append(typed)
        return plain, dotted

    def _typed(self, letter: str, after: str, *, last: bool) -> str:
        """A letter, escaped where it would be a sign."""
        before = self.last
        risky = (
            letter in _ALWAYS
            or (letter == "+" and not (before == after[:1] == " "))
            or (letter == "@" and not before.isalnum())
            or (letter == "=" and (last or bool(self.around)))
            or (letter == "/" and (last or bool(self.around)))
            or (letter == ")" and bool(self.around))
            or (letter == "(" and (bool(self.around) or self._opens(after)))
        )
        return f"\\{letter}" if risky else letter

    def _opens(self, after: str) -> bool:
        return self.behind_a_word or not after or after.startswith(("(", "va", "bl"))


def _combines(letter: str) -> bool:
    return bool(letter) and bool(unicodedata.combining(letter))


def fitting(
    opening: str, inner: str, closing: str, fits: Callable[[Node], bool]
) -> tuple[str, bool] | None:
    """A sign around what it holds, typed so that it is read as that; None when it cannot be.

    The second answer tells whether a space had to be put inside.

    >>> from catalogue.reading.nodes import Restored
    >>> fitting("[", "abc", "]", lambda node: isinstance(node, Restored))
    ('[abc]', False)
    >>> fitting("[", "2 lines", "]", lambda node: isinstance(node, Restored))
    ('[2 lines ]', True)
    """
    for before, after in (("", ""), ("", " "), (" ", ""), (" ", " ")):
        typed = f"{opening}{before}{inner}{after}{closing}"
        if is_one(typed, fits):
            return typed, bool(before or after)
    return None


def is_one(typed: str, fits: Callable[[Node], bool]) -> bool:
    """Whether some markup is read as exactly one node that fits; a very long one is believed."""
    if len(typed) > _LONGEST_TRIED:
        return True
    tree = read(typed).tree
    return len(tree) == 1 and fits(tree[0])
