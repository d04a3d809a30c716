"""What all events of a LIDO record are read with: kind, people, place, what they rest on, words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue.exchange.lido.source import Piece, of_word
from catalogue.exchange.lido.taken import Somebody, Taking, term_of
from catalogue.exchange.lido.terms import said as our_word
from catalogue.linked.addresses import uuid_in
from catalogue.places import table
from catalogue.record import Evidence, Note, PartyRole
from catalogue.record.provenance import Price
from catalogue.record.rules import UUID

_VALUE = re.compile(rf"(?:#|urn:uuid:)({UUID})$")
_SHORT_NAME = re.compile(r"/(?:eventType|event_type|eventtype)/([\w-]+)")


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


@dataclass(frozen=True, slots=True)
class Pieces:
    """Reads the pieces of events of one record."""

    taking: Taking

    def own(self, event: Piece, shown: Piece | None, *said: str) -> str:
        """The id of the value that an event is: the one it left us with, else made of what it says."""
        for each in event.each("eventID"):
            uuid = uuid_in(each.text(), self.taking.base) if self.taking.ours else None
            if uuid:
                return uuid
        return self.taking.id_of(shown, *said)

    def numbered(self, event: Piece, letter: str) -> str | None:
        """The number that people call a value of ours by (`E3`), where the event bears one."""
        wanted = re.compile(rf"{letter}[1-9]\d*")
        return next((each for each in event.every("eventID") if wanted.fullmatch(each)), None)

    def method(self, event: Piece, group: str) -> str | None:
        """The first method that is a term of this group."""
        for each in event.each("eventMethod"):
            if key := each.concept(group):
                return key
        return None

    def role(self, piece: Piece, otherwise: str) -> PartyRole | None:
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
        marked = shown is not None and shown.attribute("label") == our_word("as_written")
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

    def details(
        self, kind: str, event: Piece, note_kind: str
    ) -> tuple[dict[str, Any], list[Note], list[Evidence]]:
        """What the descriptions of an event say: fields of ours by name, notes, what it rests on."""
        said: dict[str, Any] = {}
        notes: list[Note] = []
        evidence: list[Evidence] = []
        number = self.numbered(event, "E") if kind == "ProvenanceEvent" else None
        if number and self.taking.ours:
            said["number"] = number
        for each in event.each("eventDescriptionSet"):
            for value in each.each("descriptiveNoteValue"):
                name = value.analog()[0] if self.taking.ours else ""
                which = name.partition(".")[2]
                if name in ("Evidence", "Evidence.text"):
                    evidence.append(self._evidence(each, value))
                elif name.startswith(f"{kind}."):
                    self._in_field(kind, which, value, said)
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

    def _in_field(self, kind: str, which: str, value: Piece, said: dict[str, Any]) -> None:
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

    def cited(self) -> Evidence:
        """What an event from elsewhere rests on: the record that says so."""
        return Evidence(
            id=self.taking.ids.of("cited"),
            kind="evidence/citation",
            text=self.taking.cited,
        )

    def place(self, event: Piece) -> str | None:
        """The address of the place: of ours or elsewhere."""
        for each in event.every("eventPlace", "place", "placeID"):
            own = uuid_in(each, self.taking.base)
            if own and self.taking.ours:
                return f"reference/{own}"
            if re.match(r"https?://\S+$", each):
                return each
        return None

    def note(self, kind: str, text: str) -> Note:
        """Words of an event as a note."""
        return Note(id=self.taking.ids.of("note", kind, text), kind=kind, text=text)


def place_in_words(event: Piece) -> str:
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


def whole_number(said: str) -> int | None:
    """A place in an order, None for anything else."""
    plain = said.isdecimal() and len(said) < 6
    return int(said) if plain and 0 < int(said) <= 10_000 else None
