"""Titles before a name and what stands behind it: "Mr. and Mrs.", "Freiherr", "Jr.", "the Elder", "R.A."."""

from __future__ import annotations

import re
from functools import cache

from catalogue.measure.name_sheet import Sheet
from catalogue.measure.name_words import initials, table, whole
from catalogue.measure.words import any_of


def take_titles(sheet: Sheet, at: int) -> str:
    """Titles that stand here before a name; what was taken."""
    within = _title_within().search(sheet.left)
    if within:  # "Ludwig Freiherr von ..."
        sheet.take("honorifics", *within.span())
    found = titles_pattern().match(sheet.left, at)
    if found is None:
        return ""
    sheet.take("honorifics", at, found.end())
    return " ".join(found[0].split())


@cache
def titles_pattern() -> re.Pattern[str]:
    """The compiled pattern for titles with a name behind them."""
    return re.compile(rf"\s*{titles()}(?=[^\s,;])")


@cache
def titles() -> str:
    """A pattern for the titles before a name, with the blank behind them."""
    words = [*table()["titles"], *(word.upper() for word in table()["titles"])]
    one = rf"{whole(words)}\.?".replace(r"\s+", r"\.?\s+")
    both = rf"(?:{one}(?:\s*(?:{any_of(table()['and_signs'])})\s+{one})?)"
    careful = rf"(?:{whole(table()['titles_before_a_particle'])}\.?(?=\s+(?:de|du|des|d['’]|le|la|et\s+M)))"
    peer = rf"(?:[Tt]he\s+)?(?:\d{{1,2}}(?:st|nd|rd|th)\s+)?{whole(table()['peers'])}"
    return (
        rf"(?:(?:{careful}\s+(?:et\s+{one}\s+)?)?(?:{peer}\s+|(?:{both}\s+){{1,5}}(?:{peer}\s+)?)"
        rf"|{careful}(?:\s+et\s+{one})?\s+)"
    )


@cache
def _title_within() -> re.Pattern[str]:
    return re.compile(
        rf"(?<=\w\s){whole(table()['titles_within'])}\.?(?=\s+(?:von|vom|zu|van|de|di|da|of)\b)"
    )


def take_added(sheet: Sheet, *, titled: bool) -> None:
    """What follows a name: "Jr.", "the Elder", "R.A.", "3rd Earl of Trewin"."""
    named = len(sheet.left) - len(sheet.left.lstrip())
    for found in _behind_a_name().finditer(sheet.left, named):
        before = sheet.left[: found.start()]
        lone = len(before.split()) < 2 and not titled
        letters = initials().fullmatch(found["added"].strip(" ,;"))
        if before.strip() and not (lone and letters):
            sheet.take("honorifics", *found.span())


@cache
def added_words() -> str:
    """A pattern for a word behind a name; letters may have points between them."""
    said = []
    for word in sorted(table()["behind_a_name"], key=len, reverse=True):
        capitals = word.isupper() and word.isalpha()
        said.append(r"\.?\s?".join(word) if capitals else re.escape(word))
    return rf"(?:{'|'.join(said)})(?!\w)\.?"


@cache
def added_pattern() -> re.Pattern[str]:
    """The compiled pattern for one word behind a name."""
    return re.compile(added_words())


@cache
def _behind_a_name() -> re.Pattern[str]:
    peer = rf",\s*(?:the\s+)?(?:\d{{1,2}}(?:st|nd|rd|th)\s+)?{whole(table()['peers'])}[^,;]{{1,40}}"
    title = rf",\s*{whole(table()['titles'])}\.?"
    added = rf"(?P<added>(?:[,\s]\s*{added_words()})+|{peer}|{title})"
    return re.compile(rf"{added}(?=\s*(?:[,;]|$))")
