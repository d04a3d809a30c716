"""The photographs themselves, in the sizes that pages ask for, and in tiles for the light table.

What was changed by a calculation is sent under a file name that says so: whoever saves it to disk keeps
a file called a derivative, not a photograph of the object.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from flask import Blueprint, Response, abort, current_app, jsonify, request, send_file

from catalogue.desk.asking import studio
from catalogue.desk.refusals import status
from catalogue.errors import CatalogueError, Damaged, NotOnFile

pages = Blueprint("pictures", __name__)

_BOX: Final = re.compile(r"[0-9]{1,6}-[0-9]{1,6}-[1-9][0-9]{0,5}-[1-9][0-9]{0,5}")
_LEVEL: Final = re.compile(r"[0-9]{1,2}")
_PLACE: Final = re.compile(r"[0-9]{1,6}-[0-9]{1,6}")


@pages.get("/photo/<sha256>/<recipe>.jpg")
def picture(sha256: str, recipe: str) -> Response:
    """Send one size of a photograph; its address names its content, so it never goes stale.

    Where its file is not here, a drawing says so in its place.
    """
    try:
        return _sent(studio().picture(sha256, recipe))
    except (NotOnFile, Damaged):
        if not accepts_a_drawing():
            raise
        answer = current_app.send_static_file("no-picture.svg")
        answer.status_code = 404
        answer.headers["Cache-Control"] = "no-store"
        return answer


def accepts_a_drawing() -> bool:
    """Whether an image of a page asks, and nobody who would read a page in words."""
    wanted = request.headers.get("Accept", "")
    return "image/svg+xml" in wanted and "text/html" not in wanted


@pages.get("/photo/<sha256>/part/<box>.jpg")
def part(sha256: str, box: str) -> Response:
    """Send one part of a photograph, small: `box` is x-y-width-height in upright pixels."""
    if not _BOX.fullmatch(box):
        abort(404)
    x, y, width, height = map(int, box.split("-"))
    return _sent(studio().crop(sha256, (x, y, width, height)))


@pages.get("/photo/<sha256>/tiles.json")
def tiles(sha256: str) -> tuple[Response, int]:
    """Say what there is of a photograph in tiles, and the ways of looking at it."""
    try:
        there = studio().tiles(sha256)
    except CatalogueError as error:
        return _refused(error)
    told = {
        "width": there.width, "height": there.height, "tile": there.tile, "levels": there.levels,
        "ways": [{"key": each.key, "label": each.label, "says": each.says} for each in there.ways],
    }  # fmt: skip
    return jsonify(told), 200


@pages.get("/photo/<sha256>/<way>/<level>/<place>.jpg")
def tile(sha256: str, way: str, level: str, place: str) -> Response:
    """Send one tile: `level` 0 is full size, `place` is x-y, counted in tiles."""
    if not _LEVEL.fullmatch(level) or not _PLACE.fullmatch(place):
        abort(404)
    x, y = map(int, place.split("-"))
    made = studio().tile(sha256, way, int(level), x, y)
    if way == "plain":
        return _sent(made)
    return _sent(made, f"{sha256[:8]}-{way}-derivative-{level}-{place}.jpg")


@pages.get("/photo/<sha256>/onto/<other>.json")
def onto(sha256: str, other: str) -> tuple[Response, int]:
    """Say how another photograph lies on this one: nine numbers, how sure, and what that means."""
    try:
        lies = studio().laid_over(sha256, other)
    except CatalogueError as error:
        return _refused(error)
    return jsonify(matrix=lies.matrix, sure=lies.sure, says=lies.says), 200


def _refused(error: CatalogueError) -> tuple[Response, int]:
    """What went wrong, for a script to say in its page."""
    return jsonify(says=error.args[0], remedy=error.remedy), status(error)


def _sent(made: Path, name: str | None = None) -> Response:
    answer = send_file(made.absolute(), conditional=True, download_name=name)
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer
