"""Photographs ⇄ the digital object that shows a painting, with its digest, light, view and scale."""

from __future__ import annotations

import re

from catalogue.linked import concepts, names, spans
from catalogue.linked.fields import pointers
from catalogue.linked.node import (
    Misplaced,
    actor_of,
    each,
    is_a,
    node,
    nodes,
    number,
    one,
    own_id,
    text,
    truth,
    whole,
)
from catalogue.linked.text import Node
from catalogue.record import Photo

PHOTOGRAPHY = {
    "id": "http://vocab.getty.edu/aat/300054225",
    "type": "Type",
    "_label": "photography",
}
DIGITAL_IMAGE = {
    "id": "http://vocab.getty.edu/aat/300215302",
    "type": "Type",
    "_label": "digital images",
}

_ABOUT = pointers("about")
_CORNER = r"-?[0-9]+(?:[.][0-9]+)?,-?[0-9]+(?:[.][0-9]+)?"
_FOUR_CORNERS = re.compile(rf"{_CORNER}(?: {_CORNER}){{3}}")


def describe(photo: Photo) -> Node:
    """What is in a painting's `representation`: the appearance, `digitally_shown_by` the file."""
    own = f"#{photo.id}"
    file = node(
        id=own,
        type="DigitalObject",
        classified_as=[
            DIGITAL_IMAGE,
            *concepts.describe_all((photo.view, photo.face, photo.stage)),
        ],
        identified_by=[
            *names.describe_own(own, "photo", photo.number),
            *names.describe_own(own, "digest", photo.sha256),
            *names.describe_own(own, "file-name", photo.file_name),
        ],
        format=photo.media_type,
        dimension=[*_pixels(own, "width", photo.width), *_pixels(own, "height", photo.height)],
        created_by=names.describe_creation(
            photo.id,
            by=photo.by,
            on=spans.describe_day(photo.taken, f"{own}/made"),
            technique=[PHOTOGRAPHY, concepts.describe(photo.light)],
        ),
        mm_per_pixel=whole(photo.mm_per_pixel),
        outline=" ".join(f"{whole(x)},{whole(y)}" for x, y in photo.outline) or None,
        mirrored=photo.mirrored or None,
        light_from=photo.light_from,
        **_ABOUT.describe(photo.about, own),
        referred_to_by=[names.describe_note(note) for note in photo.notes],
        visibility=concepts.describe_visibility(photo.visibility),
    )
    return {"id": f"{own}/image", "type": "VisualItem", "digitally_shown_by": [file]}


def _pixels(owner: str, measure: str, value: int | None) -> list[Node]:
    if value is None:
        return []
    return [
        {
            "id": f"{owner}/{measure}",
            "type": "Dimension",
            "classified_as": [concepts.describe(f"dimension/{measure}")],
            "value": value,
            "unit": concepts.describe("unit/pixel"),
        }
    ]


def recognise(here: Node) -> Photo:
    """The photo of a digital object."""
    made = one(here, "created_by") or {}
    sizes = {
        concepts.first(dimension, "classified_as", "dimension"): number(dimension, "value")
        for dimension in nodes(here, "dimension")
    }
    width, height = (sizes.get(f"dimension/{measure}") for measure in ("width", "height"))
    return Photo(
        id=own_id(here),
        number=names.recognise_own(here, "photo"),
        sha256=names.recognise_own(here, "digest"),
        file_name=names.recognise_own(here, "file-name"),
        media_type=text(here, "format"),
        width=int(width) if width else None,
        height=int(height) if height else None,
        view=concepts.first(here, "classified_as", "view") or "view/whole",
        face=concepts.first(here, "classified_as", "face"),
        stage=concepts.first(here, "classified_as", "stage"),
        light=concepts.first(made, "technique", "light") or "light/normal",
        taken=spans.recognise_day(one(made, "timespan")),
        by=actor_of(made, "carried_out_by"),
        mm_per_pixel=number(here, "mm_per_pixel"),
        outline=_outline(here),
        mirrored=truth(here, "mirrored") or False,
        light_from=_degrees(here),
        about=_ABOUT.recognise(here),
        notes=each(here, "referred_to_by", names.recognise_note, names.is_note),
        visibility=concepts.recognise_visibility(here),
    )


def _outline(here: Node) -> tuple[tuple[float, float], ...]:
    said = text(here, "outline")
    if said is None:
        return ()
    if not _FOUR_CORNERS.fullmatch(said):
        raise Misplaced(
            here, f"the outline {said!r} is not four corners written x,y x,y x,y x,y"
        )
    pairs = (pair.split(",") for pair in said.split(" "))
    return tuple((float(x), float(y)) for x, y in pairs)


def _degrees(here: Node) -> int | None:
    found = number(here, "light_from")
    return None if found is None else int(found)


def recognise_all(here: Node) -> tuple[Photo, ...]:
    """The photos in a painting's `representation`."""
    return tuple(
        photo
        for image in nodes(here, "representation")
        for photo in each(image, "digitally_shown_by", recognise, _is_photo)
    )


def _is_photo(here: Node) -> bool:
    return is_a(here, "DigitalObject") and str(here.get("id", "")).startswith("#")
