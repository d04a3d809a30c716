"""Sending records out at the command line, and the list of what was sent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from catalogue.errors import MayNotLeave
from catalogue.terminal import as_json, opened, progress_bar, show_rows, worker

if TYPE_CHECKING:
    from catalogue.exchange.sending import Exported
    from catalogue.exchange.withholding.redaction import StayedHome
    from catalogue.studio import Studio

_MANY = 10


class _Listing(click.Command):
    """The command with every format and profile, as the tables have them, at the end of its help."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        from catalogue.exchange.formats import FORMATS
        from catalogue.exchange.parcels.pictures import choices
        from catalogue.exchange.withholding.profiles import offered

        with formatter.section("Formats"):
            formatter.write_dl([(name, each.says) for name, each in sorted(FORMATS.items())])
        with formatter.section("Profiles"):
            formatter.write_dl(list(offered().items()))
        with formatter.section("Pictures (in a parcel, and with IIIF)"):
            formatter.write_dl(list(choices().items()))


@click.command(cls=_Listing)
@click.option("--format", "format_name", required=True, metavar="NAME", help="Listed below.")
@click.option("--profile", "profile_name", required=True, metavar="NAME", help="Listed below.")
@click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="The folder to write into."
)
@click.option("--all", "every", is_flag=True, help="Every work.")
@click.option("--find", "question", metavar="WORDS", help="Every work that this search finds.")
@click.option("--saved", metavar="NAME", help="Every work that a kept search finds today.")
@click.option("--recipient", default="", metavar="NAME", help="Who gets it; it is put down.")
@click.option("--reason", default="", metavar="TEXT", help="Why it is sent; it is put down.")
@click.option(
    "--allow",
    multiple=True,
    metavar="NAME=REASON",
    help="Let a name leave this once though the last scan finds it; repeat it.",
)
@click.option(
    "--pictures", default="", metavar="NAME", help="Which photographs come along; listed below."
)
@click.option(
    "--longest",
    type=int,
    metavar="PIXELS",
    help="The longer side of their copies; 2000 where vocab/parcel.toml says nothing else.",
)
@click.option("--list-home", is_flag=True, help="List every value that stayed home, and why.")
@click.argument("works", nargs=-1)
@click.pass_context
def export(
    ctx: click.Context,
    format_name: str,
    profile_name: str,
    out: Path,
    every: bool,
    question: str | None,
    saved: str | None,
    recipient: str,
    reason: str,
    allow: tuple[str, ...],
    pictures: str,
    longest: int | None,
    list_home: bool,
    works: tuple[str, ...],
) -> None:
    """Write works and whom they name into a folder, with only what the profile lets out.

    Finished files are searched once more for what stays in the house; where something is found,
    nothing leaves. Every export is put down: dorse exports lists them.
    """
    if sum(map(bool, (every, question, saved, works))) != 1:
        raise click.UsageError("name the works to export, or say --all, --find or --saved")
    home: list[tuple[str, StayedHome]] = []
    with opened(ctx) as studio:
        wanted = None if every else _wanted(studio, works, question, saved)
        with _allowing(), progress_bar("writing") as progress:
            sent = studio.export(
                format_name, profile_name, out, wanted, progress,
                who=worker(ctx), recipient=recipient, reason=reason, allow=dict(map(_pair, allow)),
                pictures=pictures, longest_px=longest,
                listen=(lambda where, each: home.append((where, each))) if list_home else None,
            )  # fmt: skip
    _tell(sent)
    if list_home:
        show_rows(_rows(home), ("document", "what", "value", "why"), as_json=False)
    elif sent.home:
        values = "1 value" if sent.home == 1 else f"{sent.home} values"
        click.echo(f"{values} stayed home; --list-home shows which, and why")


def _wanted(
    studio: Studio, works: tuple[str, ...], question: str | None, saved: str | None
) -> tuple[str, ...]:
    if works:
        return works
    found = studio.works_found(question or studio.saved_search(saved or "").text)
    if not found:
        raise click.UsageError("the search finds no work, so there is nothing to export")
    return found


@contextmanager
def _allowing() -> Iterator[None]:
    """A refusal that can be allowed once says with which words of this command."""
    try:
        yield
    except MayNotLeave as refused:
        if refused.allowable:
            refused.remedy += f'\n  here: --allow "{refused.allowable[0]}=the reason"'
        raise


def _pair(said: str) -> tuple[str, str]:
    name, equals, why = said.partition("=")
    if not equals:
        raise click.BadParameter(f"{said!r} has no reason", param_hint="--allow NAME=REASON")
    return name, why


def _tell(sent: Exported) -> None:
    records = "1 record" if sent.documents == 1 else f"{sent.documents} records"
    if sent.files:
        files = "1 file" if sent.files == 1 else f"{sent.files} files"
        click.echo(f"{records} in {files} in {sent.folder}")
    else:
        click.echo(
            f"{records}, and nothing in them that this format tells: no file was written"
        )
    if sent.others:
        files = "1 file that is" if sent.others == 1 else f"{sent.others} files that are"
        click.echo(f"the folder also holds {files} not of this export", err=True)
    for name, reason in sorted(sent.allowed.items()):
        click.echo(f"allowed this once: {name} ({reason})", err=True)


def _rows(home: Iterable[tuple[str, StayedHome]]) -> Iterable[dict[str, str]]:
    for where, each in home:
        yield {"document": where, "what": each.what, "value": each.value, "why": each.why}


@click.command()
@as_json
@click.pass_context
def exports(ctx: click.Context, as_json: bool) -> None:
    """List everything that was sent out: when, by whom, for whom, under which profile."""
    with opened(ctx) as studio:
        rows = [
            {
                "number": each.number,
                "at": each.at,
                "who": studio.name_of(each.who),
                "recipient": each.recipient,
                "profile": each.profile,
                "format": each.format,
                "works": [studio.name_of(work) for work in each.works] if as_json
                else _works(studio, each.works),
                "documents": each.documents,
                "files": each.files,
                "reason": each.reason,
                "allowed": dict(each.allowed) if as_json else ", ".join(each.allowed),
                "digest": each.digest,
            }
            for each in studio.exports()
        ]  # fmt: skip
    columns = (
        "number",
        "at",
        "who",
        "recipient",
        "profile",
        "format",
        "works",
        "allowed",
        "reason",
    )
    show_rows(rows, columns, as_json)


def _works(studio: Studio, works: tuple[str, ...]) -> str:
    if not works:
        return "every work"
    named = ", ".join(studio.name_of(work) for work in works[:_MANY])
    return named if len(works) <= _MANY else f"{named} and {len(works) - _MANY} more"
