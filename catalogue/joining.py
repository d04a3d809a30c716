"""Two records of one thing as one: what the other says beyond the first is added, nothing is changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from catalogue.record import (
    NUMBERED,
    Address,
    Attribution,
    Number,
    PartyName,
    Reach,
    Size,
    Title,
    Work,
)
from catalogue.record.compare import with_additions
from catalogue.record.rules import OPEN

R = TypeVar("R")

SAID_ONCE = (Address, Attribution, Number, PartyName, Reach, Size, Title)
"""Values that nothing points at: one that says the same as another need not stand twice."""

STRICTER = (OPEN, "visibility/restricted", "visibility/studio")
"""Who may see something, from everybody to the fewest."""

FORMER = "number/other"
"""What the number of a work is from the day another answers for it."""


def joined_records(into: R, other: R, number: Callable[[str], str | None]) -> R:
    """`into` with what only `other` says; `number("I")` gives the next number for a label that comes.

    Where both say something different, `into` stands; of who may see it, the stricter stands.
    """
    if isinstance(into, Work) and isinstance(other, Work):
        return cast("R", _joined(into, _renumbered(into, other, number)))
    return cast("R", _joined(into, other))


def _renumbered(into: Work, other: Work, number: Callable[[str], str | None]) -> Work:
    """The other work as it can be joined: with free numbers, its own one among its further numbers."""
    values: dict[str, Any] = {}
    for name, letter in NUMBERED.items():
        if not hasattr(into, name):
            continue
        held = {each.id for each in getattr(into, name)}
        values[name] = tuple(
            each if each.id in held else replace(each, number=number(letter))
            for each in getattr(other, name)
        )
    if other.number:
        former = Number(kind=FORMER, text=other.number)
        values["numbers"] = (*other.numbers, former)
    return replace(other, **values)


def _joined(into: Any, other: Any) -> Any:
    changed: dict[str, Any] = {}
    for each in fields(into):
        mine, theirs = getattr(into, each.name), getattr(other, each.name)
        if each.name in ("id", "number") or mine == theirs or theirs in (None, ()):
            continue
        if mine in (None, ()):
            changed[each.name] = theirs
        elif each.name == "visibility":
            changed[each.name] = max(mine, theirs, key=STRICTER.index)
        elif isinstance(mine, tuple) and is_dataclass(mine[0]):
            changed[each.name] = _members(mine, theirs)
        elif isinstance(mine, tuple):
            changed[each.name] = tuple(dict.fromkeys((*mine, *theirs)))
        elif is_dataclass(mine) and hasattr(mine, "id"):
            changed[each.name] = _joined(mine, theirs)
    return replace(into, **changed)


def _members(mine: tuple[Any, ...], theirs: tuple[Any, ...]) -> tuple[Any, ...]:
    """The values of both; one that both hold by its id is joined, of several one is shown first."""
    others = {each.id: each for each in theirs}
    kept = [with_additions(each, others.pop(each.id, each)) for each in mine]
    for each in others.values():
        if isinstance(each, SAID_ONCE) and _says_nothing_beyond(each, mine):
            continue
        kept.append(
            replace(each, preferred=False) if getattr(each, "preferred", None) is True else each
        )
    return tuple(kept)


def _says_nothing_beyond(value: Any, others: tuple[Any, ...]) -> bool:
    """Whether one of the others says all that a value says, whichever is the one to show."""
    said = {
        each.name: getattr(value, each.name)
        for each in fields(value)
        if each.name not in ("id", "preferred", "visibility")
        and getattr(value, each.name) not in (None, ())
    }
    return any(
        all(getattr(other, name) == held for name, held in said.items()) for other in others
    )
