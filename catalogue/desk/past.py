"""A record's history: every change, what differs between any two states, and the ways back.

What a change did is told when it is asked for; the newest at once. A way back is looked at before it
is gone, and becomes a new change.
"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request
from markupsafe import Markup
from werkzeug.wrappers import Response

from catalogue.desk import forms
from catalogue.desk.asking import at_work, page_of, studio
from catalogue.errors import BadData, NotOnFile
from catalogue.history import Told
from catalogue.keeping import Kept
from catalogue.reading import read

pages = Blueprint("past", __name__)

AT_ONCE = 20
"""How many changes a page shows."""

NO_REASON = "Say why: the reason stays on record."


@pages.get("/work/<uuid:uuid>/history", defaults={"kind": "work"}, endpoint="of_work")
@pages.get("/people/<uuid:uuid>/history", defaults={"kind": "party"}, endpoint="of_party")
def history(uuid: UUID, kind: str) -> Any:
    """Show every change of one record, the newest first; of the newest, or of one asked for, what it did."""
    kept = studio().read(f"{kind}/{uuid}")
    if kept.record.id != str(uuid):
        return redirect(f"{page_of(kept.document_id)}/history")
    page = max(request.args.get("page", 1, type=int), 1)
    asked = request.args.get("change", type=int)
    total, changes = studio().retold(
        kept.document_id,
        skip=(page - 1) * AT_ONCE,
        at_most=AT_ONCE,
        only=_told_at_once(kept, page, asked),
    )
    return render_template(
        "history.html",
        changes=changes,
        page=page,
        pages=(total + AT_ONCE - 1) // AT_ONCE,
        asked=asked,
        **_of(kept),
    )


def _told_at_once(kept: Kept[Any], page: int, asked: int | None) -> tuple[int, ...]:
    """The sequence numbers of the changes that are told in full: what was asked for, else the newest."""
    if asked is not None:
        return (asked,)
    newest = list(studio().history(kept.document_id))[-1:] if page == 1 else []
    return tuple(each.seq for each in newest)


@pages.get("/work/<uuid:uuid>/history/<int:seq>", defaults={"kind": "work"})
@pages.get("/people/<uuid:uuid>/history/<int:seq>", defaults={"kind": "party"})
def one(uuid: UUID, kind: str, seq: int) -> Any:
    """What one change did, as a piece of the page of all."""
    kept = studio().read(f"{kind}/{uuid}")
    _, changes = studio().retold(kept.document_id, only=(seq,))
    chosen = [each for each in changes if each.seq == seq]
    if not chosen:
        return redirect(f"{page_of(kept.document_id)}/history")
    return render_template("_history_change.html", each=chosen[0], **_of(kept))


@pages.get("/work/<uuid:uuid>/history/between", defaults={"kind": "work"})
@pages.get("/people/<uuid:uuid>/history/between", defaults={"kind": "party"})
def between(uuid: UUID, kind: str) -> Any:
    """Show what differs between any two states; the last two where none are chosen."""
    kept = studio().read(f"{kind}/{uuid}")
    second = _asked_state(kept, "second", kept.revision)
    first = _asked_state(kept, "first", max(second - 1, 1))
    return render_template(
        "between.html",
        first=first,
        second=second,
        states=_states(kept),
        differences=studio().between(kept.document_id, first, second),
        **_of(kept),
    )


@pages.get("/work/<uuid:uuid>/history/back", defaults={"kind": "work"}, endpoint="before_back")
@pages.get(
    "/people/<uuid:uuid>/history/back", defaults={"kind": "party"}, endpoint="before_back"
)
def before_back(uuid: UUID, kind: str) -> Any:
    """Show what bringing a whole state back would change, and which later changes it would leave behind."""
    kept = studio().read(f"{kind}/{uuid}")
    state = _asked_state(kept, "state", 0)
    differences = studio().between(kept.document_id, kept.revision, state)
    return render_template(
        "way_back.html",
        state=state,
        differences=differences,
        then=next((each for each in _states(kept) if each.revision == state), None),
        later=[each for each in _states(kept) if (each.revision or 0) > state],
        **_of(kept),
    )


def _asked_state(kept: Kept[Any], name: str, else_: int) -> int:
    """The state that a page was asked for. Raises `NotOnFile` for one that there is not."""
    state = request.args.get(name, else_, type=int)
    if not 1 <= state <= kept.revision:
        raise NotOnFile(
            f"there is no state {state} of it", remedy=f"it has 1 to {kept.revision}"
        )
    return state


def _states(kept: Kept[Any]) -> list[Told]:
    """Every state that was saved, the newest first, without what it changed."""
    _, changes = studio().retold(kept.document_id, only=())
    return [each for each in changes if each.revision]


def _of(kept: Kept[Any]) -> dict[str, Any]:
    return {
        "record": kept.record,
        "document": kept.document_id,
        "name": studio().name_of(kept.document_id),
        "revision": kept.revision,
        "past_at": f"{page_of(kept.document_id)}/history",
        "rendered": rendered,
    }


def rendered(markup: str) -> Markup:
    """A reading as it is shown everywhere; the reading itself makes it safe."""
    return Markup(read(markup).html())


@pages.post("/work/<uuid:uuid>/history/back", defaults={"kind": "work"})
@pages.post("/people/<uuid:uuid>/history/back", defaults={"kind": "party"})
def back(uuid: UUID, kind: str) -> Response:
    """Bring a whole state back, or take one change back, in all values or in one."""
    kept = studio().read(f"{kind}/{uuid}", forms.revision())
    state = int(forms.number("state") or 0)
    why = forms.text("why")
    if why is None:
        raise BadData("this needs a reason", remedy=NO_REASON)
    if forms.flag("whole"):
        saved = studio().bring_back(kept, state, who=at_work(), why=why)
    else:
        value = forms.text("value")
        saved = studio().take_back(kept, state, who=at_work(), why=why, value=value)
    flash(str(saved.revision), "back")
    return redirect(f"{page_of(saved.document_id)}/history")
