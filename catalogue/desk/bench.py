"""The bench, with which a day begins."""

from __future__ import annotations

import json
from typing import Any, Final

from flask import Blueprint, render_template

from catalogue.desk import card_tray, first_minute
from catalogue.desk.asking import studio
from catalogue.desk.drafts import offer
from catalogue.desk.under_way import errands
from catalogue.errors import NotOnFile
from catalogue.half_typed import NEW_RECORDS
from catalogue.record import Work

pages = Blueprint("bench", __name__)

CARDS: Final = 24
"""So many works in the house are shown with a picture; the others on a line each."""
ERRANDS_SHOWN: Final = 4


@pages.get("/")
def bench() -> str:
    """Show what is here and needs a hand first, what is half done, what was worked on last."""
    found = studio().bench()
    return render_template(
        "bench.html",
        bench=found,
        cards=found.here[:CARDS],
        rows=found.here[CARDS:],
        **{"sample": None, "empty": None, **first_minute.shown(found.works)},
        saved=studio().saved_searches(),
        drafts=[_half_done(each) for each in found.drafts],
        errands=[
            each for each in errands().all() if not each.is_over or each.state != "stopped"
        ][:ERRANDS_SHOWN],
        on_the_tray=sum(len(each.keys()) for each in card_tray.waiting(studio().folder)),
    )


def _half_done(draft: Any) -> dict[str, Any]:
    """What a line of the bench says of a draft, and where it goes on."""
    if draft.place.startswith("/"):
        return {"draft": draft, "form": offer(draft), "on": _on(draft.document)}
    return {
        "draft": draft,
        "form": None,
        "work": _work_of(draft.document),
        "uuid": draft.document.partition("/")[2],
        "inscription": None if draft.place == "new" else draft.place,
        "says": typed_in(draft.text).get("markup", ""),
    }


def _on(document_id: str) -> str:
    """What to call the record that a form belongs to; "" for one that is not on file yet."""
    return "" if document_id in NEW_RECORDS else studio().name_of(document_id)


def typed_in(text: str) -> dict[str, Any]:
    """The fields of a slip that a draft holds; a text of any other kind is taken as the markup.

    >>> typed_in('{"markup": "Lot 12"}'), typed_in("Lot 12")
    ({'markup': 'Lot 12'}, {'markup': 'Lot 12'})
    """
    try:
        held = json.loads(text)
    except ValueError:
        held = None
    return held if isinstance(held, dict) else {"markup": text}


def _work_of(document_id: str) -> Work | None:
    """The work of a document id; None for whoever is none, and for one that went meanwhile."""
    if not document_id.startswith("work/"):
        return None
    try:
        record = studio().read(document_id).record
    except NotOnFile:
        return None
    return record if isinstance(record, Work) else None
