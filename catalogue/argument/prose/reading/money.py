"""Prices in a step: an amount with a sign or a word for money, as it is written."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.words import plain, table

_FIGURES = r"\d{1,3}(?:[,.' ]\d{3})*(?:[.,]\d{1,2})?(?!\d)|\d+(?:[.,]\d{1,2})?"


def _any(words: Iterable[str]) -> str:
    return "|".join(re.escape(each) for each in sorted(set(words), key=len, reverse=True))


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    words = table()["money"]
    signs = rf"(?:{_any(words['before'])})\s?(?:{_FIGURES})(?:[ /-]\d[\d/-]*)?(?:\s?(?:million|m)\b)?"
    named = rf"(?:{_FIGURES})\s?(?:{_any(words['behind'])})(?!\w)"
    lead = rf"(?:(?:{_any(words['lead'])})\s+(?:the\s+sum\s+of\s+|about\s+|c\.\s*)?)?"
    return re.compile(rf"(?i:{lead})(?:{signs}|{named})"), re.compile(_FIGURES)


@cache
def _first() -> frozenset[str]:
    words = table()["money"]
    said = (*words["before"], *words["lead"])
    return frozenset(plain(re.findall(r"\w+|.", each)[0]) for each in said)


def price_at(scan: Scan, at: int, behind: int) -> int | None:
    """The place behind the price that begins at a word, None where none does.

    >>> scan = Scan("sold for 12 gns to")
    >>> price_at(scan, 1, len(scan))
    4
    """
    low = scan.lows[at]
    if not (low[0].isdigit() or low in _first()):
        return None
    found = _patterns()[0].match(scan.text, scan.starts[at], scan.ends[behind - 1])
    if not found:
        return None
    return scan.first_from(at, found.end(), behind)
