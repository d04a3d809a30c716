"""What shows that a name is a firm's or an institution's: "& Sons", "Ltd", "Galerie", "Museum".

A mark that is a family name as well ("Church", "Bank") counts only where something beside it shows
that it is none. The words are in vocab/names.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal, TypeAlias

from catalogue.measure.name_words import table, whole
from catalogue.measure.words import any_of

Kind: TypeAlias = Literal["person", "firm", "institution", "unknown"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark of a firm or an institution: where it stands, and whether it joins ("& Sons")."""

    kind: Kind
    joins: bool
    start: int
    end: int


def marks(text: str) -> Iterator[Mark]:
    """Each mark of a firm or an institution in a name.

    >>> [mark.kind for mark in marks("Trewin & Sons Ltd")]
    ['firm', 'firm']
    >>> list(marks("Ada Church")), [mark.kind for mark in marks("St Quill's Church")]
    ([], ['institution'])
    """
    for found in _mark().finditer(text):
        if found["joined"] or not _also_a_family_name(text, found):
            kind: Kind = "institution" if found.lastgroup == "institution" else "firm"
            yield Mark(kind, bool(found["joined"]), found.start(), found.end())


def holds_a_mark(text: str) -> bool:
    """Whether a name shows anywhere that it is no person's."""
    return next(marks(text), None) is not None


def _also_a_family_name(text: str, found: re.Match[str]) -> bool:
    """Whether the mark may be the family name of a person: "Ada Church", "Church, Ada"."""
    if found[0] not in _family_names():
        return False
    lead, tail = text[max(found.start() - 60, 0) : found.start()], text[found.end() :][:40]
    if re.search(r"['’]s\s+$|\bthe\s+$|\bSt\.?\s|\bSaint\s", lead, re.IGNORECASE):
        return False
    beside = re.match(r"\s+(?:of|at|for|in|de|di|des|der|van)\b|\s+[A-ZÄÖÜÉ][\w.'’-]+", tail)
    return beside is None


@cache
def _family_names() -> frozenset[str]:
    return frozenset(table()["marks_that_are_family_names"])


@cache
def _mark() -> re.Pattern[str]:
    joins = any_of(table()["and_signs"])
    joined = rf"(?P<joined>(?:{joins})\s*{_capital(table()['joined_firm_marks'])})"
    firm_ends, institution_ends = (
        any_of(table()["firm_endings"]),
        any_of(table()["institution_endings"]),
    )
    closing = rf"{whole(table()['closing_firm_marks'])}(?=\.?\s*(?:[,;()\[]|$))"
    firm = (
        rf"(?P<firm>{_capital(table()['firm_marks'])}|{closing}|\w{{2,30}}(?i:{firm_ends})\b)"
    )
    of_public = (
        rf"(?P<institution>{_capital(table()['institution_marks'])}"
        rf"|\w{{2,30}}(?i:{institution_ends})\b)"
    )
    return re.compile(rf"(?<!\w)(?:{joined}|{of_public}|{firm})\.?")


def _capital(words: list[str]) -> str:
    """The words as listed or in capitals throughout, where they end."""
    return whole([*words, *(word.upper() for word in words)])
