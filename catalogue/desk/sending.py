"""What leaves: in which format, for whom, what stays home and why, and the list of what was sent."""

from __future__ import annotations

import tempfile
import zipfile
from pathlib import Path
from typing import IO, Any, Final
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, send_file, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.leading import leading_in
from catalogue.desk.person import ask_first
from catalogue.errors import MayNotLeave

pages = Blueprint("sending", __name__)

USUAL: Final = ("linked-art", "public")
PARCEL: Final = "parcel"
REHEARSED_AS: Final = "full-graph"
"""A parcel is looked at by its records alone: its photographs would keep the page waiting."""
IN_MEMORY: Final = 16 * 1024 * 1024


@pages.get("/work/<uuid:uuid>/send")
def one(uuid: UUID) -> str:
    """Offer to send one work; what leaves and what stays is shown side by side before."""
    return _page_of(uuid, *_chosen(request.args))


@pages.get("/send")
def everything() -> str:
    """Offer to send every work, or those that a question finds."""
    return _page(None, *_chosen(request.args))


@pages.post("/work/<uuid:uuid>/send")
def send_one(uuid: UUID) -> Any:
    """Send one work and whom it names, or only look at what would leave."""
    kept = asking.work(uuid)
    format_name, profile_name = _chosen(request.form)
    if forms.flag("look"):
        onward = url_for(
            "sending.one", uuid=uuid, format=format_name, profile=profile_name, **_of_pictures()
        )
        return redirect(onward, code=303)
    if not at_work():
        return ask_first(url_for("sending.one", uuid=uuid))
    try:
        return _sent([kept.document_id], kept.record.number or kept.record.id)
    except MayNotLeave as refused:
        return _page_of(uuid, format_name, profile_name, refused), 422


@pages.post("/send")
def send_all() -> Any:
    """Send every work, or those that a question finds."""
    if not at_work():
        return ask_first(url_for("sending.everything"))
    question = forms.text("q")
    works = list(studio().works_found(question)) if question else None
    format_name, profile_name = _chosen(request.form)
    if forms.flag("look"):
        onward = url_for(
            "sending.everything",
            format=format_name,
            profile=profile_name,
            q=question or "",
            **_of_pictures(),
        )
        return redirect(onward, code=303)
    try:
        return _sent(works, "works-found" if question else "all-works")
    except MayNotLeave as refused:
        return _page(None, format_name, profile_name, refused=refused), 422


@pages.get("/sent")
def sent() -> str:
    """Everything that was sent: when, by whom, to whom, under which list."""
    return render_template("sent.html", sent=list(reversed(studio().exports())))


def _chosen(typed: Any) -> tuple[str, str]:
    return typed.get("format", USUAL[0]), typed.get("profile", USUAL[1])


def _of_pictures() -> dict[str, Any]:
    """What was typed about photographs, as it is told from page to page."""
    return {"pictures": forms.text("pictures"), "longest": forms.text("longest")}


def _page_of(
    uuid: UUID, format_name: str, profile_name: str, refused: MayNotLeave | None = None
) -> str:
    kept = asking.work(uuid)
    looked_at = REHEARSED_AS if format_name == PARCEL else format_name
    with tempfile.TemporaryDirectory(prefix="dorse-send-") as folder:
        made = studio().rehearse(looked_at, profile_name, Path(folder), [kept.document_id])
    return _page(
        kept.record,
        format_name,
        profile_name,
        made=made,
        refused=refused or made.refused,
        seen=studio().preview(kept.document_id, profile_name),
        leads_to=leading_in(kept.record),
    )


def _page(work: Any, format_name: str, profile_name: str, **shown: Any) -> str:
    question = request.values.get("q", "").strip()
    found = len(studio().works_found(question)) if question and work is None else None
    nothing = {"made": None, "refused": None, "seen": (), "leads_to": None}
    return render_template(
        "send.html",
        work=work,
        formats=studio().formats(),
        profiles=studio().profiles(),
        asks=studio().asks_before(profile_name),
        chosen=(format_name, profile_name),
        pictures=studio().choices_of_pictures(),
        question=question,
        found=found,
        typed=request.form,
        **{**nothing, **shown},
    )


def _allowed() -> dict[str, str]:
    """The names that somebody lets leave this once, each with the reason that was typed beside it."""
    names = request.form.getlist("allow")
    reasons = request.form.getlist("because")
    pairs = zip(names, reasons, strict=False)
    return {name: why.strip() for name, why in pairs if why.strip()}


def _sent(works: list[str] | None, stem: str) -> Response:
    """The export as one .zip, which lies on the disk only while it is being sent."""
    format_name, profile_name = _chosen(request.form)
    # every form on the page is sent along, also for formats in which no photograph leaves
    pictures = _of_pictures() if studio().sends_pictures(format_name) else {}
    longest = pictures.get("longest")
    with tempfile.TemporaryDirectory(prefix="dorse-send-") as folder:
        studio().export(
            format_name,
            profile_name,
            Path(folder),
            works,
            who=at_work(),
            recipient=forms.text("recipient") or "",
            reason=forms.text("reason") or "",
            allow=_allowed(),
            pictures=pictures.get("pictures") or "",
            longest_px=int(forms.as_number(longest, "longest")) if longest else None,
        )
        # closed by the server once it was sent
        parcel = tempfile.SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115
        _packed(Path(folder), parcel)
    parcel.seek(0)
    name = f"{stem}-{format_name}-{profile_name}.zip"
    return send_file(parcel, mimetype="application/zip", as_attachment=True, download_name=name)


def _packed(folder: Path, parcel: IO[bytes]) -> None:
    """Every file of an export in one zip; an export that is one already leaves as it is."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    if len(files) == 1 and files[0].suffix == ".zip":
        with files[0].open("rb") as whole:
            while part := whole.read(1 << 20):
                parcel.write(part)
        return
    with zipfile.ZipFile(parcel, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in files:
            packed.write(path, path.relative_to(folder).as_posix())
