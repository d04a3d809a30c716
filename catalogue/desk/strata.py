"""What lies over what on a work: the picture, the same as a list, and what the record has going round."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, render_template
from markupsafe import Markup

from catalogue.argument import Interval
from catalogue.argument.stratigraphy import PAINTING, stratigraphy
from catalogue.argument.timing.solving import Chronology
from catalogue.desk import asking
from catalogue.desk.asking import studio
from catalogue.desk.leading import leading_in
from catalogue.pictures.strata_words import WhenOf, circles_told, told
from catalogue.pictures.stratigraphy import stratigraphy_picture
from catalogue.record import Work

pages = Blueprint("strata", __name__)


@pages.get("/work/<uuid:uuid>/argue/layers")
def show(uuid: UUID) -> Any:
    """Show what lies over what."""
    work = asking.work(uuid).record
    found = stratigraphy(work)
    when_of = _when_of(work, studio().chronology(work))
    leads_to = leading_in(work)
    picture = stratigraphy_picture(
        found,
        of=work.number or work.title(),
        key="strata",
        leads_to=leads_to,
        when_of=when_of,
    )
    return render_template(
        "strata.html",
        work=work,
        place="leaves.argue",
        picture=Markup(picture) if picture else None,
        lines=[(each, leads_to(each.bed)) for each in told(found, when_of)],
        circles=circles_told(found),
    )


def _when_of(work: Work, solved: Chronology) -> WhenOf:
    """Between which days each thing came, as far as all that is on record leaves it."""
    events = {each.id: each for each in solved.events}
    made = events.get(f"{work.id}/made")

    def when_of(bed: str) -> Interval | None:
        event = made if bed == PAINTING else events.get(bed)
        if event is None:
            return None
        return solved.window(event.ended if event is made else event.began)

    return when_of
