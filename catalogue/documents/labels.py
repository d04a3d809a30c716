"""Labels to cut out: one for each bag with a piece taken off, and the slip that is tied to a work.

They hold no name of a person: a label may lie about where anybody sees it.
"""

from __future__ import annotations

from catalogue.argument.handling import keep_face_up
from catalogue.documents.given import Given, size_said
from catalogue.documents.model import Block, Document, Label, Labels, Paragraph
from catalogue.documents.words import capital, day_said, joined, words
from catalogue.record import Job, Piece, Work
from catalogue.terms import label

LONGEST = 90
"""Letters of one line of a label: what is longer ends in an ellipsis, for the label has no room."""


def bag_labels(given: Given) -> Document:
    """A label for the bag of each piece that was taken off for a commission."""
    job = given.commission()
    made = tuple(_of_piece(given, job, each) for each in job.pieces)
    blocks: tuple[Block, ...] = (
        (Labels(made),) if made else (Paragraph(words("labels")["none"]),)
    )
    return given.document("bag-labels", job.number or "", None, blocks)


def slip(given: Given) -> Document:
    """The slip of every work of a commission, or of the one work that was asked for."""
    made = tuple(_of_work(given, each) for each in given.works)
    number = (given.job.number if given.job else given.work.number) or ""
    return given.document("slip", number, None, (Labels(made, hole=True),))


def _of_piece(given: Given, job: Job, piece: Piece) -> Label:
    said = words("labels")
    work = given.work_of(piece.work)
    number = said["bag"].format(job=job.number or "", bag=piece.number or "").strip()
    lines = (
        said["work"].format(work=work.number) if work and work.number else "",
        f"{capital(label(piece.kind))}: {piece.what}",
        said["taken"].format(day=day_said(piece.taken)) if piece.taken else "",
    )
    return Label(
        number=number,
        lines=_short(lines),
        code=number,
        code_alt=words("every")["code"].format(held=number),
    )


def _of_work(given: Given, work: Work) -> Label:
    said = words("labels")
    job = given.job
    code = given.address(work)
    items = [each for each in job.items if each.work == work.document] if job else []
    lines = (
        work.title(),
        next((size_said(each) for each in work.sizes if each.what == "size/support"), ""),
        (job.number or "") if job else "",
    )
    return Label(
        number=work.number or "",
        lines=_short(lines),
        code=code,
        code_alt=words("every")["code"].format(held=code),
        warning=joined(
            (
                said["apart"] if any(each.quarantine for each in items) else "",
                said["face_up"] if keep_face_up(work) else "",
            ),
            " · ",
        ),
    )


def _short(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(
        line if len(line) <= LONGEST else line[: LONGEST - 1].rstrip() + "…"
        for line in lines
        if line
    )
