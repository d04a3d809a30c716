"""What can be asked for by name, read from vocab/finding.toml: texts, facts, figures, spans, flags.

A field is meant by its own name, by any of its other words, in whatever case, with blanks or hyphens.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeAlias

from catalogue.places import table
from catalogue.reading import fold
from catalogue.terms import groups


@dataclass(frozen=True, slots=True)
class TextField:
    """A field of words: `title:harbour`."""

    name: str
    says: str


@dataclass(frozen=True, slots=True)
class FactField:
    """A field of facts: `technique:ink`.

    `key` is its name in the index. `terms` are the groups that its values are chosen from, () for
    texts of their own; `names` is set for people and firms, `flags` for `is:`, `currency` for units of
    money.
    """

    name: str
    says: str
    key: str
    terms: tuple[str, ...] = ()
    names: bool = False
    flags: bool = False
    currency: bool = False
    facet: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A field of figures: `length:>5cm`. `unit` is its own unit, a table of [units]; "" for none.

    `any_of` are the figures that it stands for, () for itself; `money` figures may be typed as sums.
    """

    name: str
    says: str
    unit: str = ""
    any_of: tuple[str, ...] = ()
    money: bool = False


@dataclass(frozen=True, slots=True)
class Span:
    """A word that a date may follow: `of` is "made", "own" or "any"; `kinds` () is every kind."""

    name: str
    says: str
    of: str
    kinds: tuple[str, ...] = ()


Field: TypeAlias = TextField | FactField | Figure | Span


def known_as(text: str) -> str:
    """A name or a value as it is compared: folded, with single blanks for hyphens too.

    >>> known_as("Street-Number") == known_as("street  number")
    True
    """
    return " ".join(fold(text).replace("-", " ").replace("_", " ").split())


def field_called(text: str) -> Field | None:
    """The field that is called so; None when none is.

    >>> field_called("Canvas Size").name, field_called("color").name, field_called("colr")
    ('canvas', 'colour', None)
    """
    return field_words().get(known_as(text))


@cache
def field_words() -> Mapping[str, Field]:
    """Every name that a field goes by, its own names before other words."""
    found: dict[str, Field] = {}
    for each in fields():
        found.setdefault(known_as(each.name), each)
    for each in fields():
        for word in _row(each).get("words", ()):
            found.setdefault(known_as(word), each)
    return found


def other_words(field: Field) -> tuple[str, ...]:
    """What else a field may be called."""
    return tuple(_row(field).get("words", ()))


@cache
def fields() -> tuple[Field, ...]:
    """Every field, in the order of the file."""
    return (*texts().values(), *facts().values(), *figures().values(), *spans().values())


@cache
def texts() -> Mapping[str, TextField]:
    """The fields of words."""
    return {name: TextField(name, row["says"]) for name, row in _rows("texts")}


@cache
def facts() -> Mapping[str, FactField]:
    """The fields of facts."""
    on_file = groups()
    return {
        name: FactField(
            name,
            row["says"],
            row.get("keys", name),
            tuple(group for group in row.get("terms", ()) if group in on_file),
            row.get("names", False),
            row.get("flags", False),
            row.get("currency", False),
            row.get("facet", False),
        )
        for name, row in _rows("facts")
    }


@cache
def figures() -> Mapping[str, Figure]:
    """The fields of figures."""
    return {
        name: Figure(
            name,
            row["says"],
            row["unit"],
            tuple(row.get("any_of", ())),
            row.get("money", False),
        )
        for name, row in _rows("figures")
    }


@cache
def spans() -> Mapping[str, Span]:
    """The words that a date may follow."""
    return {
        name: Span(name, row["says"], row["of"], tuple(row.get("kinds", ())))
        for name, row in _rows("spans")
    }


@cache
def flags() -> Mapping[str, str]:
    """What holds of a statement or not, each with the sentence that says so."""
    return {name: row["says"] for name, row in _rows("is")}


@cache
def flag_words() -> Mapping[str, tuple[str, ...]]:
    """The flags by every word that they go by."""
    return _by_word((name, (name, *row.get("words", ()))) for name, row in _rows("is"))


@cache
def kind_words() -> Mapping[str, tuple[str, ...]]:
    """Whole kinds of statement by the words of [kinds]."""
    return _by_word(
        (name, (name, *words)) for name, words in table("finding.toml")["kinds"].items()
    )


@cache
def units(unit: str) -> Mapping[str, float]:
    """How many of a unit each unit is that may be typed for it, by the folded word."""
    held = table("finding.toml")["units"][unit] if unit else {}
    return {fold(word): float(number) for word, number in held.items()}


@cache
def signs(name: str) -> frozenset[str]:
    """The words of [signs] for "or", "not" and the like, in lower case but for those in capitals."""
    return frozenset(table("finding.toml")["signs"][name])


@cache
def orders() -> Mapping[str, str]:
    """Every order that an answer can be in, with what it says."""
    return {name: row["says"] for name, row in _rows("orders")}


@cache
def order_words() -> Mapping[str, str]:
    """The orders by every word that they go by."""
    words = _by_word((name, (name, *row.get("words", ()))) for name, row in _rows("orders"))
    return {word: names[0] for word, names in words.items()}


def sentence(group: str, key: str, **filled: object) -> str:
    """A sentence of vocab/finding.toml with what it speaks of put in."""
    said: str = table("finding.toml")[group][key]
    return said.format(**filled)


def counted() -> tuple[str, ...]:
    """The facts that are counted beside an answer, by their names in the index."""
    return tuple(each.key for each in facts().values() if each.facet)


def _row(field: Field) -> Mapping[str, Any]:
    tables = {TextField: "texts", FactField: "facts", Figure: "figures", Span: "spans"}
    row: Mapping[str, Any] = table("finding.toml")[tables[type(field)]][field.name]
    return row


def _rows(name: str) -> Iterator[tuple[str, dict[str, Any]]]:
    yield from table("finding.toml")[name].items()


def _by_word(named: Iterable[tuple[str, Iterable[str]]]) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for name, words in named:
        for word in words:
            known = known_as(word)
            if name not in found.get(known, ()):
                found[known] = (*found.get(known, ()), name)
    return found
