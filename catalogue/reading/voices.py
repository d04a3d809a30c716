"""One tree, three voices: what the eye sees, what the label says, what is there as evidence.

A voice turns the tree into pieces, and `tidied` sets them as text: single spaces, line ends,
words joined over a line end. Every piece knows where in the markup it was typed, and whose
it is.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import Final, Literal, NamedTuple, TypeAlias

from catalogue.reading.nodes import (
    Break,
    Doubtful,
    Drawn,
    Escaped,
    Expanded,
    Extent,
    Full,
    Gap,
    Leaf,
    Meant,
    Node,
    Omitted,
    Over,
    Point,
    Restored,
    Space,
    Stands,
    Struck,
    Surplus,
    Text,
    Tree,
    Unresolved,
)
from catalogue.reading.sentences import is_withheld

Voice: TypeAlias = Literal["diplomatic", "plain", "seen"]
Origin: TypeAlias = Literal[
    "ink", "struck", "restored", "editor", "gap", "lines", "blank", "soft",
    "line", "block", "runs_on", "hyphen",
]  # fmt: skip
GAP: Final = "…"
_BOX: Final = "□"
_MOST_BOXES: Final = 30
_BREAKS: Final = ("line", "block", "runs_on")
_SEGMENT: Final = re.compile(r"\s+|\S+")
HYPHENS: Final = "-‐⸗\N{SOFT HYPHEN}"
# the editor's own letters: they speak in the plain voice only
_EDITORS: Final = (Omitted, Meant, Expanded, Full)


class Piece(NamedTuple):
    """Some text of a voice, and the offset where it was typed.

    `pattern` is what a letter or gap may stand for in the index; None = itself.
    """

    text: str
    at: int
    origin: Origin
    pattern: str | None = None


def pieces(tree: Iterable[Node], voice: Voice) -> list[Piece]:
    """What a voice says, untidied, in the order of the label."""
    said: list[Piece] = []
    _speak(tree, voice, "ink", said)
    return said


def _speak(tree: Iterable[Node], voice: Voice, origin: Origin, said: list[Piece]) -> None:
    before: Node | None = None
    for node in tree:
        if isinstance(node, Leaf):
            _speak_leaf(node, voice, origin, said)
        elif isinstance(node, Restored) and voice != "plain":
            said.append(Piece(GAP, node.start, "restored"))
        elif isinstance(node, (Restored, *_EDITORS)):
            if voice == "plain":
                _speak(node.children, voice, _stronger(origin, node), said)
        elif isinstance(node, Struck):
            if voice != "plain":
                _speak(node.children, voice, "struck", said)
        elif isinstance(node, (Surplus, Stands)):
            if voice != "plain":
                _speak(node.children, voice, origin, said)
        elif voice == "plain" and node.children and isinstance(node.children[-1], Full):
            _speak(node.children[-1:], voice, origin, said)
        else:
            if isinstance(node, Over) and isinstance(before, Struck) and voice != "plain":
                said.append(Piece(" ", node.start, "soft"))
            _speak(node.children, voice, origin, said)
            if isinstance(node, Unresolved):
                said.append(Piece("", node.end, origin, ".*"))
        before = node


def _stronger(origin: Origin, node: Node) -> Origin:
    if origin == "restored" or isinstance(node, Restored):
        return "restored"
    return "editor"


def _speak_leaf(node: Leaf, voice: Voice, origin: Origin, said: list[Piece]) -> None:
    at = node.start
    if isinstance(node, Text):  # as most leaves are
        said.append(Piece(node.typed, at, origin))
    elif isinstance(node, (Escaped, Doubtful)):
        pattern = "." if isinstance(node, Doubtful) else None
        said.append(Piece(node.letter, at, origin, pattern))
    elif isinstance(node, Gap):
        said.append(_gap(node, voice))
    elif isinstance(node, Break):
        said.append(Piece("\n", at, "runs_on" if node.runs_on else node.unit))
    elif isinstance(node, Space):
        said.append(Piece(" ", at, "blank"))
    elif isinstance(node, Drawn):
        said.append(Piece(" ", at, "soft"))  # what a drawing parts is not one word
    elif isinstance(node, Point) and voice != "plain":
        said.append(Piece(node.typed, at, origin))
    # a hand, a turn and a note say nothing


def _gap(gap: Gap, voice: Voice) -> Piece:
    if gap.extent.unit == "line":
        return Piece(GAP, gap.start, "lines")
    if voice == "diplomatic" and is_withheld(gap.cause):
        return Piece(f"[{gap.cause}]", gap.start, "gap", gap_pattern(gap.extent))
    count = gap.extent.exact
    boxes = voice == "diplomatic" and count is not None and count <= _MOST_BOXES
    text = _BOX * count if boxes and count else GAP
    return Piece(text, gap.start, "gap", gap_pattern(gap.extent))


def gap_pattern(extent: Extent) -> str:
    """The regular expression for letters that cannot be read: `.{4,8}`."""
    if extent.most is None:
        return ".*"
    if extent.least == extent.most:
        return "." if extent.least == 1 else f".{{{extent.least}}}"
    return f".{{{extent.least},{extent.most}}}"


class _Setter:
    """Sets pieces as text. With `joining`, lines run on as one text; else they stay lines."""

    def __init__(self, joining: bool) -> None:
        self.out: list[Piece] = []
        self.joined: set[int] = set()  # line ends inside a word
        self._joining = joining
        self._pending: Piece | None = None

    def take(self, piece: Piece) -> None:
        if piece.origin in _BREAKS:
            return self._break(piece)
        if piece.origin == "blank":
            self._drop_soft()
            if not self._pending and self.out and self.out[-1].text not in (" ", "\n"):
                self.out.append(piece)
            return None
        if not piece.text:
            self.out.append(piece)
            return None
        for found in _SEGMENT.finditer(piece.text):
            segment, at = found[0], piece.at + found.start()
            if segment[0].isspace():
                self._space(at)
                continue
            if self._pending is not None:
                self._join(segment)
            whole = len(segment) == len(piece.text)
            self.out.append(piece if whole else Piece(segment, at, piece.origin, piece.pattern))
        return None

    def _space(self, at: int) -> None:
        if not self._pending and self.out and self.out[-1].text not in (" ", "\n"):
            self.out.append(Piece(" ", at, "soft"))

    def _drop_soft(self) -> None:
        if self.out and self.out[-1].origin == "soft":
            self.out.pop()

    def _break(self, piece: Piece) -> None:
        self._drop_soft()
        if not self._joining:
            self.out.append(piece)
        elif self._pending is None:
            self._pending = piece
        else:
            block = "block" in (piece.origin, self._pending.origin)
            self._pending = Piece("\n", self._pending.at, "block" if block else "line")

    def _join(self, segment: str) -> None:
        """Before the first letters of a new line: a space, a hyphen, or nothing."""
        pending, self._pending = self._pending, None
        if pending is None or not self.out:
            return
        last = self.out[-1]
        if pending.origin == "block":
            self.out.append(pending)
        elif pending.origin == "runs_on":
            self.joined.add(pending.at)
        elif self._hyphenated() and segment[0].isalnum():
            hyphen = Piece(last.text[-1], last.at + len(last.text) - 1, "hyphen")
            self.out[-1] = last._replace(text=last.text[:-1])
            if segment[0].islower():
                self.joined.add(pending.at)
            else:
                self.out.append(hyphen)
        elif last.text != " ":
            self.out.append(Piece(" ", pending.at, "soft"))

    def _hyphenated(self) -> bool:
        """Whether the line ends in a hyphen with a letter before it."""
        last = self.out[-1].text
        if not last or last[-1] not in HYPHENS:
            return False
        before = last[:-1] or (self.out[-2].text if len(self.out) > 1 else "")
        return bool(before) and before[-1].isalnum()


def tidied(said: Iterable[Piece], *, joining: bool) -> list[Piece]:
    """The pieces as they are set: single spaces, none at a line's ends."""
    return _set(said, joining).out


def _set(said: Iterable[Piece], joining: bool) -> _Setter:
    setter = _Setter(joining)
    for piece in said:
        setter.take(piece)
    while setter.out and setter.out[-1].text == " ":
        setter.out.pop()
    return setter


def spell(tree: Tree, voice: Voice) -> str:
    """The text of a voice, in Unicode's composed form (NFC)."""
    said = tidied(pieces(tree, voice), joining=voice == "plain")
    return unicodedata.normalize("NFC", "".join(piece.text for piece in said))


def places(tree: Tree, voice: Voice) -> tuple[int, ...]:
    """For each letter that `spell` gives: the offset in the markup where it was typed."""
    found: list[int] = []
    said = tidied(pieces(tree, voice), joining=voice == "plain")
    text = "".join(piece.text for piece in said)
    for piece in said:
        found.extend(min(piece.at + i, piece.at + len(piece.text)) for i in _steps(piece))
    if unicodedata.is_normalized("NFC", text):
        return tuple(found)
    return tuple(_composed_places(text, found))


def _steps(piece: Piece) -> Iterable[int]:
    """How far each letter stands from the piece's place: a gap is one sign for many letters."""
    if piece.origin in ("gap", "lines", "restored") and piece.text[0] in (GAP, _BOX):
        return [0] * len(piece.text)
    return [0] * len(piece.text) if piece.pattern else range(len(piece.text))


def _composed_places(text: str, found: list[int]) -> Iterable[int]:
    """The places after composing: a letter with its accents stands where the letter does."""
    first = 0
    for last in range(1, len(text) + 1):
        if last == len(text) or text[last] in " \n":
            yield from _word_places(text[first:last], found[first:last])
            first = last


def _word_places(word: str, found: list[int]) -> list[int]:
    composed = unicodedata.normalize("NFC", word)
    clusters: list[list[int]] = []
    for number, letter in enumerate(word):
        if clusters and unicodedata.combining(letter):
            clusters[-1].append(number)
        else:
            clusters.append([number])
    singly = [
        (unicodedata.normalize("NFC", "".join(word[n] for n in cluster)), found[cluster[0]])
        for cluster in clusters
    ]
    if "".join(letters for letters, _ in singly) == composed:
        return [place for letters, place in singly for _ in letters]
    # scripts that compose across letters: the whole word stands where it begins
    return found[:1] * len(composed)


def joined_lines(tree: Tree) -> frozenset[int]:
    """Where the line ends are that fall inside a word, by their offsets."""
    voices: tuple[Voice, ...] = ("seen", "plain")
    return frozenset().union(*(_set(pieces(tree, voice), True).joined for voice in voices))


def fold(text: str) -> str:
    """Text as the index compares it: no capitals, no accents, compatible forms alike.

    >>> fold("Große AUSSTELLUNG, Genève № 5")
    'grosse ausstellung, geneve no 5'
    """
    return GAP.join(_folded(part) for part in text.split(GAP))


def _folded(text: str) -> str:
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFD", unicodedata.normalize("NFKC", text).casefold())
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return unicodedata.normalize("NFC", bare)
