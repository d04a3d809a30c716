"""The command line: ask the studio one thing, show it. No trade logic lives here.

Rooms are imported inside the commands: `dorse --help` must not wait for a web server or an index.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from catalogue import __version__, open_studio
from catalogue.commands_alike import alike, families
from catalogue.commands_arguing import argue
from catalogue.commands_asking import ask
from catalogue.commands_borders import borders
from catalogue.commands_chain import chain
from catalogue.commands_checking import check
from catalogue.commands_chronology import chronology
from catalogue.commands_codes import code
from catalogue.commands_doubles import doubles
from catalogue.commands_drafting import draft_reading
from catalogue.commands_finding import search, searches
from catalogue.commands_kept import COMMANDS
from catalogue.commands_parsing import parse
from catalogue.commands_photos import photos
from catalogue.commands_printing import print_
from catalogue.commands_provenance import provenance
from catalogue.commands_retention import about, retention
from catalogue.commands_sending import export, exports
from catalogue.commands_serving import password, serve
from catalogue.commands_statements import statements
from catalogue.commands_taking import import_
from catalogue.terminal import Door, as_json, opened, progress_bar, show_rows, worker

if TYPE_CHECKING:
    from catalogue.studio import Studio


@click.group(cls=Door, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="dorse")
@click.option(
    "--studio", "path", envvar="DORSE_STUDIO", metavar="PATH", help="The studio's folder."
)
@click.option("--who", envvar="DORSE_WHO", metavar="NAME", help="Who is working.")
@click.pass_context
def main(ctx: click.Context, path: str | None, who: str | None) -> None:
    """What is written on the backs of paintings, what was done to them, and what that proves."""
    ctx.obj = {"path": path, "who": who}


@main.command()
@click.option("--base", metavar="URL", help="The web address that records go out under.")
@click.option("--zone", metavar="ZONE", help="The studio's time zone (Europe/London ...).")
@click.option(
    "--letterhead",
    multiple=True,
    metavar="LINE",
    help="A line at the head of papers; repeat it.",
)
@click.option("--engine", metavar="NAME", help="What finds words: usual, or large.")
@click.pass_context
def init(
    ctx: click.Context,
    base: str | None,
    zone: str | None,
    letterhead: tuple[str, ...],
    engine: str | None,
) -> None:
    """Make a new studio in an empty folder; on an existing one, change its base, letterhead or engine."""
    from catalogue.studio import Studio

    path = ctx.obj["path"]
    if not path:
        raise click.UsageError("name the folder: dorse --studio PATH init")
    changes = base is not None or letterhead or engine
    if (Path(path) / "ledger.sqlite").exists() and changes:
        with open_studio(path) as studio:
            if base is not None:
                studio.set_base(base)
                click.echo(f"records go out under {studio.base} from now on")
            if letterhead:
                studio.set_letterhead(letterhead)
                click.echo(f"papers begin with: {' / '.join(studio.letterhead)}")
            if engine:
                _set_engine(studio, engine)
        return
    with Studio.init(path, base=base, zone=zone) as studio:
        studio.set_letterhead(letterhead)
        if engine:
            _set_engine(studio, engine)
        click.echo(f"a new studio is in {path}")


def _set_engine(studio: Studio, name: str) -> None:
    told = studio.set_engine(name)
    click.echo(told or f"words are found by the {name} engine from now on", err=bool(told))


@main.command()
@click.argument("work")
@as_json
@click.pass_context
def show(ctx: click.Context, work: str, as_json: bool) -> None:
    """Show one work by number; with --json its document as it is kept."""
    with opened(ctx) as studio:
        kept = studio.work(work)
        if as_json:
            click.echo(
                json.dumps(studio.document(kept.document_id), ensure_ascii=False, default=str)
            )
            return
        for line in studio.summary(kept.record):
            click.echo(line)


@main.command()
@click.option(
    "--head", is_flag=True, help="Print the last digest, to be kept outside the studio."
)
@click.option(
    "--expect", metavar="DIGEST", help="A digest printed earlier, which must still be there."
)
@as_json
@click.pass_context
def verify(ctx: click.Context, head: bool, expect: str | None, as_json: bool) -> None:
    """Check that everything kept is what was saved."""
    with opened(ctx) as studio, progress_bar("checking") as progress:
        verdict = studio.verify(expect, progress)
    rows = [
        {"what": each.what, "where": each.where, "message": each.message}
        for each in verdict.faults
    ]
    show_rows(rows, ("what", "where", "message"), as_json)
    for gone in verdict.forgotten:
        click.echo(f"withdrawn: {gone}", err=True)
    if head:
        click.echo(verdict.head)
    if verdict.faults:
        ctx.exit(1)
    if not as_json and not head:
        click.echo(
            f"{verdict.changes} changes, {verdict.documents} documents, {verdict.files} files: as saved"
        )


@main.command()
@click.argument("target", type=click.Path(path_type=Path))
@click.pass_context
def backup(ctx: click.Context, target: Path) -> None:
    """Copy the studio into a folder or a .tar file while it is in use, and verify the copy."""
    with opened(ctx) as studio, progress_bar("copying") as progress:
        studio.backup(target, progress)
    click.echo(f"a verified copy is in {target}")


@main.command()
@click.argument("source", type=click.Path(exists=True, path_type=Path))
@click.pass_context
def restore(ctx: click.Context, source: Path) -> None:
    """Bring a backup back into an empty folder (the one that --studio names)."""
    from catalogue.studio import Studio

    if not ctx.obj["path"]:
        raise click.UsageError("name the folder: dorse --studio PATH restore BACKUP")
    with Studio.restore(source, Path(ctx.obj["path"])):
        click.echo(f"the studio is in {ctx.obj['path']} again")


@main.command()
@click.pass_context
def rebuild(ctx: click.Context) -> None:
    """Make the indexes anew from the ledger alone."""
    with opened(ctx) as studio:
        with progress_bar("indexing") as progress:
            indexed = studio.rebuild(progress)
        click.echo(f"{indexed} documents indexed")


@main.command()
@click.option("--title", help="What a new work is called.")
@click.option("--artist", help="A party on file by this very name, or a new one.")
@click.option("--date", "made", help='As you would write it: "c. 1890".')
@click.option("--to", "onto", metavar="NUMBER", help="Add to this work or job on file instead.")
@click.option(
    "--paper",
    "papers",
    multiple=True,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A file that proves something: a letter, a report. May be said again.",
)
@click.option(
    "--paper-kind", default="other", show_default=True, help="letter, invoice, certificate ..."
)
@click.argument(
    "photos", nargs=-1, type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@click.pass_context
def add(
    ctx: click.Context,
    title: str | None,
    artist: str | None,
    made: str | None,
    onto: str | None,
    papers: tuple[Path, ...],
    paper_kind: str,
    photos: tuple[Path, ...],
) -> None:
    """A new work with photos and papers of it; or photos and papers of one on file."""
    from catalogue.record import Paper, Work

    if (title is None) == (onto is None) or (onto and (artist or made)):
        raise click.UsageError("name a new work with --title, or one on file with --to")
    with opened(ctx) as studio:
        told = [
            Paper(kind=f"paper/{paper_kind}", title=each.stem, file_name=each.name)
            for each in papers
        ]
        kept = (
            studio.named(onto)
            if onto
            else studio.new_work(title=str(title), artist=artist, made=made, who=worker(ctx))
        )
        if photos and not isinstance(kept.record, Work):
            raise click.UsageError("photos belong to works; a job takes papers")
        for photo in photos:
            kept = studio.add_photo(kept, photo.read_bytes(), name=photo.name, who=worker(ctx))
        for paper, file in zip(told, papers, strict=True):
            kept = studio.add_paper(kept, paper, file.read_bytes(), who=worker(ctx))
    click.echo(kept.record.number)


@main.command()
@click.option("--port", default=8710, show_default=True, type=click.IntRange(0, 65535))
@click.option(
    "--folder", type=click.Path(path_type=Path), default=Path("demo-studio"), show_default=True
)
@click.option("--no-serve", is_flag=True, help="Set the studio up, and stop.")
@click.pass_context
def demo(ctx: click.Context, port: int, folder: Path, no_serve: bool) -> None:
    """The studio of invented paintings, in a browser."""
    from catalogue.demo import open_demo
    from catalogue.desk.serving import serve as serve_desk

    with (
        progress_bar("drawing and taking in") as progress,
        open_demo(folder, progress) as studio,
    ):
        click.echo(f"the sample studio is in {folder}")
        if not no_serve:
            serve_desk(
                studio,
                "127.0.0.1",
                port,
                lambda address: click.echo(f"the desk is open at {address}"),
            )


for each in (
    *COMMANDS,
    about,
    argue,
    ask,
    alike,
    borders,
    families,
    import_,
    chain,
    check,
    chronology,
    code,
    doubles,
    draft_reading,
    export,
    exports,
    parse,
    password,
    photos,
    print_,
    provenance,
    retention,
    search,
    searches,
    serve,
    statements,
):
    main.add_command(each)

if __name__ == "__main__":
    main()
