"""`dorse serve` and `dorse password`: the desk on this machine, and on the studio's own network."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from catalogue.terminal import opened


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=8710, show_default=True, type=click.IntRange(0, 65535))
@click.option("--lan", is_flag=True, help="Open it to the studio's own network too.")
@click.option(
    "--address",
    "addresses",
    multiple=True,
    metavar="ADDRESS",
    help="With --lan: this machine's address there, where it is not found; repeat it.",
)
@click.pass_context
def serve(
    ctx: click.Context, host: str, port: int, lan: bool, addresses: tuple[str, ...]
) -> None:
    """Open the desk in a browser: on this machine alone, or with --lan on tablets in the studio too.

    With --lan other machines have to give the studio's password (dorse password); this one does not.
    """
    from catalogue.desk import own_addresses, password, serving

    if addresses and not lan:
        raise click.UsageError("--address goes with --lan")
    if lan and host != "127.0.0.1":
        raise click.UsageError("--host is for this machine alone; with --lan say --address")
    with opened(ctx) as studio:
        if not lan:
            serving.serve(
                studio, host, port, lambda told: click.echo(f"the desk is open at {told}")
            )
            return
        at = own_addresses.chosen(addresses)
        if password.kept(studio.folder) is None and sys.stdin.isatty():
            click.echo(
                "Other machines enter with a password of the studio, which it lacks yet."
            )
            password.choose(studio.folder, _asked_twice())
        serving.serve_around(studio, at, port, _tell)


def _tell(own: str, others: tuple[str, ...]) -> None:
    """The addresses, each for others as a square code too, and what one should know."""
    import segno

    click.echo(f"the desk is open at {own} on this machine")
    for address in others:
        click.echo(f"and at {address} for others on the studio's network, with the password")
        if sys.stdout.isatty():
            segno.make_qr(address, error="m").terminal(compact=True)
    click.echo(
        "The line is not encrypted (http): use it on the studio's own network only.\n"
        f"The codes for tablets are also at {own}enter-from-elsewhere\n"
        "Ctrl+C closes the desk for everybody."
    )


@click.command()
@click.option(
    "--hours",
    type=click.IntRange(1, 744),
    help="For how many hours one may stay (12 unless set).",
)
@click.option(
    "--send-everybody-out", is_flag=True, help="Have everybody enter again; the password stays."
)
@click.pass_context
def password(ctx: click.Context, hours: int | None, send_everybody_out: bool) -> None:
    """Set the studio's password, with which other machines enter (dorse serve --lan).

    It is asked twice; a script gives it as one line on the standard input. A new password sends out
    whoever entered with the old one. It is kept as a scrypt hash in a file of the studio's folder that
    only you may read; no export and no backup carries it.
    """
    from catalogue.desk import password as words

    with opened(ctx) as studio:
        folder: Path = studio.folder
        if send_everybody_out:
            words.send_everybody_out(folder)
            click.echo("everybody who entered from another machine has to enter again")
            return
        if hours and words.kept(folder) is not None:
            words.set_hours(folder, hours)
            click.echo(f"one may stay for {hours} hours from now on; the password stays")
            return
        words.choose(folder, _asked_twice(), hours)
        click.echo("the studio's password is set; whoever entered before has to enter again")


def _asked_twice() -> str:
    """The password: asked twice of a person, one line of what a script hands over."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    return str(
        click.prompt("The studio's password", hide_input=True, confirmation_prompt="Again")
    )
