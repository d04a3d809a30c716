"""Commands about what is kept: its history, bringing back, setting aside, merging, forgetting, adopting."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows, worker

if TYPE_CHECKING:
    from catalogue.history import Told, ValueChange

why = click.option(
    "--why", required=True, metavar="REASON", help="The reason, which stays on record."
)
undo = click.option("--undo", is_flag=True, help="Undo it.")
yes = click.option("--yes", is_flag=True, help="Do it without asking.")


@click.command()
@click.argument("record", required=False)
@click.option("--full", is_flag=True, help="What each change changed, before and after.")
@as_json
@click.pass_context
def history(ctx: click.Context, record: str | None, full: bool, as_json: bool) -> None:
    """Every change of a record (a number, a name, an id), or of the studio: when, who, why."""
    with opened(ctx) as studio:
        if record is None:
            every = [
                {"change": each.seq, "at": each.at, "who": studio.name_of(each.who), "why": each.why}
                for each in studio.history()
            ]  # fmt: skip
            show_rows(every, ("change", "at", "who", "why"), as_json)
            return
        _, changes = studio.retold(studio.meant(record))
    rows = [_as_row(each, full) for each in changes[::-1]]
    if as_json or not full:
        show_rows(rows, ("change", "state", "when", "who", "why"), as_json)
        return
    for each in changes[::-1]:
        state = f", state {each.revision}" if each.revision else ""
        click.echo(f"{each.when} ({each.zone}), {each.who}{state}: {each.why}")
        for said in (*each.acts, each.gone):
            if said:
                click.echo(f"  {said}")
        _show_changes(each.changes)


def _as_row(each: Told, full: bool) -> dict[str, Any]:
    row: dict[str, Any] = {
        "change": each.seq, "state": each.revision, "at": each.at, "when": each.when,
        "who": each.who, "why": each.why, "did": list(each.acts),
    }  # fmt: skip
    if full:
        row |= {"changes": [asdict(value) for value in each.changes], "gone": each.gone}
    return row


def _show_changes(changes: Iterable[ValueChange]) -> None:
    """Each value that changed, and its fields before and after, indented."""
    for value in changes:
        lines = [each for each in value.fields if each.before or each.after]
        if len(lines) == 1 and not lines[0].label:
            click.echo(f"  {value.what} {value.did}: {_sides(lines[0].before, lines[0].after)}")
            continue
        click.echo(f"  {value.what} {value.did}")
        for each in lines:
            click.echo(f"    {each.label}: {_sides(each.before, each.after)}")


def _count(how_many: int, what: str) -> str:
    """So many of something.

    >>> _count(1, "state"), _count(2, "state")
    ('1 state', '2 states')
    """
    return f"{how_many} {what}" if how_many == 1 else f"{how_many} {what}s"


def _sides(before: str, after: str) -> str:
    both = f"{before} -> {after}" if before and after else after or f"{before} -> nothing"
    return both.replace("\n", " / ")


@click.command("bring-back")
@click.argument("record")
@click.argument("state", type=click.IntRange(min=1))
@why
@click.pass_context
def bring_back(ctx: click.Context, record: str, state: int, why: str) -> None:
    """Save a record as it stood at STATE (see `history`) as a new change; nothing is overwritten."""
    with opened(ctx) as studio:
        kept = studio.bring_back(studio.named(record), state, who=worker(ctx), why=why)
    click.echo(f"as it stood at state {state}, saved as state {kept.revision}")


@click.command("take-back")
@click.argument("record")
@click.argument("state", type=click.IntRange(min=2))
@click.option(
    "--value", metavar="VALUE", help="Only this one: a number (I2), an id, a field (medium)."
)
@why
@click.pass_context
def take_back(ctx: click.Context, record: str, state: int, value: str | None, why: str) -> None:
    """Take back what the change that made STATE did; what was done since stays as it is."""
    with opened(ctx) as studio:
        kept = studio.take_back(
            studio.named(record), state, who=worker(ctx), why=why, value=value
        )
    click.echo(f"taken back, saved as state {kept.revision}")


@click.command()
@click.argument("record")
@undo
@why
@click.pass_context
def withdraw(ctx: click.Context, record: str, undo: bool, why: str) -> None:
    """Set a record aside: out of lists, searches and exports, never out of the history."""
    with opened(ctx) as studio:
        document_id = studio.meant(record)
        if undo:
            studio.reinstate(document_id, who=worker(ctx), why=why)
        else:
            studio.withdraw(document_id, who=worker(ctx), why=why)
        name = studio.name_of(document_id)
    click.echo(f"{name} is back in the lists" if undo else f"{name} is set aside")


@click.command()
@click.argument("old")
@click.argument("into", required=False)
@undo
@yes
@why
@click.pass_context
def merge(
    ctx: click.Context, old: str, into: str | None, undo: bool, yes: bool, why: str
) -> None:
    """Let INTO answer for OLD, two records of one work or person; what only OLD says is added."""
    if undo == (into is not None):
        raise click.UsageError("name OLD and INTO, or OLD with --undo")
    with opened(ctx) as studio:
        first = studio.meant(old)
        if into is None:
            # A merged person's name leads to the one that answers, who bears that name as well now.
            former = [
                each.document
                for each in studio.standing(first).answers_for
                if each.called == old
            ]
            first = former[0] if len(former) == 1 else first
            stays = studio.unmerge(first, who=worker(ctx), why=why)
            click.echo(f"{studio.name_of(first)} answers for itself again")
            if stays:
                click.echo("worked on since, so the other keeps it too:")
            _show_changes(stays)
            return
        second = studio.named(into).document_id
        told = studio.joining(first, second)
        _show_changes(told.adds)
        if told.differs:
            click.echo("both say it; only the old record goes on saying:")
            _show_changes(told.differs)
        click.echo(
            f"{_count(told.named_by, 'record')} to be shown with {studio.name_of(second)} instead"
        )
        if not yes:
            click.confirm("Go on?", abort=True)
        studio.merge(first, second, who=worker(ctx), why=why)
        click.echo(f"{studio.name_of(second)} answers for it from now on")


@click.command()
@click.argument("record")
@why
@click.option(
    "--pseudonym", metavar="NAME", help="What a person or firm is called from now on."
)
@yes
@click.pass_context
def forget(ctx: click.Context, record: str, why: str, pseudonym: str | None, yes: bool) -> None:
    """Replace a person or firm by a pseudonym and delete what older states said; of a work the latter."""
    with opened(ctx) as studio:
        kept = studio.named(record)
        told = studio.forgetting(kept.document_id)
        click.echo(
            f"{_count(told.revisions, 'state')} will lose text; {_count(told.named_by, 'work')}"
            f" to be shown with the new name; {_count(told.drafts, 'draft')} and"
            f" {_count(len(told.files), 'imported file')} will be deleted"
        )
        for name in told.shared:
            click.echo(f"the file {name} holds other records too, and stays")
        if not yes:
            click.confirm("It will be gone for good. Go on?", abort=True)
        given = {"pseudonym": pseudonym} if pseudonym else {}
        gone = studio.forget(kept.document_id, who=worker(ctx), why=why, **given)
    click.echo(f"the text of {_count(gone, 'state')} is gone; the chain still holds")
    click.echo("what was printed, sent out or backed up earlier still has them", err=True)


@click.command()
@click.argument("reference")
@why
@click.pass_context
def adopt(ctx: click.Context, reference: str, why: str) -> None:
    """Make a record from elsewhere (an id, its address) a work, a person or a firm of our own."""
    with opened(ctx) as studio:
        kept = studio.adopt(studio.named(reference).document_id, who=worker(ctx), why=why)
        number = getattr(kept.record, "number", None)
        click.echo(number or studio.name_of(kept.document_id))


COMMANDS = (history, bring_back, take_back, withdraw, merge, forget, adopt)
