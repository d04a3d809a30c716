"""`dorse import`: files that hold records, and old job books with a mapping of their columns.

A job book is tried first: every row is shown as it is read, and nothing is saved.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from catalogue.errors import BadSetting
from catalogue.terminal import as_json, opened, progress_bar, worker

if TYPE_CHECKING:
    from catalogue.arriving import Imported
    from catalogue.job_books.told import RowRead
    from catalogue.studio import Studio

_BOOKS = (".csv", ".tsv", ".tab", ".txt", ".xlsx", ".xlsm", ".xls")


@click.command("import")
@click.argument("paths", nargs=-1, required=True, type=click.Path(exists=True, path_type=Path))
@click.option("--add", is_flag=True, help="Add what a record on file lacks.")
@click.option(
    "--mapping",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="For a job book (CSV, XLSX): the file that says what its columns are.",
)
@click.option(
    "--dry-run", is_flag=True, help="Show how every row of a job book is read; save nothing."
)
@click.option(
    "--draft-mapping",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write a first mapping for a job book into this file, to be looked over.",
)
@as_json
@click.pass_context
def import_(
    ctx: click.Context,
    paths: tuple[Path, ...],
    add: bool,
    mapping: Path | None,
    dry_run: bool,
    draft_mapping: Path | None,
    as_json: bool,
) -> None:
    """Take in files and folders, with the pictures beside them. Nothing is saved over.

    A job book in a spreadsheet goes in three steps: --draft-mapping OUT.toml, look it over;
    --mapping OUT.toml --dry-run shows how every row is read; --mapping OUT.toml takes it in.
    """
    books = [each for each in paths if each.is_file() and each.suffix.lower() in _BOOKS]
    if draft_mapping or mapping or dry_run:
        if len(paths) != 1:
            raise click.UsageError("one job book at a time")
        if draft_mapping:
            _draft(paths[0], draft_mapping)
        elif mapping is None:
            raise click.UsageError("--dry-run needs the --mapping of the job book")
        else:
            _book(ctx, paths[0], mapping, add=add, dry_run=dry_run, as_json=as_json)
        return
    if books:
        raise BadSetting(
            f"{books[0].name} is a spreadsheet: say what its columns are",
            remedy="dorse import BOOK --draft-mapping OUT.toml writes a mapping to begin with",
        )
    with opened(ctx) as studio:
        with progress_bar("taking in") as progress:
            counts = _shown(
                studio.import_(paths, who=worker(ctx), add=add, progress=progress), as_json
            )
        _finish(ctx, studio, counts, as_json)


def _draft(book: Path, out: Path) -> None:
    from catalogue.studio import Studio

    if out.exists():
        raise BadSetting(f"{out} is there already", remedy="name a new file")
    draft = Studio.draft_mapping(book, out.name)
    out.write_text(draft, encoding="utf-8")
    click.echo(f"a mapping to begin with is in {out}; look at every line of it")


def _book(
    ctx: click.Context, book: Path, mapping: Path, *, add: bool, dry_run: bool, as_json: bool
) -> None:
    with opened(ctx) as studio:
        taking = studio.read_book(book, mapping, who=worker(ctx), add=add)
        for told in taking.book.told:
            click.echo(f"{book.name}: {told}", err=True)
        if dry_run:
            counts: dict[str, int] = {}
            for row in taking.tried():
                counts[row.outcome] = counts.get(row.outcome, 0) + 1
                _show_row(row, as_json)
            _count(ctx, counts, as_json)
            return
        with _row_counter() as tell:
            counts = _shown(taking.taken(tell), as_json)
        _finish(ctx, studio, counts, as_json)


@contextmanager
def _row_counter() -> Iterator[Callable[[int], None]]:
    """The row that is read, on the error stream, where a person watches it; nothing in a pipe."""
    if not sys.stderr.isatty():
        yield lambda number: None
        return
    yield lambda number: click.echo(f"\rrow {number}", err=True, nl=False)
    click.echo(err=True)


def _shown(taken: Iterable[Imported], as_json: bool) -> dict[str, int]:
    """What became of each document, line by line; how many of each sort."""
    counts: dict[str, int] = {}
    for told in taken:
        counts[told.outcome] = counts.get(told.outcome, 0) + 1
        row = {"source": told.source, "document": told.document_id,
               "outcome": told.outcome, "said": list(told.said)}  # fmt: skip
        if as_json:
            click.echo(json.dumps(row, ensure_ascii=False))
        elif told.outcome != "new" or told.said:
            click.echo(f"{told.outcome}: {told.source}")
            for sentence in told.said:
                click.echo(f"  {sentence}")
    return counts


def _show_row(row: RowRead, as_json: bool) -> None:
    if as_json:
        click.echo(json.dumps(_as_data(row), ensure_ascii=False))
        return
    click.echo(f"row {row.row}  {row.key}  {row.outcome}")
    for sentence in (row.refused, *row.remarks):
        if sentence:
            click.echo(f"  ! {sentence}")
    for cell in row.cells:
        click.echo(f"  {cell.column} ({cell.field}): {' '.join(cell.written.split())}")
        for sentence in cell.understood:
            click.echo(f"    = {sentence}")
        for sentence in cell.remarks:
            click.echo(f"    ? {sentence}")
        if cell.rest:
            click.echo(f"    left over: {' '.join(cell.rest.split())}")


def _as_data(row: RowRead) -> dict[str, Any]:
    return {
        "row": row.row,
        "key": row.key,
        "outcome": row.outcome,
        "refused": row.refused or None,
        "remarks": list(row.remarks),
        "cells": [
            {
                "column": cell.column, "field": cell.field, "text": cell.written,
                "understood": list(cell.understood), "rest": cell.rest,
                "remarks": list(cell.remarks),
            }
            for cell in row.cells
        ],
    }  # fmt: skip


def _finish(ctx: click.Context, studio: Studio, counts: dict[str, int], as_json: bool) -> None:
    with progress_bar("indexing") as progress:
        studio.catch_up(progress)
    _count(ctx, counts, as_json)


def _count(ctx: click.Context, counts: dict[str, int], as_json: bool) -> None:
    if not as_json:
        told = ", ".join(f"{count} {outcome}" for outcome, count in sorted(counts.items()))
        click.echo(told or "nothing")
    if counts.get("refused"):
        ctx.exit(1)
