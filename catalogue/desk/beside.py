"""Readings of one inscription beside each other: how far they agree, and which comes first."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, forms
from catalogue.desk.asking import at_work, studio
from catalogue.errors import BadData, NotOnFile
from catalogue.keeping import Kept
from catalogue.reading import compare
from catalogue.record import Inscription, Transcript, Work

pages = Blueprint("beside", __name__)

NO_REASON = "say what is wrong with it; the history keeps the reading and the reason"


@pages.get("/work/<uuid:uuid>/read/<uuid:inscription>/beside")
def beside(uuid: UUID, inscription: UUID) -> Any:
    """Show two readings of an inscription line by line, with what only one of them has."""
    kept = asking.work(uuid)
    written = kept.record.inscription(str(inscription))
    readings = in_order(written)
    if len(readings) < 2:
        return redirect(url_for("slip.again", uuid=uuid, inscription=inscription))
    one = _chosen(readings, "one", readings[0])
    others = [each for each in readings if each.id != one.id]
    two = _chosen(readings, "two", others[0])
    return render_template(
        "beside.html",
        work=kept.record,
        revision=kept.revision,
        inscription=written,
        readings=readings,
        one=one,
        two=two,
        found=compare(one.reading(), two.reading()),
    )


def in_order(inscription: Inscription) -> list[Transcript]:
    """The reading that is shown first, then the others, the latest before the earlier."""
    first = inscription.preferred()
    others = sorted(inscription.transcripts, key=lambda each: each.rank, reverse=True)
    return sorted(others, key=lambda each: each is not first)


def _chosen(readings: list[Transcript], name: str, otherwise: Transcript) -> Transcript:
    wanted = request.args.get(name)
    return next((each for each in readings if each.id == wanted), otherwise)


@pages.post("/work/<uuid:uuid>/read/<uuid:inscription>/first")
def show_first(uuid: UUID, inscription: UUID) -> Response:
    """Let one reading be the one that is shown first; none is taken away."""
    kept, before, chosen = _asked_for(uuid, inscription)
    readings = tuple(
        replace(each, preferred=each.id == chosen.id) for each in before.transcripts
    )
    _save(kept, before, readings, "which reading of {} comes first")
    flash(before.number or "", "first")
    return redirect(url_for("slip.again", uuid=uuid, inscription=inscription))


@pages.post("/work/<uuid:uuid>/read/<uuid:inscription>/aside")
def set_aside(uuid: UUID, inscription: UUID) -> Response:
    """Take a mistaken reading and what it says out of the record; the history keeps them, and why."""
    kept, before, chosen = _asked_for(uuid, inscription)
    why = forms.text("why")
    if why is None:
        raise BadData("a reading is set aside for a reason", remedy=NO_REASON)
    readings = tuple(each for each in before.transcripts if each.id != chosen.id)
    before = replace(
        before,
        statements=tuple(each for each in before.statements if each.transcript != chosen.id),
    )
    _save(kept, before, readings, f"a reading of {{}} set aside: {why}")
    flash(before.number or "", "reading aside")
    return redirect(url_for("slip.again", uuid=uuid, inscription=inscription))


def _asked_for(uuid: UUID, inscription: UUID) -> tuple[Kept[Work], Inscription, Transcript]:
    """The work, its inscription and the reading that a form is about. Raises `NotOnFile`."""
    kept = asking.work(uuid, forms.revision())
    before = kept.record.inscription(str(inscription))
    wanted = forms.text("transcript")
    for each in before.transcripts:
        if each.id == wanted:
            return kept, before, each
    raise NotOnFile("that reading is no longer there", remedy="load the page again")


def _save(
    kept: Kept[Work], before: Inscription, readings: tuple[Transcript, ...], why: str
) -> None:
    others = tuple(each for each in kept.record.inscriptions if each.id != before.id)
    after = replace(before, transcripts=readings)
    studio().save(
        replace(kept.record, inscriptions=(*others, after)),
        who=at_work(),
        why=why.replace("{}", f"{before.number} of {kept.record.number}", 1),
        read=kept,
    )
