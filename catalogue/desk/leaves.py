"""The further leaves of a work's folder: Check, Treat and Argue, with every value on file in plain words."""

from __future__ import annotations

from functools import cache
from typing import Any
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from markupsafe import Markup

from catalogue.argument.course import unseen
from catalogue.argument.handling import keep_face_up
from catalogue.desk import asking
from catalogue.desk.asking import page_of, studio
from catalogue.desk.calling import naming
from catalogue.desk.comparing import trends
from catalogue.desk.mapping import address_in
from catalogue.desk.numbered import Table, light_table
from catalogue.desk.shown import Showing, Words, terms_in
from catalogue.desk.stops import figures, of_work
from catalogue.pictures.dating import in_years
from catalogue.pictures.map import condition_map
from catalogue.pictures.timeline import timeline
from catalogue.record import Finding, Step, Work
from catalogue.terms import Caution, cautions, standing
from catalogue.wording import field_word

pages = Blueprint("leaves", __name__)

COURSE = (
    "severity", "stability", "change", "extent", "length_mm", "gap_mm", "depth_mm", "area_mm2", "count",
)  # fmt: skip
"""What the course of a finding compares from check to check."""


def showing(work: Work) -> Showing:
    """How the values of a work are shown on its pages."""
    return Showing(work, naming(work, cache(studio().name_of)), cache(page_of))


@pages.get("/work/<uuid:uuid>/check")
def check(uuid: UUID) -> Any:
    """Show the map, the condition checks, each finding from check to check, the layers."""

    def drawn(work: Work) -> Markup:
        return Markup(condition_map(work, key="map", leads_to=address_in(work)) or "")

    def life(work: Work) -> Markup:
        return Markup(timeline(work, leads_to=address_in(work)) or "")

    return _leaf(
        uuid, "check.html", drawn=drawn, life=life, trends=trends, unseen=unseen, begun=begun
    )


def begun(work: Work) -> bool:
    """Whether the latest check waits for its findings: nothing is noted at it yet."""
    latest = work.checks[-1].id if work.checks else None
    return latest is not None and not any(
        seen.check == latest for finding in work.findings for seen in finding.observations
    )


@pages.get("/work/<uuid:uuid>/treat")
def treat(uuid: UUID) -> Any:
    """Show earlier repairs, tests, and treatments step by step, with what breaks the order of work."""

    def laid(work: Work) -> Table:
        return light_table(work, request.args, request.args.getlist("show"), "leaves.treat")

    return _leaf(
        uuid,
        "treat.html",
        laid=laid,
        broken=of_work,
        figures=figures,
        out_of_range=studio().out_of_range,
        step_cautions=step_cautions,
    )


def step_cautions(step: Step) -> tuple[Caution, ...]:
    """What to mind about one step and its materials."""
    return cautions(terms_in((step,)))


@pages.get("/work/<uuid:uuid>/argue")
def argue(uuid: UUID) -> Any:
    """Show where it has been, on what that rests, and what it belongs with."""
    return _leaf(
        uuid, "argue.html", argued=lambda work: list(studio().argue(work)), in_years=in_years
    )


def _leaf(uuid: UUID, template: str, **more: Any) -> Any:
    kept = asking.work(uuid)
    work = kept.record
    if work.id != str(uuid):
        return redirect(url_for(f"leaves.{template.removesuffix('.html')}", uuid=work.id))
    show = showing(work)
    used = terms_in((*work.repairs, *work.tests, *work.treatments))
    found = terms_in(work.findings)
    return render_template(
        template,
        work=work,
        revision=kept.revision,
        show=show,
        course=lambda finding: course(work, finding, show),
        cautions=cautions(used) or standing(),
        findings_cautions=cautions(found),
        face_up=keep_face_up(work),
        **more,
    )


def course(
    work: Work, finding: Finding, show: Showing
) -> tuple[tuple[str, ...], list[tuple[Any, Any, tuple[Words, ...]]]]:
    """A finding from check to check: the headings, and for each observation its check and its cells."""
    seen = work.course(finding)
    names = [name for name in COURSE if any(getattr(each, name) is not None for each in seen)]
    headings = tuple(_heading(name) for name in names)
    rows = []
    for each in seen:
        lines = {line.label: line.words[0] for line in show.lines(each)}
        cells = tuple(
            lines.get(field_word("Observation", name).label, Words("")) for name in names
        )
        rows.append((each, work.check_of(each), cells))
    return headings, rows


def _heading(name: str) -> str:
    return field_word("Observation", name).label
