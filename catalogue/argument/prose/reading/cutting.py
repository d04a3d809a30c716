"""Where one step of a provenance ends and the next begins.

A semicolon, a full stop that belongs to no abbreviation, or a line end ends a step, never within
brackets or quotation marks. What ended it is kept, since it says whether the next followed directly.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from catalogue.argument.prose.reading.dated import may_begin
from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.words import is_title, longest, stops

_STARTS = ("passing", "sure", "leading", "nobody", "behalf", "unknown")


@dataclass(frozen=True, slots=True)
class Piece:
    """The words `first` to before `behind` of a scan; `sign` is what ended them (";", ".", line end, "")."""

    first: int
    behind: int
    sign: str


def pieces(scan: Scan) -> Iterator[Piece]:
    """The steps of a text, in its order, empty ones left out.

    >>> scan = Scan("Mrs. A. Penhale, St. Ives, c. 1900; (J. Trewin; sold to). Private collection")
    >>> [" ".join(scan.words[each.first:each.behind]) for each in pieces(scan)]
    ['Mrs . A . Penhale , St . Ives , c . 1900', '( J . Trewin ; sold to )', 'Private collection']
    """
    first = at = 0
    behind = len(scan)
    while at < behind:
        if at > first and "\n" in scan.blank[at] and _new_line(scan, at):
            yield Piece(first, at, "\n")
            first = at
        if at in scan.closes:
            closing = scan.closes[at]
            whole = at == first and scan.words[closing - 1] in (".", ";")
            at = closing + 1
            if (
                whole and at < behind and scan.words[at] not in ";.,"
            ):  # "[Whereabouts unknown.]"
                yield Piece(first, at, scan.words[closing - 1])
                first = at
        elif at in scan.quotes:
            at = scan.quotes[at] + 1
        elif scan.words[at] == ";" or (scan.words[at] == "." and ends_a_step(scan, at)):
            if at > first:
                yield Piece(first, at, scan.words[at])
            at += 1
            first = at
        else:
            at += 1
    if behind > first:
        yield Piece(first, behind, "")


def _new_line(scan: Scan, at: int) -> bool:
    """Whether a step begins with a line: not where a sentence only runs on to it."""
    if scan.blank[at].count("\n") > 1:
        return True
    before = scan.words[at - 1]
    if before in ",-–&" or before in (
        "and",
        "to",
        "by",
        "of",
        "the",
        "from",
        "in",
        "for",
        "or",
    ):
        return False
    if scan.is_capital(at) or not scan.words[at][0].isalpha():
        return True
    return longest(scan.lows, at, len(scan), "passing", "sure") is not None


def ends_a_step(scan: Scan, at: int) -> bool:
    """Whether a full stop ends a sentence, seen from the words beside it."""
    behind = at + 1
    if at == 0:
        return behind >= len(scan)
    word = scan.lows[at - 1]
    if behind >= len(scan):
        return not _is_short_form(scan, at)
    glued = not scan.blank[behind]
    follows = scan.words[behind]
    if glued and follows in ",;:.)]-–—'’”\"":
        return False
    starts = _starts(scan, behind)
    if scan.blank[at]:
        return scan.is_capital(behind)  # a full stop with white space before it
    if word in stops("never") or _is_dotted(scan, at, "never"):
        return False
    if is_title(word) and scan.is_capital(at - 1):
        return False
    if word in stops("perhaps") or _is_dotted(scan, at, "perhaps"):
        return starts
    if len(word) == 1 and word.isalpha():
        return starts and scan.is_capital(behind)
    if glued:
        joined = follows[0].isupper() or follows[0] in "[(" or follows[0] in "¹²³⁴⁵⁶⁷⁸⁹"
        return joined and (len(word) > 2 or not word.isalpha())
    if is_list_number(scan, at - 1) or (
        word.isdigit() and len(word) < 3 and may_begin(scan.lows[behind])
    ):
        return False  # "4. Mai 1930"
    if len(word) < 5 and follows[0].isupper() and _without_vowels(scan.words[at - 1]):
        return False  # "Chr. Holm"
    if follows[0].islower():
        return longest(scan.lows, behind, len(scan), "passing") is not None and (
            len(word) > 3 or not word.isalpha()
        )
    return True


def _without_vowels(word: str) -> bool:
    return (
        word.isalpha()
        and word[0].isupper()
        and not set(word.lower()) & set("aeiouyäöüáéíóúàèìòù")
    )


def _is_short_form(scan: Scan, at: int) -> bool:
    """Whether the stop at the very end of a text belongs to its last word: "Jr.", "Mass."."""
    word = scan.lows[at - 1]
    capital = scan.words[at - 1][0].isupper()
    dotted = _is_dotted(scan, at, "never") or _is_dotted(scan, at, "perhaps")
    return dotted or (capital and (word in stops("perhaps") or len(word) == 1))


def is_list_number(scan: Scan, at: int) -> bool:
    """Whether a number at the beginning of a line, or of the text, numbers the steps: "2. Ada"."""
    if not (scan.words[at].isdigit() and len(scan.words[at]) < 3):
        return False
    return (at == 0 or "\n" in scan.blank[at]) and scan.words[at + 1 : at + 2] == ["."]


def _starts(scan: Scan, at: int) -> bool:
    """Whether a word plainly begins a step: "Sold to", "Private collection", "(Galerie"."""
    if scan.words[at] in ("(", "[") and at in scan.closes:
        inside = scan.lows[at + 1]
        return not (inside[0].isdigit() or may_begin(inside) or inside in ("b", "d", "?"))
    found = longest(scan.lows, at, len(scan), *_STARTS)
    return found is not None and scan.words[at][0].isupper() and len(scan.words[at]) > 1


def _is_dotted(scan: Scan, at: int, key: str) -> bool:
    """Whether this is the last stop of a short form with stops within: "N.Y.", "a.k.a."."""
    letters = [scan.lows[at - 1]]
    here = at - 1
    while (
        here >= 2 and scan.lows[here - 1] == "." and not scan.blank[here] and len(letters) < 5
    ):
        letters.insert(0, scan.lows[here - 2])
        here -= 2
    return len(letters) > 1 and ".".join(letters) in stops(key)
