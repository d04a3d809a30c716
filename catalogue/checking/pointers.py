"""What a record points at: within itself, among the records on file, and round in a circle."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, cast

from catalogue.checking.remark import Remark, check, words
from catalogue.checking.where import Places
from catalogue.record import Work, dangling, is_address
from catalogue.record.rules import Documents, fields_of, values_within

WIDEST = 1000
"""How many works a chain of parts is followed through: an album of prints may have hundreds."""


def within_itself(work: Work, places: Places) -> Iterator[Remark]:
    """Pointers at values that are not on this record, or are of another kind."""
    for each in dangling(work):
        owner = each.owner
        where = places.of(owner, each.field)
        yield check("pointer.nothing").remark(where, getattr(owner, "id", ""))


def on_file(work: Work, places: Places, is_on_file: Callable[[str], bool]) -> Iterator[Remark]:
    """Pointers at people, works and references that are not on file here."""
    for value in values_within(work):
        for rule in fields_of(cast("Any", type(value))):
            held = getattr(value, rule.name)
            if held is None or rule.rule(Documents) is None:
                continue
            for target in held if rule.many else (held,):
                if not is_address(target) and not is_on_file(target):
                    yield check("document.not-on-file").remark(
                        places.of(value, rule.name), getattr(value, "id", ""), target=target
                    )


def circles(
    work: Work, places: Places, read: Callable[[str], Any], name_of: Callable[[str], str]
) -> Iterator[Remark]:
    """The chains of "part of" that lead from a work back to itself, one for each whole that begins one."""
    wholes = _wholes(work, read)
    for whole in sorted(wholes.get(work.document, ())):
        chain = _way(wholes, whole, work.document)
        if chain:
            called = " is part of ".join(name_of(each) for each in (work.document, *chain))
            yield check("circle").remark(places.of(work, "relations"), chain=called)


def _wholes(work: Work, read: Callable[[str], Any]) -> dict[str, set[str]]:
    """For each work that the relations lead to: the works that it is said to be a part of."""
    found: dict[str, set[str]] = {}
    waiting, seen = [work], {work.document}
    while waiting and len(seen) <= WIDEST:
        here = waiting.pop()
        for relation in here.relations:
            if relation.kind not in (*words("part_of"), *words("has_part")):
                continue
            other = read(relation.to)
            if not isinstance(other, Work):
                continue
            # What was merged answers under another id than the one that is pointed at.
            pair = here.document, other.document
            part, whole = pair if relation.kind in words("part_of") else pair[::-1]
            found.setdefault(part, set()).add(whole)
            if other.document not in seen:
                seen.add(other.document)
                waiting.append(other)
    return found


def _way(wholes: dict[str, set[str]], start: str, goal: str) -> tuple[str, ...]:
    """The shortest way from one work to another through what each is part of; () where there is none."""
    ways: list[tuple[str, ...]] = [(start,)]
    seen = {start}
    while ways:
        way = ways.pop(0)
        if way[-1] == goal:
            return way
        for further in sorted(wholes.get(way[-1], set()) - seen):
            seen.add(further)
            ways.append((*way, further))
    return ()
