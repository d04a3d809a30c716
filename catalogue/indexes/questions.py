"""The questions that a studio asks of its past jobs, each with what to type (vocab/questions.toml)."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.measure import Day
from catalogue.places import table

_SUMMER = ("06", "08")
"""June to August (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Question:
    """One question: its number, in plain words, and what to type for it today."""

    number: int
    asks: str
    query: str


def questions(today: Day) -> tuple[Question, ...]:
    """All of them, with the days that hang on today filled in.

    >>> questions(Day(2026, 12, 5))[27].query
    'proposal ..2026-11-05 is:unanswered'
    >>> questions(Day(2026, 5, 1))[26].query
    'kind:mould (checked 2025-06..2025-08 or checked 2024-06..2024-08)'
    """
    held = table("questions.toml")
    days = {name: _before(today, back) for name, back in held["days"].items()}
    last = today.year if today.month >= int(_SUMMER[0]) else today.year - 1
    summers = {"summer": _summer(last), "summer_before": _summer(last - 1)}
    return tuple(
        Question(row["number"], row["asks"], row["query"].format(**days, **summers))
        for row in held["question"]
    )


def _before(today: Day, back: int) -> str:
    return Day.from_ordinal(today.ordinal - back).iso


def _summer(year: int) -> str:
    return f"{year}-{_SUMMER[0]}..{year}-{_SUMMER[1]}"
