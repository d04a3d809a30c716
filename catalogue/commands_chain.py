"""Through whose hands a work went, at the command line: the chain, a day, a window, what rests on what."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from catalogue.terminal import as_json, opened, show_rows

if TYPE_CHECKING:
    from catalogue.argument.chain.falling import Falls
    from catalogue.argument.chain.resting import Supported
    from catalogue.argument.spans import Interval
    from catalogue.argument.timing.changes import Changes
    from catalogue.hands import Asked, Covered, Hands, Held
    from catalogue.studio import Studio

Row = dict[str, Any]


@click.command()
@click.argument("work")
@click.option(
    "--on", "when", metavar="DAY", help="Who had it then: 1936-03-03, 1929, 1933-1945."
)
@click.option(
    "--window", "windows", multiple=True, metavar="KEY", help="How far this window is known."
)
@click.option(
    "--supports", "source", metavar="NUMBER",
    help="What an inscription or paper (I2, D1) supports, and what would fall without it.",
)  # fmt: skip
@click.option("--event", metavar="NUMBER", help="What an event (E2) rests on.")
@click.option(
    "--together", is_flag=True,
    help="The chain by all evidence at once, labels and lives too, not by its own dates alone.",
)  # fmt: skip
@click.option("--questions", is_flag=True, help="What is asked before a sale or loan.")
@as_json
@click.pass_context
def chain(
    ctx: click.Context,
    work: str,
    when: str | None,
    windows: tuple[str, ...],
    source: str | None,
    event: str | None,
    together: bool,
    questions: bool,
    as_json: bool,
) -> None:
    """Say through whose hands a work (2026-041) went: holdings, gaps and overlaps in days, windows of years.

    Only an owner owned it: an agent, an auctioneer and a keeper had it for somebody else, and a label
    proves no more than that the work was there. A gap is not an accusation, and a chain without one
    proves no title.
    """
    if sum(map(bool, (when, source, event, questions))) > 1:
        raise click.UsageError("ask one thing: --on, --supports, --event or --questions")
    with opened(ctx) as studio:
        rows = _asked(studio, work, when, windows, source, event, together, questions)
        if as_json:
            show_rows(rows, (), as_json=True)
        else:
            for row in rows:
                _tell(row)


def _asked(
    studio: Studio,
    work: str,
    when: str | None,
    windows: tuple[str, ...],
    source: str | None,
    event: str | None,
    together: bool,
    questions: bool,
) -> Iterator[Row]:
    if when:
        return _held(studio.held(work, when))
    if source:
        falls, moved = studio.would_fall(work, source), studio.would_move(work, source)
        return _supports(studio.supports(work, source), falls, moved)
    if event:
        return (
            {"what": "evidence", "kind": each.evidence.kind, "source": each.called,
             "grade": each.evidence.strength, "photos": list(each.photos), "says": [each.called]}
            for each in studio.rests_on(work, event)
        )  # fmt: skip
    if questions:
        return _questions(studio.diligence(work))
    return _chain(studio.chain(work, windows, together=together))


def _tell(row: Row) -> None:
    """A row for a person: its head, and what is said about it beneath."""
    head, *others = (row.get("head"), *row["says"]) if row.get("head") else row["says"]
    click.echo(head)
    for said in others:
        click.echo(f"    {said}")


def _chain(hands: Hands) -> Iterator[Row]:
    from catalogue.argument.chain.words import table
    from catalogue.argument.chain.words import together as joined

    holds = table("holds")
    passed = {each.before[-1]: each for each in hands.passages}
    for each in hands.tenures:
        yield {
            "what": "tenure",
            "number": each.number,
            "name": each.name,
            "hold": each.hold,
            "began": _ends(each.began),
            "ended": _ends(each.ended),
            "recorded_end": _ends(each.said_ended),
            "certainty": each.certainty,
            "supported": each.supported,
            "by_mark_alone": each.by_mark,
            "beside": each.beside,
            "head": f"{each.number:<4}{'  ' if each.beside else ''}{each.name}: {holds[each.hold]}",
            "says": [
                _days_said(each.began, each.ended),
                *_doubts(each.supported, each.by_mark and each.hold == "owner"),
            ],
        }
        found = passed.get(each)
        if found:
            names = (joined(it.name for it in side) for side in (found.before, found.after))
            yield {
                "what": "passage",
                "before": found.before[0].number,
                "after": found.after[0].number,
                "direct": found.stands,
                "downgraded": found.downgraded,
                "gap_days": found.gap_days,
                "gap": _ends(found.gap) if found.gap else None,
                "most_gap_days": found.most_gap,
                "overlap_days": found.overlap_days,
                "most_overlap_days": found.most_overlap,
                "head": f"      {' to '.join(names)}",
                "says": list(found.says()),
            }
    yield from map(_window, hands.windows)


def _window(each: Covered) -> Row:
    known, owned = each.known, each.owned
    return {
        "what": "window",
        "key": each.window.key,
        "level": known.level,
        "days": known.days,
        "proven_days": known.proven_days,
        "proven_percent": known.proven_percent,
        "possible_days": known.possible_days,
        "possible_percent": known.possible_percent,
        "nobody_days": known.nobody_days,
        "owner_proven_days": owned.proven_days,
        "owner_possible_days": owned.possible_days,
        "open": [_ends(it.days) for it in known.open_stretches()],
        "head": each.window.name,
        "says": [each.window.where, *each.says()],
    }


def _held(found: Held) -> Iterator[Row]:
    certain, possible = found.owners
    yield {
        "what": "held",
        "first": found.first.iso,
        "last": found.last.iso,
        "owners_certain": [each.name for each in certain],
        "owners_possible": [each.name for each in possible],
        "certain": [{"name": each.name, "hold": each.hold} for each in found.certain],
        "possible": [{"name": each.name, "hold": each.hold} for each in found.possible],
        "head": found.question(),
        "says": list(found.says()),
    }


def _supports(found: tuple[Supported, ...], falls: Falls, moved: Changes) -> Iterator[Row]:
    for each in found:
        yield {
            "what": "supported",
            "kind": each.sort,
            "value": each.value,
            "called": each.called,
            "field": each.field,
            "alone": each.alone,
            "others": len(each.left),
            "says": [f"{each.sort:<10} {each.called}"],
        }
    from catalogue.argument.chain.words import table

    nothing = table("doubts")["nothing_rests"]
    yield {"what": "falls", "says": list(falls.says()) or [nothing]}
    for move in moved.elsewhere:
        yield {
            "what": "moved",
            "event": move.event.id,
            "called": move.event.called,
            "end": move.instant.end,
            "before": _ends(move.before) if move.before else None,
            "after": _ends(move.after) if move.after else None,
            "says": [move.says()],
        }


def _questions(found: tuple[Asked, ...]) -> Iterator[Row]:
    for each in found:
        yield {
            "what": "question",
            "key": each.key,
            "question": each.question,
            "open": each.open,
            "facts": [
                {"number": it.number, "kind": it.sort, "on": it.on.iso if it.on else None,
                 "says": it.says}
                for it in each.facts
            ],
            "head": each.question,
            "says": list(each.says()),
        }  # fmt: skip
    from catalogue.argument.chain.diligence import closing

    yield {"what": "note", "says": [closing()]}


def _ends(days: Interval) -> list[str | None]:
    return [day.iso if day else None for day in (days.earliest, days.latest)]


def _days_said(began: Interval, ended: Interval) -> str:
    from catalogue.argument.chain.words import instant, say

    return say("words", "held_days", began=instant(began), ended=instant(ended))


def _doubts(supported: bool, by_mark: bool) -> Iterator[str]:
    from catalogue.argument.chain.words import table

    said = table("doubts")
    if not supported:
        yield said["unsupported"]
    if by_mark:
        yield said["by_mark"]
