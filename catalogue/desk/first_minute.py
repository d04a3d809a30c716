"""The first minute: the sample studio explained, an empty one begun, the sample brought in and left out."""

from __future__ import annotations

from functools import partial
from typing import Any

from flask import Blueprint, flash, redirect, session, url_for

from catalogue.demo import WHO, bring_in
from catalogue.desk import under_way
from catalogue.desk.asking import at_work, studio
from catalogue.places import table

pages = Blueprint("first_minute", __name__)

PAGES = {"people": "person.ask", "work": "arriving.new", "book": "taking.hand_over"}
"""Where the steps of an empty studio lead; the sample is no page but something that is done."""


def shown(works: int) -> dict[str, Any]:
    """What the bench says to somebody who sees it for the first time; `works` are on file."""
    said = table("first_minute.toml")
    known = studio().sample()
    if known is not None and known.is_here and works:
        offered = [
            each for each in said["sample"]["try"] if f"work/{each['work']}" in known.documents
        ]
        lines = studio().shown(f"work/{each['work']}" for each in offered)
        tries = [
            {
                **each,
                "page": url_for(each["page"], uuid=each["work"], **each.get("with", {})),
                "line": line,
            }
            for each, line in zip(offered, lines, strict=True)
        ]
        return {"sample": said["sample"], "tries": tries, "own": max(works - known.works, 0)}
    if works:
        return {}
    people = bool(studio().members())
    steps = [
        {**each, "page": _page(each["key"]), "done": people and each["key"] == "people"}
        for each in said["empty"]["step"]
    ]
    return {"empty": said["empty"], "steps": steps}


def _page(key: str) -> str | None:
    if key not in PAGES:
        return None
    return url_for(PAGES[key], next="/") if key == "people" else url_for(PAGES[key])


SAYS = "bring the sample in"


@pages.post("/sample/in")
def sample_in() -> Any:
    """Bring the sample in: back at once where it was here before, else drawn and taken in."""
    if studio().sample() is not None:
        studio().bring_sample_back(who=at_work() or WHO)
        flash("", "sample back")
        return redirect("/")
    running = [
        each for each in under_way.errands().all() if each.says == SAYS and not each.is_over
    ]
    errand = (
        running[0] if running else under_way.begin(SAYS, at_work(), partial(bring_in, studio()))
    )
    return redirect(under_way.page_of(errand), code=303)


@pages.post("/sample/out")
def sample_out() -> Any:
    """Leave the sample out: its records are set aside as one change, which can be taken back."""
    gone = studio().set_sample_aside(who=at_work())
    if at_work() in gone:
        session.pop("who", None)
    flash(str(len(gone)), "sample aside")
    return redirect("/")
