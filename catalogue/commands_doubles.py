"""The command that shows who else somebody on file could be, and remembers who is not whom."""

from __future__ import annotations

import click

from catalogue.terminal import as_json, opened, show_rows, worker


@click.command()
@click.argument("who")
@click.option("--not", "other", metavar="OTHER", help="Remember that WHO is not OTHER.")
@click.option("--undo", is_flag=True, help="Take back that WHO is not OTHER.")
@click.option("--why", default="", metavar="REASON", help="The reason, which stays on record.")
@as_json
@click.pass_context
def doubles(
    ctx: click.Context, who: str, other: str | None, undo: bool, why: str, as_json: bool
) -> None:
    """Who else WHO (a name, an id) could be, and why; `dorse merge` makes two records one.

    OTHER is a person or firm on file, or a name as it is written somewhere.
    """
    if undo and other is None:
        raise click.UsageError("name with --not whom to take it back of")
    with opened(ctx) as studio:
        found = studio.named(who)
        if not found.document_id.startswith("party/"):
            raise click.UsageError(f"{who} is neither a person nor a firm")
        if other is not None:
            verb = studio.take_for_one if undo else studio.tell_apart
            found = verb(found.document_id, other, who=worker(ctx), why=why)
        rows = [
            {
                "name": each.party.name(),
                "id": each.party.document,
                "alike": round(each.alike.score, 2),
                "told apart": "yes" if each.decided else "",
                "why": each.alike.why,
            }
            for each in studio.doubles(found.record)
        ]
        show_rows(rows, ("name", "alike", "told apart", "why"), as_json)
