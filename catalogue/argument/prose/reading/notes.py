"""The notes of a provenance: which part of the text they are, and where its steps cite them.

A block of notes has a heading, or begins at a line or a sentence with the mark of the first. The
block may write its marks in another way than the text does ("1." against "[1]"): a mark is its number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final

from catalogue.argument.prose.entries import EntryNote
from catalogue.argument.prose.reading.words import table

_RAISED: Final = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_LOWERED: Final = str.maketrans(_RAISED, "0123456789")
_STYLES: Final = {
    "square": r"\[\s*(\d{1,3}|[a-z])\s*\]\s*[.:]?",
    "round": r"\(\s*(\d{1,3})\s*\)\s*[.:]?",
    "raised": rf"([{_RAISED}]+)[.:]?",
    "dotted": r"(\d{1,3})(?:[.):](?=\s|[^\W\d])|(?=[ \t]+[A-Z“\"]))",
}
_LIST: Final = r"\d{1,3}(?:\s*(?:,|;|&|and|[-–])\s*\d{1,3})*"
_NAMED: Final = r"(?:see\s+)?(?:foot)?(?:notes?|fn\.?|n\.)\s*"
_CITED: Final = re.compile(
    rf"\[\s*(?:{_NAMED})?(?P<square>{_LIST}|[a-z])\s*\]|(?P<raised>[{_RAISED}]+)"
    rf"|\(\s*{_NAMED}(?P<named>{_LIST})\s*\)|\(\s*(?P<round>{_LIST})\s*\)",
    re.IGNORECASE,
)
_BARE: Final = re.compile(r"(?<=[;,)\]’'”\"a-zß-ÿ.])(?<!\d\.)(?P<bare>\d{1,2})(?=\s|$)")


@dataclass(frozen=True, slots=True)
class Mark:
    """A place where notes are cited, and which."""

    start: int
    end: int
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Parted:
    """A text parted: the stretches that tell steps, the notes, where the steps cite them."""

    body: tuple[tuple[int, int], ...]
    notes: tuple[EntryNote, ...]
    cited: tuple[Mark, ...]


def part(text: str) -> Parted:
    """The body, the notes and the citations of a text.

    >>> parted = part("Ada Penhale, Hull.[1] Notes: 1. Letter of 3 May 1902.")
    >>> [(note.mark, note.text) for note in parted.notes], parted.cited[0].marks
    ([('1', 'Letter of 3 May 1902.')], ('1',))
    """
    start = _behind_heading(text)
    block = _block(text, start)
    end = len(text) if block is None else block[0]
    notes = [] if block is None else list(_notes(text, *block))
    body: list[tuple[int, int]] = []
    at = start
    for found in _inline().finditer(text, start, end):
        if found.start() < at:
            continue
        line_end = text.find("\n", found.end(), end)
        behind = _trimmed(text, found.end(), end if line_end < 0 else line_end)
        body.append((at, found.start()))
        notes.append(EntryNote("", text[found.end() : behind], found.start(), behind))
        at = max(behind, found.end())
    body.append((at, end))
    marks = {note.mark for note in notes}
    cited = tuple(each for span in body for each in _citations(text, *span, marks))
    if not cited and marks - {""}:
        cited = tuple(each for span in body for each in _bare(text, *span, marks))
    notes.sort(key=lambda note: note.start)
    return Parted(tuple(body), tuple(notes), cited)


@cache
def _heading() -> re.Pattern[str]:
    words = "|".join(map(re.escape, sorted(table()["notes"]["heading"], key=len, reverse=True)))
    return re.compile(rf"\s*(?:{words})\s*(?:[:.–—-](?!\w)\s*|\n)", re.IGNORECASE)


def _behind_heading(text: str) -> int:
    found = _heading().match(text)
    return found.end() if found else 0


@cache
def _block_heading() -> re.Pattern[str]:
    words = "|".join(
        map(re.escape, sorted(table()["notes"]["headings"], key=len, reverse=True))
    )
    follows = r"(?:[ \t]*:|[ \t]*\.?[ \t]*(?=\n|$)|(?=[ \t]*(?:\[\d|\(?1[.)]|¹)))"
    return re.compile(rf"(?:^|(?<=[\n.;\])’”\"\d]))[ \t]*(?i:{words}){follows}")


@cache
def _inline() -> re.Pattern[str]:
    words = "|".join(map(re.escape, table()["notes"]["inline"]))
    return re.compile(rf"(?<=[\s.;\])])(?i:{words})\s*:\s*")


def _block(text: str, start: int) -> tuple[int, int] | None:
    """Where the block of notes begins, and where the first of them."""
    found = next(
        (each for each in _block_heading().finditer(text, start) if _is_heading(each)), None
    )
    if found:
        at = found.start()
        while text[at : at + 1] in (" ", "\t"):
            at += 1
        return at, found.end()
    for style, pattern in _opening().items():
        for found in pattern.finditer(text, start):
            if _opens(text, start, found, style):
                return found.start(), found.start()
    return None


def _is_heading(found: re.Match[str]) -> bool:
    return found[0].strip()[:1].isupper()


@cache
def _opening() -> dict[str, re.Pattern[str]]:
    """What the first note of a block without a heading may begin with."""
    return {
        style: re.compile(
            rf"(?:(?<=\n)[ \t]*|(?<=[.;:\]”\"’)]\s)|(?<=[.;:\]])){pattern}\s*(?=[^\W\d_]|[“\"'‘(])"
        )
        for style, pattern in _STYLES.items()
    }


def _opens(text: str, start: int, found: re.Match[str], style: str) -> bool:
    """Whether a mark begins the block: the first note's, and cited before it."""
    if found[1].translate(_LOWERED) != "1" or not text[start : found.start()].strip():
        return False
    before = text[max(start, found.start() - 4_000) : found.start()]
    earlier = {mark for each in _CITED.finditer(before) for mark in _marks_of(each)}
    return "1" in earlier


def _notes(text: str, begins: int, first: int) -> Iterator[EntryNote]:
    """The notes of a block, the first with the heading."""
    style = next(
        (
            each
            for each, pattern in _STYLES.items()
            if re.compile(rf"\s*{pattern}").match(text, first)
        ),
        None,
    )
    starts = list(_note_starts(text, first, style)) if style else []
    if not starts:
        behind = _trimmed(text, first, len(text))
        if behind > begins:
            lead = len(text[first:behind]) - len(text[first:behind].lstrip())
            yield EntryNote("", text[first + lead : behind], begins, behind)
        return
    for number, (mark, start, inside) in enumerate(starts):
        after = starts[number + 1][1] if number + 1 < len(starts) else len(text)
        behind = _trimmed(text, inside, after)
        said = text[inside:behind].strip()
        yield EntryNote(mark, said, start if number else begins, max(behind, inside))


def _note_starts(text: str, first: int, style: str) -> Iterator[tuple[str, int, int]]:
    """Mark, where it begins and where its text does, for each note of a block."""
    last = None
    for found in re.compile(_STYLES[style]).finditer(text, first):
        before = text[max(found.start() - 1, 0)]
        mark = found[1].translate(_LOWERED).lower()
        number = int(mark) if mark.isdigit() else ord(mark) - ord("a") + 1
        new_line = "\n" in text[max(found.start() - 4, 0) : found.start()]
        follows = last is None or number == last + 1
        if last is None or (new_line and last < number <= last + 40):
            pass
        elif not follows or not (before.isspace() or before in '.;]”")'):
            continue
        last = number
        yield mark, found.start(), found.end()


def _trimmed(text: str, start: int, end: int) -> int:
    while end > start and text[end - 1].isspace():
        end -= 1
    return end


def _marks_of(found: re.Match[str]) -> tuple[str, ...]:
    said = next(each for each in found.groups() if each).translate(_LOWERED).lower()
    numbers = re.split(r"\s*(?:,|;|&|and)\s*", said)
    marks: list[str] = []
    for each in numbers:
        span = re.fullmatch(r"(\d+)\s*[-–]\s*(\d+)", each)
        if span and int(span[1]) < int(span[2]) < int(span[1]) + 30:
            marks += map(str, range(int(span[1]), int(span[2]) + 1))
        else:
            marks.append(each)
    return tuple(marks)


def _citations(text: str, start: int, end: int, known: set[str]) -> Iterator[Mark]:
    for found in _CITED.finditer(text, start, end):
        marks = _marks_of(found)
        if found["round"] and not known.issuperset(marks):
            continue
        if found["square"] and found["square"].isalpha() and not known.issuperset(marks):
            continue
        yield Mark(found.start(), found.end(), marks)


def _bare(text: str, start: int, end: int, known: set[str]) -> Iterator[Mark]:
    """Figures behind a word or a sign, where a text cites its notes in no other way."""
    for found in _BARE.finditer(text, start, end):
        if found["bare"] in known:
            yield Mark(found.start(), found.end(), (found["bare"],))
