"""What happened to a painting, as LIDO's events: made, passed on, shown, moved, cared for.

Each kind of provenance is one of LIDO's kinds of event and, more exactly, a method of ours
(`eventMethod`).
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.lido.actors import Telling, detail, noted
from catalogue.exchange.lido.care import care
from catalogue.exchange.lido.pen import element, having, text
from catalogue.exchange.lido.terms import (
    analog,
    dated,
    event_type,
    iso,
    named,
    said,
    term,
    written,
)
from catalogue.exchange.outgoing import Sender
from catalogue.places import table
from catalogue.record import Attribution, Exhibition, Movement, ProvenanceEvent, Work
from catalogue.terms import label

_PLAIN = ("qualifier/by", "qualifier/unknown")
"""Qualifiers that add nothing to a name."""


def events(work: Work, sender: Sender) -> str:
    """Everything that happened, in the order of the record: how it was made comes first."""
    telling = Telling(work, sender)
    return element(
        "eventWrap",
        *_making(telling),
        *(_passing(telling, each) for each in work.provenance),
        *(_showing(telling, each) for each in work.exhibitions),
        *(_moving(telling, each) for each in work.movements),
        *care(telling),
    )


def _making(telling: Telling) -> Iterator[str]:
    """Its making, with the attribution to show; each further attribution is one more view of it."""
    work = telling.work
    shown = work.attribution()
    first = element(
        "event",
        event_type("production"),
        _maker(telling, shown) if shown else "",
        dated("eventDate", work.made),
    )
    yield telling.happened("Work.made", None, "", first, order=1)
    others = [each for each in work.attributions if each is not shown]
    for place, each in enumerate(others, 2):
        again = element("event", event_type("production"), _maker(telling, each))
        yield telling.happened("Attribution", None, "", again, order=place)


def _maker(telling: Telling, attribution: Attribution) -> str:
    name = (
        telling.called(attribution.artist)
        if attribution.artist
        else attribution.written or said("unknown_maker")
    )
    words = attribution.written or (
        name
        if attribution.qualifier in _PLAIN
        else said("attribution").format(qualifier=label(attribution.qualifier), name=name)
    )
    by = telling.called(attribution.said_by) if attribution.said_by else None
    field = "Attribution.preferred" if attribution.preferred else "Attribution"
    in_words = said("as_written") if attribution.written else None
    return element(
        "eventActor",
        text(
            "displayActorInRole",
            words,
            having(label=in_words, encodinganalog=analog(field, attribution.id)),
        ),
        element(
            "actorInRole",
            telling.somebody(name, attribution.artist),
            term("roleActor", "capacity/artist"),
            term("attributionQualifierActor", attribution.qualifier),
            text("sourceActorInRole", ", ".join(filter(None, (by, iso(attribution.on))))),
        ),
    )


def _passing(telling: Telling, event: ProvenanceEvent) -> str:
    """One step of its provenance."""
    which = table("lido.toml")["provenance"].get(event.kind, "provenance")
    details = (
        ("phrase", event.phrase),
        ("lot", event.lot),
        ("stock_number", event.stock_number),
        ("until", written(event.until)),
        ("passage", event.passage and label(event.passage)),
        ("certainty", event.certainty and label(event.certainty)),
    )
    price = event.price
    body = telling.event(
        event.id,
        which,
        event.number,
        "ProvenanceEvent",
        *map(telling.party, event.parties),
        dated("eventDate", event.when),
        telling.place(event.at, event.place),
        term("eventMethod", event.kind),
        *(detail(f"ProvenanceEvent.{field}", words) for field, words in details),
        detail(analog("ProvenanceEvent.price", price.id), price.written) if price else "",
        *map(telling.rests_on, event.evidence),
        *map(noted, event.notes),
    )
    parties = ", ".join(filter(None, map(telling.name, event.parties)))
    words = ", ".join(filter(None, (label(event.kind), parties, event.at, written(event.when))))
    return telling.happened("ProvenanceEvent", event.id, words, body, order=event.order)


def _showing(telling: Telling, shown: Exhibition) -> str:
    """One exhibition."""
    actors = [
        telling.actor(None, party, f"capacity/{role}", f"Exhibition.{field}")
        for party, role, field in (
            (shown.organiser, "borrower", "organiser"),
            (shown.lender, "lender", "lender"),
        )
        if party
    ]
    body = telling.event(
        shown.id,
        "exhibition",
        None,
        "Exhibition",
        named("eventName", shown.title),
        *actors,
        dated("eventDate", shown.when),
        telling.place(shown.at, shown.place),
        detail("Exhibition.catalogue_number", shown.catalogue_number),
        detail("Exhibition.shown_as", shown.shown_as),
        *map(telling.rests_on, shown.evidence),
        *map(noted, shown.notes),
    )
    return telling.happened("Exhibition", shown.id, shown.title, body)


def _moving(telling: Telling, moved: Movement) -> str:
    """One change of place."""
    keeper = moved.keeper
    body = telling.event(
        moved.id,
        "move",
        None,
        "Movement",
        telling.actor(None, keeper, "capacity/custodian", "Movement.keeper") if keeper else "",
        dated("eventDate", moved.when),
        telling.place(moved.to, moved.place),
        term("eventMethod", moved.reason) if moved.reason else "",
        *map(noted, moved.notes),
    )
    where = telling.called(moved.place) if moved.place else None
    who = telling.called(keeper) if keeper else None
    return telling.happened("Movement", moved.id, moved.to or where or who or "", body)
