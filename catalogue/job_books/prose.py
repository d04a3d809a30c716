"""Inscriptions and provenance in a cataloguer's words, as values of a work; nothing is lost on the way."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from catalogue.argument.inscription_fields import FieldMark, read_inscriptions
from catalogue.argument.prose.reading import read_provenance
from catalogue.argument.prose.taken import taken_from
from catalogue.job_books.entry import Entry
from catalogue.job_books.headings import OF_THE_BACK, of_the_back
from catalogue.job_books.told import CellRead, said
from catalogue.record import Inscription, Note, Transcript
from catalogue.terms import known, label, labelled

_ON_THE_FRONT: Final = frozenset({"signature", "monogram", "date"})
_FRONT, _BACK, _OTHER = "face/front", "face/back", "face/other"
_WHY_THERE: Final = {_FRONT: "face_guessed", _BACK: "face_of_column", _OTHER: "face_unknown"}


def inscriptions(entry: Entry, column: str, text: str, field: str = "inscriptions") -> CellRead:
    """Each mark that the words tell apart, numbered in their order; what is left as a note.

    In a column of the back a mark stands there unless the words say otherwise.
    """
    back = field == OF_THE_BACK or of_the_back(column)
    words = said("row")
    found = read_inscriptions(text)
    told, remarks = [], []
    for mark in found.items:
        inscription = _inscription(entry, mark, back=back)
        entry.inscriptions.append(inscription)
        lines = " / ".join(mark.lines)
        place = " ".join(filter(None, (label(inscription.face), mark.place)))
        told.append(": ".join(filter(None, (f"{label(inscription.kind)}, {place}", lines))))
        if mark.face is None:
            remarks.append(words[_WHY_THERE[inscription.face]])
    rest = found.rest.strip()
    if rest or not found.items:
        entry.note("note/inscription", text, OF_THE_BACK if back else "inscriptions")
    return CellRead(column, field, text, tuple(told), rest, tuple(dict.fromkeys(remarks)))


def _inscription(entry: Entry, mark: FieldMark, *, back: bool) -> Inscription:
    number = len(entry.inscriptions) + 1
    kind = f"inscription/{mark.kind}"
    face = f"face/{mark.face}" if mark.face else None
    unsaid = _BACK if back else _FRONT if mark.kind in _ON_THE_FRONT else _OTHER
    technique = labelled(mark.technique, "technique") if mark.technique else None
    notes = [
        ("note/position", mark.place),
        # A part or a technique that has no term of its own is kept in the words.
        ("note/position", mark.face if face and not known(face) else None),
        ("note/inscription", mark.technique if mark.technique and not technique else None),
        ("note/inscription", mark.remark),
    ]
    return Inscription(
        id=entry.new_id(f"inscription {number}"),
        number=f"I{number}",
        kind=kind if known(kind) else "inscription/inscription",
        face=unsaid if face is None else face if known(face) else _OTHER,
        techniques=(technique.key,) if technique else (),
        transcripts=(Transcript(markup=mark.markup, preferred=True),) if mark.markup else (),
        notes=tuple(
            Note(kind=kind, text=text) for kind, text in notes if text and text.strip()
        ),
    )


def provenance(entry: Entry, column: str, text: str) -> CellRead:
    """The steps of a provenance as events, none of which has evidence; what is left as a note."""
    read = read_provenance(text)
    first = len(entry.provenance) + 1
    told = []
    for event in taken_from(read, first=first):
        number = len(entry.provenance) + 1
        entry.provenance.append(
            replace(
                event, id=entry.new_id(f"event {number}"), number=f"E{number}", order=number
            )
        )
        parts = (
            label(event.kind),
            ", ".join(each.written or "" for each in event.parties),
            event.at or "",
            event.when.written if event.when else "",
        )
        told.append(": ".join(filter(None, (parts[0], ", ".join(filter(None, parts[1:]))))))
    rest = read.rest.strip()
    if rest or not told:
        entry.note("note/provenance", text, "provenance")
    return CellRead(column, "provenance", text, tuple(told), rest)
