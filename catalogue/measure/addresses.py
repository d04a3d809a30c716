"""Addresses in running text: streets, towns, postal codes, telephone numbers, e-mail, web addresses.

What stands side by side - "48 Hart Lane, London, W.1" - is one address, with its postal code as a
find of its own within it. A find lies on the letters that are there: nothing is read across a lost
part ("…"), and nothing of a word or a number that touches one. The words are in vocab/addresses.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, reduce
from typing import Final

from catalogue.measure.address_forms import find_postal, find_telephones
from catalogue.measure.address_words import also_words, any_town, countries, table, towns
from catalogue.measure.finds import Found, Value, longest
from catalogue.measure.streets import find_streets
from catalogue.measure.words import LOST, any_of, plain

_BESIDE: Final = re.compile(r"[ \t]*[,.;]?[ \t]*\n?[ \t]*[–-]?[ \t]*|[ ,]*\(|\)[ ,]*")
"""What may stand between the parts of one address."""
_NEAR: Final = 40
"""So many letters around a town are looked at for what shows that it is one."""


def find_addresses(text: str) -> list[Found]:
    """The addresses, postal codes and telephone numbers in a text, in its order.

    The value of an address has `country` (its two letters, None where nothing says which) and those of
    `street`, `number`, `town`, `code`, `state`, `country_name`, `email`, `web` that stand in it; see
    `find_postal` and `find_telephones` for theirs.

    >>> for each in find_addresses("48 Hart Lane, London, W.1. Tel.: MAYfair 1234"):
    ...     print(each.kind, "|", each.written, "|", each.value["country"])
    address | 48 Hart Lane, London, W.1 | GB
    postal | W.1 | GB
    telephone | MAYfair 1234 | GB
    """
    postal = find_postal(text)
    numbers = longest([*postal, *find_telephones(text), *_net(text)])
    postal = [each for each in numbers if each.kind == "postal"]
    others = [each for each in numbers if each.kind != "postal"]
    streets = _apart(find_streets(text), numbers)
    places = _apart(_towns(text), [*streets, *others])
    joined = _joined(text, sorted([*streets, *places, *postal], key=lambda it: it.start))
    return sorted([*joined, *numbers], key=lambda it: (it.start, -it.end))


def _apart(finds: list[Found], taken: list[Found]) -> list[Found]:
    """The finds that share no letter with one that is taken."""
    letters = {at for each in taken for at in range(each.start, each.end)}
    return [each for each in finds if letters.isdisjoint(range(each.start, each.end))]


# --- towns -----------------------------------------------------------------------------------------


def _towns(text: str) -> list[Found]:
    found = []
    for town in _town().finditer(text):
        said = plain(town[0])
        value = {"town": town[0], "country": towns().get(said)}
        if said in countries():
            value = {"country_name": town[0], "country": None}
        found.append(Found.at("address", text, *town.span(), value))
    return found


@cache
def _town() -> re.Pattern[str]:
    return re.compile(rf"(?<![\w{LOST}]){any_town()}(?![\w{LOST}]|['’]s\b|-\w\w)")


def _stands_for_itself(text: str, found: Found) -> bool:
    """Whether a town is named, not "London Bridge", and not the word that some towns are as well.

    Such a word is a town behind a comma or on a line of its own.
    """
    if "town" not in found.value:
        return True
    before = text[max(found.start - _NEAR, 0) : found.start].rpartition("\n")[2].rstrip()
    behind = text[found.end : found.end + _NEAR].partition("\n")[0]
    if behind[:1] == " " and behind[1:2].isupper():
        return False
    alone = before.endswith(",") or (not before and behind.strip() in ("", ".", ","))
    return alone or plain(found.written) not in also_words()


# --- one address -----------------------------------------------------------------------------------


def _joined(text: str, parts: list[Found]) -> Iterator[Found]:
    """Streets, towns and codes that stand side by side, as one address each.

    A code alone is no address, nor is a country.
    """
    groups: list[list[Found]] = []
    for part in parts:
        if groups and _beside(text, groups[-1], part):
            groups[-1].append(part)
        else:
            groups.append([part])
    for group in groups:
        while group and "country_name" in group[0].value:
            group.pop(0)
        places = [
            each
            for each in group
            if each.kind == "address" and "country_name" not in each.value
        ]
        if places and (len(group) > 1 or _stands_for_itself(text, group[0])):
            start, end = group[0].start, group[-1].end
            closes = text[end : end + 1] == ")" and text[end + 1 : end + 2] != LOST
            if "(" in text[group[-1].start - 1 : end] and closes:
                end += 1
            value = reduce(_merged, (each.value for each in group))
            yield Found.at("address", text, start, end, value)


def _beside(text: str, group: list[Found], part: Found) -> bool:
    """Whether a part goes on with an address: close behind it, and not a second street or town."""
    told = {name for each in group for name in each.value if name != "country"}
    again = told & (part.value.keys() - {"country"})
    return not again and bool(_BESIDE.fullmatch(text, group[-1].end, part.start))


def _merged(value: Value, other: Value) -> Value:
    """Two parts of an address together; the country of the first that has one."""
    country = value.get("country") or other.get("country")
    return {**{k: v for k, v in value.items() if k != "country"}, **other, "country": country}


# --- e-mail and web --------------------------------------------------------------------------------


def _net(text: str) -> Iterator[Found]:
    for found in _email().finditer(text):
        yield Found.at("address", text, *found.span(), {"email": found[0], "country": None})
    for found in _web().finditer(text):
        yield Found.at("address", text, *found.span(), {"web": found[0], "country": None})


@cache
def _email() -> re.Pattern[str]:
    label = r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"
    return re.compile(
        rf"(?<![\w.+{LOST}-])[\w+-]{{1,64}}(?:\.[\w+-]{{1,64}}){{0,4}}@{label}(?:\.{label}){{1,4}}(?![\w{LOST}-]|\.{LOST})"
    )


@cache
def _web() -> re.Pattern[str]:
    label, path = (
        r"[a-z0-9](?:[a-z0-9-]{0,61}[a-z0-9])?",
        rf"(?:/[^\s{LOST}<>\"]{{0,200}}[\w/])?",
    )
    ends = any_of(table()["net"]["ends"])
    named = rf"(?:https?://|www\.){label}(?:\.{label}){{1,4}}"
    bare = rf"{label}(?:\.{label})?\.{ends}"
    return re.compile(rf"(?<![\w@.{LOST}-])(?:{named}|{bare}){path}(?![\w{LOST}@-]|\.{LOST})")
