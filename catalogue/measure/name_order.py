"""Family and given name, in the order of speaking or turned round by a comma."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from catalogue.measure.address_words import first_names, is_place
from catalogue.measure.attributions import Place
from catalogue.measure.name_sheet import Sheet
from catalogue.measure.name_titles import titles_pattern
from catalogue.measure.name_words import (
    elided,
    initials,
    is_named,
    is_particle,
    table,
    word_of_a_name,
)
from catalogue.measure.words import plain


def segments(text: str) -> Iterator[Place]:
    """The stretches between commas that hold a letter or a figure."""
    for part in re.finditer(r"[^,;]+", text):
        if any(letter.isalnum() for letter in part[0]):
            yield part.span()


def name_in(text: str, start: int, end: int) -> Place | None:
    """Where in a stretch the name stands: from its first capital to the first word that is none."""
    first = last = None
    for word in re.compile(r"\S+").finditer(text, start, end):
        named = is_named(word[0])
        if named or (is_particle(word[0]) and not any(c.isdigit() for c in word[0])):
            first = word.start() if first is None else first
            last = word.end()
        elif first is None:
            continue
        elif not (word[0] in table()["and_signs"] or word[0][0] in "\"“'‘"):
            break
    if first is None or last is None:
        return None
    last = _first_of_two(text, first, last)
    return (first, last) if any(is_named(word) for word in text[first:last].split()) else None


def _first_of_two(text: str, start: int, end: int) -> int:
    """Where the first of two whole names ends: "Ada Penhale and John Trewin" are two people."""
    words = list(re.compile(r"\S+").finditer(text, start, end))
    for place, word in enumerate(words):
        if word[0] in table()["and_signs"]:
            before, behind = words[:place], words[place + 1 :]
            whole_name = len(before) > 1 and not all(
                initials().fullmatch(each[0]) for each in before
            )
            another = len(behind) > 1 and not is_particle(behind[0][0])
            return before[-1].end() if whole_name and another else end
    return end


def given_and_family(text: str, start: int, end: int) -> tuple[Place, Place]:
    """Given and family name of a name in the order of speaking; either may be empty."""
    words = list(word_of_a_name().finditer(text, start, end))
    spoken = [word[0] for word in words]
    short = [bool(initials().fullmatch(word)) for word in spoken]
    if text[start:end].lower() == text[start:end].upper():  # a script without capitals
        return (start, start), (start, end)
    if all(short):
        return (start, end), (end, end)
    if short[-1] and not short[0]:  # "Trewin J.": the family name first, without a comma
        behind = max(place for place, is_short in enumerate(short) if not is_short) + 1
        return (words[behind].start(), end), (start, words[behind - 1].end())
    first = next(
        (
            place
            for place, word in enumerate(spoken[:-1])
            if is_particle(word) and (place or not is_named(word) or len(words) == 2 + place)
        ),
        len(words) - 1,
    )
    with_elision = (place for place, word in enumerate(spoken) if elided().match(word))
    first = min(first, next(with_elision, first))
    joined = [place for place, word in enumerate(spoken) if word in ("y", "i") and place > 1]
    first = min(first, joined[0] - 1) if joined else first
    at = words[first].start()
    return (start, at), (at, end)


def turned_round(text: str, first: Place, second: Place) -> bool:
    """Whether a comma turns the name round ("Penhale, Ada") and is not before a place."""
    named = [word for word in text[slice(*first)].split() if not is_particle(word)]
    behind = text[slice(*second)]
    if is_place(behind) and plain(behind) not in first_names():
        return False
    begins = text[first[0] : first[1]].split()[0]
    if is_particle(begins) and begins.islower():  # "van der Quill Trewin, Jan"
        return True
    if (
        len(named) <= 1
        or titles_pattern().match(behind)
        or initials().fullmatch(behind.strip())
    ):
        return True
    given = _given_names()
    return behind.split()[0].casefold() in given and named[0].casefold() not in given


@cache
def _given_names() -> frozenset[str]:
    return frozenset(name for names in table()["twins"] for name in names)


def take_turned(sheet: Sheet, first: Place, second: Place) -> None:
    """ "Quill, Jan van der" is Jan, of the family van der Quill."""
    words = list(re.compile(r"\S+").finditer(sheet.left, *second))
    at = len(words)
    while at > 1 and is_particle(words[at - 1][0]) and not is_named(words[at - 1][0]):
        at -= 1
    given_end = words[at - 1].end()
    sheet.take("given", second[0], given_end)
    sheet.take("family", given_end, second[1])
    sheet.take("family", *first)
