"""What the trade asks of a value and is not there, and what is to be minded: rows of vocab/checks.toml."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from catalogue.checking.remark import Remark, Row, rows, words
from catalogue.checking.where import Places
from catalogue.record import Finding, Work
from catalogue.record.rules import values_within
from catalogue.terms import within


def needed(work: Work, places: Places) -> Iterator[Remark]:
    """What the rows of `needs` ask for and nobody entered."""
    for value in values_within(work):
        for row in rows().needs:
            if type(value).__name__ == row.value and _asks(row, value) and not _has(row, value):
                yield row.remark(places.of(value, ""), value.id)


def _asks(row: Row, value: Any) -> bool:
    if row.when and not getattr(value, row.when):
        return False
    return not row.terms or within(value.kind, *row.terms)


def _has(row: Row, value: Any) -> bool:
    holders = value.observations if isinstance(value, Finding) else (value,)
    return any(
        getattr(holder, name) not in (None, ()) for holder in holders for name in row.fields
    )


def advised(work: Work, places: Places) -> Iterator[Remark]:
    """What is to be minded about the damage that is there now."""
    for finding in work.findings:
        latest = work.course(finding)[-1]
        if latest.change in words("over"):
            continue
        for row in rows().advice:
            holds = not row.stabilities or latest.stability in row.stabilities
            if holds and within(finding.kind, *row.terms):
                yield row.remark(places.of(finding), finding.id)
