"""Work that takes long, begun at the desk: its page shows how far it is, and may be left."""

from __future__ import annotations

import time
from typing import Any, Final, cast

from flask import (
    Blueprint,
    Flask,
    current_app,
    redirect,
    render_template,
    request,
    send_file,
    url_for,
)

from catalogue.desk.asking import at_work
from catalogue.errors import NotOnFile
from catalogue.studio import Studio
from catalogue.under_way import Errand, Task, UnderWay

pages = Blueprint("under_way", __name__)

ERRANDS: Final = "dorse-under-way"
LOOK_AGAIN_SECONDS: Final = 0.04


def open_in(app: Flask, studio: Studio) -> None:
    """Give a desk its row of errands, and take up what an earlier one left."""
    app.extensions[ERRANDS] = UnderWay(studio.folder)


def close_in(app: Flask) -> None:
    """Ask what is under way to stop; what does not come to its end is told at the next start."""
    cast("UnderWay", app.extensions[ERRANDS]).close()


def errands() -> UnderWay:
    """The errands of this desk."""
    return cast("UnderWay", current_app.extensions[ERRANDS])


def begin(says: str, who: str, task: Task, **more: Any) -> Errand:
    """Begin an errand (`UnderWay.begin`); where to go then is `page_of` it.

    The task runs outside of any request: it has to take the studio with it, and ask no page.
    """
    return errands().begin(says, who, task, **more)


def waited_for(errand: Errand, seconds: float) -> Errand:
    """An errand that may be over at once as it stands then, or after so long: its page is spared."""
    patience = time.monotonic() + seconds
    while not errand.is_over and time.monotonic() < patience:
        time.sleep(LOOK_AGAIN_SECONDS)
        errand = errands().one(errand.token)
    return errand


def broken_off(token: str) -> Errand | None:
    """The errand that somebody begins again, with what was typed for it; None where there is none."""
    try:
        errand = errands().one(token)
    except NotOnFile:
        return None
    return errand if errand.is_over and errand.state != "done" else None


def page_of(errand: Errand) -> str:
    """The page on which one sees how far an errand is."""
    return url_for("under_way.one", token=errand.token)


@pages.get("/under-way")
def every() -> str:
    """List what is under way, what waits, and what was done lately."""
    return render_template("under_way_all.html", errands=errands().all())


@pages.get("/under-way/<token>")
def one(token: str) -> str:
    """Show one errand: how far it is, or what it came to. `piece` asks for what changes alone."""
    errand = errands().one(token)
    page = "_under_way.html" if request.args.get("piece") else "under_way.html"
    return render_template(page, errand=errand, still=bool(request.args.get("still")))


@pages.post("/under-way/<token>/stop")
def stop(token: str) -> Any:
    """Ask an errand to stop at the next place where it can."""
    return redirect(page_of(errands().stop(token)), code=303)


@pages.post("/under-way/<token>/drop")
def drop(token: str) -> Any:
    """Throw away an errand that is over, with the file that it made."""
    errands().drop(token)
    return redirect(url_for("under_way.every"), code=303)


@pages.get("/under-way/<token>/file")
def file(token: str) -> Any:
    """Hand out the file that an errand made."""
    landing = errands().one(token).landing
    if not at_work() or landing is None or landing.file is None or not landing.file.is_file():
        raise NotOnFile("there is no file to fetch here", remedy="begin the work again")
    answer = send_file(landing.file, as_attachment=True, download_name=landing.file_name)
    answer.headers["Cache-Control"] = "private, no-store"
    return answer
