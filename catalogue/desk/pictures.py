"""The photographs themselves, in the sizes that pages ask for."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from flask import Blueprint, Response, abort, send_file

from catalogue.desk.asking import studio

pages = Blueprint("pictures", __name__)

_BOX: Final = re.compile(r"[0-9]{1,6}-[0-9]{1,6}-[1-9][0-9]{0,5}-[1-9][0-9]{0,5}")


@pages.get("/photo/<sha256>/<recipe>.jpg")
def picture(sha256: str, recipe: str) -> Response:
    """Send one size of a photograph; its address names its content, so it never goes stale."""
    return _sent(studio().picture(sha256, recipe))


@pages.get("/photo/<sha256>/part/<box>.jpg")
def part(sha256: str, box: str) -> Response:
    """Send one part of a photograph, small: `box` is x-y-width-height in upright pixels."""
    if not _BOX.fullmatch(box):
        abort(404)
    x, y, width, height = map(int, box.split("-"))
    return _sent(studio().crop(sha256, (x, y, width, height)))


def _sent(made: Path) -> Response:
    answer = send_file(made.absolute(), conditional=True)
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer
