"""What labels and old repairs prove of their own years, at the command line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows

if TYPE_CHECKING:
    from catalogue.arguing import Argued


@click.command()
@click.argument("work")
@click.argument("number", required=False)
@as_json
@click.pass_context
def argue(ctx: click.Context, work: str, number: str | None, as_json: bool) -> None:
    """Say what each label and old repair of a work (or one: I3, R1) proves of its own years, and why.

    Firm reasons rest on laws, decrees and inventions, soft ones on custom. A label dates the label, a
    repair material the repair: neither dates the painting.
    """
    with opened(ctx) as studio:
        kept = studio.work(work)
        for found in studio.argue(kept.record):
            if number in (None, found.value.number, found.value.id):
                _show(found, kept.record.number or kept.document_id, as_json)


def _show(found: Argued, work: str, as_json: bool) -> None:
    from catalogue.pictures.dating import in_years
    from catalogue.pictures.words import dated
    from catalogue.terms import label

    if as_json:
        show_rows(_rows(found, work), (), as_json=True)
        return
    click.echo(f"{found.value.number or found.value.id}  {label(found.value.kind)}")
    if not found.dating.reasons:
        click.echo("    no reason gives a year")
    for part in found.dating.parts:
        click.echo(f"    {dated(part.what)}: {in_years(part)}")
        for each in part.reasons:
            firm = "firm" if each.strength == "hard" else "soft"
            click.echo(f"      '{each.written}' ({firm}, {each.rule}): {each.why}")
        for says in part.says:
            click.echo(f"      {says}")
    for conflict in found.dating.conflicts:
        click.echo(f"    cannot both hold: {conflict.words}")


def _rows(found: Argued, work: str) -> Iterator[dict[str, Any]]:
    for each in found.dating.reasons:
        yield {
            "work": work,
            "number": found.value.number,
            "dates": each.dates,
            "rule": each.rule,
            "written": each.written,
            "earliest": each.earliest.iso if each.earliest else None,
            "latest": each.latest.iso if each.latest else None,
            "strength": each.strength,
            "why": each.why,
            "source": each.source,
        }
