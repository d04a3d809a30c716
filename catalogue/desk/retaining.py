"""How long what is kept: what is due, what is held, what was deleted; and everything on one person."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, url_for

from catalogue.desk import forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.person import ask_first
from catalogue.retention import rules

pages = Blueprint("retaining", __name__)


@pages.get("/kept")
def show() -> str:
    """What need not be kept any more, what is held, and the rules."""
    today = studio().today()
    standing = list(studio().retention())
    return render_template(
        "kept.html",
        due=[each for each in standing if each.is_due(today)],
        later=sorted(
            (each for each in standing if each.due and each.due > today),
            key=lambda each: each.due.iso if each.due else "",
        ),
        held=studio().holds(),
        rules=rules(),
        deleted=list(studio().forgotten()),
        today=today,
    )


@pages.post("/kept")
def decide() -> Any:
    """Hold a record, or let it go."""
    if not at_work():
        return ask_first(url_for("retaining.show"))
    wanted = forms.text("record") or ""
    if forms.flag("let_go"):
        studio().let_go(wanted)
        flash("It is held no longer.")
    else:
        studio().hold(wanted, who=at_work(), why=forms.text("why") or "")
        flash("It is held: it is never due and cannot be forgotten.")
    return redirect(url_for("retaining.show"), code=303)


@pages.get("/people/<uuid:uuid>/everything")
def person(uuid: UUID) -> str:
    """Everything on file about one person or firm, as one page to print."""
    found = studio().about_person(f"party/{uuid}")
    return render_template(
        "everything.html",
        found=found,
        basis=[each for each in rules() if each.of != "always"],
    )
