"""One photograph thrown off the tray, without losing what was said of the sitting that it began."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from catalogue.sittings import Frame


def without(
    sorting: Mapping[str, Any], sittings: Iterable[tuple[Frame, ...]], key: str
) -> dict[str, Any]:
    """How a card is sorted once a photograph is gone: `cuts`, `joins`, `typed`.

    Where a sitting began with it, the next photograph of that sitting begins it now.

    >>> sitting = (Frame(key="a", name="1.jpg"), Frame(key="b", name="2.jpg"))
    >>> said = {"cuts": ["a"], "joins": [], "typed": {"work-a": ["2026-041"], "take": ["a", "b"]}}
    >>> without(said, [sitting], "a")
    {'cuts': ['b'], 'joins': [], 'typed': {'take': ['b'], 'work-b': ['2026-041']}}
    """
    heir = _next_in_its_sitting(sittings, key)
    typed: dict[str, Any] = {}
    for name, held in sorting["typed"].items():
        if name in ("take", "shown"):
            typed[name] = [each for each in held if each != key]
        elif not name.endswith(f"-{key}"):
            typed[name] = held
    for name, held in sorting["typed"].items():
        field = name.removesuffix(f"-{key}")
        if heir and field != name and (field in ("work", "title") or field.startswith("all-")):
            typed[f"{field}-{heir}"] = held
    return {
        "cuts": _handed_on(sorting["cuts"], key, heir),
        "joins": _handed_on(sorting["joins"], key, heir),
        "typed": typed,
    }


def _next_in_its_sitting(sittings: Iterable[tuple[Frame, ...]], key: str) -> str | None:
    for frames in sittings:
        keys = [each.key for each in frames]
        if key in keys:
            return next(iter(keys[keys.index(key) + 1 :]), None)
    return None


def _handed_on(keys: Iterable[str], key: str, heir: str | None) -> list[str]:
    held = set(keys)
    if key in held:
        held.remove(key)
        held |= {heir} if heir else set()
    return sorted(held)
