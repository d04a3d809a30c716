"""A provenance as words and signs, with the partners of its brackets and quotation marks.

A bracket counts only where it has a partner that is not too far away: one that was forgotten must
not swallow the rest of the text.
"""

from __future__ import annotations

from typing import Final

from catalogue.argument.prose.reading.words import TOKEN, plain

_PAIRS: Final = {")": "(", "]": "[", "}": "{"}
_QUOTES: Final = {"“": "”", "„": "”“", "«": "»", '"': '"'}
_FARTHEST: Final = 1_500
"""So many letters may stand between two brackets."""
_FARTHEST_QUOTE: Final = 250


class Scan:
    """The words of a text: white space is left out, `blank[i]` says whether it stood before word i."""

    def __init__(self, text: str, start: int = 0, end: int | None = None) -> None:
        self.text = text
        self.words: list[str] = []
        self.lows: list[str] = []
        self.starts: list[int] = []
        self.ends: list[int] = []
        self.blank: list[str] = []
        gap = ""
        for found in TOKEN.finditer(text, start, len(text) if end is None else end):
            word = found[0]
            if word.isspace():
                gap = word
                continue
            self.words.append(word)
            self.lows.append(plain(word))
            self.starts.append(found.start())
            self.ends.append(found.end())
            self.blank.append(gap)
            gap = ""
        self.closes: dict[int, int] = {}
        """Opening bracket → its partner."""
        self.alone: list[int] = []
        """Brackets without a partner."""
        self._brackets()
        self.quotes: dict[int, int] = {}
        self._quotes()

    def __len__(self) -> int:
        return len(self.words)

    def _brackets(self) -> None:
        waiting: list[int] = []
        open_now = dict.fromkeys("([{", 0)
        for at, word in enumerate(self.words):
            if word in open_now:
                waiting.append(at)
                open_now[word] += 1
            elif word in _PAIRS:
                if not open_now[_PAIRS[word]]:
                    self.alone.append(at)
                    continue
                while True:
                    opening = waiting.pop()
                    open_now[self.words[opening]] -= 1
                    if self.words[opening] == _PAIRS[word]:
                        break
                    self.alone.append(opening)
                if self.starts[at] - self.starts[opening] <= _FARTHEST:
                    self.closes[opening] = at
                else:
                    self.alone += [opening, at]
        self.alone += waiting
        self.alone.sort()

    def _quotes(self) -> None:
        at = 0
        last: dict[str, int] = {}
        for at, word in enumerate(self.words):
            for opening, closing in _QUOTES.items():
                if word in closing and opening in last:
                    first = last.pop(opening)
                    if self.starts[at] - self.starts[first] <= _FARTHEST_QUOTE:
                        self.quotes[first] = at
                    break
            else:
                if word in _QUOTES:
                    last[word] = at

    def first_from(self, at: int, letter: int, behind: int) -> int:
        """The first word from `at` on that begins at a letter or behind it, at most `behind`.

        >>> scan = Scan("14 May 1957, lot")
        >>> scan.words[scan.first_from(0, 7, len(scan))]
        '1957'
        """
        while at < behind and self.starts[at] < letter:
            at += 1
        return at

    def is_capital(self, at: int) -> bool:
        """Whether a word begins with a capital, also behind "d'" or "l'"."""
        word = self.words[at]
        if word[0].isupper():
            return True
        if word[0] in "'’":
            return word[3:4].isupper()  # 's-Gravenhage
        head, joint, tail = word.replace("’", "'").partition("'")
        return bool(joint) and len(head) <= 2 and tail[:1].isupper()
