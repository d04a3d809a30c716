"""LIDO 1.1: one XML record for each work, as museums and their portals take it in.

What LIDO has no place for stays in the full graph: places in millimetres, regions on photographs,
what an event rests on, layers of a treatment. Parties become the actors of events, jobs nothing.
"""

from __future__ import annotations

from catalogue.exchange.lido import beside
from catalogue.exchange.lido import object as thing
from catalogue.exchange.lido.events import events
from catalogue.exchange.lido.inscriptions import inscriptions
from catalogue.exchange.lido.pen import element, having
from catalogue.exchange.lido.terms import LANGUAGE, address
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.record import Work

SAYS = "LIDO (XML): one record for each work, for museums and portals of collections."

NAMESPACE = "http://www.lido-schema.org"
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_OPENS = f' xmlns:lido="{NAMESPACE}"'


def write(leaving: Leaving, sender: Sender) -> Files:
    """The record of a work as one file, `<stem>.lido.xml`, UTF-8."""
    if isinstance(leaving.record, Work):
        yield f"{leaving.stem}.lido.xml", lido(leaving.record, sender).encode()


def lido(work: Work, sender: Sender) -> str:
    """A whole LIDO document of one work."""
    language = having(lang=LANGUAGE)
    told = element(
        "descriptiveMetadata",
        thing.classified(),
        element(
            "objectIdentificationWrap",
            thing.titles(work),
            inscriptions(work),
            thing.numbers(work),
            thing.descriptions(work),
            thing.sizes(work),
            thing.materials(work),
        ),
        events(work, sender),
        beside.related(work, sender),
        attributes=language,
    )
    kept = element(
        "administrativeMetadata",
        beside.rights(work),
        beside.the_record(work, sender),
        beside.pictures(work),
        attributes=language,
    )
    own = address("lidoRecID", f"urn:uuid:{work.id}", encodinganalog="Work")
    return _HEAD + element("lido", own, told, kept, attributes=_OPENS) + "\n"
