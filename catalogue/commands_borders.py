"""Before a work travels or is sold, at the command line: licences, protected species, rights."""

from __future__ import annotations

import click

from catalogue.terminal import as_json, opened, show_rows


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
    from catalogue.argument.borders import journey_typed, standing_text

    with opened(ctx) as studio:
        journey = journey_typed(
            studio.today(),
            leaves=leaves,
            goes_to=goes_to,
            value=value,
            on=when,
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
