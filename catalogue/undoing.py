"""Taking a change back: the record as it would be without it, with whatever was done since.

A change is taken back value by value (record/compare.py says which). What was changed again since is
left as it stands, and said: nobody's later work is undone by the way.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field, fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from catalogue.record.compare import Difference, differences
from catalogue.record.rules import OPEN

R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Placed:
    """A value within a record: which value (or record) it belongs to, in which field."""

    value: Any
    owner: str
    field: str


@dataclass(slots=True)
class _Plan:
    """What is to be done to a record: values that go, values that come, fields that are set."""

    gone: set[str] = field(default_factory=set)
    come: dict[str, list[Placed]] = field(default_factory=dict)
    set: dict[str, dict[str, Any]] = field(default_factory=dict)


def values_within(record: Any) -> dict[str, Placed]:
    """Every value within a record by its id, at any depth.

    >>> from catalogue.record import Title, Work
    >>> ebb = Title(text="Ebb", kind="title/given")
    >>> values_within(Work(titles=(ebb,)))[ebb.id].field
    'titles'
    """
    return dict(_within(record))


def _within(owner: Any) -> Iterator[tuple[str, Placed]]:
    for name, inner in _inner(owner):
        yield inner.id, Placed(inner, owner.id, name)
        yield from _within(inner)


def _inner(owner: Any) -> Iterator[tuple[str, Any]]:
    """The values that belong to one directly, each with the field that holds it."""
    for each in fields(owner):
        held = getattr(owner, each.name)
        for inner in held if isinstance(held, tuple) else (held,):
            if is_dataclass(inner) and hasattr(inner, "id"):
                yield each.name, inner


def changes_between(before: object, after: object) -> tuple[Difference, ...]:
    """What changed in so many words: a value that only got or lost values within it did not change."""
    return tuple(each for each in differences(before, after) if each.field or _changed(each))


def everything(record: Any) -> tuple[Difference, ...]:
    """All that a record says, as differences from nothing."""
    kind = type(record).__name__
    own = (
        Difference(kind, record.id, name, None, held)
        for name, held in _simple(record).items()
        if name != "id" and held not in (None, (), OPEN)
    )
    inner = (
        Difference(type(each.value).__name__, key, "", None, _simple(each.value))
        for key, each in values_within(record).items()
    )
    return (*own, *inner)


def _simple(owner: Any) -> dict[str, Any]:
    """The fields of a value that hold no values of their own."""
    full = {name for name, _ in _inner(owner)}
    return {
        each.name: getattr(owner, each.name) for each in fields(owner) if each.name not in full
    }


def _changed(each: Difference) -> bool:
    return each.before is None or each.after is None or bool(fields_changed(each))


def fields_changed(each: Difference) -> list[str]:
    """The fields in which a value differs that was there before and after."""
    # Where the first value within it came or went, one side says "none" and the other is silent.
    return [
        name
        for name in each.before
        if each.before[name] != each.after.get(name, each.before[name])
    ]


def whole(record: Any, wanted: str) -> set[str]:
    """The id of a value and those of all values within it."""
    found = values_within(record).get(wanted)
    return {wanted} if found is None else {wanted, *values_within(found.value)}


def taken_back(
    now: R, before: R, after: R, only: Collection[str] | None = None
) -> tuple[R, tuple[Difference, ...]]:
    """`now` without what changed from `before` to `after`, and what had to be left as it stands.

    `only` are ids of values (or of the record itself, or "field" names of it) to which it is limited.
    """
    since = {_key(each) for each in changes_between(after, now)}
    unlike = {_key(each) for each in changes_between(before, now)}
    wanted = [
        each
        for each in changes_between(before, after)
        if only is None or (each.field or each.value) in only
    ]
    left = [each for each in wanted if _key(each) in since and _key(each) in unlike]
    plan = _Plan()
    left += _planned([each for each in wanted if _key(each) not in since], plan, now, before)
    return cast("R", _carried_out(now, plan)), tuple(left)


def _planned(
    wanted: list[Difference], plan: _Plan, now: object, before: object
) -> list[Difference]:
    """Fill the plan; what of it cannot be done without touching later work."""
    then, today = values_within(before), values_within(now)
    returning = {each.value for each in wanted if each.after is None and not each.field}
    going = {each.value for each in wanted if each.before is None and not each.field}
    left: list[Difference] = []
    for each in wanted:
        if each.field:
            plan.set.setdefault(each.value, {})[each.field] = getattr(before, each.field)
        elif each.before is None:
            if values_within(today[each.value].value).keys() <= going:
                plan.gone.add(each.value)
            else:
                left.append(each)
        elif each.after is None:
            placed = then[each.value]
            if placed.owner in today or placed.owner == cast("Any", now).id:
                plan.come.setdefault(placed.owner, []).append(placed)
            elif placed.owner not in returning:
                left.append(each)
        elif "belongs to" in fields_changed(each):
            left.append(each)
        else:
            names = fields_changed(each)
            plan.set.setdefault(each.value, {}).update(
                {name: each.before[name] for name in names}
            )
    return left


def _carried_out(value: Any, plan: _Plan) -> Any:
    """The value after the plan: all of it in one step, so that no state between has to hold."""
    changed: dict[str, Any] = dict(plan.set.get(value.id, {}))
    for name in {name for name, _ in _inner(value)}:
        held = getattr(value, name)
        if isinstance(held, tuple):
            changed[name] = tuple(
                _carried_out(inner, plan) for inner in held if inner.id not in plan.gone
            )
        else:
            changed[name] = None if held.id in plan.gone else _carried_out(held, plan)
    for placed in plan.come.get(value.id, ()):
        held = changed.get(placed.field, getattr(value, placed.field))
        changed[placed.field] = (
            (*held, placed.value) if isinstance(held, tuple) else placed.value
        )
    return replace(value, **changed) if changed else value


def _key(each: Difference) -> tuple[str, str, str]:
    return (each.kind, each.value, each.field)
