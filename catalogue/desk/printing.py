"""Papers for people: which one, as what, on which page; given out as a file to print or to keep."""

from __future__ import annotations

from io import BytesIO
from uuid import UUID

from flask import Blueprint, Response, render_template, request, send_file

from catalogue.desk.asking import page_of, studio

pages = Blueprint("printing", __name__)

USUAL = {"paper": "condition", "as": "pdf", "page": "a4"}
USUAL_OF_JOB = {**USUAL, "paper": "entry-receipt"}
_KINDS = {"pdf": "application/pdf", "html": "text/html"}


@pages.get("/work/<uuid:uuid>/print", defaults={"kind": "work"})
@pages.get("/jobs/<uuid:uuid>/print", defaults={"kind": "job"}, endpoint="of_job")
def choose(uuid: UUID, kind: str) -> str:
    """Offer every paper about a work or a job."""
    kept = studio().read(f"{kind}/{uuid}")
    return render_template(
        "print.html",
        work=kept.record if kind == "work" else None,
        job=kept.record if kind == "job" else None,
        works=[studio().read(item.work).record for item in kept.record.items]
        if kind == "job"
        else [],
        papers=studio().printable(),
        chosen=USUAL if kind == "work" else USUAL_OF_JOB,
        back=page_of(kept.document_id),
    )


@pages.get("/work/<uuid:uuid>/print/paper", defaults={"kind": "work"})
@pages.get("/jobs/<uuid:uuid>/print/paper", defaults={"kind": "job"}, endpoint="paper_of_job")
def paper(uuid: UUID, kind: str) -> Response:
    """Give out one paper as a file."""
    asked = {**USUAL, **request.args}
    checks = tuple(request.args.getlist("check")) if asked["paper"] in _OF_CHECKS else ()
    printed = studio().print_(
        f"{kind}/{uuid}",
        asked["paper"],
        work=asked.get("work"),
        checks=checks,
        written_as=asked["as"],
        page=asked["page"],
    )
    answer = send_file(
        BytesIO(printed.content),
        mimetype=_KINDS[asked["as"]],
        as_attachment=True,
        download_name=f"{asked['paper']}-{printed.number}.{asked['as']}",
    )
    answer.headers["Cache-Control"] = "private, no-store"
    return answer


_OF_CHECKS = ("condition", "comparison")
"""Papers that are about checks: what is ticked counts for these alone."""
