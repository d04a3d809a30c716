"""Narrowing a question: what was found counted by what it has in common, and one condition more or less.

The text of the question is the one truth: whoever narrows it adds a condition to the text, and takes it
out of the text again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from catalogue.indexes.language.fields import (
    FactField,
    facts,
    field_called,
    known_as,
    orders,
    signs,
)
from catalogue.indexes.language.help import help_sections as help_sections
from catalogue.indexes.language.mending import mended as mended
from catalogue.indexes.language.understanding import order_called
from catalogue.terms import known, label

_CONDITION: Final = re.compile(r'(?<![^\s(])([^\W\d_][\w-]*):("[^"]*"|[^\s"()]+)')
_QUOTED: Final = re.compile(r'"[^"]*"')
_WHOLE_WORD: Final = re.compile(r"[\w.-]+")
_ORDER: Final = re.compile(rf"(?<![^\s(])(?:{'|'.join(sorted(signs('sort')))}):(\S+)", re.I)


@dataclass(frozen=True, slots=True)
class Choice:
    """One value to narrow by: what it is called, how many works have it, and the question with it.

    Where it is `chosen`, `text` is the question without it. `count` is None where nothing was counted.
    """

    key: str
    says: str
    count: int | None
    text: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class Facet:
    """One respect in which the works found differ, its values by how many have them."""

    name: str
    says: str
    choices: tuple[Choice, ...]


def narrowed(
    text: str,
    counted: Mapping[str, Sequence[tuple[str, int]]],
    name_of: Callable[[str], str] = str,
) -> tuple[Facet, ...]:
    """What an answer can be narrowed by, each value with the question that does it.

    >>> town, = narrowed('stamp town:"port mellow"', {"town": [("ghent", 3)]})
    >>> [(each.says, each.chosen, each.text) for each in town.choices]
    [('port mellow', True, 'stamp'), ('ghent', False, 'stamp town:"port mellow" town:ghent')]
    """
    found: list[Facet] = []
    for field in facts().values():
        if not field.facet:
            continue
        values = [(key, count) for key, count in counted.get(field.key, ()) if key]
        choices = _each_once(_choices(text, field, values, name_of))
        if choices:
            found.append(Facet(field.name, field.says, choices))
    return tuple(found)


def _each_once(choices: Iterator[Choice]) -> tuple[Choice, ...]:
    """Values that are called alike as one: what is typed means all of them, and no count holds for it."""
    found: dict[str, Choice] = {}
    for each in choices:
        before = found.get(each.says)
        found[each.says] = replace(before, count=None) if before else each
    return tuple(found.values())


def _choices(
    text: str,
    field: FactField,
    values: list[tuple[str, int]],
    name_of: Callable[[str], str],
) -> Iterator[Choice]:
    typed = dict(_typed(text, field))
    said = {key: called(key, name_of) for key, _ in values}
    chosen = {key for key, says in said.items() if {known_as(key), known_as(says)} & set(typed)}
    counts = dict(values)
    covered = {known_as(word) for key in chosen for word in (key, said[key])}
    for word, written in typed.items():
        if word not in covered:
            yield Choice(
                written, called(written, name_of), None, _less(text, field, word), True
            )
    for key in sorted(chosen, key=lambda key: -counts[key]):
        less = _less(_less(text, field, known_as(key)), field, known_as(said[key]))
        yield Choice(key, said[key], counts[key], less, True)
    for key, count in values:
        if key not in chosen:
            yield Choice(key, said[key], count, more(text, field.name, said[key]))


def called(key: str, name_of: Callable[[str], str] = str) -> str:
    """What a value is called: a term by its label, a person or firm by their name.

    >>> called("technique/ink"), called("open-gap"), called("ghent")
    ('ink', 'open gap', 'ghent')
    """
    if key.startswith("party/"):
        return name_of(key)
    if "/" in key and known(key):
        return label(key)
    return key.replace("-", " ")


def more(text: str, field: str, value: str) -> str:
    """The question with one condition more.

    >>> more("harbour", "kind", "dealer's label")
    'harbour kind:"dealer\\'s label"'
    """
    plain = value.replace('"', " ").strip()
    written = plain if _WHOLE_WORD.fullmatch(plain) else f'"{" ".join(plain.split())}"'
    return f"{text.strip()} {field}:{written}".strip()


def ordered(text: str, order: str) -> str:
    """The question with another order of the answer; "" is best first.

    >>> ordered("harbour sort:newest", "number"), ordered("harbour sort:newest", "")
    ('harbour sort:number', 'harbour')
    """
    without = " ".join(_outside_quotes(text, _ORDER, "").split())
    return f"{without} sort:{order}".strip() if order else without


def order_of(text: str) -> str:
    """The order that a question asks for, by its name in vocab/finding.toml; "best" where it asks for none.

    >>> order_of("harbour sort:oldest"), order_of("harbour")
    ('made', 'best')
    """
    found = [each for each in _ORDER.finditer(text) if not _inside(text, each.start())]
    return (order_called(found[-1][1]) if found else None) or "best"


def orders_of(text: str) -> tuple[Choice, ...]:
    """Every order that an answer can be in, each with the question that asks for it.

    >>> [(each.key, each.text) for each in orders_of("harbour sort:number")][:2]
    [('best', 'harbour'), ('number', 'harbour sort:number')]
    """
    now = order_of(text)
    return tuple(
        Choice(key, says, None, ordered(text, "" if key == "best" else key), key == now)
        for key, says in orders().items()
    )


def _typed(text: str, field: FactField) -> Iterator[tuple[str, str]]:
    """The values that the question already asks of a field: compared, and as they were typed."""
    for found in _CONDITION.finditer(text):
        if not _inside(text, found.start()) and field_called(found[1]) == field:
            written = found[2].strip('"')
            yield known_as(written), written


def _less(text: str, field: FactField, word: str) -> str:
    """The question without the conditions that ask a field for this value."""

    def gone(found: re.Match[str]) -> str:
        same = field_called(found[1]) == field and known_as(found[2].strip('"')) == word
        return "" if same and not _inside(text, found.start()) else found[0]

    return " ".join(_CONDITION.sub(gone, text).split())


def _outside_quotes(text: str, pattern: re.Pattern[str], instead: str) -> str:
    return pattern.sub(
        lambda found: found[0] if _inside(text, found.start()) else instead, text
    )


def _inside(text: str, at: int) -> bool:
    """Whether a place stands within words in quotation marks that are no value of a field."""
    return any(quoted.start() < at < quoted.end() for quoted in _QUOTED.finditer(text))
