"""The receipts of a commission: for what came in, and for what goes back. They state no value."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Notice,
    Paragraph,
    Signature,
    Signatures,
    Table,
)
from catalogue.documents.words import asked, capital, day_said, joined, told, words
from catalogue.record import Content, Item, Job, Piece, Risk, Work
from catalogue.terms import label

PAINTING = "content/painting"
LEAVING = ("occasion/outgoing", "occasion/after-treatment")


def entry_receipt(given: Given) -> Document:
    """What came in, from whom, why, in which state, until when; with lines for both to sign."""
    job = given.commission()
    said = words("receipt")
    came = min((item.came for item in job.items if item.came), default=None)
    blocks = (
        Facts(asked(_parties(given, job)) + told(_agreed(job))),
        *(block for item in job.items for block in _came_in(given, item)),
        *_standing(job),
        _signed(given, job, said["sign_in"]),
    )
    return given.document("entry-receipt", job.number or "", came, blocks)


def exit_receipt(given: Given) -> Document:
    """What goes back, to whom, in which state, with which pieces that had been taken off.

    Before anything has left, it is for everything, with the day to be filled in by hand.
    """
    job = given.commission()
    said = words("receipt")
    gone = [item for item in job.items if item.left]
    going = gone or list(job.items)
    left = max((item.left for item in gone if item.left), default=None)
    blocks = (
        Facts(asked(_parties(given, job))),
        *(block for item in going for block in _going_out(given, item)),
        *_pieces(given, job, {item.work for item in going}),
        *_still_here(given, [item for item in job.items if item not in going]),
        *_standing(job),
        _signed(given, job, said["sign_out"]),
    )
    return given.document("exit-receipt", job.number or "", left, blocks)


def _parties(given: Given, job: Job) -> Iterator[tuple[str, str]]:
    said = words("receipt")
    client = given.name_of(job.client)
    yield said["number"], job.number or ""
    yield said["client"], client
    yield said["depositor"], given.name_of(job.depositor) or client
    yield said["owner"], given.name_of(job.owner) or client
    if job.authority:
        yield said["authority"], job.authority


def _agreed(job: Job) -> Iterator[tuple[str, str]]:
    said = words("receipt")
    yield said["reason"], label(job.reason)
    yield said["basis"], job.basis or ""
    yield said["requirements"], job.requirements or ""
    yield said["disclosure"], joined((job.disclosure or "", day_said(job.disclosed)), "\n")


def _came_in(given: Given, item: Item) -> Iterator[Block]:
    said = words("receipt")
    work = given.work_of(item.work)
    yield Heading(_called(work))
    yield Facts(told(_identity(given, work)))
    yield Facts(
        asked(
            (
                (said["day_in"], day_said(item.came)),
                (said["due"], day_said(item.due)),
                (said["arrived"], item.arrived_by or ""),
                (said["contents"], _counted(item.contents)),
                (said["condition_in"], item.condition or ""),
                (said["risks"], capital("; ".join(map(_answered, item.risks)))),
            )
        )
        + told(((said["packing"], item.packing or ""),))
    )
    if item.quarantine:
        yield Notice(said["quarantine_title"], said["quarantine"].format(work=_called(work)))


def _going_out(given: Given, item: Item) -> Iterator[Block]:
    said = words("receipt")
    work = given.work_of(item.work)
    yield Heading(_called(work))
    yield Facts(told(_identity(given, work)))
    yield Facts(
        asked(
            (
                (said["day_in"], day_said(item.came)),
                (said["day_out"], day_said(item.left) or said["by_hand"]),
                (said["contents_out"], _counted(item.contents)),
                (said["condition_out"], _on_leaving(given, work)),
            )
        )
    )


def _identity(given: Given, work: Work | None) -> tuple[tuple[str, str], ...]:
    """What a work is known by, without what its heading says."""
    return given.identity(work)[2:] if work else ()


def _called(work: Work | None) -> str:
    if work is None:
        unnamed: str = words("receipt")["unnamed"]
        return capital(unnamed)
    return joined((work.number or "", work.title()), "  ")


def _on_leaving(given: Given, work: Work | None) -> str:
    """The last check made for the way out, in a line and the words of its class."""
    checks = [each for each in (work.checks if work else ()) if each.occasion in LEAVING]
    if not checks:
        return ""
    last = checks[-1]
    return joined((label(last.condition) if last.condition else "", given.by(last)), "\n")


def _counted(contents: tuple[Content, ...]) -> str:
    said = words("receipt")
    if not contents:
        return str(said["contents_none"])
    lines = [
        f"{each.count} × {label(each.kind)}" + (f" ({each.what})" if each.what else "")
        for each in sorted(contents, key=lambda each: each.kind != PAINTING)
    ]
    count = sum(each.count for each in contents)
    return "\n".join((*lines, said["items"].format(count=count)))


def _answered(risk: Risk) -> str:
    said = f"{label(risk.kind)}: {label(risk.answer)}"
    if risk.settled:
        settled = words("receipt")["settled"]
        said += "; " + settled.format(day=day_said(risk.settled), how=risk.settled_how)
    return said


def _pieces(given: Given, job: Job, leaving: set[str]) -> Iterator[Block]:
    """The balance of what was taken off: given back, kept by agreement, discarded by agreement."""
    said = words("receipt")
    pieces = [each for each in job.pieces if each.work in leaving]
    if pieces:
        yield Heading(said["pieces"])
        yield piece_rows(given, pieces)


def piece_rows(given: Given, pieces: list[Piece]) -> Table:
    """Pieces taken off, a row each: the bag, what is in it, from which work, what became of it."""
    said = words("receipt")
    return Table(
        (said["bag"], said["piece"], said["from_work"], said["taken"], said["state"]),
        tuple(_piece(given, each) for each in pieces),
        (2, 6, 3, 4, 5),
    )


def _piece(given: Given, piece: Piece) -> tuple[str, ...]:
    work = given.work_of(piece.work)
    return (
        piece.number or "",
        f"{label(piece.kind)}: {piece.what}",
        (work.number if work else None) or "",
        day_said(piece.taken),
        joined((label(piece.state), day_said(piece.gone))),
    )


def _still_here(given: Given, items: list[Item]) -> Iterator[Block]:
    if items:
        said = words("receipt")
        yield Heading(said["not_here"])
        yield Facts(
            asked(
                (_called(given.work_of(each.work)), f"{said['due']} {day_said(each.due)}")
                for each in items
            )
        )


def _standing(job: Job) -> Iterator[Block]:
    """What stands on every receipt: terms, value, privacy."""
    said = words("receipt")
    terms = said["terms"].format(version=job.terms_version)
    yield Heading(said["terms_title"], 2)
    yield Paragraph(terms if job.terms_version else said["terms_missing"], "small")
    yield Paragraph(said["valuation"], "small")
    yield Heading(said["privacy_title"], 2)
    yield Paragraph(said["privacy"].strip(), "small")


def _signed(given: Given, job: Job, roles: list[str]) -> Signatures:
    named = given.name_of(job.depositor) or given.name_of(job.client)
    theirs, ours = roles
    return Signatures((Signature(theirs, named), Signature(ours)), words("every")["day"])
