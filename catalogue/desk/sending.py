"""What leaves: in which format, for whom, what stays home and why, and the list of what was sent."""

from __future__ import annotations

from typing import Any, Final
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for

from catalogue.desk import asking, forms, packing, under_way
from catalogue.desk.asking import at_work, studio
from catalogue.desk.leading import leading_in
from catalogue.desk.person import ask_first
from catalogue.errors import MayNotLeave
from catalogue.lists import leaf

pages = Blueprint("sending", __name__)

USUAL: Final = ("linked-art", "public")
PARCEL: Final = "parcel"
REHEARSED_AS: Final = "full-graph"
"""A parcel is looked at by its records alone: its photographs would keep the page waiting."""
SENT_SHOWN: Final = 20


@pages.get("/work/<uuid:uuid>/send")
def one(uuid: UUID) -> str:
    """Offer to send one work; what leaves and what stays is shown side by side before."""
    return _page_of(uuid, *_chosen(request.args))


@pages.get("/send")
def everything() -> str:
    """Offer to send every work, or those that a question finds; an errand that failed is begun again."""
    before = under_way.broken_off(request.args.get("errand", ""))
    refused = before.refused if before else None
    return _page(
        None,
        *_chosen(request.args),
        refused=refused if isinstance(refused, MayNotLeave) else None,
        typed=before.held if before else {},
    )


@pages.post("/work/<uuid:uuid>/send")
def send_one(uuid: UUID) -> Any:
    """Send one work and whom it names, or only look at what would leave."""
    kept = asking.work(uuid)
    format_name, profile_name = _chosen(request.form)
    if forms.flag("look"):
        onward = url_for(
            "sending.one", uuid=uuid, format=format_name, profile=profile_name, **_as_typed()
        )
        return redirect(onward, code=303)
    if not at_work():
        return ask_first(url_for("sending.one", uuid=uuid))
    parcel = _parcel((kept.document_id,), kept.record.number or kept.record.id)
    try:
        return packing.at_once(studio(), parcel)
    except MayNotLeave as refused:
        return _page_of(uuid, format_name, profile_name, refused), 422


@pages.post("/send")
def send_all() -> Any:
    """Send every work, or those that a question finds: a few at once, many in the background."""
    if not at_work():
        return ask_first(url_for("sending.everything"))
    question = forms.text("q") or ""
    format_name, profile_name = _chosen(request.form)
    onward = url_for(
        "sending.everything",
        format=format_name,
        profile=profile_name,
        q=question,
        **_as_typed(),
    )
    if forms.flag("look"):
        return redirect(onward, code=303)
    works = studio().works_found(question) if question else None
    parcel = _parcel(works, "works-found" if question else "all-works")
    if parcel.takes_long:
        # a form or a list that there is not is told on this page, not on that of the errand
        studio().sends_pictures(format_name)
        studio().asks_before(profile_name)
        task = packing.in_the_background(studio(), parcel)
        typed = {"recipient": parcel.recipient, "reason": parcel.reason}
        errand = under_way.begin(parcel.called(), at_work(), task, again=onward, held=typed)
        return redirect(under_way.page_of(errand), code=303)
    try:
        return packing.at_once(studio(), parcel)
    except MayNotLeave as refused:
        return _page(None, format_name, profile_name, refused=refused), 422


@pages.get("/sent")
def sent() -> str:
    """Everything that was sent, the last first, a page at a time: by whom, to whom, under which list."""
    found = studio().exports()
    return render_template("sent.html", found=leaf(reversed(found), forms.page(), SENT_SHOWN))


def _chosen(typed: Any) -> tuple[str, str]:
    return typed.get("format", USUAL[0]), typed.get("profile", USUAL[1])


def _as_typed() -> dict[str, Any]:
    """What was typed beside the form and the list, as it is told from page to page."""
    return {name: forms.text(name) for name in ("pictures", "longest", "recipient", "reason")}


def _page_of(
    uuid: UUID, format_name: str, profile_name: str, refused: MayNotLeave | None = None
) -> str:
    kept = asking.work(uuid)
    looked_at = REHEARSED_AS if format_name == PARCEL else format_name
    made, seen = studio().looked_at(kept.document_id, looked_at, profile_name)
    return _page(
        kept.record,
        format_name,
        profile_name,
        made=made,
        refused=refused or made.refused,
        seen=seen,
        leads_to=leading_in(kept.record),
    )


def _page(work: Any, format_name: str, profile_name: str, **shown: Any) -> str:
    question = request.values.get("q", "").strip()
    found = len(studio().works_found(question)) if question and work is None else None
    nothing = {
        "made": None, "refused": None, "seen": (), "leads_to": None, "typed": request.values,
    }  # fmt: skip
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
        **{**nothing, **shown},
    )


def _allowed() -> dict[str, str]:
    """The names that somebody lets leave this once, each with the reason that was typed beside it."""
    names = request.form.getlist("allow")
    reasons = request.form.getlist("because")
    pairs = zip(names, reasons, strict=False)
    return {name: why.strip() for name, why in pairs if why.strip()}


def _parcel(works: tuple[str, ...] | None, stem: str) -> packing.Parcel:
    """What the form asks for."""
    format_name, profile_name = _chosen(request.form)
    longest = forms.text("longest")
    return packing.Parcel(
        works=works,
        format=format_name,
        profile=profile_name,
        who=at_work(),
        recipient=forms.text("recipient") or "",
        reason=forms.text("reason") or "",
        allow=_allowed(),
        pictures=forms.text("pictures") or "",
        longest_px=int(forms.as_number(longest, "longest")) if longest else 0,
        stem=stem,
    )
