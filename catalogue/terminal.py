"""What every command shares: errors in words, the studio that was named, who is working, rows shown.

A table for people, JSON lines with `--json`. Exit 1 is a problem with the data, 2 one with the call.
"""

from __future__ import annotations

import getpass
import json
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import click

from catalogue import open_studio
from catalogue.errors import CatalogueError

if TYPE_CHECKING:
    from catalogue.studio import Studio


class Told(click.ClickException):
    """An error of the family, said in its own words; exit code 1."""

    exit_code = 1

    def show(self, file: Any = None) -> None:
        """Print what went wrong to the error stream."""
        click.echo(f"dorse: {self.message}", err=True)


class Door(click.Group):
    """The group that turns every error of the family into words, once, at the door."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command that was asked for."""
        try:
            return super().invoke(ctx)
        except CatalogueError as error:
            raise Told(str(error)) from None
        except BrokenPipeError:
            # The reader (head, less) has seen enough.
            sys.stderr.close()
            raise SystemExit(0) from None


@contextmanager
def opened(ctx: click.Context) -> Iterator[Studio]:
    """The studio that was named, open while the command runs."""
    path = ctx.obj["path"]
    if not path:
        raise click.UsageError("name the studio: dorse --studio PATH ... (or set DORSE_STUDIO)")
    with open_studio(path) as studio:
        yield studio


def worker(ctx: click.Context) -> str:
    """Who is working: as was said, else as this machine knows them."""
    if ctx.obj["who"]:
        return str(ctx.obj["who"])
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return "unknown"


as_json = click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")


def show_rows(rows: Iterable[dict[str, Any]], columns: tuple[str, ...], as_json: bool) -> None:
    """Rows as JSON lines, or as a table whose last column takes what room there is."""
    if as_json:
        for row in rows:
            click.echo(json.dumps(row, ensure_ascii=False))
        return
    cells = [[_cell(row.get(name)) for name in columns] for row in rows]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)] if cells else []
    for line in cells:
        fixed = "  ".join(
            cell.ljust(width) for cell, width in zip(line[:-1], widths, strict=False)
        )
        click.echo(f"{fixed}  {line[-1]}".strip())


def _cell(value: Any) -> str:
    if isinstance(value, list | tuple):
        return "; ".join(_cell(each) for each in value)
    return " ".join(str(value).split()) if value is not None else ""


@contextmanager
def progress_bar(label: str) -> Iterator[Callable[[int, int], None]]:
    """A bar on the error stream, where a person watches it; nothing in a pipe."""
    if not sys.stderr.isatty():
        yield lambda done, total: None
        return
    with click.progressbar(length=1000, label=label, file=sys.stderr) as bar:
        shown = 0

        def move(done: int, total: int) -> None:
            nonlocal shown
            now = done * 1000 // max(total, 1)
            bar.update(max(now - shown, 0))
            shown = max(now, shown)

        yield move
