"""Records taken in by the browser: files are handed over, looked at on the tray, then taken in.

An old job book is looked at row by row under its mapping, which can be changed until every row reads
as it should.
"""

from __future__ import annotations

from collections import Counter
from itertools import islice
from typing import Any, Final

from flask import Blueprint, flash, redirect, render_template, request, url_for

from catalogue.desk import forms, tray
from catalogue.desk.asking import at_work, studio
from catalogue.desk.person import ask_first
from catalogue.errors import CatalogueError

pages = Blueprint("taking", __name__)

SHOWN: Final = 200
"""How many rows or documents a page shows one by one; all of them are counted."""


@pages.get("/take-in")
def hand_over() -> Any:
    """Ask for files."""
    if not at_work():
        return ask_first(request.path)
    return render_template("take_in.html")


@pages.post("/take-in")
def lay_down() -> Any:
    """Lay files on the tray."""
    if not at_work():
        return ask_first(url_for("taking.hand_over"))
    token = tray.put(studio().folder, request.files.getlist("files"))
    return redirect(url_for("taking.look", token=token), code=303)


@pages.get("/take-in/<token>")
def look(token: str) -> Any:
    """Show what would become of what lies there; nothing is saved."""
    if not at_work():
        return ask_first(request.path)
    files = tray.lying(studio().folder, token)
    if tray.book(studio().folder, token):
        return _look_at_book(token)
    told = list(studio().foresee(files))
    return render_template(
        "take_in_look.html",
        token=token,
        files=files,
        told=told[:SHOWN],
        more=max(len(told) - SHOWN, 0),
        counts=Counter(each.outcome for each in told),
    )


@pages.post("/take-in/<token>/mapping")
def change_mapping(token: str) -> Any:
    """Keep the mapping as it was changed, and look at the rows again."""
    text = request.form.get("mapping", "").replace("\r\n", "\n")
    tray.mapping(studio().folder, token).write_text(text, encoding="utf-8")
    return redirect(f"{url_for('taking.look', token=token)}#rows", code=303)


@pages.post("/take-in/<token>")
def keep(token: str) -> Any:
    """Take in what lies there, or throw it off the tray."""
    if not at_work():
        return ask_first(url_for("taking.look", token=token))
    folder = studio().folder
    files = tray.lying(folder, token)
    if forms.flag("throw_away"):
        tray.clear(folder, token)
        flash("It was thrown off the tray; nothing was saved.")
        return redirect(url_for("taking.hand_over"), code=303)
    add = forms.flag("add")
    book = tray.book(folder, token)
    if book:
        mapping = tray.mapping(folder, token)
        told = list(studio().read_book(book, mapping, who=at_work(), add=add).taken())
    else:
        told = list(studio().import_(files, who=at_work(), add=add))
    studio().catch_up()
    tray.clear(folder, token)
    return render_template(
        "taken_in.html",
        told=[each for each in told if each.outcome != "new" or each.said][:SHOWN],
        new=[each for each in told if each.outcome == "new"][:SHOWN],
        counts=Counter(each.outcome for each in told),
    )


def _look_at_book(token: str) -> Any:
    """An old job book: its mapping, and every row as it is read under it."""
    folder = studio().folder
    book = tray.lying(folder, token)[0]
    mapping = tray.mapping(folder, token)
    refused: CatalogueError | None = None
    rows, counts, odd = [], Counter[str](), []
    try:
        if not mapping.exists():
            mapping.write_text(studio().draft_mapping(book, mapping.name), encoding="utf-8")
        taking = studio().read_book(book, mapping, who=at_work())
        odd = list(taking.book.told)
        read = taking.tried()
        rows = list(islice(read, SHOWN))
        counts.update(each.outcome for each in rows)
        counts.update(each.outcome for each in read)
    except CatalogueError as error:
        refused = error
    return render_template(
        "take_in_book.html",
        token=token,
        book=book,
        mapping=mapping.read_text("utf-8") if mapping.exists() else "",
        rows=rows,
        counts=counts,
        odd=odd,
        refused=refused,
        more=max(counts.total() - SHOWN, 0),
    ), (422 if refused else 200)
