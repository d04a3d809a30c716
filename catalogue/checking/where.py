"""Where in a record something is, in words: the number that people call it by, and the field."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from catalogue.record import Treatment
from catalogue.record.rules import fields_of, is_value
from catalogue.terms import label
from catalogue.wording import field_word, kind_word


class Places:
    """What to call every value of one record: "F1", "T1.2", "I3, reading", "layer (ground)"."""

    def __init__(self, record: Any) -> None:
        self._named: dict[str, str] = {record.id: ""}
        self._name_within(record, "")

    def of(self, value: Any, field: str = "") -> str:
        """The place of a value, or of one of its fields.

        >>> from catalogue.record import Finding, Inscription, Work
        >>> chalk = Inscription(number="I2", kind="inscription/chalk-mark", face="face/back")
        >>> Places(Work(inscriptions=(chalk,))).of(chalk, "transcripts")
        'I2 chalk mark, readings'
        """
        named = self._named.get(getattr(value, "id", ""), "")
        word = field_word(type(value).__name__, field).label if field else ""
        return ", ".join(each for each in (named, word) if each)

    def named(self, value_id: str) -> str:
        """What to call the value of an id; "" for the record itself and for a stranger."""
        return self._named.get(value_id, "")

    def _name_within(self, value: Any, outer: str) -> None:
        for inner in _inner(value):
            named = outer
            if getattr(inner, "id", None) is not None:
                named = _name(inner, value, outer)
                self._named[inner.id] = named
            self._name_within(inner, named)


def _name(value: Any, owner: Any, outer: str) -> str:
    if isinstance(owner, Treatment) and hasattr(value, "order"):
        return f"{owner.label(value)} {label(value.kind)}"
    what = getattr(value, "kind", None) or getattr(value, "material", None)
    called = label(what) if what else kind_word(type(value).__name__).label
    number = getattr(value, "number", None)
    if number:
        return f"{number} {called}"
    if outer:
        return f"{outer}, {called}"
    kind = kind_word(type(value).__name__).label
    return kind if called == kind else f"{kind} ({called})"


def _inner(value: Any) -> Iterator[Any]:
    for rule in fields_of(cast("Any", type(value))):
        if isinstance(rule.kind, type) and is_value(rule.kind):
            held = getattr(value, rule.name)
            for each in held if rule.many else (held,):
                if each is not None:
                    yield each
