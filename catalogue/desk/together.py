"""Two people on one record: who else has it open, and whether somebody saved it since the page was made.

Each open page says so every twenty seconds. It is held in memory alone and forgotten after a minute; what is
lost with the server is known again with the next word of the pages.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock
from typing import Any

from flask import Blueprint, current_app, render_template, request, url_for
from markupsafe import Markup
from werkzeug.exceptions import HTTPException

from catalogue.desk import forms
from catalogue.desk.asking import at_work, studio
from catalogue.errors import CatalogueError

pages = Blueprint("together", __name__)

FORGOTTEN_AFTER = 60.0
"""Seconds without a word from a page until it counts as closed."""

MOST_RECORDS = 5000
_HERE = "who has what open"
_KINDS = {"work": "work", "jobs": "job", "people": "party"}
_RECORD = re.compile(r"(?:work|job|party)/[0-9a-f-]{36}")
_REVISION = re.compile(r"[0-9]{1,9}")


class Present:
    """Who has which record open, as of their last word.

    >>> present = Present(clock=lambda: 0.0)
    >>> present.say("work/1", "Nell"), present.say("work/1", "Tobias"), present.say("work/2", "Ada")
    ([], ['Nell'], [])
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._said: dict[str, dict[str, float]] = {}
        self._lock = Lock()

    def say(self, record: str, who: str) -> list[str]:
        """Somebody has a record open; who else has, in the order in which they came."""
        with self._lock:
            self._forget()
            open_by = self._said.setdefault(record, {})
            if who:
                open_by[who] = self._clock()
            return [each for each in open_by if each != who]

    def leave(self, record: str, who: str) -> None:
        """Somebody closed a record."""
        with self._lock:
            self._said.get(record, {}).pop(who, None)

    def _forget(self) -> None:
        since = self._clock() - FORGOTTEN_AFTER
        for record, open_by in list(self._said.items()):
            for who in [each for each, at in open_by.items() if at < since]:
                del open_by[who]
            if not open_by:
                del self._said[record]
        while len(self._said) >= MOST_RECORDS:
            self._said.pop(next(iter(self._said)))


def _present() -> Present:
    found: Present = current_app.extensions.setdefault(_HERE, Present())
    return found


@dataclass(frozen=True, slots=True)
class Saved:
    """The last save since a page was made, its own left out. `mine`: the same person's on another page."""

    who: str
    at: str
    mine: bool


@pages.post("/together")
def look() -> Any:
    """A page says that it is open, or closes; the answer is a quiet line for it."""
    record = forms.text("record") or ""
    if not _RECORD.fullmatch(record):
        return render_template("_together.html", others=[], saved=None)
    if forms.flag("leave"):
        _present().leave(record, at_work())
        return "", 204
    members = {each.document for each in studio().members()}
    me = at_work() if at_work() in members else ""
    others = [each for each in _present().say(record, me) if each in members]
    return render_template(
        "_together.html",
        others=[studio().name_of(each) for each in others],
        saved=_saved_since(
            record, request.form.get("revision", ""), request.form.get("own", "")
        ),
    )


def _saved_since(record: str, shown: str, own: str) -> Saved | None:
    """The last save of a record that is newer than what a page shows, and not one of its own.

    `own` are the revisions that the page itself made without being loaded again.
    """
    if not _REVISION.fullmatch(shown):
        return None
    ledger = studio().ledger
    if not ledger.has(record) or ledger.head(record).revision <= int(shown):
        return None
    made_here = {int(each) for each in own.split(" ") if _REVISION.fullmatch(each)}
    others = [
        change
        for change in ledger.changes(record, own_only=True)
        for entry in change.entries
        if entry.act == "save"
        and (entry.revision or 0) > int(shown)
        and entry.revision not in made_here
    ]
    return Saved(others[-1].who, others[-1].at, others[-1].who == at_work()) if others else None


def record_here() -> Markup:
    """What a page says of the record it shows, for together.js; nothing where it shows none."""
    kind = _KINDS.get(request.path.split("/")[1])
    uuid = (request.view_args or {}).get("uuid")
    if kind is None or uuid is None or not at_work():
        return Markup("")
    record = f"{kind}/{uuid}"
    try:
        head = studio().ledger.head(record)
        sent = request.form.get("revision", "") if request.method == "POST" else ""
    except (CatalogueError, HTTPException):  # not on file; a form too large to be looked at
        return Markup("")
    if head.merged_into:
        return Markup("")
    shown = sent if sent.isascii() and sent.isdigit() else str(head.revision)
    return Markup(
        ' data-record="{record}" data-revision="{shown}" data-together="{address}"'
    ).format(record=record, shown=shown, address=url_for("together.look"))


@pages.app_context_processor
def shown_everywhere() -> dict[str, Any]:
    """What the frame of every page asks."""
    return {"record_here": record_here}
