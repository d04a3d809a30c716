"""Finding at the command line: the same questions, works and order as on the desk; searches kept by name."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows

if TYPE_CHECKING:
    from catalogue.indexes.words import Results
    from catalogue.studio import Studio


@click.command()
@click.argument("words", nargs=-1)
@click.option("--artist", help="Works of this artist.")
@click.option("--kind", help="Hits of this kind (label, stamp, title ...).")
@click.option("--place", help="Hits at this place (back, stretcher ...).")
@click.option("--date", "when", help='Works that may be of this date ("1890-1910", "c. 1900").')
@click.option("--certainly", is_flag=True, help="Only works that lie wholly within the date.")
@click.option("--limit", default=20, show_default=True, type=click.IntRange(1, 1000))
@click.option("--page", default=1, show_default=True, type=click.IntRange(1))
@click.option("--sort", metavar="ORDER", help="best, number, newest, made, own ...")
@click.option("--facets", is_flag=True, help="Count what the works found have in common.")
@click.option(
    "--explain", is_flag=True, help="Say how the question was understood, with --json too."
)
@click.option("--save", metavar="NAME", help="Keep the question under this name.")
@click.option(
    "--saved", metavar="NAME", help="Ask what is kept under this name; words narrow it."
)
@as_json
@click.pass_context
def search(
    ctx: click.Context,
    /,
    words: tuple[str, ...],
    as_json: bool,
    page: int,
    sort: str | None,
    facets: bool,
    explain: bool,
    save: str | None,
    saved: str | None,
    **filters: Any,
) -> None:
    """Find works by words and conditions: harb* "in a row" kind:label painted 1880..1890 -word.

    A question that begins with a minus goes behind two of them: dorse search -- -stamp label. How it
    was understood is said on the error stream.
    """
    with opened(ctx) as studio:
        text = " ".join(words)
        if saved:
            text = f"{studio.saved_search(saved).text} {text}".strip()
        if sort:
            text = _ordered(studio, text, sort)
        found = studio.search(studio.query(text, page=page, counting=facets, **filters))
        counted = studio.narrowed(text, found) if facets else ()
        if save:
            kept = studio.save_search(save, _with(text, **filters))
            click.echo(f"kept as {kept.name!r}: {kept.text}", err=True)
    if explain or not as_json:
        _explain(found)
    if as_json:
        show_rows(_rows(found), (), as_json=True)
    else:
        _show(found)
    for facet in counted:
        told = [
            {"facet": facet.name, "value": each.key, "called": each.says, "count": each.count}
            for each in facet.choices
        ]
        if not as_json:
            click.echo(f"\n{facet.says}")
        show_rows(told, ("count", "called"), as_json)


@click.command()
@click.option("--count", is_flag=True, help="Say how many each finds today.")
@click.option("--rename", nargs=2, metavar="OLD NEW", help="Give one another name.")
@click.option("--remove", metavar="NAME", help="Forget one.")
@as_json
@click.pass_context
def searches(
    ctx: click.Context,
    count: bool,
    rename: tuple[str, str] | None,
    remove: str | None,
    as_json: bool,
) -> None:
    """List the searches that are kept, rename or remove one. `dorse search --saved NAME` asks one."""
    with opened(ctx) as studio:
        if rename:
            studio.rename_search(*rename)
        if remove:
            gone = studio.remove_search(remove)
            click.echo(f"removed {gone.name!r}: {gone.text}", err=True)
        rows: list[dict[str, Any]] = []
        for each in studio.saved_searches():
            row: dict[str, Any] = {"name": each.name, "query": each.text}
            if count:
                row["found"] = studio.search(
                    studio.query(each.text, limit=1, counting=False)
                ).total
            rows.append(row)
    show_rows(rows, ("name", "found", "query") if count else ("name", "query"), as_json)


def _ordered(studio: Studio, text: str, sort: str) -> str:
    from catalogue.indexes.language.fields import orders
    from catalogue.indexes.language.understanding import order_called
    from catalogue.narrowing import ordered

    order = order_called(sort)
    if order is None:
        raise click.BadParameter(
            f"{sort!r} is no order; {', '.join(orders())} are", param_hint="--sort"
        )
    return ordered(text, "" if order == "best" else order)


def _with(text: str, **filters: Any) -> str:
    """The question with the filter options as one would type them, so that it can be kept.

    >>> _with("cubitt", kind="dealer label", when="1890-1910", certainly=True, artist=None)
    'cubitt kind:"dealer label" certainly painted:"1890-1910"'
    """
    from catalogue.narrowing import more

    for option, field in (("artist", "artist"), ("kind", "kind"), ("place", "place")):
        if value := filters.get(option):
            values = value.split() if option == "place" else (value,)
            for each in values:
                text = more(text, field, each)
    if when := filters.get("when"):
        sure = "certainly " if filters.get("certainly") else ""
        text = f'{text} {sure}painted:"{when}"'.strip()
    return text


def _explain(found: Results) -> None:
    """How the question was understood, on the error stream, so that a pipe holds the answer alone."""
    if found.understood:
        click.echo(f"understood as {'; '.join(found.understood)}", err=True)
    for each in found.ignored:
        click.echo(f"left out: {each}", err=True)
    for each in found.notes:
        if each not in found.ignored:
            click.echo(each, err=True)
    if found.behind:
        click.echo(f"the index is {found.behind} saves behind: dorse rebuild", err=True)
    if found.undated:
        click.echo(f"{found.undated} without a date left out", err=True)


def _rows(found: Results) -> Iterator[dict[str, Any]]:
    for hit in found.hits:
        for each in hit.statements:
            yield {
                "work": hit.number or hit.document,
                "name": hit.number or hit.title,
                "where": each.where,
                "kind": each.kind,
                "text": each.text,
                "score": round(hit.score, 3),
                "why": each.why,
                "light": each.light or None,
                "private": each.private,
                "html": each.html,
            }


def _show(found: Results) -> None:
    """A table for people; what was sought is bold where a terminal shows it."""
    rows = list(_rows(found))
    if sys.stdout.isatty():
        for row in rows:
            row["text"] = _bold(row["html"])
    show_rows(rows, ("name", "where", "why", "text"), as_json=False)
    if not rows:
        said = f"; did you mean {', '.join(found.suggestions)}?" if found.suggestions else ""
        click.echo(f"nothing found{said}", err=True)
    elif found.total > found.limit:
        least = "" if found.exact else "at least "
        click.echo(
            f"page {found.page}, {least}{found.total} found: --page {found.page + 1} goes on",
            err=True,
        )


def _bold(html: str) -> str:
    """Marked text for a terminal.

    >>> _bold("a <mark>b</mark> &amp; c") == "a \\x1b[1mb\\x1b[22m & c"
    True
    """
    from html import unescape

    return unescape(html.replace("<mark>", "\x1b[1m").replace("</mark>", "\x1b[22m"))
