"""What a reading would bring, shown under the rendering while it is typed: nothing of it is saved."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any
from uuid import UUID

from flask import Blueprint, render_template, request
from markupsafe import Markup

from catalogue.argument import Reason
from catalogue.desk import asking, forms
from catalogue.desk.asking import reader, studio
from catalogue.desk.families import picture
from catalogue.desk.written import Slip
from catalogue.errors import CatalogueError
from catalogue.measure import Day
from catalogue.pictures.dating import dating_picture, in_years
from catalogue.pictures.words import years
from catalogue.places import table
from catalogue.record import Inscription, Work
from catalogue.terms import label

pages = Blueprint("foretelling", __name__)

NARROW = 460.0
"""The measure of the bars: they stand on a slip, not across a page."""
MOST_LETTERS = 8_000
"""A longer text is no label of a real size: it is looked through once it is saved."""

NOTHING: Mapping[str, Any] = MappingProxyType({"foretold": None, "too_long": 0})
"""What a page shows before anybody asked."""


@pages.post("/work/<uuid:uuid>/foretell")
def foretell(uuid: UUID) -> str:
    """Show what the text on the slip would bring, as a piece of the reading page."""
    work = asking.work(uuid).record
    named = forms.text("inscription")
    before = work.inscription(named) if named else None
    slip = Slip.from_typed(request.form)
    told = shown(work, before, slip)
    return render_template("_foretold.html", work=work, inscription=before, **told)


def shown(work: Work, before: Inscription | None, slip: Slip) -> dict[str, Any]:
    """What the piece of the page shows. Raises `MarkupError` for what cannot be a label."""
    if len(slip.markup) > MOST_LETTERS:
        return {"foretold": None, "too_long": MOST_LETTERS}
    inscription = _typed(work, before, slip)
    told = studio().foretold(work, inscription, slip.markup)
    drawn = told.dating and dating_picture(
        told.dating,
        of=label(inscription.kind),
        key="foretold",
        leads_to=lambda number: f"#foretold-reason-{number + 1}",
        width=NARROW,
    )
    return {
        "foretold": told,
        "too_long": 0,
        "bars": Markup(drawn) if drawn else "",
        "in_years": in_years,
        "reach": reach,
        "years": span_in_years,
        "picture": picture,
        "bands": table("look_alikes.toml")["says"],
    }


def _typed(work: Work, before: Inscription | None, slip: Slip) -> Inscription:
    """The inscription as the slip says, as far as the slip could be saved; else as it was before."""
    try:
        return slip.applied(work, before, studio(), reader())
    except CatalogueError:
        return before or Inscription(kind="inscription/label", face="face/back")


def reach(reason: Reason) -> str:
    """The years that a reason allows, in words."""
    return years(reason.earliest, reason.latest)


def span_in_years(span: tuple[Day, Day] | None) -> str:
    """The years of a label on file, "" where it is not dated."""
    if span is None:
        return ""
    return years(Day(span[0].year, 1, 1), Day(span[1].year, 12, 31))
