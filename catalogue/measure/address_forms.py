"""Postal codes and telephone numbers in running text, each by a form that vocab/addresses.toml lists.

A form is a pattern with texts that prove it. None of them touches a letter, a figure or a lost part
of a label before or behind it, so nothing is read of half a number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from catalogue.measure.address_words import table
from catalogue.measure.finds import Found, Value, longest
from catalogue.measure.words import LOST, any_of, plain

_UNTOUCHED_BEFORE: Final = rf"(?<![\w{LOST}])(?<!\d[.,/:-])"
_UNTOUCHED_BEHIND: Final = rf"(?![\w{LOST}])"
_NOT_A_YEAR: Final = r"(?!(?:1[5-9]\d\d|20[0-2]\d)(?!\d))"


@dataclass(frozen=True, slots=True)
class Form:
    """One form of a postal code or a telephone number, and the country that wrote it so, if one did."""

    kind: str
    country: str | None
    pattern: re.Pattern[str]

    def finds(self, text: str) -> Iterator[Found]:
        """Each number of this form in a text."""
        for found in self.pattern.finditer(text):
            parts = {
                name.rstrip("23456789"): found.span(name)
                for name, said in found.groupdict().items()
                if said is not None
            }
            start = min((start for start, _ in parts.values()), default=found.start())
            end = max((end for _, end in parts.values()), default=found.end())
            value = {
                name: " ".join(text[slice(*place)].split()) for name, place in parts.items()
            }
            yield Found.at(self.kind, text, start, end, {**self._value(value), **value})

    def _value(self, parts: dict[str, str]) -> Value:
        country = self.country
        if country is None and plain(parts.get("exchange", "")) in _exchanges():
            country = "GB"
        return {"country": country}


def find_postal(text: str) -> list[Found]:
    """Postal districts and codes; the value has `country` and `code`.

    >>> [(each.written, each.value["country"]) for each in find_postal("48 Hart Street, London, W.1")]
    [('W.1', 'GB')]
    """
    return longest(each for form in forms("postal") for each in form.finds(text))


def find_telephones(text: str) -> list[Found]:
    """Telephone numbers; the value has `country`, `number` and, where one is named, `exchange`.

    >>> [each.value["exchange"] for each in find_telephones("Tel.: MAYfair 1234")]
    ['MAYfair']
    >>> find_telephones("MAY 1934")
    []
    """
    return longest(each for form in forms("telephone") for each in form.finds(text))


@cache
def forms(kind: str) -> tuple[Form, ...]:
    """The forms that the table lists for "postal" or "telephone"."""
    return tuple(_form(kind, row) for row in table()[kind])


def _form(kind: str, row: dict[str, Any]) -> Form:
    pattern = row["pattern"]
    for name, words in _placeholders().items():
        pattern = pattern.replace(f"{{{name}}}", words)
    lead = _introduced() if row.get("introduced") else ""
    whole = rf"{_UNTOUCHED_BEFORE}{lead}(?:{pattern}){_UNTOUCHED_BEHIND}"
    return Form(kind, row.get("country"), re.compile(_with_code(whole, kind)))


def _with_code(pattern: str, kind: str) -> str:
    """The pattern with a group for the code where the row has none: the whole is the code."""
    return pattern if "(?P<" in pattern else pattern.replace("(?:", f"(?P<{_WHOLE[kind]}>", 1)


_WHOLE: Final = {"postal": "code", "telephone": "number"}


@cache
def _placeholders() -> dict[str, str]:
    """What the names in braces stand for."""
    by_country: dict[str, list[str]] = table()["towns"]
    exchanges = table()["exchanges"]
    places = set(exchanges["also_words"])
    letters = {name[:3].upper() for name in exchanges["names"]} - set(exchanges["no_exchange"])
    return {
        **{country: _cased(names) for country, names in by_country.items()},
        "extension": r"(?: ?(?:x|[Ee]xt\.?|App\.|Apparat) ?\d{1,6})?",
        "street": _cased(table()["streets"]["after_the_name"]),
        "not_a_year": _NOT_A_YEAR,
        "not_a_month": rf"(?!{any_of(exchanges['no_exchange'])}(?![a-z]))",
        "exchange": _cased([name for name in exchanges["names"] if name not in places]),
        "exchange_or_place": _cased(places),
        "exchange_letters": any_of(letters),
    }


def _cased(words: list[str] | set[str]) -> str:
    """Any of these words as listed or in capitals, where it ends."""
    return rf"(?:{any_of({*words, *(word.upper() for word in words)})}(?!\w))"


def _introduced() -> str:
    """A word for a telephone, and what may stand between it and the number."""
    words = table()["telephone_words"]
    said = {*words["words"], *(word.upper() for word in words["words"])}
    signs = any_of(words["signs"])
    return rf"{any_of(said)}(?:[.:]{{0,2}}[ \t\n]?{signs}(?!\w))?[ .:—-]{{1,4}}\n?"


@cache
def _exchanges() -> frozenset[str]:
    return frozenset(plain(name) for name in table()["exchanges"]["names"])
