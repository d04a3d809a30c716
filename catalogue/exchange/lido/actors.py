"""Who had a part in an event, where it was, and the pieces that all events of a record are made of."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.exchange.lido.object import note_value
from catalogue.exchange.lido.pen import element, having, text
from catalogue.exchange.lido.terms import (
    LANGUAGE,
    address,
    analog,
    event_type,
    field_label,
    iri_of,
    named,
    numbered,
    said,
    term,
)
from catalogue.exchange.outgoing import Sender
from catalogue.linked.addresses import address_of
from catalogue.record import Evidence, Note, PartyRole, Work
from catalogue.record.rules import is_address
from catalogue.terms import label

_KINDS = {"Person": "person", "Group": "group"}


@dataclass(frozen=True, slots=True)
class Telling:
    """The events of one work: who they name, and under which addresses."""

    work: Work
    sender: Sender

    def happened(
        self, field: str, own: str | None, words: str, body: str, order: int | None = None
    ) -> str:
        """One event in words and in pieces; `field` and `own` say which value of ours it is."""
        shown = having(lang=LANGUAGE, encodinganalog=analog(field, own))
        return element(
            "eventSet",
            text("displayEvent", words, shown),
            body,
            attributes=having(sortorder=order),
        )

    def event(self, own: str, which: str, number: str | None, field: str, *inner: str) -> str:
        """An event; its pieces come in the order of the schema, descriptions last."""
        known_as = having(type=numbered("local"), encodinganalog=f"{field}.number")
        return element(
            "event",
            address("eventID", self.own(own)),
            text("eventID", number, known_as),
            event_type(which),
            *inner,
        )

    def party(self, role: PartyRole) -> str:
        """Somebody's part in an event of the provenance."""
        details = (("life", role.life), ("place", role.place), ("relation", role.relation))
        return self.actor(
            role.written,
            role.party,
            role.role,
            analog("PartyRole", role.id),
            *(
                text("sourceActorInRole", words, having(encodinganalog=f"PartyRole.{which}"))
                for which, words in details
            ),
        )

    def actor(
        self, written: str | None, party: str | None, capacity: str, field: str, *details: str
    ) -> str:
        """Somebody in a capacity: as `written` in a source, as a party on file, or both; with details."""
        called = self.called(party) if party else written or ""
        marked = having(label=said("as_written") if written else None, encodinganalog=field)
        return element(
            "eventActor",
            text("displayActorInRole", written or called, marked),
            element(
                "actorInRole",
                self.somebody(called, party),
                term("roleActor", capacity),
                *details,
            ),
        )

    def somebody(self, name: str, party: str | None) -> str:
        """A person or a group by name, and by the address of their record."""
        kind = self.sender.labels(party)[0] if party and not is_address(party) else ""
        return element(
            "actor",
            self.elsewhere("actorID", party),
            named("nameActorSet", name),
            attributes=having(type=_KINDS.get(kind)),
        )

    def name(self, role: PartyRole) -> str:
        """What somebody is called: in the words found, else by their record."""
        return role.written or (self.called(role.party) if role.party else "")

    def called(self, other: str) -> str:
        """The name of another document; what has an address elsewhere goes by that."""
        return other if is_address(other) else self.sender.labels(other)[1]

    def own(self, value: str) -> str:
        """The address of a value of this work."""
        return address_of(f"#{value}", self.work.document, self.sender.base)

    def elsewhere(self, name: str, other: str | None) -> str:
        """An element with the address of another document, "" for none."""
        if other is None:
            return ""
        outside = is_address(other)
        return address(name, other if outside else address_of(other, other, self.sender.base))

    def place(self, at: str | None, reference: str | None) -> str:
        """Where it was: in words, and by the record of the place."""
        name = at or (self.called(reference) if reference else None)
        inner = element(
            "place",
            self.elsewhere("placeID", reference),
            named("namePlaceSet", name) if name else "",
        )
        return element("eventPlace", text("displayPlace", at), inner)

    def rests_on(self, evidence: Evidence) -> str:
        """What an event rests on: the value of this record, or the words; how strong that is."""
        source = evidence.source and self._numbered(evidence.source)
        told = evidence.text or ", ".join(filter(None, (label(evidence.kind), source)))
        field = "Evidence.text" if evidence.text else "Evidence"
        strength = label(evidence.strength) if evidence.strength else None
        return element(
            "eventDescriptionSet",
            address("descriptiveNoteID", self.own(evidence.source)) if evidence.source else "",
            text(
                "descriptiveNoteValue",
                told,
                having(label=strength, encodinganalog=analog(field, evidence.id)),
            ),
            attributes=having(type=iri_of(evidence.kind)),
        )

    def _numbered(self, value: str) -> str | None:
        """What people call a value of the work: "I1"."""
        for inscription in self.work.inscriptions:
            if inscription.id == value:
                return inscription.number
        return next((each.number for each in self.work.papers if each.id == value), None)


def detail(
    field: str, words: str | None, kind: str | None = None, order: int | None = None
) -> str:
    """One thing about an event in words; `field` is what it is in a record of ours."""
    return element(
        "eventDescriptionSet",
        text(
            "descriptiveNoteValue",
            words,
            having(label=field_label(field), encodinganalog=field),
        ),
        attributes=having(type=kind and iri_of(kind), sortorder=order),
    )


def noted(note: Note) -> str:
    """A note about an event."""
    return element(
        "eventDescriptionSet", note_value(note), attributes=having(type=iri_of(note.kind))
    )
