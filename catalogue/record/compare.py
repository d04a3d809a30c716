"""Two records side by side: which values differ, and whether two people changed the same one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, TypeVar, cast

V = TypeVar("V")

Key = tuple[str, str, str]
"""What is changed as one: the kind of value, its id, and for a whole record the field as well."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One value before and after; None where it was not there."""

    kind: str
    value: str
    field: str
    before: Any
    after: Any


def differences(before: object, after: object) -> tuple[Difference, ...]:
    """What changed between two states of one record, value by value, in a stable order."""
    old, new = dict(_flat(before, "")), dict(_flat(after, ""))
    return tuple(
        Difference(*key, before=old.get(key), after=new.get(key))
        for key in sorted(old.keys() | new.keys())
        if old.get(key) != new.get(key)
    )


def clashes(
    before: object, mine: object, theirs: object
) -> tuple[tuple[Difference, Difference], ...]:
    """The values that both sides changed since `before`, and not to the same thing."""
    ours = {(each.kind, each.value, each.field): each for each in differences(before, mine)}
    others = {(each.kind, each.value, each.field): each for each in differences(before, theirs)}
    return tuple(
        (ours[key], others[key])
        for key in sorted(ours.keys() & others.keys())
        if ours[key].after != others[key].after
    )


def with_additions(mine: V, theirs: V) -> V:
    """`mine` with what only `theirs` says; nothing that stands in `mine` is changed."""
    changed: dict[str, Any] = {}
    for each in fields(cast("Any", mine)):
        held, other = getattr(mine, each.name), getattr(theirs, each.name)
        if held in (None, ()):
            changed[each.name] = other
        elif isinstance(held, tuple) and hasattr(held[0], "id"):
            others = {value.id: value for value in other}
            kept = [with_additions(v, others.pop(v.id)) if v.id in others else v for v in held]
            changed[each.name] = (*kept, *others.values())
    more: V = replace(cast("Any", mine), **changed)
    return more


def as_known(theirs: V, mine: V) -> V:
    """`theirs` with a value of `mine` in place of each that says nothing beyond it under another id.

    Formats without a place for our ids bring a value back under an id of its own: it is the same value.
    """
    changed: dict[str, Any] = {}
    for each in fields(cast("Any", theirs)):
        other, held = getattr(theirs, each.name), getattr(mine, each.name)
        if isinstance(other, tuple) and other and hasattr(other[0], "id"):
            known = _known(other, held)
            if known != other:
                changed[each.name] = known
    more: V = replace(cast("Any", theirs), **changed)
    return more


def _known(theirs: tuple[Any, ...], mine: tuple[Any, ...]) -> tuple[Any, ...]:
    free = {value.id: value for value in mine}
    there = {value.id for value in theirs}
    found: list[Any] = []
    for value in theirs:
        if value.id in free:
            found.append(value)
            continue
        same = next(
            (
                each
                for each in free.values()
                if each.id not in there and _says_no_more(value, each)
            ),
            None,
        )
        if same is not None:
            del free[same.id]
        found.append(value if same is None else same)
    return tuple(found)


def _says_no_more(value: Any, than: Any) -> bool:
    """Whether everything that a value says stands in another of its kind, whatever their ids."""
    if type(value) is not type(than):
        return False
    for each in fields(value):
        said, held = getattr(value, each.name), getattr(than, each.name)
        if each.name == "id" or said == each.default or said == held:
            continue
        if isinstance(said, tuple) and said and hasattr(said[0], "id"):
            if not all(any(_says_no_more(one, other) for other in held) for one in said):
                return False
        elif not (hasattr(said, "id") and held is not None and _says_no_more(said, held)):
            return False
    return True


def _flat(value: Any, whose: str) -> Iterator[tuple[Key, Any]]:
    """Every value within a record, without the values within it; the record field by field.

    A value is counted together with the one it belongs to, so that moving it counts as a change.
    """
    kind, own = type(value).__name__, value.id
    simple: dict[str, Any] = {}
    for each in fields(value):
        held = getattr(value, each.name)
        if isinstance(held, tuple) and held and is_dataclass(held[0]):
            for inner in held:
                yield from _flat(inner, own)
        elif is_dataclass(held) and hasattr(held, "id"):
            yield from _flat(held, own)
        elif not whose and each.name != "id":
            yield (kind, own, each.name), _nothing(held)
        elif whose:
            simple[each.name] = held
    if whose:
        yield (kind, own, ""), {**simple, "belongs to": whose}


def _nothing(held: Any) -> Any:
    return None if held == () else held
