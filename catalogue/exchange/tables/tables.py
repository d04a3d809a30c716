"""Works as tables: works, inscriptions, findings, treatments, the chain of hands; one row after another.

Which tables and columns there are stands in vocab/tables.toml. A column that the profile does not let
out is withheld in every row, whether there was anything or not.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue import places
from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.tables.columns import Cell, Column, Names, column
from catalogue.exchange.withholding.profiles import profile
from catalogue.record import Work
from catalogue.record.rules import fields_of, values_within

WORK = "work"
SOURCE = "tables.toml"


@dataclass(frozen=True, slots=True)
class Table:
    """One table: its name, what a row of it is, the fields that rows are made for, its columns."""

    name: str
    says: str
    rows: tuple[str, ...]
    columns: tuple[Column, ...]

    @property
    def heads(self) -> tuple[str, ...]:
        """The words of its first row."""
        return tuple(each.head for each in self.columns)


@cache
def tables() -> tuple[Table, ...]:
    """Every table of vocab/tables.toml, in its order."""
    return tuple(map(_table, places.table(SOURCE)["table"]))


def _table(held: dict[str, Any]) -> Table:
    rows = tuple(held["rows"])
    kind: Any = Work
    passed: frozenset[frozenset[str]] = frozenset()
    levels = {WORK: (kind, passed)}
    for name in rows:
        rule = next(each for each in fields_of(kind) if each.name == name)
        kind, passed = rule.kind, passed | {frozenset({rule.label})}
        levels[name] = (kind, passed)
    columns = tuple(
        column(levels, each, f"table {held['name']}, column {each['head']!r}")
        for each in held["column"]
    )
    return Table(held["name"], held["says"], rows, columns)


@dataclass(frozen=True, slots=True)
class Tabling:
    """Works of one export as rows. `withheld` are the columns that stay home, by table and place."""

    sender: Sender
    withheld: dict[str, frozenset[int]]

    @classmethod
    def under(cls, sender: Sender) -> Tabling:
        """The rows that leave for this sender, under its profile."""
        allowed = profile(sender.profile)
        home = {
            table.name: frozenset(
                place
                for place, each in enumerate(table.columns)
                if not (
                    allowed.everything or all(group & allowed.fields for group in each.passes)
                )
            )
            for table in tables()
        }
        return cls(sender, home)

    def rows(self, leaving: Leaving) -> Iterator[tuple[Table, list[Cell]]]:
        """The rows that a document gives, table by table; none where it is no work."""
        if not leaving.document_id.startswith(f"{WORK}/"):
            return
        work = leaving.record
        if not isinstance(work, Work):
            return
        words = places.table(SOURCE)["words"]
        names = Names(
            other=lambda document_id: self.sender.labels(document_id)[1],
            inside={each.id: each for each in values_within(work) if hasattr(each, "id")},
            yes=words["yes"],
            no=words["no"],
        )
        for table in tables():
            home = self.withheld[table.name]
            for row in _levels({WORK: work}, work, table.rows):
                yield (
                    table,
                    [
                        words["withheld"] if place in home else each.cell(row, names)
                        for place, each in enumerate(table.columns)
                    ],
                )

    def notes(self, *more: str) -> list[str]:
        """What whoever opens the tables should know, paragraph by paragraph."""
        words = places.table(SOURCE)["words"]
        allowed = profile(self.sender.profile)
        told = [
            each.format(profile=allowed.name, says=allowed.says, withheld=words["withheld"])
            for each in (*words["notes"], *more)
        ]
        for table in tables():
            told.append(words["notes_columns"].format(table=table.name, says=table.says))
            home = self.withheld[table.name]
            told += [
                f"  {head}: {words['withheld']}" if place in home else f"  {head}"
                for place, head in enumerate(table.heads)
            ]
        return told


def _levels(row: dict[str, Any], value: Any, rows: tuple[str, ...]) -> Iterator[dict[str, Any]]:
    """The rows of a value: one for each of the innermost fields, and for what has none of those."""
    if not rows:
        yield row
        return
    held = getattr(value, rows[0])
    if not held and value is not row[WORK]:
        yield row
    for each in held:
        yield from _levels({**row, rows[0]: each}, each, rows[1:])
