"""Sample works as they leave in one format, their photographs given sizes as if they had been taken in."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from functools import cache
from pathlib import Path

from redacting import redact

from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.withholding.redaction import profile
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.text import parse
from catalogue.places import folder
from catalogue.record import Work

BASE = "https://backs.example/"


@cache
def sample_works() -> tuple[Work, ...]:
    """Every sample work, each photograph of it as large as its regions and its outline want."""
    paths = sorted((folder("sample_records") / "works").glob("*.json"))
    return tuple(map(_taken_in, (from_jsonld(parse(path.read_bytes())) for path in paths)))


def _taken_in(work):
    photos = []
    for photo in work.photos:
        corners = [
            corner
            for inscription in work.inscriptions
            for region in inscription.regions
            if region.photo == photo.id
            for corner in region.corners
        ]
        corners += photo.outline
        photos.append(
            replace(
                photo,
                sha256=hashlib.sha256(photo.id.encode()).hexdigest(),
                media_type="image/jpeg",
                width=max([3000, *(int(x) + 1 for x, _ in corners)]),
                height=max([2000, *(int(y) + 1 for _, y in corners)]),
            )
        )
    return replace(work, photos=tuple(photos))


def sender(base=None, picture=None, **told) -> Sender:
    """A sender who calls every party the same."""
    if picture is not None:
        told["picture"] = picture
    return Sender(base, lambda _: ("Person", "Ada Penhale"), **told)


def leaving(work: Work, profile_name: str = "full") -> Leaving:
    """A work as it leaves under a profile."""
    document, stem = to_jsonld(work), f"work-{work.id}"
    if profile_name != "full":
        document, _ = redact(document, work.document, profile(profile_name), lambda _: False)
    return Leaving(work.document, stem, document)


def files(write, work: Work, profile_name: str = "full", base=None, picture=None, **told):
    """The files of a work in one format by name."""
    made = write(leaving(work, profile_name), sender(base, picture, **told))
    return {
        name: content if isinstance(content, bytes) else Path(content).read_bytes()
        for name, content in made
    }
