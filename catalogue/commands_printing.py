"""Papers for people: receipts, reports, labels, as PDF or HTML."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import click

from catalogue.errors import CannotSave
from catalogue.terminal import opened


@click.command("print")
@click.argument("record", metavar="WORK_OR_JOB", required=False)
@click.option("--paper", metavar="NAME", help="Which paper; without it they are listed.")
@click.option(
    "--work", metavar="WORK", help="Which of a commission's works, for a paper about one."
)
@click.option("--check", metavar="K2", help="The condition check to print; else the latest.")
@click.option("--checks", metavar="K1,K2", help="The two checks to compare; else the last two.")
@click.option("--format", "written_as", type=click.Choice(("pdf", "html")),
              help="Else as the name of FILE ends; else PDF.")  # fmt: skip
@click.option("--size", default="a4", show_default=True, type=click.Choice(("a4", "letter")))
@click.option("--out", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--left-out", is_flag=True, help="Also say what stays in the house, and why.")
@click.pass_context
def print_(
    ctx: click.Context,
    record: str | None,
    paper: str | None,
    work: str | None,
    check: str | None,
    checks: str | None,
    written_as: str | None,
    size: str,
    out: Path | None,
    left_out: bool,
) -> None:
    """Print a paper about a work or a commission: a receipt, a report, labels.

    It says what its reader may know and no more: notes, sums and storage places stay in the house. A
    report says what was agreed with a client where it is asked for by the number of the commission.
    HTML prints from any browser; PDF needs pip install 'dorse[pdf]'.
    """
    from catalogue.studio import Studio

    if record is None or paper is None:
        for name, says in Studio.printable().items():
            click.echo(f"{name:<20} {says}")
        return
    if out is None:
        raise click.UsageError("say where to: --out FILE")
    named = tuple(each.strip() for each in (check or checks or "").split(",") if each.strip())
    with opened(ctx) as studio:
        written_as = written_as or ("html" if out.suffix in (".html", ".htm") else "pdf")
        printed = studio.print_(
            record, paper, work=work, checks=named, written_as=written_as, page=size
        )
    try:
        out.write_bytes(printed.content)
    except OSError as refused:
        raise CannotSave(f"{out}: {refused.strerror}", remedy="name another file") from None
    click.echo(f"{printed.title}, {printed.number}: {out}")
    if left_out:
        home = Counter((each.what, each.why) for each in printed.stayed_home)
        for (what, why), count in sorted(home.items()):
            click.echo(f"  {count} × {what}: {why}")
