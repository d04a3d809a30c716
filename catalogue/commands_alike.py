"""Look-alike labels at the command line: those like one, what a person says of two, the families."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows, worker
from catalogue.terms import label

if TYPE_CHECKING:
    from catalogue.alike import Alike, FamilyOnFile, Proposed

COLUMNS = ("work", "inscription", "band", "score", "verdict", "why")
PAIR = ("work", "inscription", "other", "its", "band", "score", "why")
FAMILY = ("family", "work", "inscription", "from", "to", "numbers")


@click.command()
@click.argument("work")
@click.argument("inscription")
@click.option(
    "--same", nargs=2, metavar="WORK NO", help="Confirm that a label is of the same form."
)
@click.option(
    "--not-same", nargs=2, metavar="WORK NO", help="Remember that it is of another form."
)
@click.option("--note", default="", help="What was seen, in words.")
@as_json
@click.pass_context
def alike(
    ctx: click.Context, work: str, inscription: str, same: tuple[str, str] | None,
    not_same: tuple[str, str] | None, note: str, as_json: bool,
) -> None:  # fmt: skip
    """Show the labels of past jobs that are like one (2026-041 I3), best first, with the reasons.

    It only proposes. Say --same 2019-007 I2 where you held both beside each other and they were printed
    from one form, --not-same where they were not; either is kept with your name and the day.
    """
    with opened(ctx) as studio:
        kept = studio.work(work)
        for other, verdict in ((same, "verdict/same-form"), (not_same, "verdict/another-form")):
            if other:
                kept = studio.lay_beside(
                    kept, inscription, other, verdict, who=worker(ctx), note=note
                )
        show_rows(
            (_row(each) for each in studio.alike(kept.record, inscription)), COLUMNS, as_json
        )


def _row(each: Alike) -> dict[str, Any]:
    return {
        "work": each.on_file.work.number,
        "inscription": each.on_file.inscription.number,
        "band": each.likeness.band,
        "score": round(each.likeness.score, 3),
        "verdict": label(each.verdict.verdict) if each.verdict else "",
        "why": " ".join(each.likeness.why),
    }


@click.command()
@click.option(
    "--proposed",
    is_flag=True,
    help="Pairs of the works worked on last that nobody decided yet.",
)
@as_json
@click.pass_context
def families(ctx: click.Context, proposed: bool, as_json: bool) -> None:
    """Show the families of labels: those that people found to be of one printed form, and their years."""
    with opened(ctx) as studio:
        if proposed:
            show_rows(map(_pair, studio.may_be_one_form()), PAIR, as_json)
            return
        rows = (
            row
            for number, each in enumerate(studio.families(), 1)
            for row in _rows(number, each)
        )
        show_rows(rows, FAMILY, as_json)


def _pair(each: Proposed) -> dict[str, Any]:
    return {
        "work": each.one.work.number,
        "inscription": each.one.inscription.number,
        "other": each.other.work.number,
        "its": each.other.inscription.number,
        "band": each.likeness.band,
        "score": round(each.likeness.score, 3),
        "why": " ".join(each.likeness.why),
    }


def _rows(number: int, family: FamilyOnFile) -> Iterator[dict[str, Any]]:
    for each in family.members:
        numbers = [figure for figure, held in family.numbers if held is each]
        yield {
            "family": number,
            "work": each.work.number,
            "inscription": each.inscription.number,
            "from": family.years[0].year if family.years else None,
            "to": family.years[1].year if family.years else None,
            "numbers": ", ".join(map(str, numbers)),
        }
