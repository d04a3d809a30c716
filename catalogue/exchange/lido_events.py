"""What happened to a painting, as LIDO's events: made, passed on, shown, moved, checked, treated.

Each kind of provenance is one of LIDO's kinds of event and, more exactly, a method of ours
(`eventMethod`). LIDO has no event for a look at the condition: a check is an Attribute assignment
with the AAT's term for it, a treatment and an earlier repair are Restorations.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.lido_object import note_value
from catalogue.exchange.lido_pen import element, having, text
from catalogue.exchange.lido_terms import (
    LANGUAGE,
    address,
    analog,
    dated,
    event_type,
    field_label,
    iso,
    named,
    numbered,
    on_day,
    said,
    term,
    written,
)
from catalogue.exchange.outgoing import Sender
from catalogue.linked.addresses import address_of
from catalogue.measure import DateSpan, Day
from catalogue.places import table
from catalogue.record import (
    Attribution,
    ConditionCheck,
    Exhibition,
    Movement,
    Note,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Treatment,
    Work,
)
from catalogue.record.rules import is_address
from catalogue.terms import label


def events(work: Work, sender: Sender) -> str:
    """Everything that happened, in the order of the record: how it was made comes first."""
    told = _Telling(work, sender)
    return element(
        "eventWrap",
        *told.making(),
        *map(told.passing, work.provenance),
        *map(told.showing, work.exhibitions),
        *map(told.moving, work.movements),
        *map(told.repair, work.repairs),
        *map(told.check, work.checks),
        *map(told.treatment, work.treatments),
    )


class _Telling:
    """The events of one work: who they name, and under which addresses."""

    def __init__(self, work: Work, sender: Sender) -> None:
        self.work = work
        self.sender = sender

    def making(self) -> Iterator[str]:
        """Its making, with the attribution to show; each further attribution is one more view of it."""
        shown = self.work.attribution()
        first = element(
            "event",
            event_type("production"),
            self._maker(shown) if shown else "",
            dated("eventDate", self.work.made),
        )
        yield self._set("Work.made", None, "", first, order=1)
        others = [each for each in self.work.attributions if each is not shown]
        for place, each in enumerate(others, 2):
            again = element("event", event_type("production"), self._maker(each))
            yield self._set("Attribution", None, "", again, order=place)

    def _maker(self, attribution: Attribution) -> str:
        if attribution.artist:
            name = self._called(attribution.artist)
        else:
            name = attribution.written or said("unknown_maker")
        plain = attribution.qualifier in ("qualifier/by", "qualifier/unknown")
        words = attribution.written or (
            name if plain else f"{label(attribution.qualifier)} {name}"
        )
        by = attribution.said_by
        source = ", ".join(
            filter(None, (self._called(by) if by else None, iso(attribution.on)))
        )
        marked = analog(
            "Attribution.preferred" if attribution.preferred else "Attribution", attribution.id
        )
        return element(
            "eventActor",
            text("displayActorInRole", words, having(encodinganalog=marked)),
            element(
                "actorInRole",
                self._actor(name, attribution.artist),
                term("roleActor", "capacity/artist"),
                term("attributionQualifierActor", attribution.qualifier),
                text(
                    "sourceActorInRole",
                    source,
                    having(
                        encodinganalog="Attribution.written" if attribution.written else None
                    ),
                ),
            ),
        )

    def passing(self, event: ProvenanceEvent) -> str:
        """One step of its provenance."""
        which = table("lido.toml")["provenance"].get(event.kind, "provenance")
        details = (
            ("phrase", event.phrase),
            ("lot", event.lot),
            ("stock_number", event.stock_number),
            ("price", event.price.written if event.price else None),
            ("until", written(event.until)),
            ("passage", event.passage and label(event.passage)),
            ("certainty", event.certainty and label(event.certainty)),
        )
        body = self._event(
            event.id,
            which,
            event.number,
            "ProvenanceEvent",
            *map(self._party, event.parties),
            dated("eventDate", event.when),
            self._place(event.at, event.place),
            term("eventMethod", event.kind),
            *(_detail(f"ProvenanceEvent.{field}", words) for field, words in details),
            *map(_noted, event.notes),
        )
        parties = ", ".join(self._name(each) for each in event.parties)
        words = ", ".join(
            filter(None, (label(event.kind), parties, event.at, written(event.when)))
        )
        return self._set("ProvenanceEvent", event.id, words, body, order=event.order)

    def showing(self, shown: Exhibition) -> str:
        """One exhibition."""
        actors = [
            self._in_role(self._called(party), party, f"capacity/{role}", f"Exhibition.{field}")
            for party, role, field in (
                (shown.organiser, "borrower", "organiser"),
                (shown.lender, "lender", "lender"),
            )
            if party
        ]
        body = self._event(
            shown.id,
            "exhibition",
            None,
            "Exhibition",
            named("eventName", shown.title),
            *actors,
            dated("eventDate", shown.when),
            self._place(shown.at, shown.place),
            _detail("Exhibition.catalogue_number", shown.catalogue_number),
            _detail("Exhibition.shown_as", shown.shown_as),
            *map(_noted, shown.notes),
        )
        return self._set("Exhibition", shown.id, shown.title, body)

    def moving(self, moved: Movement) -> str:
        """One change of place; that of a piece alone says so in words."""
        keeper = moved.keeper
        actors = (
            [
                self._in_role(
                    self._called(keeper), keeper, "capacity/custodian", "Movement.keeper"
                )
            ]
            if keeper
            else []
        )
        body = self._event(
            moved.id,
            "move",
            None,
            "Movement",
            *actors,
            dated("eventDate", moved.when),
            self._place(moved.to, moved.place),
            term("eventMethod", moved.reason) if moved.reason else "",
            *map(_noted, moved.notes),
        )
        return self._set("Movement", moved.id, moved.to or "", body)

    def repair(self, repair: PriorRepair) -> str:
        """One earlier repair as it was found."""
        told = said("earlier_repair").format(what=label(repair.kind))
        body = self._event(
            repair.id,
            "restoration",
            repair.number,
            "PriorRepair",
            dated("eventDate", repair.made),
            term("eventMethod", repair.kind),
            _used(repair.made_of),
            *map(_noted, repair.notes),
        )
        return self._set("PriorRepair", repair.id, told, body)

    def check(self, check: ConditionCheck) -> str:
        """One look at the condition: who, when, the judgement, what was found that day."""
        found = [
            _detail(
                "Finding", said("finding").format(number=each.number or "", what=words).strip()
            )
            for each in self.work.findings
            for seen in each.observations
            if seen.check == check.id
            for words in [
                ", ".join(
                    label(key)
                    for key in (
                        each.kind,
                        each.layer,
                        seen.extent,
                        seen.severity,
                        seen.stability,
                        seen.change,
                    )
                    if key
                )
            ]
        ]
        body = self._event(
            check.id,
            "assignment",
            check.number,
            "ConditionCheck",
            self._in_role(
                self._called(check.by), check.by, "capacity/restorer", "ConditionCheck.by"
            ),
            dated("eventDate", on_day(check.on)),
            term("eventMethod", "activity/condition-check"),
            _detail("ConditionCheck.occasion", label(check.occasion)),
            _detail("ConditionCheck.condition", check.condition and label(check.condition)),
            _detail("ConditionCheck.limits", check.limits),
            *found,
            *map(_noted, check.notes),
        )
        told = said("check").format(what=label(check.occasion))
        return self._set("ConditionCheck", check.id, told, body)

    def treatment(self, treatment: Treatment) -> str:
        """One course of treatment, its steps in words and by their terms."""
        people = sorted({person for step in treatment.steps for person in step.by})
        used = dict.fromkeys(use.material for step in treatment.steps for use in step.materials)
        body = self._event(
            treatment.id,
            "restoration",
            treatment.number,
            "Treatment",
            *(
                self._in_role(self._called(each), each, "capacity/restorer", "Step.by")
                for each in people
            ),
            dated("eventDate", _whole(treatment)),
            *(
                term("eventMethod", key)
                for key in dict.fromkeys(s.kind for s in treatment.steps)
            ),
            _used(tuple(used)),
            *(
                _detail(
                    "Step",
                    said("step").format(order=step.order, what=_step(step.kind, step.began)),
                )
                for step in treatment.steps
            ),
            *map(_noted, treatment.notes),
        )
        what = treatment.title or ", ".join(
            dict.fromkeys(label(step.kind) for step in treatment.steps)
        )
        return self._set("Treatment", treatment.id, said("treatment").format(what=what), body)

    def _set(
        self, field: str, own: str | None, words: str, body: str, order: int | None = None
    ) -> str:
        shown = having(lang=LANGUAGE, encodinganalog=analog(field, own))
        return element(
            "eventSet",
            text("displayEvent", words, shown),
            body,
            attributes=having(sortorder=order),
        )

    def _event(self, own: str, which: str, number: str | None, field: str, *inner: str) -> str:
        """An event; its pieces come in the order of the schema, descriptions last."""
        known_as = having(type=numbered("local"), encodinganalog=f"{field}.number")
        return element(
            "event",
            address("eventID", address_of(f"#{own}", self.work.document, self.sender.base)),
            text("eventID", number, known_as),
            event_type(which),
            *inner,
        )

    def _party(self, role: PartyRole) -> str:
        details = (role.life, role.place, role.relation)
        source = "; ".join(filter(None, details))
        return self._in_role(
            self._name(role), role.party, role.role, analog("PartyRole", role.id), source,
            as_written=role.written is not None,
        )  # fmt: skip

    def _in_role(
        self,
        name: str,
        party: str | None,
        capacity: str,
        field: str,
        source: str = "",
        *,
        as_written: bool = False,
    ) -> str:
        return element(
            "eventActor",
            text("displayActorInRole", name, having(encodinganalog=field)),
            element(
                "actorInRole",
                self._actor(name, party, as_written=as_written),
                term("roleActor", capacity),
                text("sourceActorInRole", source),
            ),
        )

    def _actor(self, name: str, party: str | None, *, as_written: bool = False) -> str:
        kind = self.sender.labels(party)[0] if party and not is_address(party) else ""
        known_as = having(encodinganalog="PartyRole.written" if as_written else None)
        return element(
            "actor",
            self._id("actorID", party),
            named("nameActorSet", name, known_as),
            attributes=having(type={"Person": "person", "Group": "group"}.get(kind)),
        )

    def _name(self, role: PartyRole) -> str:
        return role.written or (self._called(role.party) if role.party else "")

    def _called(self, other: str) -> str:
        """The name of another document; what has an address elsewhere goes by that."""
        return other if is_address(other) else self.sender.labels(other)[1]

    def _id(self, name: str, other: str | None) -> str:
        if other is None:
            return ""
        outside = is_address(other)
        return address(name, other if outside else address_of(other, other, self.sender.base))

    def _place(self, at: str | None, reference: str | None) -> str:
        name = at or (self._called(reference) if reference else None)
        inner = element(
            "place",
            self._id("placeID", reference),
            named("namePlaceSet", name) if name else "",
        )
        return element("eventPlace", text("displayPlace", at), inner)


def _used(materials: tuple[str, ...]) -> str:
    told = (term("termMaterialsTech", key, type=numbered("material")) for key in materials)
    return element("eventMaterialsTech", element("materialsTech", *told))


def _detail(field: str, words: str | None) -> str:
    return element(
        "eventDescriptionSet",
        text(
            "descriptiveNoteValue",
            words,
            having(label=field_label(field), encodinganalog=field),
        ),
    )


def _noted(note: Note) -> str:
    return element("eventDescriptionSet", note_value(note))


def _step(kind: str, began: Day | None) -> str:
    return ", ".join(filter(None, (label(kind), iso(began))))


def _whole(treatment: Treatment) -> DateSpan | None:
    """From the first day of its steps to the last, None where no step says its day."""
    days = [day for step in treatment.steps for day in (step.began, step.ended) if day]
    return on_day(min(days), max(days)) if days else None
