"""What leaves: in which format, for whom, and what stays home."""

from __future__ import annotations

import tempfile
import zipfile
from collections import Counter
from pathlib import Path
from typing import Any
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, send_file, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, forms
from catalogue.desk.asking import studio

pages = Blueprint("sending", __name__)

USUAL = ("linked-art", "public")
IN_MEMORY = 16 * 1024 * 1024


@pages.get("/work/<uuid:uuid>/send")
def one(uuid: UUID) -> str:
    """Offer to send one work; what would stay home is shown before."""
    kept = asking.work(uuid)
    format_name, profile_name = _chosen(request.args)
    with tempfile.TemporaryDirectory(prefix="dorse-send-") as folder:
        sent = studio().export(format_name, profile_name, Path(folder), [kept.document_id])
    return _page(kept.record, format_name, profile_name, sent)


@pages.get("/send")
def everything() -> str:
    """Offer to send every work; what stays home is shown on the page of each."""
    return _page(None, *_chosen(request.args), None)


@pages.post("/work/<uuid:uuid>/send")
def send_one(uuid: UUID) -> Response:
    """Send one work and whom it names, or only look at what would leave."""
    kept = asking.work(uuid)
    if forms.flag("look"):
        format_name, profile_name = _chosen(request.form)
        onward = url_for("sending.one", uuid=uuid, format=format_name, profile=profile_name)
        return redirect(onward, code=303)
    return _zipped([kept.document_id], kept.record.number or kept.record.id)


@pages.post("/send")
def send_all() -> Response:
    """Send every work."""
    return _zipped(None, "all-works")


def _chosen(typed: Any) -> tuple[str, str]:
    return typed.get("format", USUAL[0]), typed.get("profile", USUAL[1])


def _page(work: Any, format_name: str, profile_name: str, sent: Any) -> str:
    home = Counter((each.what, each.why) for _, each in sent.stayed_home) if sent else Counter()
    return render_template(
        "send.html",
        work=work,
        formats=studio().formats(),
        profiles=studio().profiles(),
        chosen=(format_name, profile_name),
        sent=sent,
        home=sorted(home.items(), key=lambda each: (each[0][1], each[0][0])),
    )


def _zipped(works: list[str] | None, stem: str) -> Response:
    """The export as one .zip, which lies on the disk only while it is being sent."""
    format_name, profile_name = _chosen(request.form)
    parcel = tempfile.SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115 (closed when sent)
    with tempfile.TemporaryDirectory(prefix="dorse-send-") as folder:
        studio().export(format_name, profile_name, Path(folder), works)
        with zipfile.ZipFile(parcel, "w", zipfile.ZIP_DEFLATED) as packed:
            for path in sorted(Path(folder).rglob("*")):
                if path.is_file():
                    packed.write(path, path.relative_to(folder).as_posix())
    parcel.seek(0)
    name = f"{stem}-{format_name}-{profile_name}.zip"
    return send_file(parcel, mimetype="application/zip", as_attachment=True, download_name=name)
