"""What is wrong, missing or open about a work, as the studio says it."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, redirect, render_template, url_for

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
    return render_template(
        "open.html",
        work=kept.record,
        headings=HEADINGS,
        remarks=studio().check(kept.document_id),
    )
