"""Ways of looking at a photograph, as vocab/ways_of_looking.toml has them: steps with their figures."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalogue.errors import BadSetting, NotOnFile
from catalogue.places import table

PLAIN = "plain"
STEPS: Mapping[str, frozenset[str]] = {
    "local contrast": frozenset(("clip_limit", "windows")),
    "decorrelate": frozenset(("spread", "gain")),
    "flatten": frozenset(("reach",)),
    "mix": frozenset(("shares",)),
    "stretch": frozenset(("percent",)),
}
"""What a step may do, and the figures that it needs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way of looking: its name in addresses, its words, and what is done, step by step."""

    key: str
    label: str
    says: str
    steps: tuple[Mapping[str, Any], ...] = field(default=(), repr=False)

    @property
    def is_derivative(self) -> bool:
        """Whether the picture was changed by a calculation."""
        return bool(self.steps)

    @property
    def made_by(self) -> str:
        """The way and its figures as part of a file name: other figures, other files.

        >>> ways()[0].made_by
        'plain'
        """
        if not self.steps:
            return self.key
        figures = json.dumps([dict(each) for each in self.steps], sort_keys=True)
        return f"{self.key}-{hashlib.sha256(figures.encode()).hexdigest()[:8]}"


@cache
def ways() -> tuple[Way, ...]:
    """Every way of looking, the plain photograph first. Raises `BadSetting` for a row that is amiss.

    >>> [each.key for each in ways()][:3]
    ['plain', 'local-contrast', 'decorrelated']
    """
    rows = table("ways_of_looking.toml")
    words = rows["words"]
    plain = Way(key=PLAIN, label=words["plain"], says=words["plain_says"])
    return (plain, *(_way(each, words["derivative"]) for each in rows["way"]))


def _way(row: Mapping[str, Any], derivative: str) -> Way:
    key = row["key"]
    steps = tuple(row["step"])
    if not key or not set(key) <= set("abcdefghijklmnopqrstuvwxyz-") or key == PLAIN:
        raise BadSetting(
            f"vocab/ways_of_looking.toml: {key!r} is no name for a way of looking",
            remedy="use small letters and hyphens",
        )
    for each in steps:
        needed = STEPS.get(each["do"])
        if needed is None or not needed <= set(each):
            raise BadSetting(
                f"vocab/ways_of_looking.toml: a step of {key!r} does {each['do']!r}",
                remedy="a step does one of: "
                + "; ".join(f"{do} ({', '.join(sorted(of))})" for do, of in STEPS.items()),
            )
        for figure in needed:
            if not _is_sound(figure, each[figure]):
                raise BadSetting(
                    f"vocab/ways_of_looking.toml: {key!r} has {figure} = {each[figure]!r}",
                    remedy="give a number above 0; for shares, three numbers in a row",
                )
    if not steps:
        raise BadSetting(
            f"vocab/ways_of_looking.toml: {key!r} has no steps",
            remedy="give it one, or take it out: the plain photograph is always there",
        )
    return Way(key=key, label=row["label"], says=f"{row['says']} {derivative}", steps=steps)


def _is_sound(figure: str, given: object) -> bool:
    if figure == "shares":
        return isinstance(given, list) and len(given) == 3 and all(map(_is_number, given))
    return _is_number(given) and given > 0  # type: ignore[operator]


def _is_number(given: object) -> bool:
    return isinstance(given, int | float) and not isinstance(given, bool)


def way_named(key: str) -> Way:
    """The way of looking of that name. Raises `NotOnFile`."""
    for each in ways():
        if each.key == key:
            return each
    known = ", ".join(each.key for each in ways())
    raise NotOnFile(
        f"there is no way of looking {key[:40]!r} at a photo", remedy=f"choose one of: {known}"
    )
