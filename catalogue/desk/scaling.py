"""The page on which a photograph is made a measure: two ends of a bar, or the picture's four corners."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, jsonify, redirect, render_template, request, url_for

from catalogue.desk import asking, forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.errors import BadData, CatalogueError
from catalogue.keeping import Kept
from catalogue.record import Photo, Work
from catalogue.scaling import Pixel, Scaled, by_bar, by_corners, without_outline

pages = Blueprint("scaling", __name__)

POINTS = ("first", "second", "third", "fourth")
AXES = ("x", "y")


@pages.get("/work/<uuid:uuid>/photos/<uuid:photo>/scale")
def scale(uuid: UUID, photo: UUID) -> Any:
    """Ask for two ends of a bar, or for the corners of the picture."""
    if not at_work():
        return ask_first(request.full_path.rstrip("?"))
    return _page(uuid, photo, None)


@pages.post("/work/<uuid:uuid>/photos/<uuid:photo>/scale")
def measure(uuid: UUID, photo: UUID) -> Any:
    """Keep the scale, and the places that come of it."""
    if not at_work():
        return ask_first(request.path)
    kept = asking.work(uuid, forms.revision())
    shown = kept.record.photo(str(photo))
    if request.form.get("take_away"):
        return _take_away(uuid, kept, shown)
    try:
        scaled = _scaled(kept.record, shown)
        why = f"scale of {shown.number} of {kept.record.number} from the {scaled.calibration.method}"
        saved = studio().save(scaled.work, who=at_work(), why=why, read=kept)
    except CatalogueError as refused:
        if _asked_by_the_table():
            return jsonify(says=refused.args[0], remedy=refused.remedy), status(refused)
        return _page(uuid, photo, refused), status(refused)
    pixels = scaled.calibration.pixels_per_mm(((shown.width or 0) / 2, (shown.height or 0) / 2))
    told = f"{shown.number}: {pixels:.2f} pixels to the mm, {scaled.calibration.in_words()}"
    placed = f"; places in mm for {', '.join(scaled.placed)}" if scaled.placed else ""
    if _asked_by_the_table():
        kept_as = saved.record.photo(str(photo)).mm_per_pixel
        return jsonify(says=f"{told}{placed}", mm_per_pixel=kept_as, revision=saved.revision)
    flash(f"{told}{placed}", "scale")
    return redirect(url_for("folder.work", uuid=uuid, _anchor="photos"))


def _take_away(uuid: UUID, kept: Kept[Work], photo: Photo) -> Any:
    """Keep the photo without the outline that was marked on it."""
    try:
        why = f"outline of {photo.number} of {kept.record.number} taken away"
        work = without_outline(kept.record, photo)
        studio().save(work, who=at_work(), why=why, read=kept)
    except CatalogueError as refused:
        return _page(uuid, UUID(photo.id), refused), status(refused)
    flash(f"{photo.number}: the four corners are taken away; its scale stays", "scale")
    return redirect(url_for("folder.work", uuid=uuid, _anchor="photos"))


def _asked_by_the_table() -> bool:
    """Whether the reading page asks, on which something may be half typed: it is answered, not left."""
    return request.headers.get("Accept") == "application/json"


def _scaled(work: Work, photo: Photo) -> Scaled:
    points = [point for name in POINTS if (point := _point(name)) is not None]
    if len(points) == len(POINTS):
        return by_corners(work, photo, points)
    return by_bar(work, photo, points, forms.number("length_mm") or 0)


def _point(name: str) -> Pixel | None:
    x, y = forms.number(f"{name}_x"), forms.number(f"{name}_y")
    if (x is None) is not (y is None):
        raise BadData(f"the {name} point lacks one of its two numbers", remedy="mark it again")
    return None if x is None or y is None else (x, y)


def _page(uuid: UUID, photo: UUID, refused: CatalogueError | None) -> str:
    kept = asking.work(uuid)
    shown = kept.record.photo(str(photo))
    return render_template(
        "scale.html",
        work=kept.record,
        revision=kept.revision,
        photo=shown,
        points=POINTS,
        drawn=" ".join(f"{x:g},{y:g}" for x, y in shown.outline),
        typed=request.form if refused else _marked(shown),
        refused=refused,
    )


def _marked(photo: Photo) -> dict[str, str]:
    """The fields of the page for an outline that is kept, so that it can be put right."""
    return {
        f"{name}_{axis}": f"{pixels:.10g}"
        for name, corner in zip(POINTS, photo.outline, strict=False)
        for axis, pixels in zip(AXES, corner, strict=True)
    }
