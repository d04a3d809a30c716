"""What a value says in words, read off its field rules: labels of its terms, names, dates, texts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, cast

from catalogue.measure import DateSpan, Day
from catalogue.record.rules import (
    Documents,
    FieldRule,
    Inside,
    Terms,
    fields_of,
    is_address,
    is_id,
    is_value,
)
from catalogue.terms import label

Names = Callable[[str], tuple[str, ...]]
"""Every form of a party's name by its document id."""

_UNTOLD = ("id", "number", "visibility", "sha256", "media_type", "released", "digest")


def told(value: Any, names: Names, without: tuple[str, ...] = ()) -> Iterator[str]:
    """Everything that a value and the values within it say, in the order of their fields.

    What stands in the fields `without` is told elsewhere.

    Numbers without words, ids and digests say nothing to a reader, and what was not chosen nothing
    of the value: they are left out.
    """
    for rule in fields_of(cast("Any", type(value))):
        if rule.name in without:
            continue
        held = getattr(value, rule.name)
        if held in (None, (), rule.default) or _says_nothing(rule):
            continue
        for each in held if rule.many else (held,):
            if is_value(cast("Any", type(each))):
                yield from told(each, names)
            elif isinstance(each, DateSpan):
                yield each.written
            elif isinstance(each, Day):
                yield each.iso
            elif isinstance(each, str):
                yield from _said(each, rule.rule(Terms), rule.rule(Documents), names)


def _says_nothing(rule: FieldRule) -> bool:
    return rule.name in _UNTOLD or rule.rule(Inside) is not None


def _said(
    held: str, of_terms: Terms | None, of_documents: Documents | None, names: Names
) -> Iterator[str]:
    if of_terms is not None:
        if not is_address(held):
            yield label(held)
    elif of_documents is not None:
        yield from names(held) if held.startswith("party/") else ()
    elif not is_id(held):
        yield held
