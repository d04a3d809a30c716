"""A record's history: every change with what it changed, and the two ways back, each as a new change."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request
from markupsafe import Markup
from werkzeug.wrappers import Response

from catalogue.desk import forms
from catalogue.desk.asking import at_work, page_of, studio
from catalogue.errors import BadData
from catalogue.reading import read

pages = Blueprint("past", __name__)

AT_ONCE = 20
"""How many changes a page shows; each is told in full."""

NO_REASON = "Say why: the reason stays on record."


@pages.get("/work/<uuid:uuid>/history", defaults={"kind": "work"}, endpoint="of_work")
@pages.get("/people/<uuid:uuid>/history", defaults={"kind": "party"}, endpoint="of_party")
def history(uuid: UUID, kind: str) -> Any:
    """Show every change of one record, the newest first."""
    kept = studio().read(f"{kind}/{uuid}")
    if kept.record.id != str(uuid):
        return redirect(f"{page_of(kept.document_id)}/history")
    page = max(request.args.get("page", 1, type=int), 1)
    total, changes = studio().retold(
        kept.document_id, skip=(page - 1) * AT_ONCE, at_most=AT_ONCE
    )
    return render_template(
        "history.html",
        record=kept.record,
        document=kept.document_id,
        name=studio().name_of(kept.document_id),
        revision=kept.revision,
        changes=changes,
        page=page,
        pages=(total + AT_ONCE - 1) // AT_ONCE,
        rendered=rendered,
    )


def rendered(markup: str) -> Markup:
    """A reading as it is shown everywhere; the reading itself makes it safe."""
    return Markup(read(markup).html())


@pages.post("/work/<uuid:uuid>/history/back", defaults={"kind": "work"})
@pages.post("/people/<uuid:uuid>/history/back", defaults={"kind": "party"})
def back(uuid: UUID, kind: str) -> Response:
    """Bring a whole state back, or take one change back, in all values or in one."""
    kept = studio().read(f"{kind}/{uuid}", forms.revision())
    state = int(forms.number("state") or 0)
    why = forms.text("why")
    if why is None:
        raise BadData("this needs a reason", remedy=NO_REASON)
    if forms.flag("whole"):
        saved = studio().bring_back(kept, state, who=at_work(), why=why)
    else:
        value = forms.text("value")
        saved = studio().take_back(kept, state, who=at_work(), why=why, value=value)
    flash(str(saved.revision), "back")
    return redirect(f"{page_of(saved.document_id)}/history")
