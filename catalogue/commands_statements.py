"""What a label says, at the command line: the statements of an inscription, and decisions about them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows, worker

if TYPE_CHECKING:
    from catalogue.keeping import Kept
    from catalogue.studio import Studio

COLUMNS = ("no", "kind", "written", "value", "standing")


@click.command()
@click.argument("work")
@click.argument("inscription")
@click.option(
    "--accept", multiple=True, metavar="NO", type=int, help="It is what it was taken for."
)
@click.option("--reject", multiple=True, metavar="NO", type=int, help="It is not.")
@click.option(
    "--correct", multiple=True, metavar="NO VALUE", type=(int, str),
    help="It is, and this is what it comes to.",
)  # fmt: skip
@as_json
@click.pass_context
def statements(
    ctx: click.Context,
    work: str,
    inscription: str,
    accept: tuple[int, ...],
    reject: tuple[int, ...],
    correct: tuple[tuple[int, str], ...],
    as_json: bool,
) -> None:
    """Say what an inscription (I2) of a work says: dates, prices, names, addresses, numbers.

    What nobody decided about yet has a number; decide with --accept 2 --reject 3 --correct 4 "1 May
    1903". What is rejected is not asked again.
    """
    decisions = [
        *((number, "standing/accepted", None) for number in accept),
        *((number, "standing/rejected", None) for number in reject),
        *((number, "standing/corrected", value) for number, value in correct),
    ]
    with opened(ctx) as studio:
        kept = studio.work(work)
        if decisions:
            kept = _decided(studio, kept, inscription, decisions, worker(ctx))
        show_rows(_rows(studio, kept, inscription), COLUMNS, as_json)


def _decided(
    studio: Studio,
    kept: Kept[Any],
    named: str,
    decisions: list[tuple[int, str, str | None]],
    who: str,
) -> Kept[Any]:
    """The work after the decisions; the numbers are those that were shown before the first of them."""
    inscription = kept.record.inscription(named)
    found = dict(enumerate(studio.statements(inscription), start=1))
    unknown = [number for number, _, _ in decisions if number not in found]
    if unknown:
        raise click.UsageError(f"{named} has no open statement {unknown[0]}")
    shown = inscription.preferred()
    for number, standing, value in decisions:
        statement = found[number].decided(shown.id, standing, value=value)
        kept = studio.decide(kept, inscription.id, statement, who=who)
    return kept


def _rows(studio: Studio, kept: Kept[Any], named: str) -> list[dict[str, Any]]:
    from catalogue.terms import label

    inscription = kept.record.inscription(named)
    still_open = [
        {
            "no": number,
            "kind": label(each.kind),
            "written": each.written,
            "value": each.value,
            "standing": f"open: {each.doubt}" if each.doubt else "open",
        }
        for number, each in enumerate(studio.statements(inscription), start=1)
    ]
    decided = [
        {
            "no": None,
            "kind": label(each.kind),
            "written": each.written,
            "value": each.value,
            "standing": label(each.standing),
        }
        for each in inscription.statements
    ]
    return still_open + decided
