"""How long what is kept, at the command line: what is due, held, deleted; and all that is on one person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows, worker

if TYPE_CHECKING:
    from catalogue.studio import Studio

Row = dict[str, Any]


@click.command()
@click.option("--all", "every", is_flag=True, help="Also what is not due yet.")
@click.option("--rules", "the_rules", is_flag=True, help="The rules themselves.")
@click.option(
    "--hold", "to_hold", metavar="RECORD", help="Hold a record (J2026-007): it must stay."
)
@click.option("--let-go", "to_let_go", metavar="RECORD", help="Hold it no longer.")
@click.option("--because", "why", metavar="REASON", help="Why it is held.")
@click.option("--held", is_flag=True, help="What is held.")
@click.option("--deleted", is_flag=True, help="What was deleted for good, by whom, when, why.")
@as_json
@click.pass_context
def retention(
    ctx: click.Context,
    every: bool,
    the_rules: bool,
    to_hold: str | None,
    to_let_go: str | None,
    why: str | None,
    held: bool,
    deleted: bool,
    as_json: bool,
) -> None:
    """Say which records need not be kept any more, by vocab/retention.toml. Nothing goes by itself.

    What is due is looked at by a person, who may `dorse forget` it; a record that is held because of
    a claim or a dispute is never due and cannot be forgotten.
    """
    if sum(map(bool, (every, the_rules, to_hold, to_let_go, held, deleted))) > 1:
        raise click.UsageError("ask one thing at a time")
    with opened(ctx) as studio:
        if to_hold:
            made = studio.hold(to_hold, who=worker(ctx), why=why or "")
            click.echo(f"held: {studio.name_of(made.document_id)}")
        elif to_let_go:
            before = studio.let_go(to_let_go)
            click.echo(f"no longer held: {studio.name_of(before.document_id)} ({before.why})")
        elif the_rules:
            show_rows(_rules(), ("name", "years", "basis"), as_json)
        elif held:
            show_rows(_held(studio), ("record", "since", "by", "why"), as_json)
        elif deleted:
            show_rows(_deleted(studio), ("at", "who", "records", "why"), as_json)
        else:
            show_rows(_due(studio, every=every), ("record", "class", "stands"), as_json)


@click.command()
@click.argument("person")
@as_json
@click.pass_context
def about(ctx: click.Context, person: str, as_json: bool) -> None:
    """Say everything that is on file about one PERSON or firm: what they may ask to see.

    Their own record, every place where another record names them, and every change of theirs. It is
    for them and for the studio: it holds contact data.
    """
    with opened(ctx) as studio:
        show_rows(_about(studio, person), ("where", "what", "says"), as_json)


def _rules() -> Iterator[Row]:
    from catalogue.retention import rules

    for each in rules():
        years = "for good" if each.years is None else str(each.years)
        yield {"key": each.key, "name": each.name, "years": years, "basis": each.basis,
               "source": each.source}  # fmt: skip


def _held(studio: Studio) -> Iterator[Row]:
    for each in studio.holds():
        yield {"record": studio.name_of(each.document_id), "document": each.document_id,
               "since": each.since.iso, "by": each.who, "why": each.why}  # fmt: skip


def _deleted(studio: Studio) -> Iterator[Row]:
    for each in studio.forgotten():
        gone = sorted(
            {
                entry.document
                for entry in each.entries
                if entry.act == "forget" and entry.document
            }
        )
        yield {"at": each.at, "who": studio.name_of(each.who), "records": gone, "why": each.why}


def _due(studio: Studio, *, every: bool) -> Iterator[Row]:
    today = studio.today()
    for each in studio.retention():
        if every or each.is_due(today):
            yield {"record": each.called, "document": each.document_id, "class": each.rule.name,
                   "from": each.begins.iso if each.begins else None,
                   "due": each.due.iso if each.due else None, "stands": each.says(today),
                   "basis": each.rule.basis}  # fmt: skip


def _about(studio: Studio, person: str) -> Iterator[Row]:
    found = studio.about_person(person)
    for what, says in found.written:
        yield {"where": found.party.name(), "what": what, "says": says}
    for each in found.named:
        yield {
            "where": each.called,
            "document": each.document_id,
            "what": each.value,
            "says": each.says,
        }
    for change in found.changes:
        yield {
            "where": "history",
            "what": f"{change.at} {studio.name_of(change.who)}",
            "says": change.why,
        }
