"""Asking the whole catalogue a question of one's own, in SPARQL."""

from __future__ import annotations

from typing import BinaryIO

import click

from catalogue.errors import BadData
from catalogue.terminal import as_json, opened, progress_bar, show_rows


@click.command()
@click.argument("file", type=click.File("rb"), metavar="FILE.rq")
@click.option(
    "--limit", default=1000, show_default=True, type=click.IntRange(1, 1_000_000),
    help="How many rows to show at most.",
)  # fmt: skip
@click.option(
    "--seconds", default=10.0, show_default=True, type=click.FloatRange(0.1, 3600),
    help="How long to look.",
)  # fmt: skip
@as_json
@click.pass_context
def ask(ctx: click.Context, file: BinaryIO, limit: int, seconds: float, as_json: bool) -> None:
    """Ask a question in SPARQL, from a file or (-) from the input.

    It is asked of everything that is kept, commissions and contacts among them: what it answers is
    for the house, not for sending. It only reads, and it goes nowhere else. The folder
    sample_records/queries has ten to begin with; the prefixes of our documents (crm, dorse, skos,
    aat ...) need not be declared.
    """
    question = _text(file)
    with opened(ctx) as studio, progress_bar("taking in") as progress:
        found = studio.ask(question, limit=limit, seconds=seconds, progress=progress)
    if found.form == "truth" and found.rows and not as_json:
        click.echo("yes" if found.rows[0][0] else "no")
    else:
        rows = [dict(zip(found.columns, row, strict=True)) for row in found.rows]
        headed = [] if as_json or not rows else [{name: name for name in found.columns}]
        show_rows([*headed, *rows], found.columns, as_json)
    for said in _notes(found.cut, len(found.rows), found.behind, seconds):
        click.echo(said, err=True)
    if found.cut == "time":
        ctx.exit(1)


def _notes(cut: str, rows: int, behind: int, seconds: float) -> list[str]:
    notes = []
    if cut == "rows":
        notes.append(f"these are the first {rows}; --limit shows more")
    elif cut == "time":
        notes.append(
            f"stopped after {seconds:g} seconds, {rows} rows found; --seconds waits longer"
        )
    elif not rows:
        notes.append("nothing found")
    if behind:
        notes.append(
            f"{behind} records were saved that this doesn't know of: ask again in a moment"
        )
    return notes


def _text(file: BinaryIO) -> str:
    try:
        return file.read().decode("utf-8-sig")
    except UnicodeDecodeError as broken:
        raise BadData(
            f"byte {broken.start} of the question is not UTF-8", remedy="save the file as UTF-8"
        ) from None
