"""The words of a label for the index; damaged ones as patterns."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from catalogue.reading.nodes import Tree
from catalogue.reading.voices import Piece, fold, pieces, tidied

Stream: TypeAlias = Literal["seen", "reading", "restored", "struck"]

_Told: TypeAlias = tuple[str, Stream, str | None]  # a word as it will be, before it is one


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a label.

    `stream` says how far it can be trusted: "seen" is all ink, "reading" holds letters that the
    editor expanded, omitted or corrected, "restored" letters that are lost, and "struck" was
    struck out. `pattern` is a regular expression over folded text (see `fold`) when letters are
    doubtful or missing, to be matched against the whole of a folded query term; an index should
    ask for two known letters before it trusts one.
    """

    text: str
    stream: Stream
    pattern: str | None = None


def words(tree: Tree) -> tuple[Word, ...]:
    """The words of a label, each once: as read, then what only the eye sees, then struck.

    >>> from catalogue.reading.reading import read
    >>> for word in words(read("Gal.(erie) Ho[...]nn [[1912]]").tree):
    ...     print(word.text, word.stream, word.pattern)
    Galerie reading None
    Ho…nn seen ho.{3}nn
    Gal seen None
    1912 struck None
    """
    found: dict[_Told, None] = {}
    for run in _runs(tidied(pieces(tree, "plain"), joining=True)):
        found.update(dict.fromkeys(_words(run)))
    struck: dict[_Told, None] = {}
    for run in _runs(tidied(pieces(tree, "seen"), joining=True)):
        if any(piece.origin == "restored" for piece in run):
            continue  # the plain voice has said it better
        for told in _words(run):
            (struck if told[1] == "struck" else found)[told] = None
    return tuple(Word(*told) for told in found | struck)


def _runs(said: Iterable[Piece]) -> Iterator[list[Piece]]:
    """The pieces between spaces, line ends and lost lines."""
    run: list[Piece] = []
    for piece in said:
        if piece.text in (" ", "\n") or piece.origin == "lines":
            if run:
                yield run
            run = []
        else:
            run.append(piece)
    if run:
        yield run


def _words(run: list[Piece]) -> Iterator[_Told]:
    """The word of a run without the punctuation around it; two if a line end may join it."""
    if len(run) == 1 and _is_plain(run[0]):
        yield run[0].text, "seen", None
        return
    run = _stripped(run)
    word = _word(run)
    if word is None:
        return
    yield word
    if any(piece.origin == "hyphen" for piece in run):
        joined = _word([piece for piece in run if piece.origin != "hyphen"])
        if joined is not None:
            yield joined


def _is_plain(piece: Piece) -> bool:
    """Whether it is a word as most are: undamaged ink, nothing around it, no accents."""
    ink = piece.origin == "ink" and piece.pattern is None
    return ink and piece.text.isascii() and piece.text.isalnum()


def _stripped(run: list[Piece]) -> list[Piece]:
    """Without punctuation at either end; a gap or a mark of the index is no punctuation."""
    run = list(run)
    for end in (0, -1):
        number = 0 if end == 0 else len(run) - 1
        while 0 <= number < len(run):
            piece = run[number]
            if piece.pattern is None:
                kept = _without(piece.text, end)
                if kept != piece.text:
                    run[number] = piece._replace(text=kept)
                if kept:
                    break
            elif piece.text:
                break
            number += 1 if end == 0 else -1
    return [piece for piece in run if piece.text or piece.pattern]


def _without(text: str, end: int) -> str:
    first, last = 0, len(text)
    if end == 0:
        while first < last and not _in_word(text[first]):
            first += 1
    else:
        while first < last and not _in_word(text[last - 1]):
            last -= 1
    return text[first:last]


def _in_word(letter: str) -> bool:
    return letter.isalnum() or bool(unicodedata.combining(letter))


def _word(run: list[Piece]) -> _Told | None:
    text = unicodedata.normalize("NFC", "".join(piece.text for piece in run))
    if not any(map(str.isalnum, text)):
        return None
    pattern = None
    if any(piece.pattern for piece in run):
        pattern = "".join(
            re.escape(fold(piece.text)) if piece.pattern is None else piece.pattern
            for piece in run
        )
    return text, _stream(run), pattern


def _stream(run: list[Piece]) -> Stream:
    origins = {piece.origin for piece in run}
    if "struck" in origins:
        return "struck"
    if "restored" in origins:
        return "restored"
    return "reading" if "editor" in origins else "seen"
