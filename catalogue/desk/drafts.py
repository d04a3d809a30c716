"""Drafts of forms: kept as one types, offered to whoever comes back, used up by the save.

A form with `data-draft` carries three hidden blanks (templates/_drafts.html): an id for its draft, the place
it stands at, and what the page calls it. The reading page keeps its own, by inscription.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from threading import Lock
from typing import Any
from uuid import UUID

from flask import Blueprint, Response, current_app, g, jsonify, request, url_for
from werkzeug.exceptions import HTTPException

from catalogue.desk import forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.typed import Typed
from catalogue.errors import BadData, Busy, CannotSave, CatalogueError, NotOnFile
from catalogue.half_typed import LARGEST, MOST, HalfTyped, document_of, page_of, read
from catalogue.record import is_id, new_id

pages = Blueprint("drafts", __name__)

USED_UP_REMEMBERED = 2000
_USED_UP = "drafts used up"


class UsedUp:
    """The ids of drafts that a save used up: a page that was left may still send one of them."""

    def __init__(self) -> None:
        self._ids: OrderedDict[str, None] = OrderedDict()
        self._lock = Lock()

    def add(self, own: str) -> None:
        """Remember one, and no more than so many."""
        with self._lock:
            self._ids[own] = None
            if len(self._ids) > USED_UP_REMEMBERED:
                self._ids.popitem(last=False)

    def __contains__(self, own: str) -> bool:
        with self._lock:
            return own in self._ids


def _used_up() -> UsedUp:
    found: UsedUp = current_app.extensions.setdefault(_USED_UP, UsedUp())
    return found


# --- kept ---------------------------------------------------------------------------------------


@pages.post("/drafts")
def keep() -> Any:
    """Keep what is half typed: sent by the page itself as one types."""
    own = forms.text("draft") or ""
    if own in _used_up():
        # A page that is still open goes on under another id; one that was left does not.
        return jsonify(again=new_id()), 409
    try:
        draft = _kept(own)
    except CatalogueError as refused:
        said = " ".join(filter(None, (f"{refused.args[0]};", refused.remedy)))
        # What the disk or another program refuses is tried again by the page.
        again = isinstance(refused, Busy | CannotSave)
        return jsonify(message=f"not kept: {said}"), 503 if again else 422
    if own in _used_up():
        studio().ledger.drop_draft(draft.id)
    return jsonify(id=draft.id, at=draft.at)


def _kept(own: str) -> Any:
    """The draft of the form that was sent. Raises `BadData` for one that cannot be kept."""
    place = forms.text("draft_place") or ""
    document = document_of(place)
    if not is_id(own):
        raise BadData("this draft has no id", remedy="load the page again")
    ledger, who = studio().ledger, at_work()
    before = ledger.draft(own)
    if before is not None and (before.document, before.who) != (document, who):
        own, before = new_id(), None
    if before is None and len(ledger.drafts(who)) >= MOST:
        raise BadData(
            f"{MOST} forms are half typed already",
            remedy="take one up or throw it away, on the bench; save here before you leave",
        )
    text = HalfTyped.of(forms.text("draft_called") or "", request.form.lists()).text()
    return ledger.keep_draft(who=who, document=document, place=place, text=text, draft_id=own)


def kept_after_all() -> str | None:
    """Where the refused form goes on, with what was typed; None where nothing of it can be kept."""
    if request.method != "POST":
        return None
    try:
        if not forms.text("draft_place"):
            return None
        draft = _kept(forms.text("draft") or "")
    except (CatalogueError, HTTPException):  # too large even to be looked at
        return None
    g.draft_stays = True
    return where(draft)


# --- taken up -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Offer:
    """A draft as a page offers it. `says` is the longest text in it."""

    id: str
    who: str
    at: str
    called: str
    says: str
    fields: dict[str, list[str]]
    page: str


def offer(draft: Any) -> Offer:
    """How a draft of a form is offered."""
    held = read(draft.text)
    return Offer(
        draft.id, draft.who, draft.at, held.called, held.says(), held.fields, where(draft)
    )


def where(draft: Any) -> str:
    """The page on which a draft is taken up."""
    page, _, form = draft.place.partition("#")
    return f"{page}?draft={draft.id}" + (f"#{form.partition(':')[0]}" if form else "")


def offers() -> list[Offer]:
    """What is half typed on the page that is shown, but for what was just taken up."""
    if request.method != "GET" or not request.endpoint:
        return []
    try:
        document = document_of(request.path)
    except BadData:
        return []
    return [
        offer(each)
        for each in studio().ledger.drafts(document=document)
        if page_of(each.place) == request.path and each.id != request.args.get("draft")
    ]


def taken_up() -> HalfTyped | None:
    """The draft that this page was asked to go on with; None where it is not there, or not for it."""
    found = _asked_for()
    return read(found.text) if found else None


def typed(found: HalfTyped) -> Typed:
    """What stood in the blanks of a draft."""
    return Typed.of(found.fields.items())


def _asked_for() -> Any:
    own = request.args.get("draft", "")
    found = studio().ledger.draft(own) if request.method == "GET" and is_id(own) else None
    return found if found and page_of(found.place) == request.path else None


@dataclass(frozen=True, slots=True)
class Hooks:
    """The hidden blanks of one form. `source` is somebody else's draft that it goes on from."""

    id: str
    place: str
    source: str
    fill: str


def hooks(form: str = "", *, drawn: bool = False) -> Hooks:
    """The hidden blanks for a form of this page; `drawn` when the desk itself draws what was typed."""
    place = f"{request.path}#{form}" if form else request.path
    if request.method == "POST" and forms.text("draft_place") == place:
        own = forms.text("draft") or ""
        return Hooks(own if is_id(own) else new_id(), place, forms.text("draft_from") or "", "")
    found = _asked_for()
    if found is None or found.place != place:
        return Hooks(new_id(), place, "", "")
    fill = "" if drawn else url_for("drafts.show", draft=found.id)
    if found.who == at_work():
        return Hooks(found.id, place, "", fill)
    return Hooks(new_id(), place, f"{found.id}@{found.at}", fill)


@pages.get("/draft/<uuid:draft>.json")
def show(draft: UUID) -> Any:
    """What stood in the blanks of a draft, for the page that fills them."""
    found = studio().ledger.draft(str(draft))
    if found is None:
        raise NotOnFile("this draft is no longer there")
    return jsonify(fields=read(found.text).fields)


@pages.get("/draft/here")
def here() -> Response:
    """That the desk answers: asked before a form is sent, so that nothing is sent into the void."""
    return Response(status=204)


# --- used up ------------------------------------------------------------------------------------


def of_form() -> str | None:
    """The draft that a save of this form uses up; None while nothing was kept."""
    own = forms.text("draft") or ""
    found = studio().ledger.draft(own) if is_id(own) else None
    return own if found and found.who == at_work() else None


@pages.after_app_request
def use_up(answer: Response) -> Response:
    """Throw away the draft of a form that was saved: its answer leads on."""
    if request.method != "POST" or not 301 <= answer.status_code <= 303 or "draft_stays" in g:
        return answer
    if request.endpoint == "drafts.keep" or "draft_place" not in request.form:
        return answer
    own = forms.text("draft") or ""
    if not is_id(own):
        return answer
    _used_up().add(own)
    ledger = studio().ledger
    try:
        if (found := ledger.draft(own)) and found.who == at_work():
            ledger.drop_draft(own)
        source, _, at = (forms.text("draft_from") or "").partition("@")
        # Somebody else's goes only as it was when it was taken up: what came since is theirs.
        if is_id(source) and (found := ledger.draft(source)) and found.at == at:
            ledger.drop_draft(source)
    except CatalogueError:
        pass  # the record is saved: a draft too many is no reason to say otherwise
    return answer


@pages.app_context_processor
def shown_everywhere() -> dict[str, Any]:
    """What any template may ask about drafts."""
    return {"draft_hooks": hooks, "half_typed_here": offers, "longest_draft": LARGEST}
