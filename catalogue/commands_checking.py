"""What is wrong, missing or open about works and commissions: it advises, so it never ends in failure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from itertools import chain
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows
from catalogue.terms import label

if TYPE_CHECKING:
    from catalogue.checking import Remark


@click.command()
@click.argument("work", required=False)
@click.option("--all", "every", is_flag=True, help="Every work and commission that is listed.")
@as_json
@click.pass_context
def check(ctx: click.Context, work: str | None, every: bool, as_json: bool) -> None:
    """Say what is wrong, missing or open about a work or a job (2026-041, J2026-007, an id), and what to do.

    Wrong contradicts itself; missing is what the trade asks for; open is what somebody has to decide.
    It takes about half a second a work the first time, and no time once that state was found in order.
    It advises, the conservator decides; safety data sheets, local rules and licensed practice go first.
    """
    if (work is None) is not every:
        raise click.UsageError("name one work or job, or say --all")
    with opened(ctx) as studio:
        from catalogue.record import Job, Work

        if work is None:
            found: Iterator[Any] = chain(studio.all(Work), studio.all(Job))
        else:
            found = iter((studio.named(work) if work.startswith("J") else studio.work(work),))
        for kept in found:
            _show(kept.record, kept.document_id, studio.check(kept.document_id), as_json)


def _show(work: Any, document_id: str, remarks: tuple[Remark, ...], as_json: bool) -> None:
    if as_json:
        rows = ({"work": work.number or document_id, **asdict(each)} for each in remarks)
        show_rows(rows, (), as_json=True)
        return
    counts = Counter(each.kind for each in remarks)
    said = ", ".join(f"{count} {kind}" for kind, count in counts.items()) or "nothing to say"
    title = work.title() if hasattr(work, "title") else label(work.reason)
    click.echo(f"{work.number or document_id}  {title}: {said}")
    for each in remarks:
        where = f"{each.where}: " if each.where else ""
        click.echo(f"  {each.kind:<8} {where}{each.says}")
        if each.remedy:
            click.echo(f"{'':11}{each.remedy}")
