"""`dorse import`: files that hold records, and old job books with a mapping of their columns.

Both can be tried first: what would become of each document, how every row is read; nothing is saved.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
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

_TOLD_AT_MOST = 8


@click.command("import")
@click.argument("paths", nargs=-1, required=True, type=click.Path(exists=True, path_type=Path))
@click.option("--add", is_flag=True, help="Add what a record on file lacks.")
@click.option(
    "--mapping",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="For a job book (CSV, XLSX): the file that says what its columns are.",
)
@click.option(
    "--dry-run",
    is_flag=True,
    help="Show what would become of each document, or how every row of a job book is read; save nothing.",
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

    With --dry-run nothing is saved at all: each document is shown with what would become of it.
    A job book in a spreadsheet goes in three steps: --draft-mapping OUT.toml, look it over;
    --mapping OUT.toml --dry-run shows how every row is read; --mapping OUT.toml takes it in.
    """
    from catalogue.studio import Studio

    books = [each for each in paths if each.is_file() and Studio.is_book(each)]
    if draft_mapping or mapping:
        if len(paths) != 1:
            raise click.UsageError("one job book at a time")
        if draft_mapping:
            _draft(paths[0], draft_mapping)
        elif mapping:
            _book(ctx, paths[0], mapping, add=add, dry_run=dry_run, as_json=as_json)
        return
    if books and dry_run:
        raise click.UsageError("--dry-run of a job book needs its --mapping")
    if books:
        raise BadSetting(
            f"{books[0].name} is a spreadsheet: say what its columns are",
            remedy="dorse import BOOK --draft-mapping OUT.toml writes a mapping to begin with",
        )
    _tell_of_what_else_lies_in(paths)
    with opened(ctx) as studio:
        if dry_run:
            _count(ctx, _shown(studio.foresee(paths), as_json, every=True), as_json)
            return
        with progress_bar("taking in") as progress:
            counts = _shown(
                studio.import_(paths, who=worker(ctx), add=add, progress=progress), as_json
            )
        _finish(ctx, studio, counts, as_json)


def _tell_of_what_else_lies_in(paths: Iterable[Path]) -> None:
    """Say once what the folders hold besides records: nothing is left lying without a word."""
    from catalogue.studio import Studio

    found = Studio.passed_over(paths)
    if found.books:
        click.echo(
            f"spreadsheets in a folder are passed over ({len(found.books)}): {_some(found.books)}\n"
            "  take each in by itself: dorse import BOOK --draft-mapping OUT.toml",
            err=True,
        )
    if found.others:
        click.echo(
            f"files of no kind that is read are passed over ({len(found.others)}): {_some(found.others)}",
            err=True,
        )
    if found.beside and (found.books or found.others):
        click.echo(
            f"pictures and papers lie there too ({found.beside}): they come along where a record names them",
            err=True,
        )


def _some(files: Sequence[Path]) -> str:
    more = ", ..." if len(files) > _TOLD_AT_MOST else ""
    return ", ".join(str(each) for each in files[:_TOLD_AT_MOST]) + more


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
            click.echo(f"{book.name}: {told}", err=as_json or not dry_run)
        if dry_run:
            counts: dict[str, int] = {}
            for tried in taking.tried():
                counts[tried.outcome] = counts.get(tried.outcome, 0) + 1
                _show_row(tried, as_json)
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


def _shown(taken: Iterable[Imported], as_json: bool, *, every: bool = False) -> dict[str, int]:
    """What became of each document, line by line (of `every` one, or not of what is new without more).

    Returns how many there are of each sort.
    """
    counts: dict[str, int] = {}
    for told in taken:
        counts[told.outcome] = counts.get(told.outcome, 0) + 1
        row = {"source": told.source, "document": told.document_id,
               "outcome": told.outcome, "said": list(told.said)}  # fmt: skip
        if as_json:
            click.echo(json.dumps(row, ensure_ascii=False))
        elif every or told.outcome != "new" or told.said:
            document = f"  {told.document_id}" if every and told.document_id else ""
            click.echo(f"{told.outcome}: {told.source}{document}")
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
        click.echo(told or "nothing there is of a kind that is read")
    if counts.get("refused"):
        ctx.exit(1)
