"""What a LIDO record says happened, as values: making, provenance, exhibitions, moves, what was done.

An event that has no place here is left unread and told.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from catalogue.exchange.lido import read_care as care
from catalogue.exchange.lido.read_making import attribution
from catalogue.exchange.lido.read_materials import Made
from catalogue.exchange.lido.read_pieces import (
    Pieces,
    kind_of_event,
    place_in_words,
    whole_number,
)
from catalogue.exchange.lido.source import Piece
from catalogue.exchange.lido.taken import Taking
from catalogue.measure import DateSpan
from catalogue.places import table
from catalogue.record import (
    Attribution,
    ConditionCheck,
    Exhibition,
    Movement,
    Note,
    PriorRepair,
    ProvenanceEvent,
    Treatment,
)

_MAKING = ("production", "creation")
_ROLES = {"capacity/borrower": "organiser", "capacity/lender": "lender"}


@dataclass(slots=True)
class Happened:
    """All that the events of a record say, collected as they are read."""

    taking: Taking
    made_of: Made
    made: DateSpan | None = None
    attributions: list[Attribution] = field(default_factory=list)
    provenance: list[ProvenanceEvent] = field(default_factory=list)
    exhibitions: list[Exhibition] = field(default_factory=list)
    movements: list[Movement] = field(default_factory=list)
    repairs: list[PriorRepair] = field(default_factory=list)
    checks: list[ConditionCheck] = field(default_factory=list)
    treatments: list[Treatment] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)

    @property
    def pieces(self) -> Pieces:
        """What reads the pieces of an event."""
        return Pieces(self.taking)

    def take(self, metadata: Piece) -> None:
        """Read every event."""
        for each in metadata.each("eventWrap", "eventSet"):
            event = each.one("event")
            if event is None:
                self._words_alone(each)
                continue
            typed = event.one("eventType")
            kind = kind_of_event(typed) if typed else None
            ours = self._field_of_ours(each)
            if kind in _MAKING:
                self._making(each, event)
            elif ours == "Treatment":
                self.treatments.append(care.treatment(self.pieces, each, event))
            elif ours == "ConditionCheck":
                if looked := care.check(self.pieces, each, event):
                    self.checks.append(looked)
            elif ours == "Movement":
                self._movement(each, event)
            elif kind == "restoration" or ours == "PriorRepair":
                self.repairs.append(care.repair(self.pieces, each, event))
            elif kind == "exhibition" and (event.one("eventName") or ours == "Exhibition"):
                self._exhibition(each, event)
            elif kind in table("lido.toml")["taken"] or ours == "ProvenanceEvent":
                self._passing(each, event, kind)
            # anything else stays unread, and is told

    def _field_of_ours(self, piece: Piece) -> str:
        shown = piece.one("displayEvent")
        return shown.analog()[0] if shown and self.taking.ours else ""

    def _words_alone(self, piece: Piece) -> None:
        for shown in piece.each("displayEvent"):
            if note := self.taking.note(shown, "note/provenance"):
                self.notes.append(note)

    def _making(self, piece: Piece, event: Piece) -> None:
        piece.told("displayEvent")
        date = self.taking.date(event.one("eventDate"))
        self.made = self.made or date
        for actor in event.each("eventActor"):
            first = not self.attributions
            if found := attribution(self.taking, actor, first=first):
                self.attributions.append(found)
        self.made_of.take(self.taking, event.each("eventMaterialsTech"))
        if where := place_in_words(event):
            self.notes.append(self.pieces.note("note/production", where))
        for each in event.each("eventDescriptionSet", "descriptiveNoteValue"):
            if note := self.taking.note(each, "note/production"):
                self.notes.append(note)

    def _passing(self, piece: Piece, event: Piece, kind: str | None) -> None:
        taken = table("lido.toml")["taken"].get(kind or "provenance", {})
        default = taken.get("role", "capacity/unknown")
        known_as = self.pieces.method(event, "provenance") or taken.get(
            "kind", "provenance/other"
        )
        parties = [
            found
            for each in event.each("eventActor")
            if (found := self.pieces.role(each, default))
        ]
        shown = piece.one("displayEvent")
        words = piece.told("displayEvent")
        date = self.taking.date(event.one("eventDate"))
        said, notes, evidence = self.pieces.details("ProvenanceEvent", event, "note/provenance")
        names = [
            value
            for each in event.each("eventName")
            for value in each.every("appellationValue")
        ]
        if not self.taking.ours:
            notes += [
                self.pieces.note("note/provenance", each) for each in (*names, words) if each
            ]
        order = piece.attribute("sortorder")
        self.provenance.append(
            ProvenanceEvent(
                id=self.pieces.own(
                    event, shown, "provenance", known_as, words, *(p.id for p in parties)
                ),
                order=whole_number(order) if self.taking.ours else len(self.provenance) + 1,
                kind=known_as,
                parties=tuple(parties),
                at=place_in_words(event) or None,
                place=self.pieces.place(event),
                when=date,
                notes=tuple(notes),
                evidence=tuple(evidence) or (self.pieces.cited(),),
                **said,
            )
        )

    def _exhibition(self, piece: Piece, event: Piece) -> None:
        shown = piece.one("displayEvent")
        names = [
            value
            for each in event.each("eventName")
            for value in each.every("appellationValue")
        ]
        words = piece.told("displayEvent")
        title = names[0] if names else words
        people: dict[str, str] = {}
        notes: list[Note] = []
        for each in event.each("eventActor"):
            role = self.pieces.role(each, "capacity/borrower")
            which = _ROLES.get(role.role) if role else None
            if role and role.party and which and which not in people:
                people[which] = role.party
            elif role and role.written:
                notes.append(self.pieces.note("note/exhibition", role.written))
        said, more, evidence = self.pieces.details("Exhibition", event, "note/exhibition")
        if not self.taking.ours and words and words != title:
            more.append(self.pieces.note("note/exhibition", words))
        self.exhibitions.append(
            Exhibition(
                id=self.pieces.own(event, shown, "exhibition", title),
                title=title,
                at=place_in_words(event) or None,
                place=self.pieces.place(event),
                when=self.taking.date(event.one("eventDate")),
                notes=(*notes, *more),
                evidence=tuple(evidence),
                **people,
                **said,
            )
        )

    def _movement(self, piece: Piece, event: Piece) -> None:
        shown = piece.one("displayEvent")
        roles = [
            self.pieces.role(each, "capacity/custodian") for each in event.each("eventActor")
        ]
        keeper = next((each.party for each in roles if each and each.party), None)
        to, place = place_in_words(event) or None, self.pieces.place(event)
        _, notes, _ = self.pieces.details("Movement", event, "note/other")
        piece.told("displayEvent")
        if to or place or keeper:
            self.movements.append(
                Movement(
                    id=self.pieces.own(event, shown, "movement", to or ""),
                    to=to,
                    place=place,
                    keeper=keeper,
                    when=self.taking.date(event.one("eventDate")),
                    reason=self.pieces.method(event, "movement"),
                    notes=tuple(notes),
                )
            )
