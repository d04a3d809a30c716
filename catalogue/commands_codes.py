"""Prices in a dealer's letters, at the command line."""

from __future__ import annotations

import click

from catalogue.terminal import as_json, opened, show_rows

COLUMNS = ("key", "figures", "number")
_MOST = 12


@click.command()
@click.argument("written", required=False)
@click.option("--key", metavar="NAME", help="By this key alone, not by every key on file.")
@click.option("--keys", "listed", is_flag=True, help="What the keys on file are called.")
@click.option(
    "--keep", metavar="NAME", help="Keep a key under this name; its word is asked for, unseen."
)
@click.option(
    "--repeaters",
    default="",
    metavar="LETTERS",
    help="With --keep: letters that repeat a figure.",
)
@click.option("--from-nought", is_flag=True, help="With --keep: its first letter is 0, not 1.")
@click.option("--drop", metavar="NAME", help="Forget a key.")
@as_json
@click.pass_context
def code(
    ctx: click.Context,
    written: str | None,
    key: str | None,
    listed: bool,
    keep: str | None,
    repeaters: str,
    from_nought: bool,
    drop: str | None,
    as_json: bool,
) -> None:
    """Read a price in a dealer's letters (BLKE) by the keys on file. A reading, no fact.

    Type a doubtful letter as K_, one that cannot be read as ?. Keys are the studio's own: they stay in
    its folder and its backups, and leave in no record and no export.
    """
    with opened(ctx) as studio:
        if keep:
            word = click.prompt("The key word", hide_input=True)
            studio.keep_price_key(keep, word, repeaters=repeaters, from_nought=from_nought)
        if drop:
            studio.drop_price_key(drop)
        if listed or not written:
            show_rows(({"key": each} for each in studio.price_keys()), ("key",), as_json)
            return
        rows = [
            {"key": name, "figures": each.figures, "number": each.number}
            for name, found in studio.read_price_code(written, key).items()
            for each in (found if as_json else found[:_MOST])
        ]
        show_rows(iter(rows), COLUMNS, as_json)
        if not rows:
            click.echo("no key on file fits these letters", err=True)
