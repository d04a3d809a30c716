"""A work's folder: what it looks like, what is known, what stands on it, who did what when."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, drafts, forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.facts import FACTS
from catalogue.desk.leaves import showing

pages = Blueprint("folder", __name__)


@pages.get("/work/<uuid:uuid>")
def work(uuid: UUID) -> Any:
    """Show one work."""
    kept = asking.work(uuid)
    if kept.record.id != str(uuid):
        return redirect(url_for("folder.work", uuid=kept.record.id))
    return render_template(
        "work.html",
        work=kept.record,
        revision=kept.revision,
        history=list(studio().history(kept.document_id))[::-1],
        jobs=studio().jobs_of(kept.document_id),
        standing=studio().standing(kept.document_id),
        show=showing(kept.record),
    )


@pages.post("/work/<uuid:uuid>/<fact>")
def change(uuid: UUID, fact: str) -> Response:
    """Save one fact as its small form says; what others changed meanwhile is joined."""
    if fact not in FACTS:
        abort(404)
    read = asking.work(uuid, forms.revision())
    changed = FACTS[fact](read.record)
    why = f"{fact} of {read.record.number}"
    studio().save(changed, who=at_work(), why=why, read=read, draft=drafts.of_form())
    flash(fact, "saved")
    return redirect(url_for("folder.work", uuid=uuid, _anchor=fact))
