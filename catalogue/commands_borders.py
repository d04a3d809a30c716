"""Before a work travels or is sold, at the command line: licences, protected species, rights."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import click

from catalogue.errors import BadData
from catalogue.terminal import as_json, opened, show_rows

if TYPE_CHECKING:
    from catalogue.measure import Day


@click.command()
@click.argument("work")
@click.option("--from", "leaves", metavar="CC", help="The country it is in: two letters, GB.")
@click.option("--to", "goes_to", metavar="CC", help="The country it goes to.")
@click.option("--value", metavar="SUM", help='What it is worth, or its price: "20000 EUR".')
@click.option("--on", "when", metavar="DAY", help="The day it is to travel; today if not said.")
@click.option("--temporary", is_flag=True, help="It comes back.")
@as_json
@click.pass_context
def borders(
    ctx: click.Context,
    work: str,
    leaves: str | None,
    goes_to: str | None,
    value: str | None,
    when: str | None,
    temporary: bool,
    as_json: bool,
) -> None:
    """Ask what the law may ask before a work (2026-041) crosses a border or is sold.

    Export licence, import, materials of protected species, pictures of it, the maker's share of the
    price: each with its rule, the facts on file that it rests on, and what is not known. The figures
    stand in vocab/borders.toml. Questions to ask, never legal advice.
    """
    from catalogue.argument.borders import Journey, standing_text

    amount, currency = _sum(value)
    with opened(ctx) as studio:
        journey = Journey(
            leaves=leaves.upper() if leaves else None,
            goes_to=goes_to.upper() if goes_to else None,
            value=amount,
            currency=currency,
            on=_day(when) if when else studio.today(),
            temporary=temporary,
        )
        found = studio.before_it_travels(work, journey)
    if as_json:
        rows = (
            {"key": each.key, "question": each.question, "answer": each.answer, "rule": each.rule,
             "because": list(each.because), "version": each.version, "source": each.source}
            for each in found
        )  # fmt: skip
        show_rows(rows, (), as_json=True)
        return
    for each in found:
        click.echo(f"{each.question} {each.answered.capitalize()}. [{each.rule}]")
        for sentence in each.because:
            click.echo(f"  {sentence}")
        click.echo(f"  source: {each.source}{f' ({each.version})' if each.version else ''}")
    click.echo(standing_text())


def _sum(said: str | None) -> tuple[Decimal | None, str | None]:
    """One sum and its currency, as any sum is read: "20000 EUR", "£180,000"."""
    from catalogue.measure import read_money

    if said is None:
        return None, None
    found = read_money(said)
    if len(found) != 1 or found[0].value is None or found[0].currency is None:
        raise BadData(f"{said!r} is no sum", remedy='write it with its currency: "20000 EUR"')
    value = found[0].value
    return Decimal(value.numerator) / Decimal(value.denominator), found[0].currency


def _day(said: str) -> Day:
    from catalogue.measure import read_date

    span = read_date(said, circa=0)
    if span is None or span.earliest is None or span.earliest != span.latest:
        raise BadData(f"{said!r} is no day", remedy="write it as 2026-11-29")
    return span.earliest
