"""Condition over time in a folder: each finding in a row, what it came to at each check, in word and sign."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from catalogue.argument.course import MEASURES, Compared, course_of
from catalogue.places import table
from catalogue.record import ConditionCheck, Finding, Work
from catalogue.terms import label
from catalogue.wording import said

SIGNS: Final = {
    "new": "●", "unchanged": "○", "worse": "▲", "better": "▽", "treated": "☒", "not seen": "✕",
}  # fmt: skip
"""The signs of the timeline, as letters."""
LEVELS: Final = {"worse": "madder", "better": "verdigris", "treated": "verdigris"}


@dataclass(frozen=True, slots=True)
class Cell:
    """A finding at one check: its sign, what it came to, how grave, its measures."""

    sign: str
    verdict: str
    level: str
    says: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A finding, and its cell at each check; None where nobody noted it then."""

    finding: Finding
    cells: tuple[Cell | None, ...]

    @property
    def worse(self) -> bool:
        """Whether it had grown worse when it was last noted."""
        noted = [each for each in self.cells if each]
        return bool(noted) and noted[-1].level == "madder"


def condition_over_time(work: Work) -> tuple[tuple[ConditionCheck, ...], tuple[Row, ...]]:
    """The checks, the first first, and a row for each finding."""
    checks = tuple(sorted(work.checks, key=lambda each: each.rank))
    rows = []
    for finding in work.findings:
        seen = {check.id: _cell(each) for check, each in course_of(work, finding)}
        rows.append(Row(finding, tuple(seen.get(check.id) for check in checks)))
    return checks, tuple(rows)


def _cell(each: Compared) -> Cell:
    words = table("documents.toml")["comparison"]["verdict"]
    return Cell(
        SIGNS[each.verdict],
        words[each.verdict],
        LEVELS.get(each.verdict, ""),
        tuple(_says(each)),
    )


def _says(each: Compared) -> Iterator[str]:
    if each.now is None:
        return
    if each.now.severity:
        yield label(each.now.severity)
    measures = table("documents.toml")["comparison"]["measure"]
    for name in MEASURES:
        value = getattr(each.now, name)
        if value is not None:
            measure, unit = measures[name]
            yield f"{measure} {said(value)} {unit}".strip()
