"""The reading page: a photograph on the light table, and the slip of paper on which it is read."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, jsonify, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, foretelling, forms, lying, machine_drafts
from catalogue.desk.asking import at_work, reader, studio
from catalogue.desk.bench import typed_in
from catalogue.desk.beside import in_order
from catalogue.desk.person import ask_first, safe
from catalogue.desk.refusals import status
from catalogue.desk.resting import Falling, supported_by, under_a_new_reading
from catalogue.desk.statements import said_by
from catalogue.desk.written import Slip
from catalogue.errors import BadData, CatalogueError, MarkupError, NotOnFile, StaleRevision
from catalogue.keeping import Kept
from catalogue.reading import SIGNS, SNIPPETS, Comparison, compare, read
from catalogue.reading.habits import Suggestion, apply, suggest
from catalogue.record import Inscription, Photo, Work, new_id

pages = Blueprint("slip", __name__)


@pages.get("/work/<uuid:uuid>/read")
def begin(uuid: UUID) -> Any:
    """Lay a photo of the back on the table and an empty slip beside it."""
    return _laid_out(uuid, None)


@pages.get("/work/<uuid:uuid>/read/<uuid:inscription>")
def again(uuid: UUID, inscription: UUID) -> Any:
    """Lay out an inscription that was written down before."""
    return _laid_out(uuid, inscription)


def _laid_out(uuid: UUID, inscription: UUID | None) -> Any:
    if not at_work():
        return ask_first(request.full_path.rstrip("?"))
    kept = asking.work(uuid)
    written = kept.record.inscription(str(inscription)) if inscription else None
    photo = _photo(kept.record, written)
    draft = request.args.get("draft")
    resumed = next((each for each in _drafts(kept, written) if each.id == draft), None)
    if resumed:
        slip = Slip.from_typed(typed_in(resumed.text))
        photo = _photo_of_slip(kept.record, slip) or photo
    else:
        slip = Slip.of(written, photo, _started_from(written))
    # Somebody else's is gone on from in a draft of one's own: they may still be typing in theirs.
    mine = resumed is not None and resumed.who == at_work()
    return _page(kept, written, photo, slip, draft=resumed.id if resumed and mine else new_id())


@pages.post("/work/<uuid:uuid>/read")
def write(uuid: UUID) -> Any:
    """Save a new inscription with what was read."""
    return _saved(uuid, None)


@pages.post("/work/<uuid:uuid>/read/<uuid:inscription>")
def write_again(uuid: UUID, inscription: UUID) -> Any:
    """Save what changed about an inscription, and a further reading if one was typed."""
    return _saved(uuid, inscription)


def _saved(uuid: UUID, inscription: UUID | None) -> Any:
    """Save the slip; whatever is refused, what was typed stays on the page."""
    slip = Slip.from_typed(request.form)
    draft = forms.text("draft") or new_id()
    kept = asking.work(uuid, forms.revision())
    before = kept.record.inscription(str(inscription)) if inscription else None
    photo = _photo_of_slip(kept.record, slip)
    try:
        if forms.flag("take"):
            slip = replace(slip, markup=_with_signs(slip.markup, request.form["take"]))
        if forms.flag("look") or forms.flag("take"):
            falls = _falls_if_it_can_be_read(kept.record, before, slip)
            return _page(kept, before, photo, slip, draft=draft, looked=True, falls=falls)
        after = slip.applied(kept.record, before, studio(), reader())
        falls = under_a_new_reading(kept.record, before, after) if before else None
        if falls and falls.heavy and not forms.flag("known"):
            return _page(kept, before, photo, slip, draft=draft, falls=falls, unsaved=True), 422
        after = machine_drafts.noted(after, before, slip)
        if before:
            after = _second_to_what_came_meanwhile(after, before, uuid)
        others = tuple(each for each in kept.record.inscriptions if each.id != after.id)
        changed = replace(kept.record, inscriptions=(*others, after))
        number = before.number if before else "a new inscription"
        saved = studio().save(
            changed,
            who=at_work(),
            why=f"{number} of {kept.record.number} read",
            read=kept,
            draft=draft,
        )
    except (StaleRevision, NotOnFile):
        raise
    except CatalogueError as refused:
        page = _page(kept, before, photo, slip, draft=draft, refused=refused)
        return page, status(refused)
    flash(saved.record.inscription(after.id).number or "", "read")
    return redirect(
        url_for("slip.again", uuid=uuid, inscription=after.id, photo=slip.photo or None)
    )


def _falls_if_it_can_be_read(
    work: Work, before: Inscription | None, slip: Slip
) -> Falling | None:
    """What the reading on the slip would change; None while the slip cannot be saved yet."""
    if before is None:
        return None
    try:
        return under_a_new_reading(work, before, slip.applied(work, before, studio(), reader()))
    except CatalogueError:
        return None


def _page(
    kept: Kept[Work],
    inscription: Inscription | None,
    photo: Photo | None,
    slip: Slip,
    *,
    draft: str,
    refused: CatalogueError | None = None,
    looked: bool = False,
    falls: Falling | None = None,
    unsaved: bool = False,
) -> str:
    drafts = [each for each in _drafts(kept, inscription) if each.id != draft]
    return render_template(
        "read.html",
        work=kept.record,
        revision=kept.revision,
        inscription=inscription,
        photo=photo,
        slip=slip,
        beneath=lying.beneath(kept.record, inscription),
        joined=lying.joined(kept.record, inscription),
        **_rendered_at_all(slip.markup),
        draft=draft,
        drafts=[(each, typed_in(each.text).get("markup", "")) for each in drafts],
        refused=refused,
        **(
            foretelling.shown(kept.record, inscription, slip) if looked else foretelling.NOTHING
        ),
        falls=falls if falls and falls.anything else None,
        unsaved=unsaved,
        supported=supported_by(kept.record, inscription) if inscription else (),
        signs=SIGNS,
        snippets=SNIPPETS,
        readings=in_order(inscription) if inscription else [],
        agreeing=_agreeing(inscription),
        said=said_by(inscription) if inscription else None,
        no_machine=studio().no_machine_reading(),
    )


def _agreeing(inscription: Inscription | None) -> dict[str, Comparison]:
    """How far every other reading agrees with the one that is shown first, by its id."""
    first = inscription.preferred() if inscription else None
    if inscription is None or first is None:
        return {}
    shown = first.reading()
    others = (each for each in inscription.transcripts if each is not first)
    return {each.id: compare(shown, each.reading()) for each in others}


def _drafts(kept: Kept[Work], inscription: Inscription | None) -> list[Any]:
    """What is half typed for this very place, by whomever."""
    place = inscription.id if inscription else "new"
    return [
        each
        for each in studio().ledger.drafts()
        if each.document == kept.document_id and each.place == place
    ]


def _started_from(inscription: Inscription | None) -> Any:
    """The earlier transcript that the typist wants to start from."""
    wanted = request.args.get("from")
    if inscription is None or wanted is None:
        return None
    return next((each for each in inscription.transcripts if each.id == wanted), None)


def _photo(work: Work, inscription: Inscription | None) -> Photo | None:
    """The photo asked for, else one on which the inscription is framed, else the back, else any."""
    asked = request.args.get("photo")
    if asked:
        return work.photo(asked)
    if inscription and inscription.regions:
        return work.photo(inscription.regions[0].photo)
    shown = [each for each in work.photos if each.sha256]
    face = inscription.face if inscription else "face/back"
    return (
        studio().showing(work, face)
        or studio().showing(work, "face/back")
        or next(iter(shown), None)
    )


def _photo_of_slip(work: Work, slip: Slip) -> Photo | None:
    return next((each for each in work.photos if each.id == slip.photo), None)


@pages.post("/render")
def render() -> str:
    """The rendering of markup and what is wrong with it, as a piece of the reading page."""
    return render_template("_reading.html", **_rendered(request.form.get("markup", "")))


def _rendered(markup: str) -> dict[str, Any]:
    """The reading, and what could be typed as a sign in it: offered, and all of it taken."""
    offered = suggest(markup)
    return {"reading": read(markup), "offered": offered, "taken": apply(markup, offered)}


def _rendered_at_all(markup: str) -> dict[str, Any]:
    """The same on a page that says already why it cannot be read; what was typed stays there."""
    try:
        return _rendered(markup)
    except MarkupError:
        return _rendered("")


def _with_signs(markup: str, wanted: str) -> str:
    """The markup with what was offered: all of it, or the one that a button holds. Raises `BadData`."""
    if wanted == "all":
        return apply(markup, suggest(markup))
    try:
        told = json.loads(wanted)
        chosen = Suggestion(
            int(told["start"]), int(told["end"]), str(told["written"]), str(told["markup"]), ""
        )
    except (ValueError, KeyError, TypeError, RecursionError):
        raise BadData("that was not offered", remedy="load the page again") from None
    return apply(markup, (chosen,))


@pages.post("/work/<uuid:uuid>/draft")
def keep_draft(uuid: UUID) -> Any:
    """Keep what is half typed: sent by the page itself as one types, or by its button."""
    kept = asking.work(uuid)
    inscription = forms.text("inscription")
    place = kept.record.inscription(inscription).id if inscription else "new"
    draft = studio().ledger.keep_draft(
        who=at_work(),
        document=kept.document_id,
        place=place,
        text=json.dumps(Slip.from_typed(request.form).typed(), ensure_ascii=False),
        draft_id=forms.text("draft"),
    )
    if request.headers.get("Accept") == "application/json":
        return jsonify(id=draft.id, at=draft.at)
    flash("", "draft")
    return redirect(url_for("bench.bench", _anchor="drafts"))


@pages.post("/draft/<uuid:draft>/drop")
def drop_draft(draft: UUID) -> Response:
    """Throw away something half typed."""
    studio().ledger.drop_draft(str(draft))
    flash("", "dropped")
    if forms.text("next"):
        return redirect(safe(forms.text("next")))
    return redirect(url_for("bench.bench", _anchor="drafts"))


def _second_to_what_came_meanwhile(
    after: Inscription, before: Inscription, uuid: UUID
) -> Inscription:
    """The same, without a claim to be shown first if somebody else's new reading made that claim.

    Two readings saved from two desks at once are both kept; the first saved stays in front.
    """
    now = asking.work(uuid).record.inscription(after.id)
    known = {each.id for each in before.transcripts}
    if not any(each.preferred and each.id not in known for each in now.transcripts):
        return after
    flash(after.number or "", "both")
    return replace(
        after,
        transcripts=tuple(
            each if each.id in known else replace(each, preferred=False)
            for each in after.transcripts
        ),
    )
