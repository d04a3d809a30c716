"""What LIDO says was found and done: restorations of others as earlier repairs, our own care as it left.

What left us in words alone (findings, who did which step) stays unread, and is told.
"""

from __future__ import annotations

from catalogue.exchange.lido.read_materials import Made
from catalogue.exchange.lido.read_pieces import Pieces, whole_number
from catalogue.exchange.lido.source import Piece
from catalogue.exchange.lido.taken import day_of, term_of
from catalogue.record import ConditionCheck, PriorRepair, Step, Treatment


def repair(pieces: Pieces, piece: Piece, event: Piece) -> PriorRepair:
    """A restoration that somebody else records is, to us, an earlier repair."""
    taking = pieces.taking
    kind = pieces.method(event, "repair") or "repair/unknown"
    words = piece.told("displayEvent")
    used = Made()
    used.take(taking, event.each("eventMaterialsTech"))
    _, notes, _ = pieces.details("PriorRepair", event, "note/treatment")
    if not taking.ours:
        methods = [each.words() for each in event.each("eventMethod")]
        roles = [pieces.role(each, "capacity/restorer") for each in event.each("eventActor")]
        names = [each.written for each in roles if each]
        told = (words, *methods, *names, used.medium)
        notes += [pieces.note("note/treatment", each) for each in told if each]
    return PriorRepair(
        id=pieces.own(event, piece.one("displayEvent"), "repair", kind, words),
        number=pieces.numbered(event, "R"),
        kind=kind,
        materials=used.materials,
        made=taking.date(event.one("eventDate")),
        notes=tuple(notes),
    )


def treatment(pieces: Pieces, piece: Piece, event: Piece) -> Treatment:
    """A treatment of ours, with its steps."""
    taking = pieces.taking
    steps = [
        _step(step, whole_number(each.attribute("sortorder")) or place, each.attribute("type"))
        for place, each in enumerate(event.each("eventDescriptionSet"), 1)
        for step in each.each("descriptiveNoteValue")
        if step.analog()[0] == "Step" and step.analog()[1]
    ]
    _, notes, _ = pieces.details("Treatment", event, "note/treatment")
    for each in event.each("eventMethod"):
        each.whole()
    # the days of the whole are those of its steps
    taking.date(event.one("eventDate"))
    piece.told("displayEvent")
    return Treatment(
        id=pieces.own(event, piece.one("displayEvent"), "treatment"),
        number=pieces.numbered(event, "T"),
        title=event.told("eventName", "appellationValue") or None,
        steps=tuple(steps),
        notes=tuple(notes),
    )


def _step(piece: Piece, order: int, kind: str) -> Step:
    """`2. retouching, 2026-04-02/2026-04-05`."""
    text = piece.text()
    first, _, last = text.rpartition("/")
    return Step(
        id=piece.analog()[1] or "",
        order=order,
        kind=term_of(kind, "step") or "step/other",
        began=day_of(first or last),
        ended=day_of(last) if first else None,
    )


def check(pieces: Pieces, piece: Piece, event: Piece) -> ConditionCheck | None:
    """A condition check of ours; None where it does not say who looked, and when."""
    date = pieces.taking.date(event.one("eventDate"))
    said, notes, _ = pieces.details("ConditionCheck", event, "note/condition")
    actor = event.one("eventActor")
    by = pieces.role(actor, "capacity/restorer") if actor else None
    if by is None or by.party is None or date is None or date.earliest is None:
        return None
    for each in event.each("eventMethod"):
        each.whole()
    piece.told("displayEvent")
    return ConditionCheck(
        id=pieces.own(event, piece.one("displayEvent"), "check"),
        number=pieces.numbered(event, "K"),
        occasion=said.pop("occasion", None) or "occasion/other",
        on=date.earliest,
        by=by.party,
        notes=tuple(notes),
        **said,
    )
