"""A wish as one would type it, so that it is understood again; a fact added to what was typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from catalogue.indexes.language.fields import FactField, facts
from catalogue.indexes.language.joining import all_of
from catalogue.indexes.language.numbers import bounds_typed
from catalogue.indexes.language.patterns import run
from catalogue.indexes.language.pieces import QUOTES
from catalogue.indexes.language.times import days_typed
from catalogue.indexes.language.understanding import understand
from catalogue.indexes.language.values import typed_for
from catalogue.indexes.wish import (
    AllOf,
    AnyOf,
    Elsewhere,
    Fact,
    InTime,
    Measured,
    Name,
    Not,
    Run,
    Wish,
    Word,
)
from catalogue.measure import Day

_ANY_DAY = Day(2000, 1, 1)
_PLAIN = re.compile(r"[^\W_][\w-]*")
_TIMES = {"made": "painted", "own": "dated", "any": "when"}


def written_again(wish: Wish) -> str:
    """What to type so that a wish is understood again; "" for nothing.

    >>> written_again(understand("certainly painted 1880..1890 -(frame or oak)", _ANY_DAY).wish)
    'certainly painted:1880..1890 -(frame or oak)'
    """
    plain = _written(wish, quoting=False)
    # words that mean something to the language beside each other are put in quotation marks
    again = understand(plain, _ANY_DAY).wish == wish
    return plain if again else _written(wish, quoting=True)


def with_fact(typed: str, field: str, key: str, today: Day) -> str:
    """What was typed, with one more fact asked for, as a click on a counted value does it.

    >>> with_fact("cubitt or cubit", "face", "face/back", Day(2026, 3, 1))
    '(cubitt or cubit) face:back'
    """
    added = written_again(Fact(field, (key,)))
    asked = typed.strip()
    if not asked:
        return added
    before = understand(asked, today)
    wanted = all_of((before.wish, Fact(field, (key,))))
    for joined in (f"{asked} {added}", f"({asked}) {added}"):
        after = understand(joined, today)
        if (after.wish, after.order) == (wanted, before.order):
            return joined
    # what was typed was left open somewhere: it is typed anew
    order = "" if before.order == "best" else f" sort:{before.order}"
    return f"{written_again(wanted)}{order}"


def _written(wish: Wish, *, quoting: bool) -> str:
    match wish:
        case Word():
            return _in_field(_word(wish, quoting), wish.fields)
        case Run():
            return _in_field(_run(wish, quoting), wish.words[0].fields)
        case Name():
            return f"{_field(wish.field).name}:{_quoted(wish.written)}"
        case Fact():
            return _fact(wish)
        case Measured():
            return f"{wish.field}:{bounds_typed(wish.least, wish.most)}"
        case InTime():
            return _time(wish)
        case Not():
            return f"-{_within(wish.part, quoting)}"
        case Elsewhere():
            inner = _written(wish.part, quoting=quoting)
            return f"{'also' if wish.there else 'without'} ({inner})"
        case AnyOf():
            return " or ".join(_grouped(each, quoting) for each in wish.parts)
        case AllOf():
            return " ".join(_joined(wish.parts, quoting))


def _joined(parts: tuple[Wish, ...], quoting: bool) -> Iterator[str]:
    for each in parts:
        yield _grouped(each, quoting)


def _grouped(wish: Wish, quoting: bool) -> str:
    """A part among others: in brackets where it is itself of several."""
    said = _written(wish, quoting=quoting)
    return f"({said})" if isinstance(wish, (AllOf, AnyOf)) else said


def _within(wish: Wish, quoting: bool) -> str:
    """What is left out: in brackets unless it is one piece."""
    said = _written(wish, quoting=quoting)
    row = isinstance(wish, Run) and not wish.apart and said[:1] in QUOTES
    word = isinstance(wish, (Word, Run)) and " " not in said and said[:1].isalnum()
    one = row or word or isinstance(wish, (Name, Fact, Measured))
    return said if one else f"({said})"


def _word(wish: Word, quoting: bool) -> str:
    if wish.alike:
        return f"{wish.written}~{'' if wish.alike == 1 else wish.alike}"
    if wish.pattern is not None:
        return wish.written
    return f'"{wish.written}"' if quoting else wish.written


def _run(wish: Run, quoting: bool) -> str:
    if wish.apart:
        return f" near/{wish.apart} ".join(_word(each, quoting) for each in wish.words)
    if any(each.pattern is not None for each in wish.words):
        return "-".join(each.written for each in wish.words)
    said = _in_one_row(wish, " ")
    # words that would be read as one are kept apart
    if run(said, wish.words[0].fields) != wish:
        said = _in_one_row(wish, ", ")
    return f'"{said}"'


def _in_one_row(wish: Run, apart: str) -> str:
    said = wish.words[0].written
    for before, each in pairwise(wish.words):
        between = " " if "&" in (before.written, each.written) else apart
        said += f"{'-' if each.joined else between}{each.written}"
    return said


def _in_field(said: str, fields: tuple[str, ...]) -> str:
    return f"{fields[0]}:{said}" if fields else said


def _fact(wish: Fact) -> str:
    field = _field(wish.field)
    return f"{field.name}:{_quoted(typed_for(field, wish.values))}"


def _time(wish: InTime) -> str:
    days = days_typed(wish.earliest, wish.latest)
    days = f'"{days}"' if days.startswith("-") else days
    certainly = "certainly " if wish.certainly else ""
    return f"{certainly}{_TIMES[wish.what]}:{days}"


def _quoted(text: str) -> str:
    kept = "".join(" " if sign in QUOTES else sign for sign in text)
    return kept if _PLAIN.fullmatch(kept) else f'"{kept}"'


def _field(key: str) -> FactField:
    return next(
        (each for each in facts().values() if each.key == key), FactField(key, key, key)
    )
