"""What a record may point at once some of it stayed home: nothing that is not in it any more."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Set
from dataclasses import MISSING, fields, replace
from operator import is_
from typing import Any

from catalogue.errors import BadData
from catalogue.record import VALUES
from catalogue.record.rules import pointers, values_within


def forget_targets(record: dict[str, Any], gone: Callable[[Any], Any]) -> None:
    """Take out of the fields of a record every pointer to what is not in it any more.

    A value that cannot do without its target goes as well, and then whatever points at that; `gone` is
    told of it, and gives what stands in its place, None for nothing.
    """
    while True:
        inner = [each for held in record.values() for each in _values_of(held)]
        present = {each.id for each in inner if hasattr(each, "id")}
        if not any(
            pointer.target not in present for each in inner for pointer in pointers(each)
        ):
            return
        for name, held in record.items():
            record[name] = _without(held, present, gone)


def _without(held: Any, present: Set[str], gone: Callable[[Any], Any]) -> Any:
    """What a field holds, without pointers to what is not present; None for a value that must go."""
    if isinstance(held, tuple):
        kept = tuple(
            found for each in held if (found := _without(each, present, gone)) is not None
        )
        return held if len(kept) == len(held) and all(map(is_, kept, held)) else kept
    if type(held) not in VALUES:
        return held
    changed: dict[str, Any] = {}
    for each in fields(held):
        inner = getattr(held, each.name)
        kept = _without(inner, present, gone)
        if kept is not inner:
            changed[each.name] = kept
    for pointer in pointers(held):
        if pointer.target in present:
            continue
        now = changed.get(pointer.field, getattr(held, pointer.field))
        if isinstance(now, tuple):
            changed[pointer.field] = tuple(each for each in now if each != pointer.target)
        elif any(
            each.name == pointer.field and each.default is MISSING for each in fields(held)
        ):
            return gone(held)
        else:
            changed[pointer.field] = None
    if not changed:
        return held
    try:
        return replace(held, **changed)
    except BadData:
        return gone(held)


def _values_of(held: Any) -> Iterator[Any]:
    for each in held if isinstance(held, tuple) else (held,):
        if type(each) in VALUES:
            yield from values_within(each)
