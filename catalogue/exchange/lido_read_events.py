"""What a LIDO record says happened, as values: making, provenance, exhibitions, moves, repairs, checks.

A kind of event is known by LIDO's number, by the newer short name in its address, or by its word. An
event that has no place here is left unread and told.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalogue.exchange.lido_actors import AS_WRITTEN
from catalogue.exchange.lido_read_object import Made
from catalogue.exchange.lido_source import Piece, of_word
from catalogue.exchange.lido_taken import Somebody, Taking, day_of, term_of
from catalogue.linked.addresses import uuid_in
from catalogue.measure import DateSpan, attribution_term, read_attribution
from catalogue.places import table
from catalogue.record import (
    Attribution,
    ConditionCheck,
    Evidence,
    Exhibition,
    Movement,
    Note,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Step,
    Treatment,
)
from catalogue.record.provenance import Price
from catalogue.record.rules import UUID

_VALUE = re.compile(rf"(?:#|urn:uuid:)({UUID})$")
_MAKING = ("production", "creation")
_SHORT_NAME = re.compile(r"/(?:eventType|event_type|eventtype)/([\w-]+)")
_ROLES = {"capacity/borrower": "organiser", "capacity/lender": "lender"}


@cache
def _kinds() -> dict[str, str]:
    """Every number, short name and word of LIDO's kinds of event -> our name for it."""
    found: dict[str, str] = {}
    for name, row in table("lido.toml")["events"].items():
        for word in (name, row["number"], row["says"], *row["also"]):
            found[word.casefold()] = name
    return found


def kind_of_event(piece: Piece) -> str | None:
    """Our name for the kind of an event ("acquisition"), None for one that is not in LIDO's list."""
    said = [each.element.text or "" for each in piece.each("conceptID")]
    short = [found[1].replace("_", "-") for each in said if (found := _SHORT_NAME.search(each))]
    words = [each.element.text or "" for each in piece.each("term")]
    last = [each.rstrip("/").rpartition("/")[2] for each in said]
    for word in (*last, *short, *words):
        if name := _kinds().get(word.strip().casefold()):
            piece.whole()
            return name
    piece.read.discard(piece.element)
    return None


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
            elif ours in ("Treatment", "ConditionCheck"):
                self._care(ours, each, event)
            elif ours == "Movement":
                self._movement(each, event)
            elif kind == "restoration" or ours == "PriorRepair":
                self._repair(each, event)
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

    # --- making -----------------------------------------------------------------------------------

    def _making(self, piece: Piece, event: Piece) -> None:
        piece.told("displayEvent")
        date = self.taking.date(event.one("eventDate"))
        if date and self.made is None:
            self.made = date
        for actor in event.each("eventActor"):
            self._maker(actor)
        self.made_of.take(self.taking, event.each("eventMaterialsTech"))
        where = _place_in_words(event)
        if where:
            self._noted("note/production", where)
        for each in event.each("eventDescriptionSet", "descriptiveNoteValue"):
            if note := self.taking.note(each, "note/production"):
                self.notes.append(note)

    def _maker(self, piece: Piece) -> None:
        shown = piece.one("displayActorInRole")
        words = shown.text() if shown else ""
        actor = piece.one("actorInRole", "actor")
        who = self.taking.somebody(actor) if actor else None
        in_role = piece.one("actorInRole")
        if in_role and self.taking.role(in_role, "capacity/artist") != "capacity/artist":
            for untold in piece.element.iter():
                piece.read.discard(untold)
            return
        if who is None and not words:
            return
        qualifier = self._qualifier(in_role, who, words)
        if who is None:
            who = Somebody(read_attribution(words)[1] or words)
        elif found := read_attribution(who.name)[1] if attribution_term(who.name) else "":
            who = Somebody(
                found, who.address, who.ours, who.kind, who.life, who.began, who.ended
            )
        ours = self.taking.ours and shown is not None
        as_written = words if words and words != who.name else None
        if ours:
            marked = shown is not None and shown.attribute("label") == AS_WRITTEN
            as_written = words if marked else None
        nobody = qualifier == "qualifier/unknown" and (not ours or who.ours is None)
        artist = None if nobody else self.taking.party(who, needed=True)
        first = not self.attributions and not ours
        self.attributions.append(
            Attribution(
                id=self.taking.id_of(shown, "attribution", qualifier, who.name),
                qualifier=qualifier,
                artist=artist,
                written=as_written,
                preferred=(shown is not None and shown.analog()[0] == "Attribution.preferred")
                if ours
                else first,
            )
        )

    def _qualifier(self, in_role: Piece | None, who: Somebody | None, words: str) -> str:
        name = who.name if who else words
        for each in in_role.each("attributionQualifierActor") if in_role else ():
            if key := each.concept("qualifier"):
                return key
            if key := attribution_term(f"{each.words()} {name}"):
                return key
            each.read.discard(each.element)
        if of_word(name, "qualifier") == "qualifier/unknown":
            return "qualifier/unknown"
        return attribution_term(name) or attribution_term(words) or "qualifier/by"

    # --- where it has been ------------------------------------------------------------------------

    def _passing(self, piece: Piece, event: Piece, kind: str | None) -> None:
        taken = table("lido.toml")["taken"].get(kind or "provenance", {})
        default = taken.get("role", "capacity/unknown")
        known_as = self._method(event, "provenance") or taken.get("kind", "provenance/other")
        parties = [
            found for each in event.each("eventActor") if (found := self._role(each, default))
        ]
        shown = piece.one("displayEvent")
        words = piece.told("displayEvent")
        date = self.taking.date(event.one("eventDate"))
        said, notes, evidence = self._details("ProvenanceEvent", event, "note/provenance")
        names = [
            value
            for each in event.each("eventName")
            for value in each.every("appellationValue")
        ]
        if not self.taking.ours:
            notes += [self._a_note("note/provenance", each) for each in (*names, words) if each]
            said["phrase"] = said.get("phrase")
        order = piece.attribute("sortorder")
        self.provenance.append(
            ProvenanceEvent(
                id=self._own(
                    event, shown, "provenance", known_as, words, *(p.id for p in parties)
                ),
                order=_number(order) if self.taking.ours else len(self.provenance) + 1,
                kind=known_as,
                parties=tuple(parties),
                at=_place_in_words(event) or None,
                place=self._place(event),
                when=date,
                notes=tuple(notes),
                evidence=tuple(evidence) or (self._cited(event),),
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
            role = self._role(each, "capacity/borrower")
            which = _ROLES.get(role.role) if role else None
            if role and role.party and which and which not in people:
                people[which] = role.party
            elif role and role.written:
                notes.append(self._a_note("note/exhibition", role.written))
        said, more, evidence = self._details("Exhibition", event, "note/exhibition")
        if not self.taking.ours and words and words != title:
            more.append(self._a_note("note/exhibition", words))
        self.exhibitions.append(
            Exhibition(
                id=self._own(event, shown, "exhibition", title),
                title=title,
                at=_place_in_words(event) or None,
                place=self._place(event),
                when=self.taking.date(event.one("eventDate")),
                notes=(*notes, *more),
                evidence=tuple(evidence),
                **people,
                **said,
            )
        )

    def _movement(self, piece: Piece, event: Piece) -> None:
        shown = piece.one("displayEvent")
        roles = [self._role(each, "capacity/custodian") for each in event.each("eventActor")]
        keeper = next((each.party for each in roles if each and each.party), None)
        to, place = _place_in_words(event) or None, self._place(event)
        _, notes, _ = self._details("Movement", event, "note/other")
        piece.told("displayEvent")
        if to or place or keeper:
            self.movements.append(
                Movement(
                    id=self._own(event, shown, "movement", to or ""),
                    to=to,
                    place=place,
                    keeper=keeper,
                    when=self.taking.date(event.one("eventDate")),
                    reason=self._method(event, "movement"),
                    notes=tuple(notes),
                )
            )

    # --- what was done ----------------------------------------------------------------------------

    def _repair(self, piece: Piece, event: Piece) -> None:
        """A restoration that somebody else records is, to us, an earlier repair."""
        shown = piece.one("displayEvent")
        kind = self._method(event, "repair") or "repair/unknown"
        date = self.taking.date(event.one("eventDate"))
        words = piece.told("displayEvent")
        used = Made()
        used.take(self.taking, event.each("eventMaterialsTech"))
        _, notes, _ = self._details("PriorRepair", event, "note/treatment")
        if not self.taking.ours:
            methods = [each.words() for each in event.each("eventMethod")]
            names = [
                role.written
                for each in event.each("eventActor")
                if (role := self._role(each, "capacity/restorer"))
            ]
            told = [each for each in (words, *methods, *names, used.medium) if each]
            notes += [self._a_note("note/treatment", each) for each in told]
        self.repairs.append(
            PriorRepair(
                id=self._own(event, shown, "repair", kind, words),
                number=self._numbered(event, "R"),
                kind=kind,
                materials=used.materials,
                made=date,
                notes=tuple(notes),
            )
        )

    def _care(self, which: str, piece: Piece, event: Piece) -> None:
        """A check or a treatment of our own; what stands there in words alone is told, not taken."""
        shown = piece.one("displayEvent")
        date = self.taking.date(event.one("eventDate"))
        piece.told("displayEvent")
        if which == "Treatment":
            steps = [
                Step(
                    id=step.analog()[1] or self.taking.ids.of("step", step.text()),
                    order=_number(each.attribute("sortorder")) or place,
                    kind=term_of(each.attribute("type"), "step") or "step/other",
                    began=day_of(step.text()),
                    ended=day_of(step.text().rpartition("/")[2])
                    if "/" in step.text()
                    else None,
                )
                for place, each in enumerate(event.each("eventDescriptionSet"), 1)
                for step in each.each("descriptiveNoteValue")
                if step.analog()[0] == "Step"
            ]
            _, notes, _ = self._details("Treatment", event, "note/treatment")
            for each in event.each("eventMethod"):
                each.whole()
            name = event.told("eventName", "appellationValue")
            self.treatments.append(
                Treatment(
                    id=self._own(event, shown, "treatment"),
                    number=self._numbered(event, "T"),
                    title=name or None,
                    steps=tuple(steps),
                    notes=tuple(notes),
                )
            )
            return
        said, notes, _ = self._details("ConditionCheck", event, "note/condition")
        actor = event.one("eventActor")
        by = self._role(actor, "capacity/restorer") if actor else None
        if by is None or by.party is None or date is None or date.earliest is None:
            return
        for each in event.each("eventMethod"):
            each.whole()
        self.checks.append(
            ConditionCheck(
                id=self._own(event, shown, "check"),
                number=self._numbered(event, "K"),
                occasion=said.pop("occasion", None) or "occasion/other",
                on=date.earliest,
                by=by.party,
                notes=tuple(notes),
                **said,
            )
        )

    # --- pieces of an event -----------------------------------------------------------------------

    def _own(self, event: Piece, shown: Piece | None, *said: str) -> str:
        for each in event.each("eventID"):
            uuid = uuid_in(each.text(), self.taking.base) if self.taking.ours else None
            if uuid:
                return uuid
        return self.taking.id_of(shown, *said)

    def _numbered(self, event: Piece, letter: str) -> str | None:
        wanted = re.compile(rf"{letter}[1-9]\d*")
        return next((each for each in event.every("eventID") if wanted.fullmatch(each)), None)

    def _method(self, event: Piece, group: str) -> str | None:
        for each in event.each("eventMethod"):
            if key := each.concept(group):
                return key
        return None

    def _role(self, piece: Piece, otherwise: str) -> PartyRole | None:
        """Somebody's part in an event."""
        shown = piece.one("displayActorInRole")
        words = shown.text() if shown else ""
        in_role = piece.one("actorInRole")
        actor = in_role.one("actor") if in_role else None
        who = self.taking.somebody(actor) if actor else None
        if who is None and not words:
            return None
        who = who or Somebody(words)
        role = self.taking.role(in_role, otherwise) if in_role else otherwise
        party = self.taking.party(who)
        said = in_role.told("sourceActorInRole") if in_role else ""
        ours = self.taking.ours and shown is not None
        marked = shown is not None and shown.attribute("label") == AS_WRITTEN
        written = (
            (words if ours and words else who.name)
            if marked or party is None or not ours
            else None
        )
        if not ours and words and words != who.name:
            piece.unread("displayActorInRole")
        more: dict[str, Any] = {} if ours else {"life": who.life, "relation": said or None}
        if ours and in_role:
            more = _said_of_them(in_role)
        return PartyRole(
            id=self.taking.id_of(shown, "role", role, who.name),
            party=party,
            written=written,
            role=role,
            **more,
        )

    def _details(
        self, kind: str, event: Piece, note_kind: str
    ) -> tuple[dict[str, Any], list[Note], list[Evidence]]:
        """What the descriptions of an event say: fields of ours by name, notes, what it rests on."""
        said: dict[str, Any] = {}
        notes: list[Note] = []
        evidence: list[Evidence] = []
        number = self._numbered(event, "E") if kind == "ProvenanceEvent" else None
        if number and self.taking.ours:
            said["number"] = number
        for each in event.each("eventDescriptionSet"):
            for value in each.each("descriptiveNoteValue"):
                name = value.analog()[0] if self.taking.ours else ""
                which = name.partition(".")[2]
                if name in ("Evidence", "Evidence.text"):
                    evidence.append(self._evidence(each, value))
                elif name.startswith(f"{kind}."):
                    self._field(kind, which, value, said)
                elif name in ("Finding", "Step"):
                    if name == "Finding":
                        value.read.discard(value.element)
                elif note := self.taking.note(value, note_kind):
                    kind_of_note = term_of(each.attribute("type"), "note")
                    notes.append(
                        note
                        if kind_of_note is None
                        else Note(
                            id=note.id,
                            kind=kind_of_note,
                            text=note.text,
                            language=note.language,
                        )
                    )
        return said, notes, evidence

    def _field(self, kind: str, which: str, value: Piece, said: dict[str, Any]) -> None:
        text = value.text()
        groups = {
            "passage": "passage",
            "certainty": "certainty",
            "occasion": "occasion",
            "condition": "condition",
        }
        if which in groups:
            said[which] = of_word(text, groups[which])
        elif which == "until":
            said[which] = self.taking.date_in(text)
        elif which == "price":
            own = value.analog()[1] or self.taking.ids.of("price", text)
            said[which] = Price(id=own, written=text)
        else:
            said[which] = text

    def _evidence(self, piece: Piece, value: Piece) -> Evidence:
        source, text = piece.one("descriptiveNoteID"), value.text()
        kind = term_of(piece.attribute("type"), "evidence") or "evidence/oral"
        pointed = _VALUE.search(source.text()) if source else None
        if kind == "evidence/paper":
            # papers do not come along: what it is called stands for it
            pointed = None
        own_words = text if value.analog()[0] == "Evidence.text" else None
        strength = of_word(value.attribute("label"), "strength")
        return Evidence(
            id=value.analog()[1] or self.taking.ids.of("evidence", text),
            kind=kind,
            source=pointed[1] if pointed else None,
            text=text if pointed is None and kind != "evidence/none-cited" else own_words,
            strength=strength,
        )

    def _cited(self, event: Piece) -> Evidence:
        """What an event from elsewhere rests on: the record that says so."""
        return Evidence(
            id=self.taking.ids.of("cited", str(len(self.provenance))),
            kind="evidence/citation",
            text=self.taking.cited,
        )

    def _place(self, event: Piece) -> str | None:
        """The address of the place: of ours or elsewhere."""
        for each in event.every("eventPlace", "place", "placeID"):
            own = uuid_in(each, self.taking.base)
            if own and self.taking.ours:
                return f"reference/{own}"
            if re.match(r"https?://\S+$", each):
                return each
        return None

    def _a_note(self, kind: str, text: str) -> Note:
        return Note(id=self.taking.ids.of("note", kind, text), kind=kind, text=text)

    def _noted(self, kind: str, text: str) -> None:
        self.notes.append(self._a_note(kind, text))


def _place_in_words(event: Piece) -> str:
    """Where it was, as shown, else by the name of the place and what that is part of."""
    for each in event.each("eventPlace"):
        shown = each.told("displayPlace")
        place = each.one("place")
        names = [place.told("namePlaceSet", "appellationValue")] if place else []
        while place is not None and (place := place.one("partOfPlace")):
            names.append(place.told("namePlaceSet", "appellationValue"))
        told = shown or ", ".join(filter(None, names))
        if told:
            return told
    return ""


def _said_of_them(in_role: Piece) -> dict[str, Any]:
    """What a record of ours says of somebody, field by field."""
    found: dict[str, Any] = {}
    for each in in_role.each("sourceActorInRole"):
        which = each.analog()[0].partition(".")[2]
        if which in ("life", "place", "relation"):
            found[which] = each.text()
    return found


def _number(said: str) -> int | None:
    return int(said) if said.isdecimal() and 0 < int(said) <= 10_000 else None
