"""What kind a mark is: what the cataloguer calls it, else what its text can only be."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from catalogue.argument.inscription_fields.head import LABEL, Head
from catalogue.argument.inscription_fields.mark import Mark
from catalogue.argument.inscription_fields.transcription import lines_of
from catalogue.argument.inscription_fields.words import guesses, listed

INSCRIPTION: Final = "inscription"
SIGNATURE: Final = "signature"
_IN_BRACKETS: Final = frozenset({"monogram", SIGNATURE, "stamp", LABEL, "seal"})
_GOES_ON: Final = frozenset({LABEL, INSCRIPTION})
_WHERE_ONE_SIGNS: Final = frozenset(
    {"lower left", "lower right", "left", "right", "centre left", "centre right"}
)
_BRACKETED: Final = re.compile(r"\[[^\[\]]*\]")
_LONGEST_GUESSED: Final = 200
_WORDS_OF_A_SIGNATURE: Final = 12
_WORD: Final = re.compile(r"[^\W\d_][\w.'’-]*|\d+|©")


@dataclass(frozen=True, slots=True)
class Before:
    """What was last said of the marks before one that goes on behind a semicolon."""

    kind: str = ""
    face: str | None = None


def kind_of(mark: Mark, before: Before | None) -> str:
    """The kind of a mark; `before` is None for one that goes on from no other."""
    return said_kind(mark.head) or _told_by_text(mark, before)


def said_kind(head: Head) -> str | None:
    """The kind that a head says; None where it says none, or leaves the hand open.

    A thing that is named first is what the mark is; else the word with the lowest rank speaks.
    """
    if not head.kinds:
        return LABEL if LABEL in head.parts else None
    if head.kinds[0].thing:
        return head.kinds[0].key
    kind = min(head.kinds, key=lambda each: each.rank).key
    if kind == INSCRIPTION and LABEL in head.parts:
        return LABEL
    return None if kind == INSCRIPTION and head.neutral else kind


def _told_by_text(mark: Mark, before: Before | None) -> str:
    in_brackets = next(
        (kind.key for kind in mark.kinds_in_brackets() if kind.key in _IN_BRACKETS), None
    )
    if in_brackets:
        return in_brackets
    if before and before.kind in _GOES_ON and not mark.head.located:
        return before.kind
    text = _BRACKETED.sub(" ", mark.text)
    if len(text) > _LONGEST_GUESSED:
        return INSCRIPTION
    forms = [" ".join(each.split()) for each in (mark.text, text)]
    for guess in guesses():
        if any(map(guess.pattern.fullmatch, forms)):
            return guess.kind
    face = mark.head.face() or (before.face if before else None)
    by_artist = any("artist" in remark for remark in mark.remarks())
    if face not in (None, "front") and not by_artist:
        return INSCRIPTION  # whoever wrote a name there
    in_corner = mark.head.place() in _WHERE_ONE_SIGNS
    return SIGNATURE if _is_signed(text, in_corner=in_corner) else INSCRIPTION


def _is_signed(text: str, *, in_corner: bool) -> bool:
    """Whether a text is that of a signature: a name in one of its first lines, little else."""
    words = text.casefold().split()
    if len(words) > _WORDS_OF_A_SIGNATURE or listed("name", "age").intersection(words):
        return False
    lines = lines_of(text)
    named = any(is_name(line, plainly=True) for line in lines[:3])
    return named or (in_corner and bool(lines) and is_name(lines[0]))


def is_name(line: str, *, plainly: bool = False) -> bool:
    """Whether a line looks like a name that signs: few words, each with a capital, perhaps a year.

    `plainly` asks for more than words with a capital: for initials, a year, or "fecit".

    >>> [is_name(each) for each in ("A. Wynne 87", "A. van Wynne pinx.", "AW", "View of the sea")]
    [True, True, True, False]
    >>> is_name("Low Tide"), is_name("Low Tide", plainly=True)
    (True, False)
    """
    words = _WORD.findall(line)
    names = [
        word
        for word in words
        if not word.isdigit() and word.casefold() not in listed("name", "signing")
    ]
    initials = [word for word in names if len(word.rstrip(".")) == 1 or word.count(".") > 1]
    told = {word.casefold().rstrip(".") for word in names if word not in initials}
    if not 1 <= len(names) <= 5 or told & (listed("name", "never") | listed("name", "age")):
        return False
    if told & listed("name", "months") and not initials:
        return False
    if names == initials and len(names) == 1 and names[0].count(".") < 2:
        return False  # "X"
    capitals = [
        word[0].isupper()
        for word in names
        if word.casefold() not in listed("name", "particles")
    ]
    if not capitals or not all(capitals):
        return False
    code = len(names) == 1 and names[0].isupper() and len(names[0]) < 4  # "AW"
    return not plainly or bool(initials) or len(names) < len(words) or code
