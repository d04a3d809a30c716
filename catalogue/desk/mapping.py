"""The condition map of a work: looked at, drawn on, and asked what a planned region would cover."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import Blueprint, abort, redirect, render_template, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response

from catalogue.argument.covering import Covered, before_covering, margin_mm, side_of
from catalogue.desk import asking
from catalogue.desk.asking import studio
from catalogue.desk.forms import as_number
from catalogue.desk.outlines import typed_shape
from catalogue.desk.typed import BOX, OUTLINE
from catalogue.errors import BadData, NotOnFile
from catalogue.pictures.map import KINDS, condition_map
from catalogue.pictures.marks import marks, placed
from catalogue.record import ConditionCheck, Work
from catalogue.surface import Box, Shape, grown, mirror
from catalogue.terms import known, label

pages = Blueprint("mapping", __name__)

FACES = ("face/front", "face/back", "face/stretcher-bar", "face/lining", "face/backing-board")
"""The faces that a map shows and on which one can draw."""

LOCATION_OF = {
    "findings": "observations.0.location",
    "repairs": "location",
    "tests": "location",
    "steps": "location",
}
"""Where in the form of a new value its place stands."""

OVERLAP_MM = "15"
"""How far a patch reaches over what it mends, until somebody types another figure (common practice,
no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A region that somebody thinks of: on which face, its shape (None: all of that side), how wet."""

    face: str
    shape: Shape | None
    margin: float
    wet: bool

    def typed(self) -> dict[str, str]:
        """The same as the blanks of the form say it."""
        return {"face": self.face, **_numbers(self.shape)}


@pages.get("/work/<uuid:uuid>/map")
def show(uuid: UUID) -> Any:
    """Show the map with its list, and what a planned region would cover."""
    kept = asking.work(uuid)
    work: Work = kept.record
    if work.id != str(uuid):
        return redirect(url_for("mapping.show", uuid=work.id))
    typed = _typed()
    check = _check(work, typed.get("check", ""))
    kinds = [kind for kind in KINDS if kind in request.args.getlist("show")] or list(KINDS)
    planned, refused = None, None
    try:
        planned = _planned(work, typed)
    except BadData as error:
        refused = error
    leads_to = address_in(work)
    region = [placed(work, planned.shape, planned.face)] if planned else []
    picture = condition_map(
        work, key="map", leads_to=leads_to, check=check, kinds=kinds, more=region
    )
    shown = [each for each in marks(work, check) if each.kind in kinds]
    return render_template(
        "map.html",
        work=work,
        revision=kept.revision,
        picture=Markup(picture or ""),
        shown=shown,
        leads_to=leads_to,
        kinds=kinds,
        every_kind=[kind for kind in KINDS if kind != "planned"],
        check=check,
        planned=planned,
        region=region[0] if region else None,
        covered=_covered(work, planned) if planned else (),
        refused=refused,
        typed={"margin_mm": f"{margin_mm():g}", "overlap_mm": OVERLAP_MM, **typed}
        | (planned.typed() if planned else {}),
        faces=FACES,
        sources=sorted(
            (each for each in marks(work) if each.shape),
            key=lambda each: each.kind != "finding",
        ),
        jobs=[job for job in studio().jobs_of(kept.document_id) if _is_open(job, kept)],
        step_form=_step_form(work, planned) if planned else None,
        label=label,
        OUTLINE=OUTLINE,
    )


@pages.get("/work/<uuid:uuid>/map.svg")
def drawing(uuid: UUID) -> Response:
    """Send the map as a drawing of its own; one kind of mark alone is one layer of it."""
    work: Work = asking.work(uuid).record
    kinds = [kind for kind in KINDS if kind in request.args.getlist("show")] or list(KINDS)
    check = _check(work, request.args.get("check", ""))
    drawn = condition_map(work, key="map", leads_to=lambda _: None, check=check, kinds=kinds)
    if drawn is None:
        raise NotOnFile(
            "without the size of the painting there is no drawing",
            remedy="measure its height and width",
        )
    name = f"map-{work.number or work.id}.svg"
    return Response(
        f'<?xml version="1.0" encoding="UTF-8"?>\n{drawn}\n',
        mimetype="image/svg+xml",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


def _is_open(job: Any, kept: Any) -> bool:
    return any(item.left is None and item.work == kept.document_id for item in job.items)


@pages.get("/work/<uuid:uuid>/map/<field>")
def draw(uuid: UUID, field: str) -> Response | str:
    """Lead to the form of a new value with its place already in it; what is no place comes back."""
    if field not in LOCATION_OF or field == "steps":
        abort(404)
    work: Work = asking.work(uuid).record
    typed: dict[str, Any] = _typed()
    try:
        shape = _typed_place(typed)
        if shape is None:
            raise BadData("draw the place first, or type its figures")
    except BadData:
        return redirect(url_for("mapping.show", uuid=work.id, **{**typed, "cover": "yes"}))
    place = place_in_form(LOCATION_OF[field], _face(typed), shape)
    if field == "findings" and work.checks:
        place["observations.0.check"] = work.checks[-1].id
    return redirect(url_for("values.new", uuid=work.id, field=field, **place))


def place_in_form(path: str, face: str, shape: Shape | None) -> dict[str, Any]:
    """A place as the blanks of a form have it, by their path."""
    return {
        f"{path}.face": face,
        **{f"{path}.shape.{name}": text for name, text in _numbers(shape).items() if text},
    }


def address_in(work: Work) -> Callable[[str], str | None]:
    """The address at which each value of a work that a picture shows can be looked at."""
    checked: tuple[Any, ...] = (
        *work.findings,
        *work.checks,
        *(seen for each in work.findings for seen in each.observations),
    )
    treated: tuple[Any, ...] = (
        *work.repairs,
        *work.tests,
        *work.treatments,
        *(step for each in work.treatments for step in each.steps),
    )
    pages_of = dict.fromkeys((each.id for each in checked), "leaves.check")
    pages_of |= dict.fromkeys((each.id for each in treated), "leaves.treat")
    inscriptions = {each.id for each in work.inscriptions}

    def leads_to(value: str) -> str | None:
        if value in inscriptions:
            return url_for("slip.again", uuid=work.id, inscription=value)
        page = pages_of.get(value)
        return url_for(page, uuid=work.id, _anchor=value) if page else None

    return leads_to


def _typed() -> dict[str, str]:
    return {name: text.strip() for name, text in request.args.items()}


# --- the planned region -----------------------------------------------------------------------------


def _planned(work: Work, typed: Mapping[str, str]) -> Planned | None:
    """The region that was asked about, None where none was. Raises `BadData`."""
    if "cover" not in typed:
        return None
    margin = as_number(typed.get("margin_mm") or f"{margin_mm():g}", "margin")
    if not 0 <= margin <= 1000:
        raise BadData("the margin is 0 to 1000 mm")
    face = _face(typed)
    shape: Shape | None
    if typed.get("over"):
        shape = _over(work, typed, face)
    elif typed.get("whole"):
        shape = None
    else:
        shape = _typed_place(typed)
        if shape is None:
            raise BadData(
                "nothing is drawn yet",
                remedy="draw the place, type its figures, or tick all of it",
            )
    return Planned(face=face, shape=shape, margin=margin, wet="wet" in typed)


def _over(work: Work, typed: Mapping[str, str], face: str) -> Shape:
    """A patch over something on either side: its place as seen on this face, and so much wider."""
    under = next((each for each in marks(work) if each.value == typed["over"]), None)
    if under is None or under.shape is None:
        raise BadData(
            "that has no place on the map", remedy="choose another, or draw the patch"
        )
    place = _as_box(under.shape)
    if under.side != side_of(face):
        place = mirror(place, work.sheet)
    wider = grown(place, as_number(typed.get("overlap_mm") or OVERLAP_MM, "overlap"))
    return Shape.of_box(wider) if isinstance(wider, Box) else wider


def _as_box(shape: Shape) -> Box | Shape:
    """A box as a box, so that its margin has square corners."""
    return shape.box if shape.is_box and shape.box else shape


def _typed_place(typed: Mapping[str, str]) -> Shape | None:
    numbers = {name: typed.get(name, "") for name in BOX}
    return typed_shape(numbers, typed.get(OUTLINE, ""))


def _face(typed: Mapping[str, str]) -> str:
    face = typed.get("face") or "face/back"
    if face not in FACES or not known(face):
        raise BadData(f"{face!r} is no side of the map", remedy="choose one of the list")
    return face


def _numbers(shape: Shape | None) -> dict[str, str]:
    """A shape in the blanks of a form; every blank is there, most of them empty."""
    found = dict.fromkeys((*BOX, OUTLINE), "")
    if shape is None:
        return found
    box = shape.box
    if shape.is_box and box:
        return found | {name: f"{getattr(box, name):.10g}" for name in BOX}
    if shape.kind == "point":
        ((across, down),) = shape.corners
        return found | {"x_mm": f"{across:.10g}", "y_mm": f"{down:.10g}"}
    return found | {OUTLINE: shape.wkt()}


def _covered(work: Work, planned: Planned) -> tuple[Covered, ...]:
    return before_covering(
        work, planned.shape, planned.face, wet=planned.wet, margin=planned.margin
    )


def _step_form(work: Work, planned: Planned) -> str | None:
    """The form of a new step that covers this, None where no treatment is open yet."""
    if not work.treatments:
        return None
    hit = [
        each.inscription.id
        for each in _covered(work, planned)
        if each.level in ("hit", "unknown")
    ]
    return url_for(
        "values.new",
        uuid=work.id,
        field="treatments",
        outer=work.treatments[-1].id,
        inner="steps",
        covers=hit,
        **place_in_form(LOCATION_OF["steps"], planned.face, planned.shape),
    )


def _check(work: Work, wanted: str) -> ConditionCheck | None:
    return next((each for each in work.checks if wanted in (each.id, each.number)), None)
