"""W3C Web Annotations: every inscription at each of its places, in the pixels of the untouched original.

The photograph is named by its digest, so that a region means the same wherever the picture lies. Each
annotation says what stands there in plain letters, letter by letter as TEI, and which kind of thing it
is. Source: W3C Web Annotation Data Model (2017) and its published context.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.digest_addresses import address_of_picture
from catalogue.exchange.iiif.notes import called, text_of
from catalogue.exchange.iiif.regions import selector
from catalogue.exchange.iiif.words import said
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked.addresses import address_of
from catalogue.linked.text import Node, write_readable
from catalogue.record import Inscription, Photo, Region, Transcript, Work
from catalogue.terms import concept, known

SAYS = "Web annotations: what stands where on which photograph, for programs that gather notes."

CONTEXT = "http://www.w3.org/ns/anno.jsonld"


def write(leaving: Leaving, sender: Sender) -> Files:
    """The collection `<stem>.annotations.jsonld` of a work; nothing where nothing stands on it."""
    if not leaving.document_id.startswith("work/"):
        return
    work = leaving.record
    if not isinstance(work, Work):
        return
    items = [each for it in work.inscriptions for each in _Notes(work, it, sender).all()]
    if not items:
        return

    def named(what: str) -> str:
        return address_of(f"#{work.id}/{what}", work.document, sender.base)

    collection = {
        "@context": CONTEXT,
        "id": named("annotations"),
        "type": "AnnotationCollection",
        "label": said("notes", "collection").format(
            work=", ".join(filter(None, (work.number, work.title())))
        ),
        "total": len(items),
        "first": {
            "id": named("annotations-page"),
            "type": "AnnotationPage",
            "startIndex": 0,
            "items": items,
        },
    }
    yield f"{leaving.stem}.annotations.jsonld", write_readable(collection)


class _Notes:
    """The annotations of one inscription."""

    def __init__(self, work: Work, inscription: Inscription, sender: Sender) -> None:
        self.work, self.inscription, self.sender = work, inscription, sender

    def all(self) -> Iterator[Node]:
        """One for each region; of an inscription without any, one about the inscription itself."""
        for region in self.inscription.regions:
            photo = self.work.photo(region.photo)
            yield self._note(f"#{region.id}/annotation", self._place(region, photo))
        if not self.inscription.regions:
            own = f"#{self.inscription.id}"
            yield self._note(f"{own}/annotation", self._named(own))

    def _named(self, own: str) -> str:
        return address_of(own, self.work.document, self.sender.base)

    def _note(self, own: str, target: str | Node) -> Node:
        transcript = self.inscription.preferred()
        note: Node = {
            "id": self._named(own),
            "type": "Annotation",
            "motivation": "describing",
            "label": called(self.inscription),
        }
        if transcript:
            note |= self._by_whom(transcript)
        return note | {"body": list(self._bodies(own, transcript)), "target": target}

    def _by_whom(self, transcript: Transcript) -> Node:
        made: Node = {}
        if transcript.by:
            kind, name = self.sender.labels(transcript.by)
            made["creator"] = {
                "id": self._named(transcript.by),
                "type": "Person" if kind == "Person" else "Organization",
                "name": name,
            }
        if transcript.on:
            # `created` wants an hour, and nobody wrote one down.
            made["dcterms:created"] = {"@type": "xsd:date", "@value": transcript.on.iso}
        return made

    def _bodies(self, own: str, transcript: Transcript | None) -> Iterator[Node]:
        text, was_read = text_of(self.inscription)
        plain: Node = {
            "id": self._named(f"{own}/text"),
            "type": "TextualBody",
            "value": text,
            "format": "text/plain",
            "purpose": "describing",
        }
        if was_read and len(self.inscription.languages) == 1:
            plain["language"] = self.inscription.languages[0]
        yield plain
        if transcript and was_read:
            yield {
                "id": self._named(f"{own}/tei"),
                "type": "TextualBody",
                "value": f'<ab xmlns="http://www.tei-c.org/ns/1.0">{transcript.reading().tei()}</ab>',
                "format": "application/tei+xml",
                "purpose": "describing",
            }
        kind = self.inscription.kind
        if known(kind):
            found = concept(kind)
            yield {
                "id": self._named(f"{own}/kind"),
                "type": "SpecificResource",
                "source": found.aat or found.iri,
                "purpose": "classifying",
            }

    def _place(self, region: Region, photo: Photo) -> Node:
        own = f"#{region.id}/annotation"
        size = (photo.width, photo.height) if photo.width and photo.height else None
        source: Node = {"id": address_of_picture(photo), "type": "Image"}
        if photo.sha256 is None:
            source["id"] = self._named(f"#{photo.id}")
        if photo.media_type:
            source["format"] = photo.media_type
        return {
            "id": self._named(f"{own}/target"),
            "type": "SpecificResource",
            "source": source,
            "selector": {"id": self._named(f"{own}/selector"), **selector(region, size)},
        }
