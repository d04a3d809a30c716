"""A field cut into words and signs: which of them are closed off, and where its lines end."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from catalogue.argument.inscription_fields.words import (
    ENGLISH,
    TOKEN,
    Meaning,
    Wordings,
    languages,
    wordings,
)

OPEN_BRACKETS: Final = {"[": "]", "(": ")"}
_OPEN_QUOTES: Final = {'"': '"', "“": "”", "„": "“", "«": "»", "‘": "’", "'": "'", "‚": "‘"}
"""An opening quotation mark and the one that closes it; of „ also ”, see `_closes`."""
_ENTITY: Final = re.compile(r"&#?\w{1,8};\Z")
LINE_ENDS: Final = frozenset("\n\r")


class Scan:
    """The words and signs of a field, each with the place where it begins.

    `closes` gives for an opening quotation mark or bracket the place of its partner among the
    tokens; one without a partner is a letter like any other.
    """

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens: list[str] = TOKEN.findall(text)
        self.starts: list[int] = []
        at = 0
        for token in self.tokens:
            self.starts.append(at)
            at += len(token)
        self.starts.append(at)
        self._lines = self._line_numbers()
        self.closes: dict[int, int] = {}
        self.quotes: set[int] = set()
        self._pair_quotes()
        self._pair_brackets()
        self.language = self._language()

    def _line_numbers(self) -> list[int]:
        numbers, line = [], 0
        for token in self.tokens:
            numbers.append(line)
            line += token.isspace() and bool(LINE_ENDS.intersection(token))
        return numbers

    # -- what is closed off

    def _pair_quotes(self) -> None:
        """Pair the quotation marks, none within another; across a line end only where both fit."""
        ends = self._possible_closings()
        at = 0
        while at < len(self.tokens):
            closing = self._closing_of(at, ends)
            if closing is None:
                at += 1
                continue
            self.closes[at] = closing
            self.quotes.add(at)
            at = closing + 1

    def _possible_closings(self) -> dict[str, list[int]]:
        """The places where each mark could close, last first, so that they can be taken off."""
        found: dict[str, list[int]] = {}
        for at in range(len(self.tokens) - 1, -1, -1):
            mark = self.tokens[at]
            if mark in _CLOSING and self._may_close(at):
                found.setdefault(mark, []).append(at)
        return found

    def _may_close(self, at: int) -> bool:
        if self.tokens[at] not in ("'", "’"):
            return at > 0
        # an apostrophe stands within a word, before a shortened year, or behind a plural's s
        before, after = self._beside(at)
        return not before.isspace() and before != "" and not after.isalnum()

    def _beside(self, at: int) -> tuple[str, str]:
        before = self.tokens[at - 1] if at else ""
        after = self.tokens[at + 1] if at + 1 < len(self.tokens) else ""
        return before[-1:], after[:1]

    def _closing_of(self, at: int, ends: dict[str, list[int]]) -> int | None:
        mark = self.tokens[at]
        if mark not in _OPEN_QUOTES or not self._may_open(at):
            return None
        for closing in (_OPEN_QUOTES[mark], *_ALSO_CLOSES.get(mark, ())):
            waiting = ends.get(closing, [])
            while waiting and waiting[-1] <= at + 1:
                waiting.pop()
            if waiting and self._fits(at, waiting[-1]):
                return waiting[-1]
        return None

    def _may_open(self, at: int) -> bool:
        mark = self.tokens[at]
        before, after = self._beside(at)
        if not after or (after.isspace() and mark != "«"):
            return False
        if mark == '"':
            return not before.isdigit()  # inches
        if mark in ("'", "‘"):
            return not before.isalnum() and not self._is_short_year(at)
        return True

    def _is_short_year(self, at: int) -> bool:
        """Whether the mark stands for the century: "Wynne '87", not "dated '12 Feb'"."""
        year = self.tokens[at + 1]
        if not (year.isdigit() and len(year) == 2):
            return False
        word = self.before(at, 0)
        return word < 0 or not (self.tokens[word].islower() or self.tokens[word] in ":,(")

    def _fits(self, at: int, closing: int) -> bool:
        """Whether nothing between the two marks says that they are not partners."""
        if self._lines[at] == self._lines[closing]:
            return True
        # over a line end: the mark must not look like the beginning of another quotation
        before, after = self._beside(closing)
        return not before.isspace() and not after.isalnum()

    def _pair_brackets(self) -> None:
        waiting: list[int] = []
        at = 0
        while at < len(self.tokens):
            token = self.tokens[at]
            if at in self.quotes:
                at = self.closes[at]
            elif token in OPEN_BRACKETS:
                waiting.append(at)
            elif token in "])" and waiting and OPEN_BRACKETS[self.tokens[waiting[-1]]] == token:
                self.closes[waiting.pop()] = at
            elif token.isspace() and LINE_ENDS.intersection(token):
                waiting.clear()
            at += 1

    # -- going through it

    def after(self, at: int) -> int:
        """The place behind a token, or behind what it closes off."""
        return self.closes.get(at, at) + 1

    def skip_blanks(self, at: int, end: int) -> int:
        """The first place from here that is no white space."""
        while at < end and self.tokens[at].isspace():
            at += 1
        return at

    def before(self, at: int, start: int) -> int:
        """The last place before this one that is no white space, `start - 1` where there is none."""
        at -= 1
        while at >= start and self.tokens[at].isspace():
            at -= 1
        return at

    def segments(self) -> Iterator[tuple[int, int]]:
        """The stretches between line ends and semicolons that nothing closes off."""
        start = at = 0
        while at < len(self.tokens):
            token = self.tokens[at]
            if (token.isspace() and LINE_ENDS.intersection(token)) or (
                token == ";" and not self._ends_entity(at)
            ):
                yield start, at
                start = at + 1
            at = self.after(at)
        yield start, len(self.tokens)

    def _ends_entity(self, at: int) -> bool:
        end = self.starts[at + 1]
        return bool(_ENTITY.search(self.text, max(0, end - 12), end))

    # -- wordings

    def wording(self, at: int, end: int) -> tuple[int, list[Meaning]] | None:
        """The longest wording that begins here: the place behind it and what it says."""
        node: Wordings | None = wordings()
        found = None
        while node is not None and at < end:
            node, at = self._step(node, at, end)
            if node is None:
                break
            if node.meanings:
                found = at, node.meanings
            if not node.words:
                break
            # between two words stands one blank or hyphen, or nothing behind a full stop
            if at < end and (self.tokens[at] == "-" or self.tokens[at].isspace()):
                if LINE_ENDS.intersection(self.tokens[at]):
                    break
                at += 1
        return found

    def _step(self, node: Wordings, at: int, end: int) -> tuple[Wordings | None, int]:
        word = self.tokens[at].casefold()
        if at + 1 < end and self.tokens[at + 1] == ".":
            stopped = node.words.get(word + ".")
            if stopped is not None:
                return stopped, at + 2
        plain = node.words.get(word)
        if plain is None and len(word) == 1:
            plain = node.words.get(word + ".")  # "l.r" and "l r"
        return plain, at + 1

    def _language(self) -> str:
        """The language with the most telling words, English where none has more than English."""
        words = {token.casefold() for token in self.tokens}
        told = {name: len(telling & words) for name, telling in languages().items()}
        best = max(told, key=lambda name: told[name])
        return best if told[best] > told[ENGLISH] else ENGLISH


_CLOSING: Final = frozenset(_OPEN_QUOTES.values())
_ALSO_CLOSES: Final = {"„": ("”", '"'), "“": ('"',), "‚": ("’",)}
