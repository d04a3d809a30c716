"""The search: one field, what was found as cards, what it can be narrowed by; searches kept; how to ask.

The text in the field is the one truth. What stands beside the answer changes the text and nothing else,
and the script that answers while one types fetches the same results that the page shows without it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from catalogue.desk.asking import studio
from catalogue.desk.cards import cards
from catalogue.errors import BadData, CatalogueError
from catalogue.narrowing import help_sections, mended, orders_of

pages = Blueprint("finding", __name__)

LONGEST: Final = 10_000
"""Of a longer question this much is read: the address of a page cannot be of any length."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as it was typed, with what was found, or why nothing could be."""

    text: str
    found: Any = None
    refused: CatalogueError | None = None

    @property
    def code(self) -> int:
        """The status of a page that shows it."""
        return 422 if self.refused else 200


@pages.get("/find")
def find() -> tuple[str, int]:
    """Show the field, and what was found for what stands in it."""
    asked = _asked()
    return render_template("find.html", **_shown(asked)), asked.code


@pages.get("/find/part")
def part() -> tuple[str, int]:
    """Send the part of the page below the field, for whoever is still typing."""
    asked = _asked()
    return render_template("_found.html", **_shown(asked)), asked.code


def _asked() -> Asked:
    text = request.args.get("q", "").strip()[:LONGEST]
    page = max(request.args.get("page", 1, type=int), 1)
    if not text:
        return Asked("")
    try:
        return Asked(text, studio().search(studio().query(text, page=page)))
    except BadData as refused:
        return Asked(text, refused=refused)


def _shown(asked: Asked) -> dict[str, Any]:
    return {
        "asked": asked,
        "found": asked.found,
        "cards": cards(asked.found.hits) if asked.found else (),
        "facets": studio().narrowed(asked.text, asked.found) if asked.found else (),
        "mended": mended(asked.text),
        "orders": orders_of(asked.text),
        "saved": studio().saved_searches(),
    }


@pages.get("/find/saved")
def saved() -> str:
    """Show the searches that are kept, each with how much it finds today."""
    return render_template(
        "find_saved.html",
        saved=[(each, _total(each.text)) for each in studio().saved_searches()],
    )


def _total(text: str) -> Any:
    try:
        return studio().search(studio().query(text, limit=1, counting=False))
    except BadData:
        return None


@pages.post("/find/saved")
def keep() -> Response:
    """Keep, rename or remove a search, and go back to where that was asked for."""
    act, name = request.form.get("act", ""), request.form.get("name", "")
    if act == "rename":
        made = studio().rename_search(request.form.get("old", ""), name)
        flash(made.name, "search renamed")
    elif act == "remove":
        flash(studio().remove_search(name).name, "search removed")
    else:
        made = studio().save_search(name, request.form.get("q", ""))
        flash(made.name, "search kept")
        return redirect(url_for("finding.find", q=made.text))
    return redirect(url_for("finding.saved"))


@pages.get("/find/help")
def how_to_ask() -> str:
    """Show the language of questions, and questions that one click asks."""
    return render_template(
        "find_help.html", sections=help_sections(), questions=studio().questions()
    )
