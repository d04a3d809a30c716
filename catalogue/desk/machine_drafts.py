"""Drafts by machine at the desk: made in the background, shown with their boxes, taken into a slip."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import groupby
from operator import itemgetter
from typing import Final, NamedTuple
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, send_file, url_for
from werkzeug.wrappers import Response

from catalogue.desk import asking, forms, under_way
from catalogue.desk.asking import at_work, reader, studio
from catalogue.desk.bench import typed_in
from catalogue.desk.written import Slip
from catalogue.drafting import Line, MachineDraft, as_markup, rows
from catalogue.errors import NotOnFile
from catalogue.places import table
from catalogue.record import Inscription, Note, Photo, Work, is_id, new_id
from catalogue.under_way import Landing, Progress

pages = Blueprint("machine_drafts", __name__)

AT_ONCE_SECONDS: Final = 0.8
"""So long one is kept waiting for a draft that may have been made before."""
ANY: Final = "0" * 32


class Shown(NamedTuple):
    """One line of a draft as the page shows it: its number, the line, its letters in runs alike."""

    number: int
    line: Line
    runs: tuple[tuple[str, bool], ...]


@pages.post("/work/<uuid:uuid>/machine-draft")
def begin(uuid: UUID) -> Response:
    """Begin a draft of what is framed on the slip, else of the whole photo; what was typed is kept first."""
    kept = asking.work(uuid)
    slip = Slip.from_typed(request.form)
    named = forms.text("inscription")
    before = kept.record.inscription(named) if named else None
    photo = kept.record.photo(slip.photo)
    own = _kept(kept.document_id, before, slip, forms.text("draft"))
    corners, turn = _part(kept.record, before, slip, photo)
    there = url_for(
        "machine_drafts.show", uuid=uuid, sha256=str(photo.sha256), key=ANY, slip=own,
        inscription=before.id if before else None,
    )  # fmt: skip
    opened = studio()

    def task(progress: Progress) -> Landing:
        progress.says(table("machine_reading.toml")["says"]["first_time"])
        draft = opened.draft_reading(photo, corners, turn=turn)
        many = len(draft.lines)
        says = f"{many} line{'' if many == 1 else 's'} found." if many else "No line was found."
        return Landing(says=says, where=there.replace(ANY, draft.key))

    says = f"draft by machine what is printed on {photo.number} of {kept.record.number}"
    errand = under_way.begin(
        says, at_work(), task, can_stop=False, again=_slip(uuid, before, own)
    )
    errand = under_way.waited_for(errand, AT_ONCE_SECONDS)
    if errand.landing and errand.landing.where:
        return redirect(errand.landing.where, 303)
    return redirect(under_way.page_of(errand), 303)


def _part(
    work: Work, before: Inscription | None, slip: Slip, photo: Photo
) -> tuple[tuple[tuple[float, float], ...], int]:
    """What of the photo is framed on the slip, and how the text stands. Raises `BadData`."""
    typed = slip.applied(work, before, studio(), reader())
    known = {each.id for each in before.regions} if before else set()
    regions = [each for each in typed.regions if each.photo == photo.id]
    framed = [each for each in regions if each.id == slip.region or each.id not in known]
    # an outline says nothing of which way up the text stands; the photo was turned so as to read it
    turn = typed.orientation or round(-(forms.number("as_turned") or 0)) % 360
    return (framed[0].corners if framed else ()), turn


def _kept(document: str, before: Inscription | None, slip: Slip, own: str | None) -> str:
    """The id under which the slip is kept as half typed."""
    text = json.dumps(slip.typed(), ensure_ascii=False)
    return studio().ledger.keep_draft(
        who=at_work(), document=document, place=before.id if before else "new", text=text,
        draft_id=own if own and is_id(own) else new_id(),
    ).id  # fmt: skip


def _slip(uuid: UUID, inscription: Inscription | None, own: str) -> str:
    if inscription:
        return url_for("slip.again", uuid=uuid, inscription=inscription.id, draft=own)
    return url_for("slip.begin", uuid=uuid, draft=own)


@pages.get("/work/<uuid:uuid>/machine-draft/<sha256>/<key>")
def show(uuid: UUID, sha256: str, key: str) -> str:
    """Show a draft: the lines boxed on the picture, so that one that lacks is seen to lack."""
    work = asking.work(uuid).record
    draft = studio().drafted(sha256, key)
    photo = next((each for each in work.photos if each.sha256 == sha256), None)
    if photo is None:
        raise NotOnFile("that photo is none of this work", remedy="begin again from the slip")
    named, own = request.args.get("inscription"), request.args.get("slip", "")
    inscription = work.inscription(named) if named else None
    return render_template(
        "machine_draft.html",
        work=work,
        inscription=inscription,
        photo=photo,
        draft=draft,
        lines=_shown(draft),
        markup=as_markup(draft),
        says=table("machine_reading.toml")["says"],
        slip=own,
        back=_slip(uuid, inscription, own),
    )


def _shown(draft: MachineDraft) -> list[Shown]:
    lines = [line for row in rows(draft.lines) for line in row]
    return [Shown(number, line, _runs(line)) for number, line in enumerate(lines, start=1)]


def _runs(line: Line) -> tuple[tuple[str, bool], ...]:
    """The letters of a line, those that are doubtful and those that are not, in turn.

    >>> _runs(Line(text="No 7", corners=(), sure=(0.99, 0.41, 0.9, 0.98), score=0.9))
    (('N', False), ('o', True), (' 7', False))
    """
    letters = zip(line.text, line.doubtful(), strict=True)
    return tuple(
        ("".join(letter for letter, _ in alike), doubtful)
        for doubtful, alike in groupby(letters, key=itemgetter(1))
    )


@pages.post("/work/<uuid:uuid>/machine-draft/<sha256>/<key>")
def take(uuid: UUID, sha256: str, key: str) -> Response:
    """Put a draft into the slip, behind what is typed there: nothing is saved as a reading by it."""
    kept = asking.work(uuid)
    draft = studio().drafted(sha256, key)
    named, own = forms.text("inscription"), forms.text("slip") or ""
    inscription = kept.record.inscription(named) if named else None
    held = studio().ledger.draft(own) if is_id(own) else None
    if held is not None and (held.document, held.who) == (kept.document_id, at_work()):
        slip = Slip.from_typed(typed_in(held.text))
    else:
        photo = next((each for each in kept.record.photos if each.sha256 == sha256), None)
        slip, own = Slip.of(inscription, photo, None), new_id()
    markup = "\n".join(filter(None, (slip.markup.rstrip("\n"), as_markup(draft))))
    slip = replace(slip, markup=markup, machine=f"{sha256}/{key}")
    return redirect(
        _slip(uuid, inscription, _kept(kept.document_id, inscription, slip, own)), 303
    )


@pages.get("/photo/<sha256>/drafted/<key>.jpg")
def picture(sha256: str, key: str) -> Response:
    """Send the picture that a machine read, set upright: a derivative, no photograph of the object."""
    answer = send_file(studio().drafted_picture(sha256, key).absolute(), conditional=True)
    answer.headers["Cache-Control"] = "private, max-age=86400"
    return answer


def noted(after: Inscription, before: Inscription | None, slip: Slip) -> Inscription:
    """The inscription with a note beside a new reading that was begun from a draft by machine."""
    sha256, _, key = slip.machine.partition("/")
    known = {each.id for each in before.transcripts} if before else set()
    if not slip.machine or all(each.id in known for each in after.transcripts):
        return after
    try:
        said = studio().drafted(sha256, key).begun
    except NotOnFile:
        return after
    note = Note(kind="note/inscription", text=said, by=reader(), on=studio().today())
    return replace(
        after,
        transcripts=tuple(
            each if each.id in known else replace(each, notes=(*each.notes, note))
            for each in after.transcripts
        ),
    )
