"""Labels like one, side by side with the reasons; the families that people made of labels of one form.

The labels of thousands of works are laid out once before any two are compared. Until then a page says so,
with what is ready, and looks again by itself.
"""

from __future__ import annotations

from http import HTTPStatus
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for

from catalogue.argument.look_alikes.comparing import is_form
from catalogue.desk import asking
from catalogue.desk.asking import at_work, studio
from catalogue.desk.person import ask_first
from catalogue.errors import BadData
from catalogue.places import table
from catalogue.record import Inscription, Work

pages = Blueprint("families", __name__)

WORKS, PAIRS = 20, 30
"""Pairs are sought for the labels of so many works, those worked on last; so many are shown."""

SAYS = {
    "same": "verdict/same-form",
    "other": "verdict/another-form",
    "open": "verdict/cannot-say",
}


@pages.get("/families")
def show() -> Any:
    """Show every family with its firm, addresses, years and numbers, and the pairs nobody decided yet.

    The sheet to print has the families alone; `piece` asks for the pairs alone.
    """
    sheet = "sheet" in request.args
    waits = not sheet and not studio().labels_at_hand()
    shown = {
        "proposed": () if sheet or waits else studio().may_be_one_form(WORKS, PAIRS),
        "bands": table("look_alikes.toml")["says"],
        "works": WORKS,
        "picture": picture,
        "waits": waits,
    }
    if "piece" in request.args:
        return render_template("_families_proposed.html", **shown), status_of(waits)
    return render_template(
        "families.html", found=studio().families(), sheet=sheet, still=_still(), **shown
    )


@pages.get("/work/<uuid:uuid>/read/<uuid:inscription>/alike")
def like(uuid: UUID, inscription: UUID) -> Any:
    """Show the labels like one, those to look at first; `piece` asks for these alone."""
    work = asking.work(uuid).record
    mine = work.inscription(str(inscription))
    waits = not studio().labels_at_hand()
    shown = {
        "work": work,
        "inscription": mine,
        "alike": () if waits else studio().alike(work, mine.id),
        "bands": table("look_alikes.toml")["says"],
        "picture": picture,
        "waits": waits,
    }
    if "piece" in request.args:
        return render_template("_families_like.html", **shown), status_of(waits)
    return render_template("families_like.html", is_form=is_form(mine), still=_still(), **shown)


def status_of(waits: bool) -> HTTPStatus:
    """How a piece says whether it is all there: "accepted" is asked for again (static/later.js)."""
    return HTTPStatus.ACCEPTED if waits else HTTPStatus.OK


def _still() -> bool:
    """Whether a page without script was asked not to look again by itself."""
    return "still" in request.args


@pages.post("/work/<uuid:uuid>/read/<uuid:inscription>/alike")
def say(uuid: UUID, inscription: UUID) -> Any:
    """Keep what somebody says of two labels, signed and dated."""
    here = url_for("families.like", uuid=uuid, inscription=inscription)
    if request.form.get("from") == "families":
        here = url_for("families.show")
    if not at_work():
        return ask_first(here)
    kept = asking.work(uuid)
    other = (request.form.get("work", ""), request.form.get("other", ""))
    verdict = SAYS.get(request.form.get("says", ""))
    if verdict is None:
        raise BadData(
            "nothing was said of the two labels", remedy="press one of the three buttons"
        )
    note = request.form.get("note", "")
    studio().lay_beside(kept, str(inscription), other, verdict, who=at_work(), note=note)
    flash("Kept, with your name and the day.")
    return redirect(here)


def picture(work: Work, inscription: Inscription) -> str | None:
    """The address of a small picture of a label, None where it is framed on no photograph."""
    photos = {each.id: each for each in work.photos}
    for region in inscription.regions:
        photo = photos.get(region.photo)
        if photo and photo.sha256:
            xs, ys = zip(*region.corners, strict=True)
            left, top = max(0, int(min(xs))), max(0, int(min(ys)))
            width, height = max(1, round(max(xs)) - left), max(1, round(max(ys)) - top)
            box = f"{left}-{top}-{width}-{height}"
            return url_for("pictures.part", sha256=photo.sha256, box=box)
    return None
