"""One step of a provenance, read word by word from left to right.

Each word leads on: words for a way of passing say what whoever is named next was, a comma and a place
belong to whoever was named before, brackets tell more of them or hold a dealer or a sale. Whatever
finds no place is left over, and nothing else is.
"""

from __future__ import annotations

from typing import Final

from catalogue.argument.prose.reading.bracketed import read_bracket
from catalogue.argument.prose.reading.course import Course
from catalogue.argument.prose.reading.dated import date_at, may_begin
from catalogue.argument.prose.reading.figures import (
    read_date_in,
    read_figure,
    read_number,
    read_price,
)
from catalogue.argument.prose.reading.money import price_at
from catalogue.argument.prose.reading.naming import relation
from catalogue.argument.prose.reading.notes import Mark
from catalogue.argument.prose.reading.passing import read_listed
from catalogue.argument.prose.reading.people import close_kin, described, read_kin, read_name
from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.words import longest

_DEEPEST: Final = 4
"""Brackets within brackets beyond so many are read as signs."""


def read_step(scan: Scan, first: int, behind: int, cited: dict[int, Mark]) -> Course:
    """What the words `first` to before `behind` tell (`told`), and what is `left()` of them."""
    step = Course(scan, first, behind, cited, _one)
    step.read_words(first, behind)
    close_kin(step)
    return step


def _one(step: Course, at: int, behind: int) -> int:
    """Read what stands at a word; the place to go on from."""
    scan = step.scan
    mark = step.cited.get(scan.starts[at])
    if mark:
        return step.note(at, behind, mark)
    if at in scan.closes and scan.closes[at] < behind and step.nested < _DEEPEST:
        step.nested += 1
        went = read_bracket(step, at, scan.closes[at])
        step.nested -= 1
        return went
    word = scan.words[at]
    if at in scan.quotes and scan.quotes[at] < behind:
        step.told.remarks.append(step.text(at, scan.quotes[at] + 1))
        return step.place(at, scan.quotes[at] + 1)
    if not word[0].isalnum() and not (word[0] in "'’" and len(word) > 1):
        return _sign(step, at, behind)
    low = scan.lows[at]
    if may_begin(low):
        dated = date_at(scan.text, scan.starts[at], scan.ends[behind - 1])
        if dated:
            return read_date_in(step, at, behind, dated)
    price = price_at(scan, at, behind)
    if price:
        return read_price(step, at, price)
    kin = relation(scan, at, behind)
    if kin > at:
        return read_kin(step, at, kin, behind)
    for reader in (read_listed, read_name, read_figure):
        went = reader(step, at, behind)
        if went > at:
            return went
    found = longest(scan.lows, at, behind, "filler")
    went = described(step, at, behind, found[0] if found else at)
    if went > at:
        return went
    if found:
        return step.place(at, found[0])
    return at + 1


def _sign(step: Course, at: int, behind: int) -> int:
    word = step.scan.words[at]
    if word == "?":
        step.told.sure = "possible"
    elif word == ",":
        step.comma = True
    elif word in "$£€¥ƒ":
        price = price_at(step.scan, at, behind)
        if price:
            return read_price(step, at, price)
    elif word == "#":
        found = read_number(step, at, behind)
        if found > at:
            return found
    elif word == ";":
        step.fresh = True
        step.comma = False
    return step.place(at, at + 1)
