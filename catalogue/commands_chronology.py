"""When everything happened to a work, at the command line: windows, the reasons of one, contradictions."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Literal

import click

from catalogue.errors import NotOnFile
from catalogue.terminal import as_json, opened, show_rows

if TYPE_CHECKING:
    from catalogue.argument.timing.claims import Event, Instant
    from catalogue.argument.timing.solving import Chronology

Row = dict[str, Any]
_ENDS = ("began", "ended")
_BOUNDS: tuple[Literal["earliest", "latest"], ...] = ("earliest", "latest")


@click.command()
@click.argument("work")
@click.argument("event", required=False)
@as_json
@click.pass_context
def chronology(ctx: click.Context, work: str, event: str | None, as_json: bool) -> None:
    """Say when everything happened to a work (2026-041), by all that is on record at once.

    With an event (I3, E2, "the painting") it gives the reasons for its days, each resting on those
    before it. What contradicts is told, with what would settle it; nothing is decided.
    """
    with opened(ctx) as studio:
        solved = studio.chronology(work)
    if event is not None:
        rows = list(_reasons(solved, event))
        if as_json:
            show_rows(rows, (), as_json=True)
        else:
            _tell_reasons(rows)
        return
    windows = [_row(solved, each) for each in solved.events]
    if as_json:
        show_rows((*windows, *_clashes(solved)), (), as_json=True)
        return
    _tell_windows(windows)
    for clash in _clashes(solved):
        click.echo(f"\n{clash['says']}\n  {clash['remedy']}")


def _row(solved: Chronology, event: Event) -> Row:
    """An event with the days between which it began and ended, None = open."""
    from catalogue.argument.timing.in_words import group_of

    row: Row = {"event": event.id, "group": group_of(event), "called": event.called}
    row["what"] = event.words
    for end, instant in zip(_ENDS, (event.began, event.ended), strict=True):
        window = solved.window(instant)
        for bound in _BOUNDS:
            day = getattr(window, bound)
            row[f"{end}_{bound}"] = day.iso if day else None
    return row


def _tell_windows(rows: list[Row]) -> None:
    """A table: what, when it began, when it ended where that is another day."""
    shown = []
    for row in rows:
        began, ended = ([row[f"{end}_{bound}"] for bound in _BOUNDS] for end in _ENDS)
        if any((*began, *ended)):
            shown.append(
                {"what": row["what"], "began": _span(began), "ended": _span(ended)}
                if began != ended
                else {"what": row["what"], "began": _span(began), "ended": ""}
            )
    head = {"what": "what", "began": "began or was", "ended": "ended"}
    show_rows((head, *shown), ("what", "began", "ended"), as_json=False)
    told = {row["what"] for row in shown}
    silent = [row["what"] for row in rows if row["what"] not in told]
    if silent:
        click.echo(f"\nnothing on record says when: {', '.join(silent)}")


def _span(days: list[str | None]) -> str:
    first, last = days
    if first == last:
        return first or "open"
    return f"{first or '...'} to {last or '...'}"


# --- reasons --------------------------------------------------------------------------------------


def _reasons(solved: Chronology, wanted: str) -> Iterator[Row]:
    """Every link of the reasons for the days of the events that are called so."""
    from catalogue.argument.timing.in_words import firmness_in_words, reasons

    meant = [each for each in solved.events if wanted in (each.called, each.id, each.words)]
    if not meant:
        called = ", ".join(dict.fromkeys(each.called for each in solved.events))
        raise NotOnFile(f"nothing here is called {wanted!r}", remedy=f"there are: {called}")
    for event in meant:
        ends: tuple[Instant, ...] = tuple(dict.fromkeys((event.began, event.ended)))
        for instant in ends:
            for bound in _BOUNDS:
                for number, (says, link) in enumerate(reasons(solved, instant, bound), 1):
                    yield {
                        "event": event.id, "what": event.words, "end": instant.end, "bound": bound,
                        "link": number, "says": says, "day": link.day.iso,
                        "firmness": link.claim.firmness.name.lower(), "firm": firmness_in_words(link.claim),
                        "source": link.claim.source, "rests_on": list(link.claim.rests_on),
                    }  # fmt: skip


def _tell_reasons(rows: list[Row]) -> None:
    if not rows:
        click.echo("nothing on record says when")
    said = None
    for row in rows:
        about = (row["what"], row["end"], row["bound"])
        if about != said:
            click.echo(f"{row['what']}, {row['end']}, {row['bound']}:")
            said = about
        source = f" [{row['source']}]" if row["source"] else ""
        click.echo(f"  {row['link']}. {row['says']} ({row['firm']}){source}")


# --- contradictions -------------------------------------------------------------------------------


def _clashes(solved: Chronology) -> Iterator[Row]:
    from catalogue.argument.timing.in_words import contradiction_in_words

    for each in solved.contradictions:
        clash = contradiction_in_words(each)
        yield {
            "contradiction": list(clash.cannot), "given_up": list(clash.given_up),
            "firm": clash.firm, "resolve": list(clash.resolve), "rests_on": list(clash.rests_on),
            "says": clash.says, "remedy": clash.remedy,
        }  # fmt: skip
