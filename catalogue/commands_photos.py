"""`dorse photos`: a folder or a camera card of photographs, sorted by time onto works and taken in."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from catalogue.places import table
from catalogue.terminal import as_json, opened, progress_bar, worker

if TYPE_CHECKING:
    from catalogue.card import Looked
    from catalogue.sittings import Sitting
    from catalogue.studio import Studio


@click.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(exists=True, path_type=Path))
@click.option("--onto", metavar="WORK", help="All of them are of this work.")
@click.option(
    "--clock-ahead",
    default=0.0,
    metavar="MINUTES",
    help="The camera's clock was so many minutes ahead (less than 0: behind).",
)
@click.option(
    "--dry-run", is_flag=True, help="Show which would go where, and why; take nothing in."
)
@as_json
@click.pass_context
def photos(
    ctx: click.Context,
    paths: tuple[Path, ...],
    onto: str | None,
    clock_ahead: float,
    dry_run: bool,
    as_json: bool,
) -> None:
    """Take in a folder or a card of photographs, sorted by the time at which they were taken.

    Each sitting goes to the work that is known to have been worked on, checked or photographed then, or
    whose number the folder has; what is tied to none stays where it is and is told. Sides and lights are
    read off names alone. Each work is saved as a whole or not at all, and nothing is taken in twice.
    """
    from catalogue import card
    from catalogue.sittings import proposed, shifted, sittings

    with opened(ctx) as studio:
        target = studio.work(onto) if onto else None
        looked = _looked_at(studio, card.files_below(paths))
        fit = {each.key: each for each in looked if each.fits}
        frames = shifted((each.frame for each in fit.values()), clock_ahead)
        known = () if target else studio.doings(frames)
        sorted_out = [proposed(each, known) for each in sittings(frames)]
        rows: list[dict[str, Any]] = []
        for where, why, group in _by_work(sorted_out, target.document_id if target else None):
            rows += _taken(studio, where, why, group, fit, ctx, dry_run=dry_run)
        rows += [_left(each) for each in looked if not each.fits]
    _show(rows, as_json, dry_run=dry_run)
    if any(row["outcome"] in ("refused", "no work") for row in rows):
        ctx.exit(1)


def _looked_at(studio: Studio, files: Iterable[tuple[Path, str]]) -> list[Looked]:
    from catalogue import card

    found = list(files)
    looked = []
    with progress_bar("looking at the photographs") as progress:
        for done, (path, folder) in enumerate(found):
            progress(done, len(found))
            looked.append(
                studio.look_at(
                    path, key=str(path), name=path.name, folder=folder,
                    written=path.stat().st_mtime,
                )
            )  # fmt: skip
    return card.without_doubles(looked)


def _by_work(
    sorted_out: Iterable[Sitting], onto: str | None
) -> Iterable[tuple[str | None, str, list[Any]]]:
    """The photographs of each work together, with the reasons; those of none last."""
    from catalogue.sittings import FILE

    groups: dict[str | None, tuple[list[str], list[Any]]] = {}
    for sitting in sorted_out:
        where = onto or (sitting.proposed.work if sitting.proposed else None)
        reasons, group = groups.setdefault(where, ([], []))
        reasons.append(str(table(FILE)["words"]["you_said"]) if onto else sitting.why)
        group += sitting.frames
    ordered = sorted(groups, key=lambda each: (each is None, each or ""))
    return [
        (each, "; ".join(dict.fromkeys(groups[each][0])), groups[each][1]) for each in ordered
    ]


def _taken(
    studio: Studio, where: str | None, why: str, group: list[Any], fit: dict[str, Looked],
    ctx: click.Context, *, dry_run: bool,
) -> list[dict[str, Any]]:  # fmt: skip
    from catalogue.errors import CatalogueError
    from catalogue.sittings import read_off

    said, numbers, outcome = why, "", "no work" if where is None else "would be taken in"
    if where is not None:
        kept = studio.work(where)
        numbers = kept.record.number or ""
        if not dry_run:
            pictures = [
                (fit[each.key].photo(each.at, **read_off(each)), Path(each.key))
                for each in group
            ]
            try:
                studio.add_photos(kept, pictures, who=worker(ctx))
                outcome = "taken in"
            except CatalogueError as refused:
                outcome, said = "refused", str(refused.args[0])
    return [
        {
            "file": each.key, "work": numbers or None, "outcome": outcome, "why": said,
            "at": each.at.isoformat() if each.at else None, "clock": each.clock or None,
            "sha256": fit[each.key].sha256, **read_off(each),
        }
        for each in group
    ]  # fmt: skip


def _left(looked: Looked) -> dict[str, Any]:
    if looked.on_file:
        return {"file": looked.key, "work": looked.on_file.split(" ")[0], "outcome": "on file",
                "why": f"already on {looked.on_file}", "sha256": looked.sha256}  # fmt: skip
    outcome = "double" if looked.doubled else "refused"
    return {"file": looked.key, "work": None, "outcome": outcome,
            "why": looked.refused, "sha256": looked.sha256 or None}  # fmt: skip


def _show(rows: list[dict[str, Any]], as_json: bool, *, dry_run: bool) -> None:
    for row in rows:
        if as_json:
            click.echo(json.dumps(row, ensure_ascii=False))
            continue
        when = (row.get("at") or "")[:16].replace("T", " ")
        when += " (the file's time)" if row.get("clock") == "file" else ""
        place = f"{row['outcome']} {row['work'] or ''}".strip()
        click.echo(f"{place}: {Path(row['file']).name}  {when}".rstrip())
        click.echo(f"  {row['why']}")
    if not as_json:
        counts: dict[str, int] = {}
        for row in rows:
            counts[row["outcome"]] = counts.get(row["outcome"], 0) + 1
        told = ", ".join(f"{count} {outcome}" for outcome, count in counts.items())
        click.echo(told or "no photographs lie there")
