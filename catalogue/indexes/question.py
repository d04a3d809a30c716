"""What is asked: the words as typed, the filters, and the words taken apart."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalogue.errors import BadData
from catalogue.indexes.folding import Token, forms, tokens
from catalogue.reading import fold

MOST_SOUGHT = 30
"""So many words are looked for at once; further ones are left out, and the answer says so."""

MOST_LETTERS = 4_000
"""So much of a question is read: a pasted book must not stop the desk."""

_QUOTED = re.compile(r'["“”„«»]([^"“”„«»]*)["“”„«»]')
_WILD = re.compile(r"[*?]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """What to look for; what is "" or None does not restrict.

    `kind` may be a whole key ("inscription/dealer-label") or words of it ("label"). The days
    are ordinals; a statement is found when it may lie between them, with `certainly` only when
    it must.
    """

    words: str = ""
    artist: str = ""
    kind: str = ""
    place: str = ""
    earliest: int | None = None
    latest: int | None = None
    certainly: bool = False
    limit: int = 20
    page: int = 1
    counting: bool = True
    """Whether what the works have in common is counted."""

    def __post_init__(self) -> None:
        if self.limit < 1 or self.page < 1:
            raise BadData("a search shows at least one work a page, and pages count from 1")
        if None not in (self.earliest, self.latest) and self.earliest > self.latest:  # type: ignore[operator]
            raise BadData("the span to search in ends before it begins")

    @property
    def dated(self) -> bool:
        """Whether a date restricts the answer."""
        return self.earliest is not None or self.latest is not None


@dataclass(frozen=True, slots=True)
class Sought:
    """One thing that has to occur: a word, words that follow each other, or a pattern.

    `steps` holds the forms of each word in turn and is () for a pattern; `begins` is what every
    match of the pattern begins with.
    """

    written: str
    steps: tuple[tuple[str, ...], ...] = ()
    pattern: re.Pattern[str] | None = None
    begins: str = ""

    @property
    def is_word(self) -> bool:
        """One plain word, which a damaged word may have been."""
        return len(self.steps) == 1

    def spans(self, words: Sequence[Token]) -> Iterator[tuple[int, int]]:
        """Where in a text with these words the sought stands, as offsets."""
        size = max(1, len(self.steps))
        for at in range(len(words) - size + 1):
            run = words[at : at + size]
            if all(self._fits(word, step) for step, word in enumerate(run)):
                yield run[0].start, run[-1].end

    def _fits(self, word: Token, step: int) -> bool:
        known = (*word.forms, *word.parts)
        if self.pattern:
            return any(map(self.pattern.fullmatch, known))
        return not set(known).isdisjoint(self.steps[step])


def sought(typed: str) -> tuple[tuple[Sought, ...], tuple[str, ...]]:
    """What has to occur, and what a person should know about how the question was read.

    Every text is a question; there is no syntax to get wrong.

    >>> [each.written for each in sought('"dealer in pictures" Harb* O\\'Hara')[0]]
    ['dealer in pictures', 'harb*', "O'Hara"]
    >>> sought("* harbour")[1]
    ('“*” alone stands for every word and was left out',)
    """
    notes: list[str] = []
    found: list[Sought] = []
    if len(typed) > MOST_LETTERS:
        notes.append(f"only the first {MOST_LETTERS} letters of the question were read")
        typed = typed[:MOST_LETTERS]
    at = 0
    for quoted in _QUOTED.finditer(typed):
        found.extend(_plain(typed[at : quoted.start()], notes))
        found.extend(_run(quoted.group(1)))
        at = quoted.end()
    found.extend(_plain(typed[at:], notes))
    found = list(dict.fromkeys(found))
    if len(found) > MOST_SOUGHT:
        notes.append(f"only the first {MOST_SOUGHT} words were looked for")
    elif not found and typed.strip() and not notes:
        notes.append("there are no letters or figures in the question to look for")
    return tuple(found[:MOST_SOUGHT]), tuple(dict.fromkeys(notes))


def _plain(text: str, notes: list[str]) -> Iterator[Sought]:
    for chunk in text.split():
        if not _WILD.search(chunk):
            yield from _run(chunk)
        elif not any(sign.isalnum() for sign in chunk):
            if "*" in chunk:
                notes.append("“*” alone stands for every word and was left out")
        else:
            yield from _patterns(chunk)


def _run(text: str) -> Iterator[Sought]:
    """Words in a row, as one thing: also where only a stop or a hyphen parts them (S.W.1)."""
    steps = tuple(token.forms for token in tokens(text))
    if steps:
        yield Sought(" ".join(text.split()), steps)


def _patterns(chunk: str) -> Iterator[Sought]:
    for piece in re.findall(r"(?:[^\W_]|[*?])+", unicodedata.normalize("NFC", chunk)):
        folded = fold(piece)
        if not any(sign.isalnum() for sign in folded):
            continue
        if _WILD.search(folded):
            begins = _WILD.split(folded, maxsplit=1)[0]
            yield Sought(folded, pattern=_pattern(folded), begins=begins)
        elif known := forms(piece):
            yield Sought(piece, (known,))


def _pattern(folded: str) -> re.Pattern[str]:
    """A pattern for a word with `*` (any letters) and `?` (one letter, at the end at most one).

    Each run but the last is taken up to where the next letters first follow, and never tried
    again: that finds the same words, and no pattern takes minutes on an odd word.

    >>> [bool(_pattern("h?rb*r").fullmatch(word)) for word in ("harbour", "harbours", "hrbr")]
    [True, False, False]
    """
    first, *others = (_letters(part) for part in folded.removesuffix("?").split("*"))
    last_letter = ".?" if folded.endswith("?") else ""
    if not others:
        return re.compile(first + last_letter, re.DOTALL)
    middle = "".join(f"(?>.*?{part})" for part in others[:-1] if part)
    return re.compile(f"{first}{middle}.*{others[-1]}{last_letter}", re.DOTALL)


def _letters(part: str) -> str:
    return "".join("." if sign == "?" else re.escape(sign) for sign in part)
