"""First pass over a label: find the signs and their partners, once, from left to right.

Every sign must close on the line on which it was typed ("|" is a line of the label, not of the
typing). The signs that are open form a stack; a closing sign takes its latest opening, and what
was opened in between has no partner. Each sign goes on the stack once and off it once, so the
time grows with the length of the label and nothing else.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias, cast

from catalogue.reading.faults import Faults
from catalogue.reading.nodes import (
    Break,
    Doubtful,
    Drawn,
    Escaped,
    Extent,
    Gap,
    Hand,
    Leaf,
    Note,
    Space,
    Technique,
    Turned,
)

SIGNS_TO_ESCAPE: Final = "[](){}<>+_|\\/=#@~*^"
HANDS: Final[dict[str, Technique]] = {
    "p": "printed",
    "t": "typed",
    "h": "handwritten",
    "s": "stamped",
    "l": "stencilled",
    "b": "branded",
}
_DOT: Final = "\N{COMBINING DOT BELOW}"
# every letter that Unicode composed with a dot below (a test looks for others)
_DOTTED: Final = "".join(
    letter
    for letter in map(chr, range(0x1E00, 0x1F00))
    if _DOT in unicodedata.normalize("NFD", letter)
)
_SPECIAL: Final = re.compile(rf"[\\\[\]<>{{}}()+_*^~@=|/\r\n{_DOT}{_DOTTED}]")

_N = r"[1-9][0-9]{0,3}"
_CAUSE = r"(?:[ ]{0,3}:[ ]{0,3}(?P<cause>[^\[\]()|\r\n]{1,80}))?"
_GAP: Final = re.compile(
    rf"\[(?:(?P<unknown>\.\?|-{{3,}}|…)|(?P<dots>\.+)"
    rf"|(?P<lines>\?|ca?\.{_N}|{_N}(?:-{_N})?)[ ]lines?"
    rf"|(?P<number>ca?\.{_N}|\.{_N}(?:-{_N})?))(?P<unsure>\?)?{_CAUSE}\]"
)
_TRACES: Final = re.compile(
    rf"\+\((?:(?P<unknown>\?)|(?P<lines>{_N})[ ]lines?"
    rf"|(?P<number>c\.{_N}|{_N}(?:-{_N})?)){_CAUSE}\)"
)
_HAND: Final = re.compile(
    r"@(?P<technique>[pthslb])(?P<number>[0-9])?(?:\((?P<medium>[^()|\r\n]{1,80})\))?"
    r"(?:[ ]|(?=[|\r\n])|\Z)"
)
_TURN: Final = re.compile(r"@r(?P<degrees>[0-9]{1,3})(?:[ ]|(?=[|\r\n])|\Z)")
_NO_TURN: Final = re.compile(r"@r-?[0-9]*(?:°?[ ])")
_HAND_GLUED: Final = re.compile(r"@[pthslb][0-9]?\([^()|\r\n]{1,80}\)")
_NO_HAND: Final = re.compile(r"@[a-z][0-9]?[ ]")
_SPACE: Final = re.compile(r"\((?:vac\.(?P<letters>[1-9][0-9]{0,3})?|blank)\)")
_NO_SPACE: Final = re.compile(
    r"\([ ]?(?:vac(?:at)?\.?[ ]?[0-9]{0,4}|blank)[ ]?\)", re.IGNORECASE
)
_STRUCK: Final = re.compile(r"\[\[(?:(?:erased|covered|overwritten):[ ]?)?")
_ADDED: Final = re.compile(r"\\(?:(?:above|below|margin|left|right|top|bottom):[ ]?)?(?=\w)")
_FOREIGN: Final = re.compile(r"~[a-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,3}:")
_NO_FOREIGN: Final = re.compile(r"~[A-Za-z][A-Za-z_-]{1,30}:")
_NEWLINE: Final = re.compile(r"\r\n|\r|\n|\|\|?")
_RUN: Final = {sign: re.compile(rf"{re.escape(sign)}+") for sign in "_+"}

# each sign that opens: what it is told to close with, and the closing signs it competes for
_CLOSING: Final = {
    "[": "]", "[[": "]]", "<": ">", "<<": ">>", "{": "}", "(": ")", "((": "))",
    "\\": "/", "*": "*", "^": "^", "~": "~", "plain (": ")", "plain *": "*",
}  # fmt: skip
_SILENT: Final = {"plain (", "plain *"}
_ENDS_WORD: Final = frozenset("]>}^)_.'’")
_FULL_TURN: Final = 360
# what may stand for the word above it, if no letter stands before it; a symbol may anywhere
_DITTO_MARKS: Final = frozenset("\"“”„‟″〃»«‚,'’-‐–—")
_SYMBOLS: Final = frozenset("&%‰§¶†‡@#")
_MOST_SYMBOLS: Final = 8

Role: TypeAlias = Literal["open", "close", "behind", "split"]


@dataclass(slots=True)
class Token:
    """A sign that needs its neighbours: opening, closing, behind a word, "=" of a correction.

    `partner` is the number of the token at the other end. Openings called "plain" are ordinary
    letters when they have none, and nobody is told.
    """

    role: Role
    sign: str
    start: int
    end: int
    partner: int | None = None


@dataclass(slots=True, init=False)
class Scan:
    """The pass itself: `tokens` are the signs in order of place, those that stand alone as leaves."""

    markup: str
    tokens: list[Token | Leaf]
    faults: Faults
    _open: list[int]
    _family: dict[str, list[int]]
    _ahead: dict[str, int]
    _done: int
    _inside: int
    _caret_before: int
    _spaced: int

    def __init__(self, markup: str) -> None:
        self.markup = markup
        self.tokens, self.faults, self._open = [], Faults(), []
        self._family = {closing: [] for closing in "])>}/*^~"}
        self._ahead = {}
        self._done = 0  # where the last sign ended
        self._inside = 0  # where the last opening ended
        self._caret_before = 0  # where the last "^" was, and the last space before it
        self._spaced = -1
        position = 0
        while found := _SPECIAL.search(markup, position):
            at = found.start()
            position = _AT.get(markup[at], Scan._dotted)(self, at)
        self._end_line()

    # -- keeping track

    def _keep(self, token: Token | Leaf) -> int:
        self.tokens.append(token)
        self._done = token.end
        return token.end

    def _sign(self, number: int) -> Token:
        return cast(Token, self.tokens[number])

    def _opening(self, sign: str, start: int, end: int) -> int:
        number = len(self.tokens)
        self._open.append(number)
        self._family[_CLOSING[sign][0]].append(number)
        self._keep(Token("open", sign, start, end))
        self._inside = end
        return end

    def _latest(self, closing: str) -> Token | None:
        family = self._family[closing]
        return self._sign(family[-1]) if family else None

    def _innermost(self, sign: str) -> bool:
        """Whether the sign opened last is this one, which opens and closes alike."""
        return bool(self._open) and self._sign(self._open[-1]).sign.endswith(sign)

    def _closing(self, closing: str, start: int, end: int) -> int:
        """Close the latest opening of that family; what was opened since has no partner."""
        target = self._family[closing][-1]
        while (number := self._forget_latest()) != target:
            self._unpartnered(self._sign(number))
        self._sign(target).partner = len(self.tokens)
        return self._keep(Token("close", closing, start, end, partner=target))

    def _forget_latest(self) -> int:
        number = self._open.pop()
        self._family[_CLOSING[self._sign(number).sign][0]].pop()
        return number

    def _unpartnered(self, token: Token) -> None:
        if token.sign not in _SILENT:
            self._fault("no_partner", token.start, token.sign, _CLOSING[token.sign])

    def _end_line(self) -> None:
        while self._open:
            self._unpartnered(self._sign(self._forget_latest()))

    def _fault(self, key: str, at: int, sign: str, partner: str = "") -> None:
        self.faults.add(key, at, sign, partner)

    def _next(self, sought: str, at: int) -> int:
        """Where `sought` comes next; remembered, so that nothing is searched twice."""
        if self._ahead.get(sought, -1) < at:
            found = self.markup.find(sought, at)
            self._ahead[sought] = len(self.markup) if found < 0 else found
        return self._ahead[sought]

    def _on_this_line(self, sought: str, at: int) -> int | None:
        """Where `sought` comes next before the end of the typed line."""
        found = self._next(sought, at)
        stop = min(self._next("\n", at), self._next("\r", at))
        return found if found < stop else None

    def _letter_at(self, at: int) -> str:
        return self.markup[at] if 0 <= at < len(self.markup) else ""

    def _behind_a_word(self, at: int) -> bool:
        before = self._letter_at(at - 1)
        return before.isalnum() or before in _ENDS_WORD or bool(_mark(before))

    def _behind_a_symbol(self, at: int) -> bool:
        last = self.tokens[-1] if self.tokens and self._done == at else None
        if isinstance(last, Escaped):
            return True
        return symbol_start(self.markup, at, self._done) < at

    def _at_word_start(self, at: int) -> bool:
        before = self._letter_at(at - 1)
        return not before or before.isspace() or before == "|" or at == self._inside

    # -- what to do at each sign; each returns where to go on

    def _square(self, at: int) -> int:
        if self.markup.startswith("[!]", at):
            return self._keep(Token("behind", "[!]", at, at + 3))
        if found := _GAP.match(self.markup, at):
            return self._gap(found, "lost")
        if found := _STRUCK.match(self.markup, at):
            return self._opening("[[", at, found.end())
        return self._opening("[", at, at + 1)

    def _gap(self, found: re.Match[str], reason: Literal["lost", "illegible"]) -> int:
        told = found.groupdict()
        extent = _extent(told)
        if extent is None:
            self._fault("backwards", found.start(), found[0])
            return found.end()
        unsure, cause = bool(told.get("unsure")), told["cause"]
        return self._keep(
            Gap(found.start(), found.end(), found[0], reason, extent, cause, unsure)
        )

    def _closes(self, at: int) -> int:
        """`]`, `>`, `)`, `}`: single or double, whichever the latest opening asks for."""
        closing = self.markup[at]
        latest = self._latest(closing)
        if latest is not None:
            wanted = _CLOSING[latest.sign]
            if self.markup.startswith(wanted, at):
                return self._closing(closing, at, at + len(wanted))
        if closing != ")":
            self._fault("no_opening", at, closing, {"]": "[", ">": "<", "}": "{"}[closing])
        return at + 1

    def _angle(self, at: int) -> int:
        sign = "<<" if self.markup.startswith("<<", at) else "<"
        return self._opening(sign, at, at + len(sign))

    def _curly(self, at: int) -> int:
        if self.markup.startswith("{{", at):
            close = self._on_this_line("}}", at + 2)
            if close is not None and self.markup[at + 2 : close].strip():
                words = self.markup[at + 2 : close].strip()
                return self._keep(Drawn(at, close + 2, self.markup[at : close + 2], words))
        return self._opening("{", at, at + 1)

    def _round(self, at: int) -> int:
        if found := _SPACE.match(self.markup, at):
            letters = int(found["letters"]) if found["letters"] else None
            return self._keep(Space(at, found.end(), found[0], letters))
        found = _NO_SPACE.match(self.markup, at)
        if found and not self._behind_a_word(at):
            self._fault("no_space", at, found[0])
            return found.end()
        for sign in ("(?)", "(---)"):
            if self.markup.startswith(sign, at):
                end = at + len(sign)
                behind = self._behind_a_word(at)
                return self._keep(Token("behind", sign, at, end)) if behind else end
        if self.markup.startswith("((", at) and self._behind_a_symbol(at):
            return self._opening("((", at, at + 2)
        if self._behind_a_word(at):
            if self.markup.startswith("((", at):
                return self._opening("((", at, at + 2)
            if self._letter_at(at + 1).isalpha():
                return self._opening("(", at, at + 1)
        return self._opening("plain (", at, at + 1)

    def _plus(self, at: int) -> int:
        if found := _TRACES.match(self.markup, at):
            return self._gap(found, "illegible")
        end = _end_of_run("+", self.markup, at)
        count, before, after = end - at, self._letter_at(at - 1), self._letter_at(end)
        alone = (not before or before in " |\n") and (not after or after in " |\r\n")
        if count == 1:
            if alone:
                return end
            initials = before.isupper() and after.isupper()
            if initials or (self._at_word_start(at) and after.isdigit()):
                self._fault("plus", at, "+")
        return self._keep(
            Gap(at, end, self.markup[at:end], "illegible", Extent(count, count), None, False)
        )

    def _underscore(self, at: int) -> int:
        end = _end_of_run("_", self.markup, at)
        return self._doubtful(at, end) if end - at == 1 else end

    def _dotted(self, at: int) -> int:
        return self._doubtful(at, at + 1)

    def _doubtful(self, at: int, end: int) -> int:
        """A letter with its accents and its mark of doubt, if there is a letter."""
        start = at
        while start > self._done and _mark(self.markup[start]):
            start -= 1
        if self.markup[at] == "_":
            start = at - 1
            while start > self._done and _mark(self.markup[start]):
                start -= 1
        else:
            while end < len(self.markup) and _mark(self.markup[end]):
                end += 1
        if start < self._done or not self.markup[start].isalnum():
            return end
        typed = self.markup[start:end]
        bare = unicodedata.normalize("NFD", typed.removesuffix("_")).replace(_DOT, "")
        letter = unicodedata.normalize("NFC", bare)
        return self._keep(Doubtful(start, end, typed, letter))

    def _star(self, at: int) -> int:
        after = self._letter_at(at + 1)
        no_opening = not after or after.isspace()
        closes = self._innermost("*") or (no_opening and self._latest("*") is not None)
        if closes and not self._letter_at(at - 1).isspace():
            return self._closing("*", at, at + 1)
        if no_opening:
            return at + 1
        # "*1912*" is underlined, "*1850" a year of birth, "2*b" a sum: silent without a partner
        quiet = after.isdigit() or self._letter_at(at - 1).isalnum()
        return self._opening("plain *" if quiet else "*", at, at + 1)

    def _caret(self, at: int) -> int:
        # only one word is raised: a space since the opening makes this a new one
        since = max(self.markup.rfind(space, self._caret_before, at) for space in " |")
        self._spaced = max(self._spaced, since)
        self._caret_before = at
        latest = self._latest("^")
        if latest is not None and self._spaced < latest.end:
            return self._closing("^", at, at + 1)
        return self._opening("^", at, at + 1)

    def _tilde(self, at: int) -> int:
        if self._innermost("~"):
            return self._closing("~", at, at + 1)
        if found := _FOREIGN.match(self.markup, at):
            return self._opening("~", at, found.end())
        if self._latest("~") is not None:
            return self._closing("~", at, at + 1)
        found = _NO_FOREIGN.match(self.markup, at)
        if found and self._on_this_line("~", found.end()) is not None:
            self._fault("unknown_language", at, found[0])
        return at + 1

    def _at_sign(self, at: int) -> int:
        if not self._at_word_start(at):
            return at + 1
        if found := _HAND.match(self.markup, at):
            number = int(found["number"]) if found["number"] else None
            technique = HANDS[found["technique"]]
            return self._keep(
                Hand(at, found.end(), found[0], technique, number, found["medium"])
            )
        if found := _TURN.match(self.markup, at):
            degrees = int(found["degrees"])
            if degrees < _FULL_TURN:
                return self._keep(Turned(at, found.end(), found[0], degrees))
            self._fault("no_turn", at, found[0].strip())
        elif found := _NO_TURN.match(self.markup, at):
            self._fault("no_turn", at, found[0].strip())
        elif found := _HAND_GLUED.match(self.markup, at):
            self._fault("hand_glued", at, found[0])
            return found.end()
        elif found := _NO_HAND.match(self.markup, at):
            self._fault("unknown_hand", at, found[0].strip())
        return at + 1

    def _equals(self, at: int) -> int:
        newline = _NEWLINE.match(self.markup, at + 1)
        if newline and self._behind_a_word(at):
            return self._newline(at)
        if self._open and self._sign(self._open[-1]).sign == "<":
            opening = self._open[-1]
            return self._keep(Token("split", "=", at, at + 1, partner=opening))
        return at + 1

    def _newline(self, at: int) -> int:
        runs_on = self.markup[at] == "="
        found = _NEWLINE.match(self.markup, at + runs_on)
        assert found is not None  # we are called at one
        if found[0][0] != "|":
            self._end_line()
        unit: Literal["line", "block"] = "block" if found[0] == "||" else "line"
        typed = self.markup[at : found.end()]
        return self._keep(Break(at, found.end(), typed, unit, runs_on))

    def _slash(self, at: int) -> int:
        if self.markup.startswith("/*", at):
            close = self._on_this_line("*/", at + 2)
            if close is not None:
                words = self.markup[at + 2 : close].strip()
                return self._keep(Note(at, close + 2, self.markup[at : close + 2], words))
            self._fault("open_note", at, "/*")
            return at + 2
        return self._closing("/", at, at + 1) if self._latest("/") is not None else at + 1

    def _backslash(self, at: int) -> int:
        after = self._letter_at(at + 1)
        if after and after in SIGNS_TO_ESCAPE:
            return self._keep(Escaped(at, at + 2, self.markup[at : at + 2]))
        if after.isalnum() and (found := _ADDED.match(self.markup, at)):
            return self._opening("\\", at, found.end())
        return at + 1


_AT: Final[dict[str, Callable[[Scan, int], int]]] = {
    "[": Scan._square, "]": Scan._closes, "<": Scan._angle, ">": Scan._closes,
    "{": Scan._curly, "}": Scan._closes, "(": Scan._round, ")": Scan._closes,
    "+": Scan._plus, "_": Scan._underscore, "*": Scan._star, "^": Scan._caret,
    "~": Scan._tilde, "@": Scan._at_sign, "=": Scan._equals, "/": Scan._slash,
    "|": Scan._newline, "\r": Scan._newline, "\n": Scan._newline, "\\": Scan._backslash,
}  # fmt: skip


def symbol_start(markup: str, end: int, first: int) -> int:
    """Where the symbol or ditto mark begins that ends at `end`; `end` when there is none.

    It begins no earlier than `first`. Ditto marks stand alone: behind a letter the same sign is a
    quotation mark, a comma or a hyphen.

    >>> symbol_start('Hollis & Co', 8, 0), symbol_start('-"-', 3, 0), symbol_start('"No"', 4, 0)
    (7, 0, 4)
    """
    if end > first and _is_symbol(markup[end - 1]):
        return end - 1
    start = end
    while start > max(first, end - _MOST_SYMBOLS) and markup[start - 1] in _DITTO_MARKS:
        start -= 1
    alone = start == 0 or markup[start - 1].isspace() or markup[start - 1] in "|([{<"
    single = markup[start:end] in {",", "'", "’", "‚"}
    return start if alone and not single else end


def _is_symbol(letter: str) -> bool:
    if letter in _SYMBOLS:
        return True
    return letter not in SIGNS_TO_ESCAPE and unicodedata.category(letter) in ("Sc", "So", "Sm")


def _mark(letter: str) -> int:
    """Whether this is an accent or the like, to be kept with the letter before it."""
    return unicodedata.combining(letter) if letter else 0


def _end_of_run(sign: str, markup: str, at: int) -> int:
    found = _RUN[sign].match(markup, at)
    return found.end() if found else at


def _extent(told: dict[str, str | None]) -> Extent | None:
    """What a count says; None when its range runs backwards."""
    unit: Literal["character", "line"] = "line" if told["lines"] else "character"
    counted = told["lines"] or told["number"]
    if dots := told.get("dots"):
        return Extent(len(dots), len(dots))
    if counted is None or counted == "?":
        return Extent(0, None, unit)
    if counted.startswith("c"):
        n = int(counted.split(".")[1])
        # 30 per cent either way, halves rounded inwards, at least one
        return Extent(min((7 * n + 5) // 10, n - 1), max((13 * n + 4) // 10, n + 1), unit, n)
    least, _, most = counted.removeprefix(".").partition("-")
    extent = Extent(int(least), int(most or least), unit)
    return extent if extent.least <= int(most or least) else None
