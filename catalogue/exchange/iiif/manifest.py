"""IIIF Presentation 3.0: one manifest for each work of which photographs leave.

A canvas is a photograph in the pixels of its untouched original, so that regions are where they were
drawn. The pictures are written beside the manifest; what stands on the back is an annotation at its
place. With a base, everything is addressed as if the folder were put up there, and then it opens in any
viewer; without one things are `urn:uuid:`, and each picture goes by the digest of its file.
"""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from catalogue.errors import BadSetting
from catalogue.exchange.digest_addresses import address_of_digest, address_of_picture
from catalogue.exchange.iiif.notes import notes_on
from catalogue.exchange.iiif.words import (
    canvas_facts,
    canvas_label,
    label_of,
    said,
    side_of,
    sides,
    told,
    work_facts,
)
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked.addresses import address_of
from catalogue.linked.text import Node, write_readable
from catalogue.photos import size_in_pixels
from catalogue.record import Photo, Work

SAYS = "IIIF: the photographs with what stands on them at its place, for viewers on the web."

CONTEXT = "http://iiif.io/api/presentation/3/context.json"
LICENCES = ("http://creativecommons.org/", "http://rightsstatements.org/")
_SUFFIXES = {".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png"}


def write(leaving: Leaving, sender: Sender) -> Files:
    """The manifest `<stem>.manifest.jsonld` of a work and its pictures; nothing where none leaves."""
    work = leaving.record
    if not isinstance(work, Work):
        return
    shown = [photo for photo in sender.pictures.of(work) if photo.width and photo.height]
    if not shown:
        return
    name = f"{leaving.stem}.manifest.jsonld"
    writing = _Manifest(work, sender, name, leaving.stem)
    content = write_readable(writing.manifest(shown))
    yield from writing.pictures
    yield name, content


class _Manifest:
    """One manifest under way, and the pictures that go with it."""

    def __init__(self, work: Work, sender: Sender, name: str, stem: str) -> None:
        self.work = work
        self.sender = sender
        self.stem = stem
        self.pictures: list[tuple[str, bytes]] = []
        own = f"{work.document}#{work.id}/manifest"
        self.address = (
            _beside(name, sender.base) if sender.base else address_of(own, work.document, None)
        )

    def manifest(self, shown: list[Photo]) -> Node:
        work, sender = self.work, self.sender
        manifest: Node = {
            "@context": CONTEXT,
            "id": self.address,
            "type": "Manifest",
            "label": label_of(work),
            "metadata": list(work_facts(work, sender)),
        }
        if notes := [each for each in work.notes if each.kind == "note/description"]:
            manifest["summary"] = {notes[0].language or "none": [told(notes[0].text)]}
        if sender.studio:
            kept_by = said("manifest", "sent_by")
            manifest["requiredStatement"] = {
                "label": {"en": [kept_by]},
                "value": {"none": [told(sender.studio)]},
            }
        if rights := licence(said("manifest", "rights")):
            manifest["rights"] = rights
        if sender.base:
            if sender.studio:
                manifest["provider"] = [
                    {"id": sender.base, "type": "Agent", "label": {"none": [sender.studio]}}
                ]
            manifest["seeAlso"] = [
                {
                    "id": address_of(work.document, work.document, sender.base),
                    "type": "Dataset",
                    "format": "application/ld+json",
                    "label": {"en": [said("manifest", "record")]},
                }
            ]
        manifest["items"] = [self._canvas(photo) for photo in shown]
        manifest["structures"] = list(self._sides(shown))
        if len(shown) > 1:
            manifest["behavior"] = ["individuals"]
        return manifest

    def _canvas(self, photo: Photo) -> Node:
        canvas = self._canvas_address(photo)
        page = {
            "id": self._named(photo, "painting-page"),
            "type": "AnnotationPage",
            "items": [
                {
                    "id": self._named(photo, "painting"),
                    "type": "Annotation",
                    "motivation": "painting",
                    "body": self._picture(photo),
                    "target": canvas,
                }
            ],
        }
        made: Node = {
            "id": canvas,
            "type": "Canvas",
            "label": {"en": [canvas_label(photo)]},
            "height": photo.height,
            "width": photo.width,
            "metadata": list(canvas_facts(photo)),
            "items": [page],
        }
        if notes := list(notes_on(self.work, photo, canvas, self.sender)):
            made["annotations"] = [
                {
                    "id": self._named(photo, "notes-page"),
                    "type": "AnnotationPage",
                    "label": {"en": [said("manifest", "page")]},
                    "items": notes,
                }
            ]
        return made

    def _canvas_address(self, photo: Photo) -> str:
        """Without a fragment, for viewers put `#xywh=` after it (Presentation 3.0, section 5.3)."""
        document = self.work.document
        if self.sender.base:
            return f"{address_of(document, document, self.sender.base)}/canvas/{photo.id}"
        return f"urn:uuid:{photo.id}"

    def _named(self, photo: Photo, what: str) -> str:
        return address_of(f"#{photo.id}/{what}", self.work.document, self.sender.base)

    def _picture(self, photo: Photo) -> Node:
        """The picture that a viewer shows: the file beside the manifest, else the original by its digest."""
        path = self.sender.picture(photo)
        if path is None or path.suffix.lower() not in _SUFFIXES:
            address = address_of_picture(photo) if photo.sha256 else self._named(photo, "file")
            body: Node = {"id": address, "type": "Image"}
            size = {"height": photo.height, "width": photo.width}
            return body | ({"format": photo.media_type} if photo.media_type else {}) | size
        content = Path(path).read_bytes()
        width, height = size_in_pixels(content)
        name = f"{self.stem}-{photo.id}{path.suffix.lower()}"
        self.pictures.append((name, content))
        digest = address_of_digest(sha256(content).hexdigest())
        return {
            "id": _beside(name, self.sender.base) if self.sender.base else digest,
            "type": "Image",
            "label": {"none": [name]},
            "format": _SUFFIXES[path.suffix.lower()],
            "height": height,
            "width": width,
        }

    def _sides(self, shown: list[Photo]) -> Iterator[Node]:
        """The photographs by the side that they show, as a viewer lists them."""
        listed: dict[str, list[Photo]] = {}
        for photo in shown:
            listed.setdefault(side_of(photo), []).append(photo)
        for side in sides():
            if side in listed:
                yield {
                    "id": address_of(
                        f"#{self.work.id}/side-{side}", self.work.document, self.sender.base
                    ),
                    "type": "Range",
                    "label": {"en": [said("sides", side)]},
                    "items": [
                        {"id": self._canvas_address(photo), "type": "Canvas"}
                        for photo in listed[side]
                    ],
                }


def _beside(name: str, base: str) -> str:
    """The address of a file of the export, taken that the folder is put up at the base."""
    return f"{base.rstrip('/')}/{name}"


def licence(address: str) -> str:
    """The address of a licence as IIIF takes it, or "". Raises `BadSetting` for any other.

    >>> licence("http://rightsstatements.org/vocab/InC/1.0/")
    'http://rightsstatements.org/vocab/InC/1.0/'
    """
    if address and not address.startswith(LICENCES):
        raise BadSetting(
            f"vocab/iiif.toml: {address!r} is no licence that IIIF takes",
            remedy=f"write an address that begins with {' or '.join(LICENCES)}, or nothing",
        )
    return address
