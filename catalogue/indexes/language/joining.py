"""Wishes put together so that the same wish has one form: no brackets within brackets of one kind."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.indexes.wish import AllOf, AnyOf, Not, Wish

NOTHING: Wish = AllOf(())


def all_of(parts: Iterable[Wish]) -> Wish:
    """All of these; one alone is itself, and what asks for nothing is left out."""
    flat: dict[Wish, None] = {}
    for each in parts:
        flat.update(dict.fromkeys(each.parts if isinstance(each, AllOf) else (each,)))
    return next(iter(flat)) if len(flat) == 1 else AllOf(tuple(flat))


def any_of(parts: Iterable[Wish]) -> Wish:
    """One of these at least; what asks for nothing is left out."""
    flat: dict[Wish, None] = {}
    for each in parts:
        if each != NOTHING:
            flat.update(dict.fromkeys(each.parts if isinstance(each, AnyOf) else (each,)))
    if not flat:
        return NOTHING
    return next(iter(flat)) if len(flat) == 1 else AnyOf(tuple(flat))


def not_of(part: Wish) -> Wish:
    """Not this; of what was already left out, the thing itself."""
    return part if part == NOTHING else part.part if isinstance(part, Not) else Not(part)
