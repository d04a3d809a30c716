"""What a field may hold, said once beside the field: `kind: Annotated[str, term("title")]`.

Every value calls `check(self)` when it is made. A wrong value is refused with the field, the value
and the rule; tuples are put into the order that their members say (`rank`), so that a record is the
same record however its parts were handed over.
"""

from __future__ import annotations

import re
import types
from collections.abc import Callable, Iterator
from dataclasses import MISSING, dataclass, fields, is_dataclass
from functools import cache
from typing import Annotated, Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints
from uuid import uuid4

from catalogue.errors import BadData, UnknownTerm
from catalogue.terms import concept

Check = Callable[[str, Any], None]
C = TypeVar("C")

_UNWRITABLE = re.compile("[\0\ud800-\udfff]")
KINDS = ("work", "party", "job", "reference")
"""The kinds of document that a studio keeps."""

UUID = "[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"
"""The form of every id of ours."""

DOCUMENT_ID = rf"({'|'.join(KINDS)})/({UUID})"
"""The form of a document's id: its kind, its UUID."""

_UUID = re.compile(UUID)
_DOCUMENT = re.compile(DOCUMENT_ID)
_LANGUAGE = re.compile(r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")


def new_id() -> str:
    """A fresh UUID: given once, when a value is made, and never another."""
    return str(uuid4())


def refuse(field: str, value: object, rule: str) -> BadData:
    """The error for one field: its name, what it was given, and the rule it breaks."""
    return BadData(f"{field}: {value!r} is not possible; {rule}")


def is_id(value: str) -> bool:
    """Whether this is a UUID in lower case, as every id of ours is."""
    return _UUID.fullmatch(value) is not None


def is_address(value: str) -> bool:
    """Whether this is the full address (IRI) of something outside the studio."""
    return ":" in value and not value.startswith("#")


def _writable(field: str, value: str) -> None:
    if _UNWRITABLE.search(value):
        raise refuse(field, value, "it holds a character that cannot be stored")


def _says_something(field: str, value: str) -> None:
    if not value.strip():
        raise refuse(field, value, "it must say something")


def _an_id(field: str, value: str) -> None:
    if not _UUID.fullmatch(value):
        raise refuse(field, value, "an id is a UUID in lower case")


@dataclass(frozen=True, slots=True)
class Form:
    """A check that the whole text has this form (`pattern`); `rule` says so to a person."""

    pattern: str
    rule: str

    def __call__(self, field: str, value: str) -> None:
        """Refuse a text of another form."""
        if not re.fullmatch(self.pattern, value):
            raise refuse(field, value, self.rule)


def matches(pattern: str, rule: str) -> Form:
    """A check that the whole text has this form."""
    return Form(pattern, rule)


@dataclass(frozen=True, slots=True)
class Terms:
    """A check that it is a concept of these groups of vocab/terms, or somebody else's address."""

    groups: tuple[str, ...]

    def __call__(self, field: str, value: str) -> None:
        """Refuse what is in none of the groups."""
        if is_address(value):
            return
        if value.partition("/")[0] not in self.groups:
            raise refuse(
                field, value, f"expected a term of {' or '.join(self.groups)} (vocab/terms)"
            )
        try:
            concept(value)
        except UnknownTerm as unknown:
            raise BadData(f"{field}: {unknown}") from None


def term(*groups: str) -> Terms:
    """A check that it is a concept of these groups of vocab/terms, or somebody else's address."""
    return Terms(groups)


@dataclass(frozen=True, slots=True)
class Documents:
    """A check that it is the id of a document of these kinds, or somebody else's address."""

    kinds: tuple[str, ...]

    def __call__(self, field: str, value: str) -> None:
        """Refuse every other text."""
        if is_address(value):
            return
        found = _DOCUMENT.fullmatch(value)
        if not found or found[1] not in self.kinds:
            expected = " or ".join(f"{kind}/<uuid>" for kind in self.kinds)
            raise refuse(field, value, f"expected {expected}, or a full address")


def document(*kinds: str) -> Documents:
    """A check that it is the id of a document of these kinds, or somebody else's address."""
    return Documents(kinds)


@dataclass(frozen=True, slots=True)
class Between:
    """A check that a number lies between these two, both allowed."""

    least: float
    most: float

    def __call__(self, field: str, value: float) -> None:
        """Refuse a number outside."""
        if not self.least <= value <= self.most:
            raise refuse(field, value, f"it must lie between {self.least:g} and {self.most:g}")


def between(least: float, most: float) -> Between:
    """A check that a number lies between these two, both allowed."""
    return Between(least, most)


@dataclass(frozen=True, slots=True)
class Inside:
    """A check that it is an id of a value of the same record, of one of these kinds ("Photo").

    What `must` be there is refused where it is missing; anything else that points at nothing is an
    open question: the record is kept as it came, and a check of the record says so.
    """

    kinds: tuple[str, ...]
    must: bool

    def __call__(self, field: str, value: str) -> None:
        """Refuse what is not an id; whether it is there only the whole record can tell."""
        _an_id(field, value)


def inside(*kinds: str, must: bool = False) -> Inside:
    """A check for an id of a value of the same record; without kinds, of any value."""
    return Inside(kinds, must)


@dataclass(frozen=True, slots=True)
class InWork:
    """A check that it is an id of a value of a work of the job, of one of these kinds.

    Whether it is there only the work can tell, which is another record.
    """

    kinds: tuple[str, ...]

    def __call__(self, field: str, value: str) -> None:
        """Refuse what is not an id."""
        _an_id(field, value)


def in_work(*kinds: str) -> InWork:
    """A check for an id of a value of a work of the job, of one of these kinds."""
    return InWork(kinds)


Id = Annotated[str, _an_id]
Text = Annotated[str, _says_something]
Language = Annotated[
    str, matches(_LANGUAGE.pattern, "a language is a tag such as en, fr or de-AT (BCP 47)")
]
Digest = Annotated[
    str, matches(_SHA256.pattern, "a digest is SHA-256 in 64 lower-case hexadecimal digits")
]
Instant = Annotated[str, matches(_INSTANT.pattern, "a moment is written 2026-03-02T11:20:00Z")]
PartyId = Annotated[str, document("party")]
WorkId = Annotated[str, document("work")]
Visibility = Annotated[str, term("visibility")]
Millimetres = Annotated[float, between(0.01, 100_000)]
Celsius = Annotated[float, between(-50, 400)]
Percent = Annotated[float, between(0, 100)]
Acidity = Annotated[float, between(0, 14)]
Siemens = Annotated[float, between(0, 1000)]
Seconds = Annotated[float, between(0.1, 10_000_000)]
Clock = Annotated[str, matches(r"([01]\d|2[0-3]):[0-5]\d", "a time of day is written 09:30")]

OPEN = "visibility/open"


def check(value: object) -> None:
    """Hold a value under construction to the rules beside its fields. Raises `BadData`."""
    for name, label, many, kind, checks in _plan(cast("Any", type(value))):
        held = getattr(value, name)
        if held is None:
            continue
        for member in held if many else (held,):
            if type(member) is not kind:
                _check_kind(label, member, kind)
            for each in checks:
                each(label, member)
        if many == "set" and len(held) > 1:
            object.__setattr__(value, name, _settled(held))


@dataclass(frozen=True, slots=True)
class FieldRule:
    """What one field of a value may hold, for whoever makes a form of it.

    `many` is "" for one, else "set" or "sequence"; `kind` the type of each; `default` what it is when
    nothing is said, `needed` that something must be; `checks` are the rules, with their data.
    """

    name: str
    label: str
    many: str
    kind: Any
    checks: tuple[Check, ...]
    default: Any
    needed: bool

    def rule(self, wanted: type[C]) -> C | None:
        """The first of the checks that is of this sort, None without one.

        >>> from catalogue.record import Size
        >>> fields_of(Size)[1].name, fields_of(Size)[1].rule(Terms)
        ('what', Terms(groups=('size',)))
        """
        return next((each for each in self.checks if isinstance(each, wanted)), None)

    def hold(self, held: object) -> None:
        """Hold one thing that this field is to have to its rules. Raises `BadData`."""
        _check_kind(self.label, held, self.kind)
        for each in self.checks:
            each(self.label, held)


@cache
def fields_of(kind: Any) -> tuple[FieldRule, ...]:
    """The rules of every field of a kind of value, in the order of its fields."""
    defaults = {each.name: each for each in fields(kind)}
    return tuple(
        FieldRule(
            name=name,
            label=label,
            many=many,
            kind=type_held,
            checks=checks,
            default=None if defaults[name].default is MISSING else defaults[name].default,
            needed=defaults[name].default is MISSING
            and defaults[name].default_factory is MISSING,
        )
        for name, label, many, type_held, checks in _plan(kind)
    )


def is_number(kind: Any) -> bool:
    """Whether this is the type of a field that holds a number with a fraction."""
    return kind is _NUMBER


def _check_kind(label: str, held: object, kind: type) -> None:
    if not isinstance(held, kind) or (isinstance(held, bool) and kind in (int, _NUMBER)):
        raise refuse(label, held, f"it is {_WORDS.get(type(held), type(held).__name__)}")


def _settled(members: tuple[Any, ...]) -> tuple[Any, ...]:
    if isinstance(members[0], str):
        return tuple(sorted(set(members)))
    return tuple(sorted(members, key=lambda member: member.rank))


_NUMBER: Any = int | float
_WORDS: dict[type, str] = {
    str: "a text", int: "a whole number", float: "a number", bool: "yes or no",
    dict: "a node", list: "a list",
}  # fmt: skip


@cache
def _plan(kind: Any) -> tuple[tuple[str, str, str, Any, tuple[Check, ...]], ...]:
    """For each field: its name, its label in messages, one/set/sequence, its type, its checks."""
    hints = get_type_hints(kind, include_extras=True)
    return tuple(
        (field.name, f"{kind.__name__}.{field.name}", *_reading_of(hints[field.name]))
        for field in fields(kind)
    )


def _reading_of(hint: Any) -> tuple[str, Any, tuple[Check, ...]]:
    """What an annotation says: how many ("" one, "set", "sequence"), of which type, under which checks."""
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        wanted = [each for each in get_args(hint) if each is not type(None)]
        return _reading_of(wanted[0])
    if origin is tuple:
        member = get_args(hint)[0]
        if get_origin(member) is tuple:
            return "sequence", tuple, ()
        _, kind, checks = _reading_of(member)
        return "set", kind, checks
    if origin is Annotated:
        base, *more = get_args(hint)
        many, kind, inner = _reading_of(base)
        return many, kind, (*inner, *more)
    if hint is str:
        return "", str, (_writable,)
    return "", (_NUMBER if hint is float else hint), ()


@dataclass(frozen=True, slots=True)
class Pointer:
    """One id in a field of a value that names another value of the same record."""

    owner: Any
    field: str
    target: str
    rule: Inside


def pointers(value: Any) -> Iterator[Pointer]:
    """Every pointer of a value itself, not of the values within it."""
    for name, many, rule in _pointing(cast("Any", type(value))):
        held = getattr(value, name)
        if held is not None:
            targets = held if many else (held,)
            yield from (Pointer(value, name, target, rule) for target in targets)


@cache
def _pointing(kind: Any) -> tuple[tuple[str, bool, Inside], ...]:
    """The fields of a kind of value that point, by name; whether each holds several; its rule."""
    return tuple(
        (name, bool(many), rule)
        for name, _, many, _, checks in _plan(kind)
        for rule in checks
        if isinstance(rule, Inside)
    )


def values_within(value: Any) -> Iterator[Any]:
    """A value and every value within it, the outer before the inner."""
    yield value
    for name, many in _holding(cast("Any", type(value))):
        held = getattr(value, name)
        for inner in held if many else (held,):
            if inner is not None:
                yield from values_within(inner)


def documents_named(record: Any) -> set[str]:
    """Every other document that a record names, by its id or by its address elsewhere."""
    found: set[str] = set()
    for value in values_within(record):
        for name, many in _naming(cast("Any", type(value))):
            held = getattr(value, name)
            if held is not None:
                found.update(held if many else (held,))
    return found


@cache
def _naming(kind: Any) -> tuple[tuple[str, bool], ...]:
    """The fields of a kind of value that name documents; whether each holds several."""
    return tuple(
        (name, bool(many))
        for name, _, many, _, checks in _plan(kind)
        if any(isinstance(rule, Documents) for rule in checks)
    )


@cache
def _holding(kind: Any) -> tuple[tuple[str, bool], ...]:
    """The fields of a kind of value that hold values, by name; whether each holds several."""
    return tuple(
        (name, bool(many)) for name, _, many, inner, _ in _plan(kind) if is_value(inner)
    )


@cache
def is_value(kind: Any) -> bool:
    """Whether values of this type hold themselves to these rules, as days and boxes don't."""
    return (
        isinstance(kind, type)
        and is_dataclass(kind)
        and kind.__module__.startswith("catalogue.record.")
    )


def day_rank(day: Any) -> str:
    """A day as something to sort by; an unknown day comes first."""
    return day.iso if day is not None else ""


def number_rank(number: str | None) -> tuple[int, str]:
    """A short number (I2, 2026-041) as something to sort by: I2 before I10, unnumbered last."""
    if number is None:
        return (1 << 30, "")
    digits = re.sub(r"\D", "", number)
    return (int(digits or 0), number)
