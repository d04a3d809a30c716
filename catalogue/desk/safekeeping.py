"""Keeping the studio safe, from the desk: everything checked, a copy to carry away, the search made anew."""

from __future__ import annotations

from typing import Any, Final

from flask import Blueprint, abort, redirect, render_template, url_for

from catalogue.desk import under_way
from catalogue.desk.asking import at_work, studio
from catalogue.errors import Damaged
from catalogue.studio import Studio
from catalogue.under_way import Landing, Progress, Task

pages = Blueprint("safekeeping", __name__)

FAULTS_TOLD: Final = 12


@pages.get("/safekeeping")
def show() -> str:
    """Show what can be done so that nothing is lost."""
    return render_template("safekeeping.html", last=studio().ledger.last())


@pages.post("/safekeeping/<what>")
def begin(what: str) -> Any:
    """Begin one of it in the background."""
    if what not in TASKS:
        abort(404)
    says, make, can_stop = TASKS[what]
    errand = under_way.begin(
        says, at_work(), make(studio()), can_stop=can_stop, again=url_for("safekeeping.show")
    )
    return redirect(under_way.page_of(errand), code=303)


def _checked(opened: Studio) -> Task:
    def check(progress: Progress) -> Landing:
        progress.says("Holding everything that is kept against what was saved.")
        found = opened.verify(progress=progress)
        if found.faults:
            told = [f"{each.what} {each.where}: {each.message}" for each in found.faults]
            more = len(told) - FAULTS_TOLD
            if more > 0:
                told = [*told[:FAULTS_TOLD], f"and {more} more"]
            raise Damaged(
                f"{len(found.faults)} things are not as they were saved. {'; '.join(told)}",
                remedy="bring the studio back from a copy: dorse restore",
            )
        return Landing(
            says=f"{found.changes} changes, {found.documents} documents and {found.files} files "
            f"are as they were saved. The last digest, to be kept outside the studio: {found.head}",
            where="/safekeeping",
        )

    return check


def _copied(opened: Studio) -> Task:
    def copy(progress: Progress) -> Landing:
        progress.says("Copying everything, and checking the copy.")
        name = f"studio-{opened.today().iso}.tar"
        file = progress.folder / name
        opened.backup(file, progress)
        return Landing(says="The copy is whole.", file=file, file_name=name)

    return copy


def _made_anew(opened: Studio) -> Task:
    def rebuild(progress: Progress) -> Landing:
        progress.says("Reading every record for the search.")
        held = opened.rebuild(progress)
        return Landing(says=f"The search knows {held} records.", where="/find")

    return rebuild


TASKS: Final = {
    "check": ("check everything that is kept", _checked, True),
    "copy": ("copy the whole studio", _copied, True),
    "search": ("make the search anew", _made_anew, False),
}
"""What is done, in words; the task; whether it can be stopped between its pieces."""
