"""The bench, with which a day begins, and the search."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, render_template, request
from markupsafe import Markup

from catalogue.desk.asking import studio
from catalogue.desk.stops import open_stops
from catalogue.errors import BadData, NotOnFile
from catalogue.record import Work

pages = Blueprint("bench", __name__)

FILTERS = ("artist", "kind", "place", "when")


@pages.get("/")
def bench() -> str:
    """Show what is here, what is half done, what was worked on last."""
    found = studio().bench()
    return render_template(
        "bench.html",
        bench=found,
        drafts=[_half_done(each) for each in found.drafts],
        where={each.work.id: each for each in studio().whereabouts()},
        stops={each.work.id: open_stops(each.work) for each in found.here},
    )


def _half_done(draft: Any) -> dict[str, Any]:
    """What a line of the bench says of a draft, and where it goes on."""
    return {
        "draft": draft,
        "work": _work_of(draft.document),
        "uuid": draft.document.partition("/")[2],
        "inscription": None if draft.place == "new" else draft.place,
        "says": typed_in(draft.text).get("markup", ""),
    }


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


@pages.get("/find")
def find() -> tuple[str, int]:
    """Search by words and filters, and show what was found by work."""
    asked = {name: request.args.get(name, "").strip() for name in ("q", *FILTERS)}
    certainly = request.args.get("how") == "certainly"
    page = max(request.args.get("page", 1, type=int), 1)
    found, refused = None, None
    if any(asked.values()):
        try:
            filters: dict[str, Any] = {name: asked[name] or None for name in FILTERS}
            query = studio().query(
                asked["q"],
                **filters,
                certainly=certainly,
                page=page,
            )
            found = studio().search(query)
        except BadData as error:
            refused = error
    hits = [(hit, _work_of(hit.document)) for hit in found.hits] if found else []
    shown = render_template(
        "find.html",
        asked=asked,
        certainly=certainly,
        found=found,
        hits=hits,
        refused=refused,
        safe=Markup,
    )
    return shown, 422 if refused else 200


def _work_of(document_id: str) -> Work | None:
    """The work of a document id; None for whoever is none, and for one that went meanwhile."""
    if not document_id.startswith("work/"):
        return None
    try:
        record = studio().read(document_id).record
    except NotOnFile:
        return None
    return record if isinstance(record, Work) else None
