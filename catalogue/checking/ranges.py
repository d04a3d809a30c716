"""Figures outside the studio's own ranges: rows of vocab/checks.toml. They warn, and prescribe none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from catalogue.checking.remark import Remark, Row, rows
from catalogue.checking.where import Places
from catalogue.record import MaterialUse, Work
from catalogue.record.rules import values_within
from catalogue.terms import within


def ranges(work: Work, places: Places) -> Iterator[Remark]:
    """Each figure that is under the low end, or over the high end, of a row that speaks of it."""
    for value in values_within(work):
        for row in rows().ranges:
            if type(value).__name__ == row.value and _is_meant(row, value):
                figure = getattr(value, row.field)
                if figure is not None and _is_outside(row, figure):
                    yield row.remark(
                        places.of(value, row.field), value.id,
                        figure=f"{figure:g}", low=_said(row.low), high=_said(row.high),
                    )  # fmt: skip


def _is_meant(row: Row, value: Any) -> bool:
    term = value.role if isinstance(value, MaterialUse) else value.kind
    return not row.terms or (term is not None and within(term, *row.terms))


def _is_outside(row: Row, figure: float) -> bool:
    return (row.low is not None and figure < row.low) or (
        row.high is not None and figure > row.high
    )


def _said(bound: float | None) -> str:
    return "" if bound is None else f"{bound:g}"
