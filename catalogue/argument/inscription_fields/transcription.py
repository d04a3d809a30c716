"""What a cataloguer copied from the object: its lines, its years, and the same in our markup."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from catalogue.argument.inscription_fields.words import listed
from catalogue.measure.roman import roman_number
from catalogue.reading import read
from catalogue.reading.scan import SIGNS_TO_ESCAPE

_LONGEST_READ: Final = 200_000
_LINE_SIGN: Final = re.compile(r"[ \t\xa0]+//?[ \t\xa0]*|//?[ \t\xa0]+|[\r\n]+")
_TIGHT_LINE_SIGN: Final = re.compile(
    r"(?:(?<=[^\W\d_]{3})|(?<=\.))/(?=['’]?\d{4}\b|[^\W\d_a-z]\w)"
)
"""A stroke without blanks between a word and a year or a word with a capital."""
_WHOLE_NUMBER: Final = re.compile(r"\d{1,4}\b.*", re.DOTALL)
_BRACKET: Final = re.compile(r"\[([^\[\]\r\n]{0,300})\]")
_DOUBT: Final = re.compile(r"[ ]?(?:\(\?\)|\[\?\])")
_LACUNA: Final = re.compile(r"…|(?<!\.)\.{3}(?!\.)")
_FIGURES: Final = re.compile(r"\d[\d./–-]*")
_YEAR: Final = r"(1[4-9]\d\d|20\d\d)"
_YEAR_FORMS: Final = (
    re.compile(_YEAR),
    re.compile(rf"\d{{1,2}}[./-](?:\d{{1,2}}[./-])?{_YEAR}"),
    re.compile(rf"{_YEAR}[./-]\d{{1,2}}[./-]\d{{1,2}}"),
)
_YEARS_FORM: Final = re.compile(rf"{_YEAR}[/–-](\d{{4}}|\d{{2}}|\d)")
_NO_YEAR_BEFORE: Final = re.compile(
    r"(?:\b(?:no|nos|nr|num|inv|lot|neg|cat|tel|bp|ref|ed|n[°º])\.?|[#№£$€])\s?\Z",
    re.IGNORECASE,
)
_SHORTENED: Final = re.compile(r"(?<!\w)['’‘](\d\d)(?!\w)")
_DAY: Final = re.compile(r"(?<![\d./-])\d{1,2}([./-])\d{1,2}\1(\d\d)(?![\d./-])")
_LAST_TWO: Final = re.compile(r"[^\W\d_.][.,]?\s(\d\d)\Z|\A(\d\d)\Z")
_ROMAN: Final = re.compile(r"\bM[MDCLXVI]{3,14}\b")


@dataclass(frozen=True, slots=True)
class Transcription:
    """A text as the cataloguer copied it, and what can be said of it.

    `lines` are as written; `markup` is the same in the signs of `catalogue.reading`, with the
    cataloguer's brackets turned into ours. `years` are those written out, in the order of the text;
    `short_years` two figures that stand for one, their century not known.
    """

    text: str
    lines: tuple[str, ...]
    markup: str
    years: tuple[int, ...]
    short_years: tuple[int, ...]


def transcription(text: str, *, signed: bool = False, drawn: bool = False) -> Transcription:
    """What a copied text says.

    `signed` lets two figures at the end of a line be a year; `drawn` takes a text that is one bracket
    for a description.

    >>> found = transcription("A. Wynne / Paris 188[7 indistinct]")
    >>> found.lines, found.markup, found.years
    (('A. Wynne', 'Paris 188[7 indistinct]'), 'A. Wynne|Paris 1887_', (1887,))
    """
    lines = lines_of(text)
    alone = _BRACKET.fullmatch(text) if drawn else None
    markup = f"{{{{{_harmless(alone[1])}}}}}" if alone else markup_of(lines)
    seen = read(markup).seen() if len(markup) < _LONGEST_READ else ""
    return Transcription(
        text=text,
        lines=lines,
        markup=markup,
        years=tuple(dict.fromkeys(_years(seen))),
        short_years=tuple(dict.fromkeys(_short_years(seen, signed=signed))),
    )


def lines_of(text: str) -> tuple[str, ...]:
    """The lines of a copied text: a stroke with a blank ends one, a fraction or a date does not.

    >>> lines_of("A. Wynne / 2/40"), lines_of("12 / 25"), lines_of("A. Wynne/1887")
    (('A. Wynne', '2/40'), ('12 / 25',), ('A. Wynne', '1887'))
    """
    sign = _LINE_SIGN if _LINE_SIGN.search(text) else _TIGHT_LINE_SIGN
    lines: list[str] = []
    end = 0
    for found in [*sign.finditer(text), None]:
        line = text[end : found.start() if found else len(text)].strip()
        if line and lines and _is_fraction(text, lines[-1], line, end):
            lines[-1] += f" / {line}"
        elif line:
            lines.append(line)
        end = found.end() if found else end
    return _without_quotes(lines)


def _is_fraction(text: str, before: str, after: str, at: int) -> bool:
    """Whether a stroke between blanks stands in "12 / 25", not between two lines."""
    if "/" not in text[max(0, at - 3) : at] or not before.isdigit() or len(before) > 3:
        return False
    return bool(_WHOLE_NUMBER.fullmatch(after))


def _without_quotes(lines: list[str]) -> tuple[str, ...]:
    """The lines, without quotation marks where each line has its own."""
    if len(lines) > 1 and all(
        len(line) > 2
        and (line[0], line[-1]) in (('"', '"'), ("“", "”"), ("'", "'"), ("‘", "’"))
        for line in lines
    ):
        return tuple(line[1:-1].strip() for line in lines)
    return tuple(lines)


# -- our markup


def markup_of(lines: Iterable[str]) -> str:
    """The lines in the markup; what the cataloguer added in brackets is never what is seen.

    Signs that are only letters here get their backslash when they would be read as signs.

    >>> markup_of(["Galery [sic] (Paris)", "No. 12/25 [stamp]", "W[ynne] ..."])
    'Galery[!] (Paris)|No. 12/25 {{stamp}}|W[ynne] [---]'
    """
    lines = tuple(lines)
    if _tells_only_that_it_is_unread(lines):
        return "+(?)"
    parts = [list(_parts(line)) for line in lines]
    careful = "|".join(
        "".join(_escaped(typed) if is_text else typed for is_text, typed in line)
        for line in parts
    )
    plain = "|".join("".join(typed for _, typed in line) for line in parts)
    if careful == plain:
        return plain
    reading = read(plain) if len(plain) < _LONGEST_READ else None
    if reading and not reading.faults and reading.seen() == read(careful).seen():
        return plain
    return careful


def _tells_only_that_it_is_unread(lines: tuple[str, ...]) -> bool:
    """Whether the whole text is the cataloguer's "illegible" or "indistinct signature"."""
    words = (
        set(re.findall(r"\w+", lines[0].casefold()))
        if len(lines) == 1 and lines[0].islower()
        else set()
    )
    unread = listed("bracket", "unread")
    return bool(words & unread) and words <= unread | listed("bracket", "drawn")


def _escaped(text: str) -> str:
    return "".join(f"\\{letter}" if letter in SIGNS_TO_ESCAPE else letter for letter in text)


def _parts(line: str) -> Iterator[tuple[bool, str]]:
    """The pieces of a line: letters (True), and signs of the markup (False)."""
    end = 0
    for found in _BRACKET.finditer(line):
        before, after = line[end : found.start()], line[found.end() : found.end() + 1]
        sign, joined = _bracket_sign(found[1].strip(), before, after)
        yield from _doubts(before.rstrip(" ") if joined else before)
        yield False, sign
        end = found.end()
    yield from _doubts(line[end:])


def _doubts(text: str) -> Iterator[tuple[bool, str]]:
    """Letters with the cataloguer's question marks and points of omission taken for what they are."""
    end = 0
    for found in sorted(
        [*_DOUBT.finditer(text), *_LACUNA.finditer(text)], key=lambda each: each.start()
    ):
        before = text[end : found.start()]
        yield True, before
        if found[0].lstrip(" ")[0] in "([":
            behind_word = before[-1:].isalnum() or before[-1:] == "."
            yield False, "(?)" if behind_word else f"{' ' if found[0][0] == ' ' else ''}+(?)"
        else:
            yield False, "[---]"
        end = found.end()
    yield True, text[end:]


def _bracket_sign(inside: str, before: str, after: str) -> tuple[str, bool]:
    """The sign for a bracket of the cataloguer, and whether it joins the word before it."""
    words = [word.casefold() for word in re.findall(r"[^\W\d_]+", inside)]
    touches = before[-1:].isalnum() or after.isalnum()
    if words[:1] == ["sic"] and len(words) == 1:
        return "[!]", True
    if inside.strip(" ?") == "":
        if before[-1:].isalnum() and after.isalnum():
            return "+(1)", False
        behind_word = before.rstrip()[-1:]
        return ("(?)", True) if behind_word.isalnum() or behind_word == "." else ("+(?)", False)
    if not words and inside.strip(" .…–—-") == "":
        return "[---]", False
    if listed("bracket", "unread").intersection(words):
        doubtful = re.fullmatch(r"(\w{1,4})\s+\w+", inside)
        if doubtful and touches and doubtful[1].casefold() not in listed("bracket", "unread"):
            return "".join(f"{letter}_" for letter in doubtful[1]), False
        return "+(?)", False
    if touches and re.fullmatch(r"[\w.'’ -]{1,40}\??", inside):
        return f"[{inside}]", False
    if listed("bracket", "drawn").intersection(words):
        return f"{{{{{_harmless(inside)}}}}}", False
    if words and words[0] in listed("bracket", "note"):
        return f"/* {_harmless(inside)} */", False
    if re.fullmatch(r"[\w.,'’& -]{1,60}\??", inside):
        return f"[{inside}]", False
    return f"{{{{{_harmless(inside)}}}}}", False


def _harmless(words: str) -> str:
    """The words of a description without signs that would end it."""
    return re.sub(r"[{}*/\\|<>]", " ", words).strip() or "?"


# -- years


def _years(seen: str) -> Iterator[int]:
    found = [
        (each.start(), year)
        for each in _FIGURES.finditer(seen)
        for year in _written(seen, each)
    ]
    found += [
        (each.start(), year)
        for each in _ROMAN.finditer(seen)
        if (year := roman_number(each[0].lower())) and 1400 <= year < 2100
    ]
    return (year for _, year in sorted(found, key=lambda each: each[0]))


def _written(seen: str, found: re.Match[str]) -> list[int]:
    """The years in one run of figures with points and strokes, [] when it is some other number."""
    figures = found[0].rstrip("./–-")
    if _NO_YEAR_BEFORE.search(seen, max(0, found.start() - 8), found.start()):
        return []
    behind = seen[found.start() + len(figures) :][:1]
    if behind.isalpha() or seen[found.start() - 1 : found.start()].isalpha():
        return []
    for form in _YEAR_FORMS:
        if match := form.fullmatch(figures):
            return [int(match[1])]
    if match := _YEARS_FORM.fullmatch(figures):
        first = int(match[1])
        last = int(match[1][: 4 - len(match[2])] + match[2])
        return [first, last] if first < last else [first]
    return []


def _short_years(seen: str, *, signed: bool) -> Iterator[int]:
    for line in seen.split("\n"):
        shortened = [int(each[1]) for each in _SHORTENED.finditer(line)]
        shortened += [int(each[2]) for each in _DAY.finditer(line)]
        yield from shortened
        last = _LAST_TWO.search(line.rstrip(" .")) if signed and not shortened else None
        if last:
            yield int(last[1] or last[2])
