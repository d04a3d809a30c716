"""Help in the page: one page that leads to all of it; how places are measured, what to mind, every key."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, render_template, url_for

from catalogue.desk.asking import studio
from catalogue.places import table
from catalogue.surface import Box, Sheet, mirror
from catalogue.terms import every_caution

pages = Blueprint("helping", __name__)


@pages.get("/help")
def all_of_it() -> str:
    """Lead to every leaf of the help."""
    said = table("help.toml")
    leaves = [{**each, "page": url_for(each["page"])} for each in said["leaf"]]
    return render_template(
        "help.html", leaves=leaves, verbs=said["verbs"], sample=studio().sample()
    )


@pages.get("/help/places")
def places() -> str:
    """Show how a place is measured, and where it lies on the other side."""
    said = table("help.toml")["places"]
    example: dict[str, Any] = said["example"]
    sheet = Sheet(*example["side_mm"])
    back = Box(*example["label_mm"])
    return render_template(
        "help_places.html",
        says=said["says"],
        sheet=sheet,
        sides=((example["back"], back), (example["front"], mirror(back, sheet))),
    )


@pages.get("/help/safety")
def safety() -> str:
    """Show every caution, and who says so."""
    said = table("help.toml")["safety"]
    return render_template(
        "help_safety.html", said=said, cautions=[each for each in every_caution() if each.terms]
    )


@pages.get("/help/keys")
def keys() -> str:
    """Show the keys of every page."""
    return render_template("help_keys.html", groups=table("help.toml")["keys"])


def keys_about(what: str) -> list[list[str]]:
    """The rows of one group of keys, for the page where they are pressed."""
    groups: list[dict[str, Any]] = table("help.toml")["keys"]
    return next(each["rows"] for each in groups if each.get("about") == what)
