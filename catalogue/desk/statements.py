"""What a reading says, beside its text: each statement with its letters, to accept, correct or reject."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, forms
from catalogue.desk.asking import at_work, reader, studio
from catalogue.errors import BadData, NotOnFile
from catalogue.record import Inscription, Note, Statement, Transcript
from catalogue.record.rules import OPEN as OPEN_TO_ALL
from catalogue.terms import group, label

pages = Blueprint("statements", __name__)

OPEN = "open"
"""What a form sends for a decision that is taken back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One statement of the text shown. `number` joins it to its letters there, 0 where it is in another.

    `found` is the statement as a reader found it, None for one that was decided: then `kept` is it.
    """

    number: int
    key: str
    found: Any = None
    kept: Statement | None = None

    @property
    def said(self) -> Any:
        """The statement, found or kept: its kind, its words, what it comes to."""
        return self.kept or self.found


@dataclass(frozen=True, slots=True)
class Piece:
    """Some letters of the text that look alike, and the numbers of the statements they belong to.

    `ends` are the numbers of those that end with it.
    """

    text: str
    doubtful: bool
    struck: bool
    numbers: tuple[int, ...]
    ends: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """What an inscription says: the text of the reading shown first, in pieces, and its statements."""

    pieces: tuple[Piece, ...]
    rows: tuple[Row, ...]
    rejected: tuple[Row, ...]
    elsewhere: tuple[Row, ...]

    @property
    def still_open(self) -> int:
        """How many statements nobody decided about yet."""
        return sum(row.kept is None for row in self.rows)


def said_by(inscription: Inscription) -> Said | None:
    """What the reading of an inscription that is shown first says; None where nobody read it."""
    shown = inscription.preferred()
    if shown is None:
        return None
    here = [each for each in inscription.statements if each.transcript == shown.id]
    kept = [each for each in here if each.standing != "standing/rejected"]
    rows = _numbered(studio().statements(inscription), kept)
    return Said(
        pieces=tuple(_pieces(shown, rows)),
        rows=rows,
        rejected=_unnumbered(each for each in here if each not in kept),
        elsewhere=_unnumbered(each for each in inscription.statements if each not in here),
    )


def _numbered(found: Iterable[Any], kept: Iterable[Statement]) -> tuple[Row, ...]:
    """Open and kept statements as one list, in the order of the text."""
    rows = [
        *(Row(number=0, key=_key(each), found=each) for each in found),
        *(Row(number=0, key=each.id, kept=each) for each in kept),
    ]
    rows.sort(key=lambda row: (row.said.start, -row.said.end))
    return tuple(
        Row(number=number, key=row.key, found=row.found, kept=row.kept)
        for number, row in enumerate(rows, start=1)
    )


def _unnumbered(kept: Iterable[Statement]) -> tuple[Row, ...]:
    return tuple(Row(number=0, key=each.id, kept=each) for each in kept)


def _key(found: Any) -> str:
    """What names an open statement to the form that decides about it."""
    return f"{found.start}-{found.end}-{found.kind}"


def _pieces(shown: Transcript, rows: tuple[Row, ...]) -> Iterator[Piece]:
    letters = shown.reading().seen_letters()
    starts = [each.start for each in letters]
    numbers: list[tuple[int, ...]] = [()] * len(letters)
    ends: set[tuple[int, int]] = set()
    for row in rows:
        first, last = (bisect_left(starts, at) for at in (row.said.start, row.said.end))
        for at in range(first, last):
            numbers[at] = (*numbers[at], row.number)
        ends.add((last - 1, row.number))
    for alike, held in groupby(
        range(len(letters)),
        key=lambda at: (letters[at].doubtful, letters[at].struck, numbers[at]),
    ):
        places = list(held)
        ended = tuple(each for each in alike[2] if (places[-1], each) in ends)
        yield Piece("".join(letters[at].letter for at in places), *alike, ended)


@pages.post("/work/<uuid:uuid>/read/<uuid:inscription>/statements")
def decide(uuid: UUID, inscription: UUID) -> Response:
    """Keep what somebody made of one statement, or open the question again."""
    kept = asking.work(uuid, forms.revision())
    before = kept.record.inscription(str(inscription))
    standing = forms.text("decision")
    if standing == OPEN:
        named = forms.text("statement") or ""
        studio().undecide(kept, before.id, named, who=at_work())
        flash("", "undecided")
    else:
        statement = _decided(before, standing)
        studio().decide(kept, before.id, statement, who=at_work())
        flash(
            f"{label(statement.kind)} “{statement.written}”: {label(statement.standing)}",
            "decided",
        )
    return redirect(
        url_for(
            "slip.again",
            uuid=uuid,
            inscription=inscription,
            photo=forms.text("photo"),
            _anchor="statements",
        )
    )


def _decided(inscription: Inscription, standing: str | None) -> Statement:
    """The statement that the form names, as it was decided. Raises `NotOnFile`, `BadData`.

    Whoever was told that somebody else decided meanwhile, and insists, decides about it all the same.
    """
    wanted, shown = forms.text("statement") or "", inscription.preferred()
    others = tuple(
        each
        for each in inscription.statements
        if not wanted.startswith(f"{each.start}-{each.end}-")
    )
    found = studio().statements(replace(inscription, statements=others))
    statement = next((each for each in found if _key(each) == wanted), None)
    if statement is None or shown is None:
        raise NotOnFile("no such statement is found here", remedy="load the page again")
    if standing not in {each.key for each in group("standing")}:
        raise BadData("a statement is accepted, corrected or rejected")
    if standing != "standing/corrected":
        return statement.decided(shown.id, standing)
    return replace(
        statement.decided(
            shown.id, standing, kind=forms.text("kind"), value=forms.text("value")
        ),
        notes=_note(),
        visibility=forms.text("visibility") or OPEN_TO_ALL,
    )


def _note() -> tuple[Note, ...]:
    said = forms.text("note")
    if said is None:
        return ()
    return (Note(kind="note/inscription", text=said, by=reader(), on=studio().today()),)
