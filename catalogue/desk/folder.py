"""A work's folder: its two sides with everything numbered, what is known, what was done, what that proves."""

from __future__ import annotations

from typing import Any, Final
from uuid import UUID

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response

from catalogue.argument.handling import keep_face_up
from catalogue.desk import asking, forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.care import condition_over_time
from catalogue.desk.facts import FACTS
from catalogue.desk.leading import leading_in
from catalogue.desk.leaves import showing
from catalogue.desk.looking_over import HEADINGS
from catalogue.desk.numbered import light_table, photos_by_face
from catalogue.desk.stops import Told, of_work
from catalogue.house import planned, where_now
from catalogue.keeping import Kept
from catalogue.pictures.chronology import timeline_sheets
from catalogue.pictures.dating import in_years
from catalogue.pictures.hands import bands_of, gaps_of
from catalogue.pictures.spells import group_of, spells_of, when
from catalogue.record import Work

pages = Blueprint("folder", __name__)

IN_FOLDER: Final = ("hands", "shows")
"""The groups of a chronology that the folder draws; the page of it has all."""

LAST_CHANGES: Final = 5
"""How many changes the folder tells itself; its history has all of them."""


@pages.get("/work/<uuid:uuid>")
def work(uuid: UUID) -> Any:
    """Show one work."""
    kept = asking.work(uuid)
    work = kept.record
    if work.id != str(uuid):
        return redirect(url_for("folder.work", uuid=work.id))
    jobs = studio().jobs_of(kept.document_id)
    told = of_work(work, jobs)
    checks, rows = condition_over_time(work)
    changes = list(studio().history(kept.document_id))
    hands = studio().chain(work)
    return render_template(
        "work.html",
        work=work,
        revision=kept.revision,
        table=light_table(work, request.args, request.args.getlist("show")),
        jobs=jobs,
        by_face=photos_by_face(work),
        planned=list(planned(work, jobs)),
        now=where_now(work, jobs, (kept.document_id,)),
        standing=studio().standing(kept.document_id),
        face_up=keep_face_up(work),
        told=told,
        stops=_stops(work, told),
        checks=checks,
        findings=rows,
        hands=hands,
        passed={each.before[-1].event: each for each in hands.passages},
        when=when,
        history=changes[: -LAST_CHANGES - 1 : -1],
        changes=len(changes),
        show=showing(work),
    )


def _stops(work: Work, told: dict[str, tuple[Told, ...]]) -> list[tuple[str, str, Told]]:
    """Each stop in the log: the step's id, what it is called, what is told."""
    return [
        (step.id, each.label(step), stop)
        for each in work.treatments
        for step in each.steps
        for stop in told.get(step.id, ())
        if stop.stops
    ]


# --- what takes longer, and comes after the rest ----------------------------------------------------


@pages.get("/work/<uuid:uuid>/in-folder/proves")
def proves(uuid: UUID) -> Any:
    """The years that its labels prove and its timeline, as a piece of the folder."""
    work: Work = asking.work(uuid).record
    argued = list(studio().argue(work))
    solved = studio().chronology(work)
    hands = studio().chain(work)
    leads_to = leading_in(work)
    spells = spells_of(solved, {each.event: each.name for each in hands.tenures})
    sheets = timeline_sheets(
        [each for each in spells if group_of(each) in IN_FOLDER],
        of=work.number or work.title(),
        key="when",
        leads_to=leads_to,
        bands=bands_of(each.window for each in hands.windows),
        gaps=gaps_of(hands.passages, url_for("chain.show", uuid=work.id)),
    )
    return render_template(
        "_folder_proves.html",
        work=work,
        argued=argued,
        in_years=in_years,
        sheets=[Markup(each.picture) for each in sheets],
        clashes=len(solved.contradictions),
    )


@pages.get("/work/<uuid:uuid>/in-folder/open")
def still_open(uuid: UUID) -> Any:
    """What is wrong, missing or open, counted and the first of it, as a piece of the folder."""
    kept: Kept[Work] = asking.work(uuid)
    return render_template(
        "_folder_open.html",
        work=kept.record,
        headings=HEADINGS,
        remarks=studio().check(kept.document_id, shapes=False),
    )


@pages.post("/work/<uuid:uuid>/<fact>")
def change(uuid: UUID, fact: str) -> Response:
    """Save one fact as its small form says; what others changed meanwhile is joined."""
    if fact not in FACTS:
        abort(404)
    read = asking.work(uuid, forms.revision())
    changed = FACTS[fact](read.record)
    why = f"{fact} of {read.record.number}"
    studio().save(changed, who=at_work(), why=why, read=read)
    flash(fact, "saved")
    return redirect(url_for("folder.work", uuid=uuid, _anchor=fact))
