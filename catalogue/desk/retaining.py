"""How long what is kept: what is due, what is held, what was deleted; and everything on one person."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, url_for

from catalogue.desk import forms
from catalogue.desk.asking import PAGE_OF, at_work, studio
from catalogue.desk.person import ask_first
from catalogue.lists import leaf
from catalogue.measure import Day
from catalogue.retention import Due, rules

pages = Blueprint("retaining", __name__)


@pages.get("/kept")
def show() -> str:
    """What need not be kept any more, what is held, and the rules."""
    today = studio().today()
    standing = list(studio().retention())
    return render_template(
        "kept.html",
        due=leaf((each for each in standing if each.is_due(today)), forms.page()),
        later=leaf(_later(standing, today), 1),
        held=studio().holds(),
        rules=rules(),
        deleted=list(studio().forgotten()),
        own_page=own_page,
    )


@pages.get("/kept/later")
def later() -> str:
    """What is due some day, the next first, a page at a time."""
    found = leaf(_later(studio().retention(), studio().today()), forms.page())
    return render_template("kept_later.html", found=found, own_page=own_page)


def _later(standing: Iterable[Due], today: Day) -> list[Due]:
    """What is due after today, held or not, the next first."""
    found = ((each.due, each) for each in standing if each.due and each.due > today)
    return [each for _, each in sorted(found, key=lambda pair: pair[0])]


def own_page(document_id: str) -> str:
    """The page of a listed record, which need not be read for it."""
    kind, _, uuid = document_id.partition("/")
    return url_for(PAGE_OF[kind], uuid=uuid)


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
        own_page=own_page,
    )
