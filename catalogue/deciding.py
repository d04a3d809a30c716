"""Decisions about statements: what a person made of letters that a reader took for a date or a price."""

from __future__ import annotations

from dataclasses import replace

from catalogue.errors import NotOnFile
from catalogue.record import Inscription, Statement, Work
from catalogue.terms import label


def decided(work: Work, inscription: str, statement: Statement) -> Work:
    """The work with a decision about a statement of one inscription, in the place of an earlier one."""
    return _with(work, inscription, statement.id, (statement,))


def undecided(work: Work, inscription: str, statement: str) -> Work:
    """The work without a decision, so that the question is open again. Raises `NotOnFile`."""
    decision_on(work.inscription(inscription), statement)
    return _with(work, inscription, statement, ())


def decision_on(inscription: Inscription, statement: str) -> Statement:
    """What was decided about a statement, by its id. Raises `NotOnFile`."""
    for each in inscription.statements:
        if each.id == statement:
            return each
    raise NotOnFile("nothing is decided about that statement", remedy="load the page again")


def decision_said(statement: Statement) -> str:
    """A decision in a few words.

    >>> decision_said(Statement(kind="statement/money", written="12 gns", transcript="0" * 8 + "-0000" * 3 +
    ...     "-" + "0" * 12, start=0, end=6, standing="standing/accepted"))
    'price “12 gns” accepted'
    """
    return f"{label(statement.kind)} “{statement.written}” {label(statement.standing)}"


def _with(work: Work, inscription: str, own: str, now: tuple[Statement, ...]) -> Work:
    before = work.inscription(inscription)
    others = tuple(each for each in before.statements if each.id != own)
    after = replace(before, statements=(*others, *now))
    rest = tuple(each for each in work.inscriptions if each.id != after.id)
    return replace(work, inscriptions=(*rest, after))
