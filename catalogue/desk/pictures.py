"""The photographs themselves, in the sizes that pages ask for."""

from __future__ import annotations

from flask import Blueprint, Response, send_file

from catalogue.desk.asking import studio

pages = Blueprint("pictures", __name__)


@pages.get("/photo/<sha256>/<recipe>.jpg")
def picture(sha256: str, recipe: str) -> Response:
    """Send one size of a photograph; its address names its content, so it never goes stale."""
    made = studio().picture(sha256, recipe)
    answer = send_file(made.absolute(), conditional=True)
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer
