"""How the form of a kind of value is laid out: its sections (vocab/forms.toml), and how each field is typed.

How a field is typed follows from its own rules (record/rules.py): nothing here names a field of the trade.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from catalogue.errors import BadSetting
from catalogue.measure import DateSpan, Day
from catalogue.places import folder
from catalogue.record import VALUES
from catalogue.record.rules import (
    Documents,
    FieldRule,
    Form,
    Inside,
    InWork,
    Terms,
    fields_of,
    is_number,
    is_value,
)
from catalogue.surface import Shape
from catalogue.terms import Concept, group, in_order

How = Literal[
    "line", "lines", "day", "span", "number", "whole", "yes-no", "tick", "pick", "choose", "word", "words",
    "texts", "chips", "party", "parties", "document", "inside", "several", "shape", "one", "many",
]  # fmt: skip
"""Ways in which a field is typed; templates/_blanks.html has one blank for each."""

NOT_TYPED = frozenset(
    {"id", "number", "sha256", "digest", "file_name", "media_type", "width", "height", "outline", "released"}
)  # fmt: skip
"""What the studio, a file or a release says, and no form."""

APART: dict[str, tuple[str, ...]] = {
    "Treatment": ("steps",),
    "Finding": ("observations",),
    "Proposal": ("options",),
    "Job": (
        "proposals",
        "approvals",
        "hours",
        "outlays",
        "departures",
        "offers",
        "loans",
        "valuations",
        "covers",
        "pieces",
    ),
}
"""Values within a value that have a page of their own as soon as the outer one is on file."""

A_SCALE = 16
CHOSEN_FROM = 40
"""Up to so many terms are shown in the order of their file, and chosen from a list; more are typed."""

_ALTERNATIVES = re.compile(r"[a-z]+(\|[a-z]+)+")


@dataclass(frozen=True, slots=True)
class Section:
    """Some fields under a heading; a folded one is shut until something stands in it."""

    title: str
    fields: tuple[FieldRule, ...]
    folded: bool


@cache
def how(rule: FieldRule, kind: str) -> How:
    """How a field of a kind of value is typed.

    >>> from catalogue.record import Finding, Size
    >>> [how(each, "Finding") for each in fields_of(Finding)[2:7]]
    ['choose', 'word', 'choose', 'choose', 'many']
    """
    plain: dict[Any, How] = {Day: "day", DateSpan: "span", Shape: "shape", int: "whole"}
    if rule.kind is bool:
        return "tick" if rule.default is False else "yes-no"
    if rule.kind in plain:
        return plain[rule.kind]
    if is_number(rule.kind):
        return "number"
    if is_value(rule.kind):
        return "many" if rule.many else "one"
    return _how_text(rule, kind)


def _how_text(rule: FieldRule, kind: str) -> How:
    several = bool(rule.many)
    if rule.rule(Inside) or rule.rule(InWork):
        return "several" if several else "inside"
    documents, terms, form = rule.rule(Documents), rule.rule(Terms), rule.rule(Form)
    if documents:
        if documents.kinds == ("party",):
            return "parties" if several else "party"
        return "document"
    if terms:
        many_to_choose = sum(len(group(each)) for each in terms.groups)
        if several:
            return "chips" if many_to_choose <= CHOSEN_FROM else "words"
        return "choose" if many_to_choose <= CHOSEN_FROM else "word"
    if form and _ALTERNATIVES.fullmatch(form.pattern):
        return "pick"
    if several:
        return "texts"
    return "lines" if rule.name in _file()[1].get(kind, ()) else "line"


def alternatives(rule: FieldRule) -> tuple[str, ...]:
    """The words of which a field takes one, where its form says so."""
    form = rule.rule(Form)
    return tuple(form.pattern.split("|")) if form else ()


def offered(rule: FieldRule) -> tuple[Concept, ...]:
    """The terms that a field may hold: a scale in its own order, a longer list by label."""
    terms = rule.rule(Terms)
    found: list[Concept] = []
    for name in terms.groups if terms else ():
        concepts = group(name)
        found += in_order(name) if len(concepts) <= A_SCALE else concepts
    return tuple(found)


@cache
def typed_fields(kind: Any) -> tuple[FieldRule, ...]:
    """The fields of a kind of value that a form has, in the order of the form."""
    return tuple(each for section in sections(kind) for each in section.fields)


@cache
def sections(kind: Any) -> tuple[Section, ...]:
    """The sections of the form of a kind of value; what none of them names comes last."""
    rules = {each.name: each for each in fields_of(kind) if each.name not in NOT_TYPED}
    found = []
    for row in _file()[0].get(kind.__name__, ()):
        named = tuple(rules.pop(name) for name in row["fields"] if name in rules)
        found.append(Section(row.get("title", ""), named, row.get("folded", False)))
    if rules:
        found.append(Section("", tuple(rules.values()), folded=False))
    return tuple(found)


@cache
def _file() -> tuple[dict[str, list[dict[str, Any]]], dict[str, tuple[str, ...]]]:
    """The rows of vocab/forms.toml by kind, and the fields that want several lines by kind."""
    path = folder("vocab") / "forms.toml"
    fields = {kind.__name__: {each.name for each in fields_of(kind)} for kind in VALUES}
    try:
        rows = tomllib.loads(path.read_text("utf-8"))
        several = {kind: tuple(names) for kind, names in rows.pop("long", {}).items()}
        named = [
            (kind, name)
            for kind, part in rows.items()
            for row in part
            for name in row["fields"]
        ]
        named += [(kind, name) for kind, names in several.items() for name in names]
    except (tomllib.TOMLDecodeError, KeyError, TypeError, AttributeError) as wrong:
        raise BadSetting(
            f"{path}: {wrong!s}", remedy="see the lines at the top of that file"
        ) from None
    for kind, name in named:
        if name not in fields.get(kind, ()):
            raise BadSetting(f"{path}: {kind} has no field {name!r}")
    return rows, several
