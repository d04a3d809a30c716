"""What the law may ask before a work travels or is sold: questions to ask, each with what is on file."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, render_template, request

from catalogue.argument.borders import Advice, journey_typed, standing_text
from catalogue.desk import asking
from catalogue.desk.asking import studio
from catalogue.errors import CatalogueError

pages = Blueprint("borders", __name__)

TYPED = ("leaves", "goes_to", "value", "on")


@pages.get("/work/<uuid:uuid>/send/borders")
def show(uuid: UUID) -> str:
    """Ask from where to where, and show what is to be asked."""
    work = asking.work(uuid).record
    typed = {name: request.args.get(name, "").strip() for name in TYPED}
    temporary = "temporary" in request.args
    found: tuple[Advice, ...] = ()
    refused: CatalogueError | None = None
    try:
        journey = journey_typed(studio().today(), **typed, temporary=temporary)
        found = studio().before_it_travels(work, journey)
    except CatalogueError as error:
        refused = error
    return render_template(
        "borders.html",
        work=work,
        typed=typed,
        temporary=temporary,
        found=found,
        refused=refused,
        standing=standing_text(),
    )
