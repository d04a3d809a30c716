"""What went wrong, in the words of the error: one page for each kind of refusal, never a traceback."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from typing import Any

from flask import Flask, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, InternalServerError, SecurityError

from catalogue.desk import drafts
from catalogue.desk.asking import studio
from catalogue.errors import (
    Busy,
    CannotSave,
    CatalogueError,
    Damaged,
    NoStudio,
    NotOnFile,
    StaleRevision,
    Stopped,
)
from catalogue.measure import DateSpan, Day
from catalogue.record.rules import UUID

STATUS: tuple[tuple[type[CatalogueError], int], ...] = (
    (NotOnFile, 404),
    (StaleRevision, 409),
    (Busy, 503),
    (CannotSave, 507),
    (Damaged, 500),
    (NoStudio, 500),
    (CatalogueError, 422),
)
"""The first that fits is the status of the page."""

NOT_REPEATED = frozenset({"csrf_token", "revision"})
NOT_TYPED = NOT_REPEATED | {
    "draft", "draft_place", "draft_from", "draft_called", "shown", "password", "next", "value", "offered",
}  # fmt: skip
MOST_SHOWN = 400
_CHOSEN = re.compile(rf"yes|on|asked|[a-z-]+/[a-z0-9-]+|{UUID}")
"""What is ticked or chosen, not typed: a term, an id, a box."""


def status(error: CatalogueError) -> int:
    """The status of the page that tells of an error."""
    return next(code for kind, code in STATUS if isinstance(error, kind))


def explain_in(app: Flask) -> None:
    """Have every error of this desk explained."""
    app.register_error_handler(StaleRevision, both_versions)
    app.register_error_handler(CatalogueError, in_its_words)
    app.register_error_handler(SecurityError, to_a_stranger)
    app.register_error_handler(HTTPException, in_ours)
    app.register_error_handler(InternalServerError, of_ours)


def in_its_words(error: CatalogueError) -> tuple[str, int]:
    """Say what went wrong in the words of the error."""
    refusals = error.refusals if isinstance(error, Stopped) else ()
    code = status(error)
    return _page(code, error.args[0], error.remedy, refusals, drafts.kept_after_all()), code


def in_ours(error: HTTPException) -> tuple[str, int]:
    """Say what the web's own errors mean here."""
    code = error.code or 500
    # A form without its token may come from elsewhere: it is shown again, and nothing of it is kept.
    goes_on = None if isinstance(error, CSRFError) else drafts.kept_after_all()
    return _page(code, goes_on=goes_on), code


def of_ours(error: InternalServerError) -> tuple[str, int]:
    """Own up to a fault of the program; the log has the rest."""
    return _page(500, goes_on=drafts.kept_after_all()), 500


def _page(
    code: int,
    message: str = "",
    remedy: str = "",
    refusals: Iterable[CatalogueError] = (),
    goes_on: str | None = None,
) -> str:
    return render_template(
        "error.html",
        message=message,
        remedy=remedy,
        refusals=refusals,
        code=code,
        goes_on=goes_on,
        typed=typed_by_hand(),
    )


def typed_by_hand() -> list[tuple[str, str]]:
    """What somebody typed into the form that was refused, to be copied from the page: nothing is lost."""
    if request.method != "POST":
        return []
    try:
        sent = list(request.form.lists())
    except HTTPException:  # too large even to be looked at
        return []
    return [
        (name, text)
        for name, texts in sent
        for text in texts
        if name not in NOT_TYPED and text.strip() and not _CHOSEN.fullmatch(text)
    ][:MOST_SHOWN]


def to_a_stranger(error: SecurityError) -> tuple[str, int]:
    """Answer a request under a name that is not this desk's; no address of ours can be made for it."""
    return render_template("stranger.html"), 400


def both_versions(error: StaleRevision) -> tuple[str, int]:
    """Show the same value as two people left it, and let the second decide."""
    repeated = [
        (name, value)
        for name, values in request.form.lists()
        for value in values
        if name not in NOT_REPEATED
    ]
    page = render_template(
        "stale.html",
        error=error,
        sides=side_by_side(error.mine, error.theirs),
        repeated=repeated,
        revision=_revision_now(),
        goes_on=drafts.kept_after_all(),
    )
    return page, 409


def side_by_side(mine: Any, theirs: Any) -> list[tuple[str, Any, Any]]:
    """(field, mine, theirs) for every field in which two versions differ.

    >>> side_by_side({"text": "Ebb", "kind": "title/given"}, {"text": "Flood", "kind": "title/given"})
    [('text', 'Ebb', 'Flood')]
    """
    ours, others = _as_fields(mine), _as_fields(theirs)
    return [
        (name, ours.get(name), others.get(name))
        for name in {**ours, **others}
        if ours.get(name) != others.get(name)
    ]


def _as_fields(value: Any) -> dict[str, Any]:
    if isinstance(value, dict):
        return value
    if isinstance(value, DateSpan | Day):
        return {
            "": value
        }  # one thing as somebody wrote it, not the days that were worked out of it
    if is_dataclass(value) and not isinstance(value, type):
        return {each.name: getattr(value, each.name) for each in fields(value)}
    return {} if value is None else {"": value}


def _revision_now() -> int:
    shown = request.view_args or {}
    uuid = shown.get("uuid")
    return studio().read(f"{shown.get('kind', 'work')}/{uuid}").revision if uuid else 0
