"""Setting a record aside: what each way would do in numbers, the reason, and the way back."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request
from werkzeug.wrappers import Response

from catalogue.desk import forms
from catalogue.desk.asking import at_work, page_of, studio
from catalogue.errors import BadData, CatalogueError

pages = Blueprint("setting_aside", __name__)

CONFIRMED = "forget"
"""What has to be typed before anything is deleted for good."""


@pages.get("/work/<uuid:uuid>/aside", defaults={"kind": "work"}, endpoint="of_work")
@pages.get("/people/<uuid:uuid>/aside", defaults={"kind": "party"}, endpoint="of_party")
def aside(uuid: UUID, kind: str) -> Any:
    """Show the ways in which a record can be set aside, with what each would do."""
    kept = studio().read(f"{kind}/{uuid}")
    document = kept.document_id
    if kept.record.id != str(uuid):
        return redirect(f"{page_of(document)}/aside")
    joining, refused = None, None
    into = request.args.get("into", "").strip()
    if into:
        try:
            joining = studio().joining(document, studio().named(into).document_id)
        except CatalogueError as error:
            refused = error
    return render_template(
        "set_aside.html",
        record=kept.record,
        document=document,
        kind=kind,
        name=studio().name_of(document),
        standing=studio().standing(document),
        forgetting=studio().forgetting(document),
        into=into,
        joining=joining,
        refused=refused,
        confirmed=CONFIRMED,
    )


@pages.post("/work/<uuid:uuid>/aside/<act>", defaults={"kind": "work"})
@pages.post("/people/<uuid:uuid>/aside/<act>", defaults={"kind": "party"})
def do(uuid: UUID, kind: str, act: str) -> Response:
    """Do one of them; each wants a reason, forgetting a typed word as well."""
    document, why, who = f"{kind}/{uuid}", forms.text("why") or "", at_work()
    match act:
        case "withdraw":
            studio().withdraw(document, who=who, why=why)
        case "reinstate":
            studio().reinstate(document, who=who, why=why)
        case "merge":
            into = studio().named(forms.text("into") or "").document_id
            document = studio().merge(document, into, who=who, why=why).document_id
        case "unmerge":
            document = forms.text("old") or ""
            studio().unmerge(document, who=who, why=why)
        case "forget":
            _forget(document, who, why)
        case _:
            raise BadData(f"there is no such way: {act}")
    flash(act, "aside")
    return redirect(page_of(document) or "/")


def _forget(document: str, who: str, why: str) -> None:
    typed = (forms.text("confirm") or "").casefold()
    if typed != CONFIRMED:
        raise BadData(
            f"nothing was forgotten: the word {CONFIRMED!r} was not typed",
            remedy="what is forgotten cannot be brought back; type the word to go on",
        )
    pseudonym = forms.text("pseudonym")
    given = {"pseudonym": pseudonym} if pseudonym else {}
    studio().forget(document, who=who, why=why, **given)


@pages.post("/reference/<uuid:uuid>/adopt")
def adopt(uuid: UUID) -> Response:
    """Make a record from elsewhere one of our own."""
    kept = studio().adopt(f"reference/{uuid}", who=at_work(), why=forms.text("why") or "")
    flash(studio().name_of(kept.document_id), "adopted")
    return redirect(page_of(kept.document_id) or "/")
