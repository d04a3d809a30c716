"""What can hurt, and what to mind: the rows of vocab/cautions.toml, called by the terms of a record.

They are reminders and no assessment of risk: the safety data sheet, local rules and licensed practice go
first. The tool advises, the conservator decides.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from catalogue.errors import BadSetting
from catalogue.places import folder
from catalogue.terms.concepts import known, within


@dataclass(frozen=True, slots=True)
class Caution:
    """One danger: the terms that call for it (none: it is always shown), what to mind, who says so."""

    key: str
    terms: tuple[str, ...]
    says: str
    source: str


def cautions(named: Iterable[str]) -> tuple[Caution, ...]:
    """The cautions that these terms call for, in the order of the file; the standing one comes first.

    >>> [each.key for each in cautions(["material/acetone", "step/varnish"])]
    ['first', 'solvents']
    >>> cautions([])
    ()
    """
    here = sorted({each for each in named if known(each)})
    found = [each for each in rows() if any(within(key, *each.terms) for key in here)]
    return (*standing(), *found) if found else ()


def standing() -> tuple[Caution, ...]:
    """What is said wherever something that can hurt may be used, whatever it is.

    >>> [each.key for each in standing()]
    ['first']
    """
    return tuple(each for each in rows() if not each.terms)


@cache
def rows() -> tuple[Caution, ...]:
    """Every row of vocab/cautions.toml. Raises `BadSetting`."""
    path = folder("vocab") / "cautions.toml"
    try:
        held = tomllib.loads(path.read_text("utf-8"))["caution"]
        return tuple(
            Caution(row["key"], tuple(row["terms"]), row["says"], row["source"]) for row in held
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError) as wrong:
        raise BadSetting(
            f"{path}: {wrong!s}", remedy="see the lines at the top of that file"
        ) from None
