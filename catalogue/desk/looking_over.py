"""What is wrong, missing or open about a work, as the studio says it.

How its record is written down is held to shapes, which takes about half a second once for each state
of it: where nobody waited for that yet, it is told in a piece that comes after the rest.
"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for

from catalogue.desk import asking
from catalogue.desk.asking import studio

pages = Blueprint("looking_over", __name__)

HEADINGS = {
    "wrong": "Wrong: it contradicts itself",
    "missing": "Missing: the trade asks for it",
    "open": "Open: somebody has to decide",
}


@pages.get("/work/<uuid:uuid>/open")
def work(uuid: UUID) -> Any:
    """Show what is to be said about one work."""
    kept = asking.work(uuid)
    if kept.record.id != str(uuid):
        return redirect(url_for("looking_over.work", uuid=kept.record.id))
    document = kept.document_id
    whole = "whole" in request.args or studio().held_to_shapes(document)
    return render_template(
        "open.html",
        work=kept.record,
        headings=HEADINGS,
        remarks=studio().check(document, shapes=whole),
        whole=whole,
    )


@pages.get("/work/<uuid:uuid>/open/written")
def written(uuid: UUID) -> Any:
    """What is to be said of how a work's record is written down, as a piece of the page of all."""
    kept = asking.work(uuid)
    told = studio().check(kept.document_id, shapes=False)
    whole = studio().check(kept.document_id)
    return render_template(
        "_open_written.html",
        headings=HEADINGS,
        remarks=[each for each in whole if each not in told],
    )
