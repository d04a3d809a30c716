"""Papers: any file that proves something, taken in with what it says, and given out as it came."""

from __future__ import annotations

from pathlib import PurePath
from typing import Any
from uuid import UUID

from flask import (
    Blueprint,
    Response,
    flash,
    redirect,
    render_template,
    request,
    send_file,
    url_for,
)

from catalogue.desk import drafts, forms
from catalogue.desk.asking import at_work, page_of, reader, studio
from catalogue.desk.blanks import Drawing, Sheet, fresh_out
from catalogue.desk.filling import Filling
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.desk.typed import Typed
from catalogue.errors import BadData, CatalogueError, NotOnFile, StaleRevision
from catalogue.keeping import Kept
from catalogue.record import Paper
from catalogue.wording import kind_word

pages = Blueprint("papers", __name__)


@pages.get("/work/<uuid:uuid>/papers", defaults={"kind": "work"})
@pages.get("/jobs/<uuid:uuid>/papers", defaults={"kind": "job"}, endpoint="of_job")
def new(uuid: UUID, kind: str) -> Any:
    """Ask for a file and what it proves."""
    if not at_work():
        return ask_first(request.full_path.rstrip("?"))
    half = drafts.taken_up()
    kept = studio().read(f"{kind}/{uuid}", half.revision if half else None)
    if half:
        filling = Filling(studio(), kept.record, drafts.typed(half), reader())
        return _page(kept, Drawing(filling))
    filling = Filling(studio(), kept.record, Typed({}), reader())
    filling.typed.add(fresh_out(Paper, "", filling))
    about = request.args.getlist("about")
    if about:
        filling.typed.add({"about": about})
    return _page(kept, Drawing(filling))


@pages.post("/work/<uuid:uuid>/papers", defaults={"kind": "work"})
@pages.post("/jobs/<uuid:uuid>/papers", defaults={"kind": "job"})
def take_in(uuid: UUID, kind: str) -> Any:
    """Keep a file with what it proves, or neither; what was typed stays on the page."""
    kept = studio().read(f"{kind}/{uuid}", forms.revision())
    filling = Filling(studio(), kept.record, Typed.of(request.form.lists()), reader())
    if forms.text("more"):
        return _page(kept, Drawing(filling, more=forms.text("more") or ""))
    try:
        paper, content = _filled(filling)
        saved = studio().add_paper(
            kept, paper, content, who=at_work(), strangers=tuple(filling.strangers.values())
        )
    except (StaleRevision, NotOnFile):
        raise
    except CatalogueError as refused:
        if not filling.errors:
            filling.errors["file"] = " ".join(filter(None, (refused.args[0], refused.remedy)))
        return _page(kept, Drawing(filling)), status(refused)
    flash(paper.title, "entered")
    return redirect(f"{page_of(saved.document_id)}#{paper.id}")


def _filled(filling: Filling) -> tuple[Paper, bytes]:
    """The paper of a form, with its file; its title is the file's name where none was typed."""
    file = request.files.get("file")
    name = (file.filename or "") if file else ""
    content = file.read() if file else b""
    if not filling.typed.one("title") and name:
        filling.typed.add({"title": [PurePath(name).stem]})
    if not name:
        filling.errors["file"] = "choose the file"
    paper = filling.value(Paper, "", None, {"file_name": name or "none"})
    if paper is None or filling.errors:
        raise BadData("not saved yet")
    return paper, content


def _page(kept: Kept[Any], drawing: Drawing) -> str:
    filling = drawing.filling
    kind = kept.document_id.partition("/")[0]
    return render_template(
        "paper.html",
        work=kept.record if kind == "work" else None,
        job=kept.record if kind == "job" else None,
        revision=kept.revision,
        sheet=Sheet(
            prefix="",
            own=filling.typed.one("id"),
            heading=f"New {kind_word('Paper').label}",
            parts=drawing.sheet(Paper, "", None, filling.typed),
        ),
        hint=kind_word("Paper").hint,
        drawing=drawing,
        errors=filling.errors,
        back=page_of(kept.document_id),
    )


@pages.get("/work/<uuid:uuid>/papers/<uuid:paper>/file", defaults={"kind": "work"})
@pages.get(
    "/jobs/<uuid:uuid>/papers/<uuid:paper>/file",
    defaults={"kind": "job"},
    endpoint="file_of_job",
)
def file(uuid: UUID, paper: UUID, kind: str) -> Response:
    """Give out the untouched file of a paper: to be saved, never opened here, whatever it holds."""
    record = studio().read(f"{kind}/{uuid}").record
    wanted = next((each for each in record.papers if each.id == str(paper)), None)
    if wanted is None:
        raise NotOnFile("there is no such paper here")
    answer = send_file(
        studio().original(wanted).absolute(),
        mimetype="application/octet-stream",
        as_attachment=True,
        download_name=wanted.file_name or f"{wanted.number or 'paper'}.bin",
    )
    answer.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    answer.headers["Cache-Control"] = "private, no-store"
    return answer


def address_of(kind: str, uuid: str, paper: Paper) -> str | None:
    """Where the file of a paper is given out; None where there is none."""
    if paper.sha256 is None:
        return None
    endpoint = "papers.file" if kind == "work" else "papers.file_of_job"
    return url_for(endpoint, uuid=uuid, paper=paper.id)
