"""Prices in a dealer's letters → figures, by the key word of that dealer.

A key is ten different letters, one for each figure, and perhaps letters that repeat the figure before
them. Keys are the private knowledge of a trade: whoever holds one hands it in for each reading. None is
in vocab/, and no result, message or representation holds the key or a letter of it that was not
written. What comes out is a reading and no fact: cost or asking price, and which money, is not said.

How such codes are made: merchants' handbooks (yrd.ca, chestofbooks.com), as the sheet of datable
evidence has it; some keys begin at nought, so the order is a setting.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import product
from math import prod
from typing import Final

from catalogue.errors import BadSetting
from catalogue.measure.words import LOST

_FIGURES: Final = "1234567890"
_UNREAD: Final = "?+"
_DOUBTFUL: Final = "_"
_SIGNS: Final = " ./-=,:"
_AGAIN: Final = "again"
_MOST: Final = 1000
"""So many readings of a code are written out; one that has more is given once, with its gaps."""


class _NoCode(Exception):
    """What cannot be a code by the key at hand."""


@dataclass(frozen=True, slots=True)
class PriceKey:
    """A key word, and the letters that repeat; its first letter is 1, or 0 with `from_nought`.

    Capitals, blanks and hyphens do not matter. Raises `BadSetting` for what cannot be a key.
    """

    word: str = field(repr=False)
    repeaters: str = field(default="", repr=False)
    from_nought: bool = False

    def __post_init__(self) -> None:
        letters, repeaters = _letters(self.word), _letters(self.repeaters)
        if not all(letter.isalpha() for letter in letters + repeaters):
            raise BadSetting("a key is made of letters alone")
        if len(set(letters)) < len(letters):
            raise BadSetting(
                "a letter of the key comes twice, and cannot stand for two figures",
                remedy="check the spelling of the key word",
            )
        if len(letters) != len(_FIGURES):
            raise BadSetting(
                f"a key has ten letters, one for each figure; this one has {len(letters)}",
                remedy="check the spelling of the key word",
            )
        if set(letters) & set(repeaters):
            raise BadSetting(
                "a letter that repeats stands for a figure already",
                remedy="the repeater is a letter that the key word has not",
            )

    def figure(self, letter: str) -> str | None:
        """The figure of a letter, None where it has none."""
        place = _letters(self.word).find(letter.upper())
        return None if place < 0 else str(place if self.from_nought else (place + 1) % 10)

    def repeats(self, letter: str) -> bool:
        """Whether a letter repeats the figure before it."""
        return letter.upper() in _letters(self.repeaters)


@dataclass(frozen=True, slots=True)
class CodeReading:
    """One way to read a code: its figures as they stand, and the number that they are.

    `figures` keeps the signs between the letters ("236/-"), "?" for a figure that may be any and "…"
    for lost ones; with these, and where a sign parts it ("55/6"), `number` is None.
    """

    figures: str
    number: int | None


def decode(written: str, key: PriceKey) -> tuple[CodeReading, ...]:
    """Every reading that a code may have by this key, the likeliest first; () where it is no code.

    Letters are doubtful or unread as in our markup: "K_" is probably K, "?" or "+" is one letter that
    was not read, "…" is any number of lost ones. A code with lost letters, or with more than a thousand
    readings, has one that keeps the gaps.

    >>> key = PriceKey("BLACKHORSE", repeaters="X")
    >>> [reading.number for reading in decode("BLKE", key)]
    [1250]
    >>> [reading.number for reading in decode("SO?", key)]
    [971, 972, 973, 974, 975, 976, 977, 978, 979, 970]
    >>> decode("SO…", key)
    (CodeReading(figures='97…', number=None),)
    """
    try:
        slots = _slots(written, key)
    except _NoCode:
        return ()
    if LOST in written or prod(map(len, slots)) > _MOST:
        slots = [slot if len(slot) == 1 else ("?",) for slot in slots]
    told = dict.fromkeys(_told(choice) for choice in product(*slots))
    return tuple(CodeReading(figures, _number(figures)) for figures in told)


def why_no_code(written: str, key: PriceKey) -> str | None:
    """Why something cannot be a code by this key, None where it may be one.

    >>> key = PriceKey("BLACKHORSE", repeaters="X")
    >>> why_no_code("XK", key)
    'a letter that repeats cannot come first'
    >>> why_no_code("BLZ", key)
    'Z is not in the key'
    """
    try:
        _slots(written, key)
    except _NoCode as refused:
        return str(refused)
    return None


def _letters(word: str) -> str:
    return re.sub(r"[\s-]", "", word).upper()


def _slots(written: str, key: PriceKey) -> list[tuple[str, ...]]:
    """What each letter and sign may stand for, the likeliest first. Raises `_NoCode`."""
    slots: list[tuple[str, ...]] = []
    for letter, doubtful in re.findall(rf"(.)({_DOUBTFUL}?)", written.strip(), re.DOTALL):
        if letter in _SIGNS or letter == LOST:
            slots.append((letter,))
        elif letter in _UNREAD or letter == _DOUBTFUL:
            slots.append(tuple(_FIGURES))
        else:
            sure = _sure(letter, key)
            if sure == _AGAIN and not _figures_in(slots):
                raise _NoCode("a letter that repeats cannot come first")
            others = (each for each in _FIGURES if each != sure)
            slots.append((sure, *others) if doubtful else (sure,))
    if not _figures_in(slots):
        raise _NoCode("there is no letter of a code in it")
    return slots


def _sure(letter: str, key: PriceKey) -> str:
    if key.repeats(letter):
        return _AGAIN
    found = key.figure(letter)
    if found is None:
        raise _NoCode(f"{letter} is not in the key")
    return found


def _figures_in(slots: Iterable[tuple[str, ...]]) -> bool:
    return any(slot[0] not in _SIGNS for slot in slots)


def _told(choice: Iterable[str]) -> str:
    """The figures of one choice, each repeater as the figure before it."""
    return "".join(_repeated(choice))


def _repeated(choice: Iterable[str]) -> Iterator[str]:
    last = "?"
    for each in choice:
        if each == _AGAIN:
            yield last
        else:
            if each not in _SIGNS:
                last = "?" if each == LOST else each
            yield each


def _number(figures: str) -> int | None:
    """The number of figures that nothing parts; what ends them ("/-") does not count."""
    bare = figures.rstrip(_SIGNS)
    return int(bare) if bare.isdecimal() else None
