"""Streets in running text: "48 Hart Lane", "12, rue des Lilas", "Lindenstraße 12", "via Roma 3".

The word for a street stands behind the name, before it or at its end; where such a word is a family
name or a word of another sort, only the number of a house shows that a street is meant.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from catalogue.measure.address_words import any_town, table
from catalogue.measure.finds import Found, longest
from catalogue.measure.words import LOST, any_of, plain
from catalogue.measure.words import table as date_words

_BEFORE: Final = rf"(?<![\w{LOST}])(?<![\w{LOST}][-–/.,])"
_BEHIND: Final = rf"(?![\w{LOST}]|-{LOST})"
_CAPITAL: Final = r"A-ZÀ-ÖØ-ÞŒŠŽ"
_WORD: Final = rf"[{_CAPITAL}][\w'’-]{{0,30}}\.?"
_MORE: Final = r"(?: ?(?:bis|ter)|[a-zA-Z])?(?: ?[-–/&+] ?\d{1,4}[a-z]?)?(?![\d.]| ?[x×] ?\d)"
_HOUSE: Final = rf"\d{{1,5}}{_MORE}"
"""The number of a house before its street."""


def find_streets(text: str) -> list[Found]:
    """Streets with the numbers of houses; the value has `street` and `number`, None without one.

    >>> [each.value for each in find_streets("Trewin, 48 Hart Lane, Bath")]
    [{'street': 'Hart Lane', 'number': '48', 'country': None}]
    >>> find_streets("Ada Lane"), find_streets("48 Hart La…")
    ([], [])
    """
    return longest(
        found
        for pattern, needs_a_number in _patterns()
        for match in pattern.finditer(text)
        if (found := _street(text, match, needs_a_number))
    )


def _street(text: str, match: re.Match[str], needs_a_number: frozenset[str]) -> Found | None:
    told = match.groupdict()
    number = told.get("before") or told.get("behind")
    if number is None and told["word"].casefold() in needs_a_number:
        return None
    if number is not None and match["street"].split()[-1].casefold() in _months():
        return None
    value = {"street": " ".join(match["street"].split()), "number": number, "country": None}
    return Found.at("address", text, *match.span(), value)


@cache
def _months() -> frozenset[str]:
    return frozenset(plain(name) for names in date_words()["months"].values() for name in names)


@cache
def _patterns() -> tuple[tuple[re.Pattern[str], frozenset[str]], ...]:
    """Each way to write a street, with the words that mean one only beside a number."""
    words = table()["streets"]
    endings = [*words["endings"], *words["endings_with_a_number"]]
    return (
        (_after(words["after_the_name"]), _folded(words["only_with_a_number"])),
        (_german(words["before_a_number"]), frozenset()),
        (_before(words["before_the_name"]), _folded(words["only_with_a_number_before"])),
        (_ending(endings), _folded(words["endings_with_a_number"])),
        (_lead(words["lead_with_a_number"]), _folded(words["lead_with_a_number"])),
    )  # fmt: skip


def _folded(words: list[str]) -> frozenset[str]:
    return frozenset(word.casefold() for word in words)


def _cased(words: list[str]) -> str:
    return any_of(
        {*words, *(word.upper() for word in words), *(word.title() for word in words)}
    )


def _numbered() -> str:
    return any_of(table()["streets"]["number_words"])


@cache
def _behind() -> str:
    """The number of a house behind its street, which is no postal code before a town."""
    return rf"(?P<behind>\d{{1,3}}{_MORE}|\d{{4}}{_MORE}(?! {any_town()}(?!\w)))"


def _after(words: list[str]) -> re.Pattern[str]:
    """The word behind the name: "48 Hart Lane", "East 57th Street", "Hart Street"."""
    name = rf"(?:{_WORD}|\d{{1,3}}(?:st|nd|rd|th)|TH)"
    house = rf"(?:(?:{_numbered()} ?)?(?P<before>{_HOUSE}),? )?"
    return re.compile(
        rf"{_BEFORE}{house}(?P<street>(?:{name} ){{1,4}}?(?P<word>{_cased(words)})){_BEHIND}"
    )


def _german(words: list[str]) -> re.Pattern[str]:
    """The word behind the name, then the house: "Berliner Straße 12", "Quill Platz 3"."""
    return re.compile(
        rf"{_BEFORE}(?P<street>(?:{_WORD} ){{1,3}}?(?P<word>{_cased(words)})) {_behind()}{_BEHIND}"
    )


def _before(words: list[str]) -> re.Pattern[str]:
    """The word before the name: "12 bis, rue des Lilas", "via Roma 3", "c/ Mayor, 4"."""
    joins = table()["streets"]["within"]
    within = any_of(word for word in joins if word[-1] != "'")
    elided = any_of(word for word in joins if word[-1] == "'").replace("'", "['’]")
    name = rf"(?:{_WORD}|\d{{1,2}} {_WORD})"
    more = rf"(?:[ -](?!{any_town()}(?!\w))(?:{within} |{elided})?{_WORD}){{0,3}}"
    street = rf"(?P<word>{_cased(words)}) (?:{within} ){{0,2}}(?:{elided})?{name}{more}"
    front = rf"(?:(?P<before>{_HOUSE}),? )?"
    behind = rf"(?:,? (?:{_numbered()} ?)?{_behind()})?"
    return re.compile(rf"{_BEFORE}{front}(?P<street>{street}){behind}{_BEHIND}")


def _ending(words: list[str]) -> re.Pattern[str]:
    """The word as the end of the name: "Lindenstraße 12", "Keizersgracht 100"."""
    name = rf"(?:{_WORD} ){{0,2}}[{_CAPITAL}][\w-]{{1,30}}?(?P<word>(?i:{any_of(words)}))(?!-)"
    house = rf"(?: (?:{_numbered()} ?)?{_behind()})?"
    return re.compile(rf"{_BEFORE}(?P<street>{name}){house}{_BEHIND}")


def _lead(words: list[str]) -> re.Pattern[str]:
    """No word for a street at all, but one for where: "Am Markt 3", "Unter den Linden 12"."""
    return re.compile(
        rf"{_BEFORE}(?P<street>(?P<word>{_cased(words)}) {_WORD}(?: {_WORD})?) {_behind()}{_BEHIND}"
    )
