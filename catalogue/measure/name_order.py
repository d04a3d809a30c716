"""Family and given name, in the order of speaking or turned round by a comma."""

from __future__ import annotations

import re
from collections.abc import Iterator

from catalogue.measure.address_words import first_names, is_place
from catalogue.measure.attributions import Place
from catalogue.measure.name_sheet import Sheet
from catalogue.measure.name_titles import titles_pattern
from catalogue.measure.name_words import (
    elided,
    given_names,
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
    short = [bool(initials().fullmatch(word[0])) for word in words]
    if text[start:end].lower() == text[start:end].upper():  # a script without capitals
        return (start, start), (start, end)
    pair = len(words) == 3 and words[1][0] in table()["and_signs"]
    if all(short) or pair:  # "A. B.", "Mary and John"
        return (start, end), (end, end)
    if short[-1] and not short[0]:  # "Trewin J.": the family name first, without a comma
        behind = max(place for place, is_short in enumerate(short) if not is_short) + 1
        return (words[behind].start(), end), (start, words[behind - 1].end())
    at = words[_first_of_the_family([word[0] for word in words])].start()
    return (start, at), (at, end)


def _first_of_the_family(words: list[str]) -> int:
    """Which word begins the family name: the first particle, else the last word.

    A particle with a capital begins it at the very front only in a name of two words ("Le Quill").
    """
    begins = [len(words) - 1]
    for place, word in enumerate(words):
        if is_particle(word) and place < len(words) - 1:
            if place or not is_named(word) or len(words) == 2:
                begins.append(place)
        elif elided().match(word):
            begins.append(place)
        elif word in ("y", "i") and place > 1:  # "Juan García y López"
            begins.append(place - 1)
    return min(begins)


def turned_round(text: str, first: Place, second: Place) -> bool:
    """Whether a comma turns the name round ("Penhale, Ada") and is not before a place."""
    words, behind = text[slice(*first)].split(), text[slice(*second)]
    named = [word for word in words if not is_particle(word)]
    if is_place(behind) and plain(behind) not in first_names():
        return False
    if len(named) <= 1 or (is_particle(words[0]) and words[0].islower()):
        return True
    if titles_pattern().match(behind) or initials().fullmatch(behind.strip()):
        return True
    given = given_names()
    return behind.split()[0].casefold() in given and named[0].casefold() not in given


def take_turned(sheet: Sheet, first: Place, second: Place | None) -> None:
    """Take a name turned round: "Quill, Jan van der" is Jan, of the family van der Quill."""
    if second is None:  # nothing but a title stood behind the comma
        sheet.take("family", *first)
        return
    words = list(re.compile(r"\S+").finditer(sheet.left, *second))
    at = len(words)
    while at > 1 and is_particle(words[at - 1][0]) and not is_named(words[at - 1][0]):
        at -= 1
    given_end = words[at - 1].end()
    sheet.take("given", second[0], given_end)
    sheet.take("family", given_end, second[1])
    sheet.take("family", *first)
