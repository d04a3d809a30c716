"""Provenance as prose, at the command line: written from the record, or taken into it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from catalogue.errors import BadData
from catalogue.terminal import as_json, opened, show_rows, worker

if TYPE_CHECKING:
    from catalogue.studio import Studio
    from catalogue.telling import Brackets, Taken, Written


@click.command()
@click.argument("work")
@click.option(
    "--brackets", type=click.Choice(("life", "dealer")), default="life", show_default=True,
    help="What stands in square brackets: life dates, or dealers.",
)  # fmt: skip
@click.option(
    "--internal",
    is_flag=True,
    help="With every name, price and open year, for the studio alone.",
)
@click.option(
    "--take", "source", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path, allow_dash=True),
    help="Read a published provenance (- for stdin) and show the events that it would add.",
)  # fmt: skip
@click.option(
    "--cited", metavar="WORDS", help="Where that text stands printed: evidence for each event."
)
@click.option(
    "--save", is_flag=True, help="Add those events; what is on record stays as it is."
)
@as_json
@click.pass_context
def provenance(
    ctx: click.Context,
    work: str,
    brackets: Brackets,
    internal: bool,
    source: Path | None,
    cited: str | None,
    save: bool,
    as_json: bool,
) -> None:
    """Write the provenance of a work (2026-041) as prose with its notes, or take prose into its record.

    A semicolon says that it passed directly, and stands only where evidence bears it. The public form
    names nobody who may not be named. It certifies no title: a gap accuses nobody.
    """
    if source is None and (save or cited):
        raise click.UsageError("--save and --cited go with --take FILE")
    with opened(ctx) as studio:
        if source is not None:
            _take(ctx, studio, work, _text(source), cited, save, as_json)
            return
        written = studio.provenance(work, brackets, "internal" if internal else "public")
        if as_json:
            show_rows((_row(written),), (), as_json=True)
            return
        click.echo(written.whole)
        click.echo(f"\n{written.says}")
        for remark in written.remarks:
            click.echo(f"- {remark}", err=True)


def _take(
    ctx: click.Context,
    studio: Studio,
    work: str,
    text: str,
    cited: str | None,
    save: bool,
    as_json: bool,
) -> None:
    """Show every event that is read, what could not be placed, and save them where that is wanted."""
    found = studio.take_provenance(work, text, who=worker(ctx), cited=cited, save=save)
    if as_json:
        show_rows(_rows(found), (), as_json=True)
        return
    show_rows(_rows(found), ("order", "kind", "who", "when", "passage", "notes"), as_json=False)
    if found.read.rest.strip():
        click.echo(f"not read: {found.read.rest.strip()}")
    for warning in found.read.warnings:
        click.echo(f"look at it (at {warning.at}): {warning.words}")
    for number in found.there:
        click.echo(f"{number} says the same already: not added")
    click.echo(
        f"{len(found.events)} events {'added' if save else 'would be added; --save adds them'}"
    )


def _row(written: Written) -> dict[str, Any]:
    return {
        "text": written.text,
        "notes": [{"mark": each.mark, "text": each.text} for each in written.notes],
        "says": written.says,
        "remarks": list(written.remarks),
    }


def _rows(found: Taken) -> Iterator[dict[str, Any]]:
    from catalogue.terms import label

    for each in found.events:
        yield {
            "order": each.order,
            "kind": label(each.kind),
            "who": "; ".join(f"{role.written} ({label(role.role)})" for role in each.parties),
            "when": ", ".join(span.written for span in (each.when, each.until) if span),
            "passage": label(each.passage) if each.passage else "",
            "notes": " | ".join(note.text for note in each.notes),
        }


def _text(source: Path) -> str:
    try:
        with click.open_file(str(source), encoding="utf-8") as held:
            return str(held.read())
    except (OSError, UnicodeDecodeError) as why:
        raise BadData(
            f"{source}: {why}", remedy="name a text file in UTF-8, or - for stdin"
        ) from None
