"""Second pass over a label: from signs with partners to the tree.

A sign that turns out to hold nothing, or to stand behind no word, goes back to being letters.
Marks that stand behind a word ("(?)", "[!]", the brackets of an abbreviation) take in the word
before them: the letters without a space that end where the mark begins.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from typing import Final, Literal, cast

from catalogue.reading.faults import Faults
from catalogue.reading.nodes import (
    Abbreviation,
    Added,
    Branch,
    Certainty,
    Correction,
    Doubtful,
    DoubtfulWord,
    Escaped,
    Expanded,
    Foreign,
    Full,
    Gap,
    Leaf,
    Meant,
    Node,
    Omitted,
    Over,
    Point,
    Raised,
    Replaced,
    Restored,
    Sic,
    Stands,
    Struck,
    Surplus,
    Text,
    Tree,
    Underlined,
    Unresolved,
)
from catalogue.reading.scan import Token, symbol_start
from catalogue.reading.sentences import editors_phrases, editors_words

DEEPEST: Final = 64
_LETTERS: Final = re.compile(r"[^\W_]+")
# signs that may be part of a word; anything else ends it
_IN_WORDS: Final = (
    Doubtful, Gap, Restored, Omitted, Correction, Surplus, Raised, Underlined, Added,
)  # fmt: skip
_DEGREE: Final = re.compile(r" +\?(high|medium|low)\Z")
_NO_DEGREE: Final = re.compile(r" \?[^\W\d_]+\Z")
# counts as people write them, which are no counts here: "[c. 5]", "[2 letters lost]", "[- - -]"
_COUNT: Final = re.compile(
    r"(?:c|ca|circa)\.?[ ]?[0-9]{1,4}(?![0-9])[?]?(?:[ ][a-z]+)?\Z"
    r"|[0-9]{1,4}[ ](?:letter|character|char|sign|word|line)s?\b"
    r"|[—–-][ ]?[0-9]{1,4}[—–-][0-9]{1,4}[ ]?[—–-]\Z"
    r"|[ ]?(?:[—–.…-][ ]?){2,40}\Z|[—–]\Z",
    re.IGNORECASE,
)
_LONGEST_REMARK: Final = 60
_LONGEST_DEGREE: Final = 40  # spaces and all
_AFTER_EXPANSION: Final = (Doubtful, Gap, Raised)


@dataclass(slots=True)
class _Draft:
    """An abbreviation that may still grow: `q(uin)q(uennalis)`."""

    start: int
    end: int
    parts: list[Node]


@dataclass(slots=True)
class _Frame:
    """What has been found so far inside one opening (None = the label itself)."""

    opening: Token | None
    number: int = -1  # the opening's, among the tokens
    children: list[Node | _Draft] = field(default_factory=list)
    split: Token | None = None
    split_after: int = 0  # how many children stand before the "="
    draft: _Draft | None = None  # the abbreviation or short form that this opening completes


class Builder:
    """Builds the tree from the tokens of a scan; adds to the faults."""

    def __init__(self, markup: str, tokens: list[Token | Leaf], faults: Faults) -> None:
        self.markup = markup
        self.tokens = tokens
        self.faults = faults
        self._frames = [_Frame(None)]
        self._dead: set[int] = set()  # closings whose opening is no sign
        self._letters_from = 0

    def tree(self) -> Tree:
        """The tree of the whole label."""
        # Each token is let go as soon as it is read: what is kept for long makes Python's collector
        # look at everything again, and the time would grow faster than the label.
        self.tokens.reverse()
        number = -1
        while self.tokens:
            token = self.tokens.pop()
            number += 1
            if isinstance(token, Leaf):
                self._flush(token.start)
                self._add(token)
                self._letters_from = token.end
            elif token.role == "open":
                self._open(token, number)
            elif token.role == "close":
                if number not in self._dead:
                    self._close(token)
            elif token.role == "behind":
                self._behind(token)
            else:
                self._split(token)
        self._flush(len(self.markup))
        return _finished(self._frames[0].children)

    # -- letters

    def _flush(self, end: int) -> None:
        """The letters since the last sign become a node."""
        if end > self._letters_from:
            typed = self.markup[self._letters_from : end]
            self._add(Text(self._letters_from, end, typed))
        self._letters_from = end

    def _take_back(self, start: int) -> None:
        """What begins at `start` is letters after all; join it to the letters before it."""
        children = self._frames[-1].children
        if children and isinstance(children[-1], Text) and children[-1].end == start:
            start = children.pop().start
        self._letters_from = start

    def _add(self, node: Node) -> None:
        children = self._frames[-1].children
        last = children[-1] if children else None
        if isinstance(last, _Draft) and last.end == node.start:
            if isinstance(node, Text):
                run = _run(node.typed)
                if run:
                    last.parts.append(Text(node.start, node.start + run, node.typed[:run]))
                    last.end = node.start + run
                if run < len(node.typed):
                    children[-1] = _abbreviation(last)
                    children.append(Text(node.start + run, node.end, node.typed[run:]))
                return
            if isinstance(node, _AFTER_EXPANSION) and not self._spaced(node):
                last.parts.append(node)
                last.end = node.end
                return
        if isinstance(last, _Draft):
            children[-1] = _abbreviation(last)
        children.append(node)

    def _no_word_before(self, start: int) -> bool:
        """Whether the letters before `start`, no node as yet, end in no word."""
        tail = self.markup[max(self._letters_from, start - 2) : start]
        return bool(tail) and _word_start(tail, point=True) == len(tail)

    def _spaced(self, node: Node) -> bool:
        typed = self.markup[node.start : node.end]
        return any(map(str.isspace, typed)) or "|" in typed

    def _take_word(self) -> list[Node]:
        """The word that ends here, taken out of the open frame; [] when there is none."""
        children = self._frames[-1].children
        word: list[Node] = []
        end = self._letters_from
        while children and children[-1].end == end:
            last = children[-1]
            if isinstance(last, Text):
                first = _word_start(last.typed, point=not word)
                if first < len(last.typed):
                    word.append(Text(last.start + first, last.end, last.typed[first:]))
                if first == 0:
                    children.pop()
                elif word:
                    children[-1] = Text(last.start, last.start + first, last.typed[:first])
                if first:
                    break
            elif isinstance(last, (_Draft, Abbreviation)):
                word.append(_abbreviation(last) if isinstance(last, _Draft) else last)
                children.pop()
            elif isinstance(last, _IN_WORDS) and not self._spaced(last):
                word.append(last)
                children.pop()
            else:
                break
            end = word[-1].start
        word.reverse()
        return word

    # -- signs

    def _open(self, token: Token, number: int) -> None:
        if token.partner is None or token.sign == "plain (":
            if token.partner is not None:
                self._dead.add(token.partner)
            return
        if len(self._frames) > DEEPEST:
            self.faults.add("too_deep", token.start, token.sign)
            self._dead.add(token.partner)
            return
        draft = None
        completes = token.sign in ("(", "((")
        symbol = self._symbol(token) if token.sign == "((" else None
        if completes and symbol is None and self._no_word_before(token.start):
            self._no_word(token)
            return
        self._flush(token.start)
        if completes:
            draft = self._draft(token) if symbol is None else self._symbol_taken(symbol)
            if draft is None:
                self._no_word(token)
                self._take_back(token.start)
                return
        self._frames.append(_Frame(token, number, draft=draft))
        self._letters_from = token.end

    def _no_word(self, token: Token) -> None:
        self.faults.add("no_word", token.start, token.sign)
        if token.partner is not None:
            self._dead.add(token.partner)

    def _draft(self, token: Token) -> _Draft | None:
        """The word that "(" or "((" completes, taken out of the frame."""
        children = self._frames[-1].children
        last = children[-1] if children else None
        if isinstance(last, _Draft) and last.end == token.start and token.sign == "(":
            children.pop()
            return last
        word = self._take_word()
        if word and token.sign == "(" and isinstance(word[-1], Text):
            word[-1:] = _pointed(word[-1])
        return _Draft(word[0].start, token.start, word) if word else None

    def _symbol(self, token: Token) -> int | None:
        """Where the symbol or ditto mark begins that "((" says in full; None for a word."""
        children = self._frames[-1].children
        last = children[-1] if children else None
        if isinstance(last, Escaped) and last.end == token.start:
            return last.start
        start = symbol_start(self.markup, token.start, self._letters_from)
        return start if start < token.start else None

    def _symbol_taken(self, start: int) -> _Draft:
        """The symbol that begins at `start` and is the last thing in the frame, taken out."""
        children = self._frames[-1].children
        last = cast(Leaf, children.pop())
        if last.start < start:
            cut = start - last.start
            children.append(Text(last.start, start, last.typed[:cut]))
            last = Text(start, last.end, last.typed[cut:])
        return _Draft(start, last.end, [last])

    def _split(self, token: Token) -> None:
        frame = self._frames[-1]
        if frame.number == token.partner and frame.split is None:
            self._flush(token.start)
            frame.split, frame.split_after = token, len(frame.children)
            self._letters_from = token.end

    def _behind(self, token: Token) -> None:
        word: list[Node] = []
        if not self._no_word_before(token.start):
            self._flush(token.start)
            word = self._take_word()
        if not word:
            self._no_word(token)
            if self._letters_from == token.start:
                self._take_back(token.start)
            return
        kind = {"(?)": DoubtfulWord, "[!]": Sic, "(---)": Unresolved}[token.sign]
        node = kind(word[0].start, token.end, "", tuple(word), token.sign)
        self._letters_from = token.end
        self._frames[-1].children.append(node)

    def _close(self, token: Token) -> None:
        frame = self._frames[-1]
        opening = cast(Token, frame.opening)
        sign = opening.sign.removeprefix("plain ")
        pending = self.markup[self._letters_from : token.start]
        degree = _degree(pending) if sign in ("[", "(") else 0
        bare = not frame.children
        if bare and degree and sign == "[" and degree == len(pending):
            return self._dissolve(token, "only_question")
        if bare and not pending.strip() and frame.split is None:
            return self._dissolve(token, "empty")
        self._flush(token.start - degree)
        if frame.split and frame.split_after in (0, len(frame.children)):
            return self._dissolve(token, "half_correction")
        self._frames.pop()
        closing = self.markup[token.start - degree : token.end]
        made = self._made(sign, frame, token, closing)
        if frame.draft is None:
            self._add(made)
        else:
            frame.draft.parts.append(made)
            frame.draft.end = token.end
            if sign == "(":
                self._frames[-1].children.append(frame.draft)
            else:
                parts = tuple(frame.draft.parts)
                whole = Replaced(frame.draft.start, token.end, "", parts, "")
                self._frames[-1].children.append(whole)
        self._letters_from = token.end
        return None

    def _dissolve(self, token: Token, key: str) -> None:
        """The frame was no sign: what it holds goes back to the one around it."""
        frame = self._frames.pop()
        opening = cast(Token, frame.opening)
        # only a short sign is named whole: a fault should not repeat a page
        typed = self.markup[opening.start : min(token.end, opening.start + 40)]
        self.faults.add(key, opening.start, typed)
        around = self._frames[-1].children
        if frame.draft is not None:
            around.extend(frame.draft.parts)
        around.append(Text(opening.start, opening.end, opening_typed(self.markup, opening)))
        around.extend(frame.children[: frame.split_after])
        if frame.split is not None:
            around.append(Text(frame.split.start, frame.split.end, "="))
        around.extend(frame.children[frame.split_after :])
        if not frame.children and frame.split is None:
            self._take_back(opening.end)

    def _made(self, sign: str, frame: _Frame, token: Token, closing: str) -> Branch:
        opened = cast(Token, frame.opening)
        start, end = opened.start, token.end
        opening = opening_typed(self.markup, opened)
        children = _finished(frame.children)
        if sign == "[":
            self._ask_about(start, children, opening, closing)
            return Restored(start, end, opening, children, closing, _certainty(closing))
        if sign == "(":
            self._ask_about_degree(start, children, opening, closing)
            if children[0].end == end - 1 and _is_remark(self.markup[start + 1 : end - 1]):
                self.faults.add("editors_expansion", start, self.markup[start:end])
            return Expanded(start, end, opening, children, closing, _certainty(closing))
        if sign == "[[":
            how = opening[2:].rstrip(": ") or "strikethrough"
            return Struck(start, end, opening, children, closing, cast(_How, how))
        if sign == "\\":
            place = opening[1:].rstrip(": ") or "above"
            return Added(start, end, opening, children, closing, place)
        if sign == "~":
            return Foreign(start, end, opening, children, closing, opening[1:-1])
        if frame.split is not None:
            return self._correction(frame, start, end)
        return _PLAIN[sign](start, end, opening, children, closing)

    def _correction(self, frame: _Frame, start: int, end: int) -> Correction:
        split = cast(Token, frame.split)
        meant = _finished(frame.children[: frame.split_after])
        stands = _finished(frame.children[frame.split_after :])
        halves = (
            Meant(start + 1, split.start, "", meant, ""),
            Stands(split.start, end - 1, "=", stands, ""),
        )
        return Correction(start, end, "<", halves, ">")

    def _ask_about(self, start: int, children: Tree, opening: str, closing: str) -> None:
        """Ask when restored text looks like a remark, or like a gap with its cause."""
        self._ask_about_degree(start, children, opening, closing)
        first = children[0]
        if not isinstance(first, Text):
            return
        shown = opening + first.typed[:40] + closing
        if len(children) == 1 and _is_remark(first.typed):
            self.faults.add("editors_word", start, shown)
        elif first.typed.startswith("?"):
            self.faults.add("question_first", start, shown)
        elif first.typed.startswith(("---", "...", "…")) or _COUNT.match(first.typed):
            self.faults.add("gap_or_text", start, shown)

    def _ask_about_degree(self, start: int, children: Tree, opening: str, closing: str) -> None:
        """Ask when a word behind a question mark is no degree of certainty."""
        last = children[-1]
        if not isinstance(last, Text) or "?" in closing:
            return
        if found := _NO_DEGREE.search(last.typed[-_LONGEST_DEGREE:]):
            shown = f"…{found[0]}{closing}" if len(last.typed) > _LONGEST_DEGREE else None
            self.faults.add("unknown_degree", start, shown or opening + last.typed + closing)


_How = Literal["strikethrough", "erased", "covered", "overwritten"]
_PLAIN: Final[dict[str, type[Branch]]] = {
    "<": Omitted, "<<": Over, "{": Surplus, "*": Underlined, "^": Raised, "((": Full,
}  # fmt: skip


def _degree(pending: str) -> int:
    """How many letters at the end of a restoration say how certain it is: "?", " ?medium"."""
    if pending.endswith("?"):
        return 1
    found = _DEGREE.search(pending[-_LONGEST_DEGREE:])
    return len(found[0]) if found else 0


def _is_remark(typed: str) -> bool:
    """Whether a person would have meant this as a word about the label, not of it."""
    said = typed[:_LONGEST_REMARK].strip(" .:!").casefold()
    if said.startswith(editors_phrases()):
        return True
    return len(typed) <= _LONGEST_REMARK and said in editors_words()


def _certainty(closing: str) -> Certainty | None:
    said = closing.strip(" ])")
    if said == "?":
        return "low"
    return cast(Certainty, said[1:]) if said else None


def opening_typed(markup: str, opening: Token) -> str:
    """An opening sign as it was typed."""
    return markup[opening.start : opening.end]


def _abbreviation(draft: _Draft) -> Abbreviation:
    return Abbreviation(draft.start, draft.end, "", tuple(draft.parts), "")


def _finished(children: list[Node | _Draft]) -> Tree:
    return tuple(_abbreviation(c) if isinstance(c, _Draft) else c for c in children)


def _in_word(letter: str) -> bool:
    return letter.isalnum() or bool(unicodedata.combining(letter))


def _pointed(letters: Text) -> list[Node]:
    """Letters, and the full stop at their end as the mark of an abbreviation."""
    bare, end = letters.typed.removesuffix("."), letters.end
    if bare == letters.typed:
        return [letters]
    return [Text(letters.start, end - 1, bare), Point(end - 1, end, ".")]


def _run(typed: str) -> int:
    """How many letters at the beginning belong to the word before."""
    found = _LETTERS.match(typed)
    end = found.end() if found else 0
    while end < len(typed) and _in_word(typed[end]):
        end += 1
    return end


def _word_start(typed: str, *, point: bool) -> int:
    """Where the last word of some letters begins; `point`: it may end in a full stop."""
    first = end = len(typed)
    if point and typed.endswith("."):
        first = end = end - 1
    while first and (_in_word(typed[first - 1]) or typed[first - 1] in "'’"):
        first -= 1
    return first if first < end else len(typed)
