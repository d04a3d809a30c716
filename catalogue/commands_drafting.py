"""A draft by machine at the command line: what it makes of the print on a photograph. It keeps no record."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from catalogue.terminal import as_json, opened

if TYPE_CHECKING:
    from catalogue.record import Inscription, Photo, Work


@click.command("draft-reading")
@click.argument("work")
@click.argument("inscription", required=False)
@click.option(
    "--photo", metavar="P3", help="This photo: all of it, or where the inscription is framed."
)
@as_json
@click.pass_context
def draft_reading(
    ctx: click.Context, work: str, inscription: str | None, photo: str | None, as_json: bool
) -> None:
    """Draft by machine what is printed on a photo (2026-041 I3, or 2026-041 --photo P3).

    It is no reading: it may drop whole lines without a sign, and handwriting is not what it is made for.
    It is printed, as markup, and kept in no record. A few seconds the first time.
    """
    from catalogue.drafting import as_markup

    with opened(ctx) as studio:
        record = studio.work(work).record
        written = record.inscription(inscription) if inscription else None
        shown, corners = _part(record, written, photo)
        draft = studio.draft_reading(shown, corners, turn=written.orientation if written else 0)
    markup = as_markup(draft)
    if as_json:
        told = {**asdict(draft), "work": work, "markup": markup, "says": draft.says}
        click.echo(json.dumps(told, ensure_ascii=False))
        return
    click.echo(markup)
    click.echo(draft.says, err=True)


def _part(
    work: Work, inscription: Inscription | None, photo: str | None
) -> tuple[Photo, tuple[tuple[float, float], ...]]:
    """The photo and the part of it: the first frame of the inscription on it, else all of it."""
    wanted = work.photo(photo) if photo else None
    for region in inscription.regions if inscription else ():
        if wanted is None or region.photo == wanted.id:
            return work.photo(region.photo), region.corners
    if wanted is None:
        said = "no frame of it is drawn on a photo" if inscription else "what is to be read?"
        raise click.UsageError(f"{said}: name the photo, with --photo P1")
    return wanted, ()
