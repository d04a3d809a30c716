"""The rules of the order of work as a curator left them: vocab/order_rules.toml."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache
from typing import Any, Final, Literal, get_args

from catalogue.errors import BadSetting
from catalogue.places import table
from catalogue.terms import known, within

Level = Literal["stop", "warn", "info"]
FILE: Final = "order_rules.toml"
_TERMS: Final = (
    "steps", "unless", "after", "given", "undone_by", "since", "findings", "stability", "repairs", "tests",
    "materials", "roles", "stages", "faces",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule: what a step needs before it, how firmly, and what is said when it is not there.

    Terms are of vocab/terms, narrower ones count too. `check` names what is looked for; which of the
    other words a check reads stands at the top of the file.
    """

    key: str
    level: Level
    check: str
    says: str
    remedy: str
    source: str
    plan: bool
    steps: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    given: tuple[str, ...] = ()
    undone_by: tuple[str, ...] = ()
    since: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    stability: tuple[str, ...] = ()
    repairs: tuple[str, ...] = ()
    tests: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    roles: tuple[str, ...] = ()
    stages: tuple[str, ...] = ()
    faces: tuple[str, ...] = ()
    hours: float = 0

    def speaks_of(self, kind: str) -> bool:
        """Whether a step of this kind is held to it."""
        if self.steps:
            return is_one(kind, self.steps) and not is_one(kind, self.unless)
        return not is_one(kind, (*exempt(), *self.unless))


def is_one(term: str | None, terms: tuple[str, ...]) -> bool:
    """Whether a term is one of these, or narrower than one of them."""
    return term is not None and bool(terms) and within(term, *terms)


@cache
def rules() -> tuple[Rule, ...]:
    """Every rule, in the order of the file. Raises `BadSetting` naming the row that is wrong."""
    return tuple(_rule(row) for row in table(FILE).get("rule", ()))


def rule(key: str) -> Rule:
    """The rule of a key. Raises `BadSetting`."""
    for each in rules():
        if each.key == key:
            return each
    raise BadSetting(f"no rule of the order of work is called {key!r}")


def exempt() -> tuple[str, ...]:
    """The kinds of step that are no treatment."""
    return tuple(table(FILE)["except"])


def usual_place(kind: str) -> int:
    """Where a kind of step stands in the usual order; behind all others where it is not in it."""
    sequence: list[str] = table(FILE)["sequence"]
    return next(
        (place for place, each in enumerate(sequence) if within(kind, each)), len(sequence)
    )


def _rule(row: dict[str, Any]) -> Rule:
    named = {each.name for each in fields(Rule)}
    key = row.get("key", "?")
    strange = sorted(set(row) - named)
    if strange:
        raise _wrong(
            key, f"nothing reads {strange[0]!r}", "see the words at the top of the file"
        )
    if row.get("level") not in get_args(Level):
        raise _wrong(key, f"the level {row.get('level')!r} is none", "write stop, warn or info")
    for name in _TERMS:
        for term in row.get(name, ()):
            if not known(term):
                raise _wrong(key, f"{name}: there is no term {term!r}", "see vocab/terms")
    told: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value for name, value in row.items()
    }
    try:
        return Rule(**told)
    except TypeError as wrong:
        raise _wrong(key, str(wrong).partition(") ")[2], "give the row what it lacks") from None


def _wrong(key: str, what: str, remedy: str) -> BadSetting:
    return BadSetting(f"vocab/{FILE}, rule {key}: {what}", remedy=remedy)
