"""What stands on a photograph or was seen there, as annotations of its canvas.

A text that was read off the object supplements the picture; what people say about the object comments on
it (Presentation 3.0, section 3.4 and values for motivation). An upright box is part of the target's
address, which every viewer reads; a label that was glued askew keeps its outline.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.iiif.regions import box, selector, upright
from catalogue.exchange.iiif.words import said
from catalogue.exchange.outgoing import Sender
from catalogue.linked.addresses import address_of
from catalogue.linked.text import Node
from catalogue.record import Finding, Inscription, Photo, PriorRepair, Region, Work
from catalogue.terms import label


def notes_on(work: Work, photo: Photo, canvas: str, sender: Sender) -> Iterator[Node]:
    """Every inscription at each of its places on this photograph, then what it was taken to show."""
    for inscription in work.inscriptions:
        for region in inscription.regions:
            if region.photo == photo.id:
                yield _inscription(work, inscription, region, photo, canvas, sender)
    about: tuple[Finding | PriorRepair, ...] = (*work.findings, *work.repairs)
    for each in about:
        if each.id in photo.about:
            yield _seen(work, each, photo, canvas, sender)


def _inscription(
    work: Work,
    inscription: Inscription,
    region: Region,
    photo: Photo,
    canvas: str,
    sender: Sender,
) -> Node:
    own = f"#{region.id}/annotation"

    def named(ending: str = "") -> str:
        return address_of(f"{own}{ending}", work.document, sender.base)

    size = (photo.width or 1, photo.height or 1)
    target: str | Node = f"{canvas}#{box(region, size)}"
    if not upright(region):
        target = {
            "id": named("/target"),
            "type": "SpecificResource",
            "source": {"id": canvas, "type": "Canvas"},
            "selector": {"id": named("/selector"), **selector(region, size)},
        }
    text, was_read = text_of(inscription)
    body: Node = {
        "id": named("/text"),
        "type": "TextualBody",
        "value": text,
        "format": "text/plain",
    }
    if was_read and len(inscription.languages) == 1:
        body["language"] = inscription.languages[0]
    return {
        "id": named(),
        "type": "Annotation",
        "label": {"en": [called(inscription)]},
        "motivation": "supplementing" if was_read else "commenting",
        "body": body,
        "target": target,
    }


def text_of(inscription: Inscription) -> tuple[str, bool]:
    """The text to show of an inscription line by line as it stands, and whether it was read there.

    One without letters is described: by its marks, else by what it is.
    """
    transcript = inscription.preferred()
    reading = transcript.reading() if transcript else None
    if reading and (seen := reading.diplomatic().strip()):
        return seen, True
    drawn = reading.drawn() if reading else ()
    return ": ".join(filter(None, (label(inscription.kind), "; ".join(drawn)))), False


def called(inscription: Inscription) -> str:
    """What an inscription is called: `label, I2`."""
    kind = label(inscription.kind)
    if inscription.number is None:
        return kind
    return said("notes", "inscription").format(kind=kind, number=inscription.number)


def _seen(
    work: Work, value: Finding | PriorRepair, photo: Photo, canvas: str, sender: Sender
) -> Node:
    """A damage or an old repair that the photograph was taken to show, said of the whole of it."""

    def named(ending: str) -> str:
        return address_of(f"#{value.id}/{ending}-{photo.id}", work.document, sender.base)

    words = filter(
        None, (value.number, label(value.kind), *(note.text for note in value.notes))
    )
    return {
        "id": named("shown-on"),
        "type": "Annotation",
        "motivation": "commenting",
        "body": {
            "id": named("words-on"),
            "type": "TextualBody",
            "value": ": ".join(words),
            "format": "text/plain",
            "language": "en",
        },
        "target": canvas,
    }
