"""What a search found, as cards: each statement with the picture of its label, its text, place and light."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from flask import url_for
from markupsafe import Markup

from catalogue.desk.asking import page_of, studio
from catalogue.desk.damage import damaged, undamaged
from catalogue.desk.leading import leading_in
from catalogue.errors import NotOnFile
from catalogue.record import Inscription, Work

AT_FIRST: Final = 4
"""So many statements of a work are shown at once; the rest when asked."""

MARGIN: Final = 0.04


@dataclass(frozen=True, slots=True)
class Crop:
    """The address of a picture of one part of a photograph, and its size on the page."""

    address: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Shown:
    """One statement: `html` is its text with what was sought marked, and with its damage."""

    page: str
    where: str
    html: Markup
    why: str
    light: str
    crop: Crop | None
    private: bool


@dataclass(frozen=True, slots=True)
class Card:
    """One work, person, commission or foreign record that was found, with its own page."""

    document: str
    page: str
    number: str
    title: str
    work: Work | None
    first: tuple[Shown, ...]
    more: tuple[Shown, ...]

    @property
    def private(self) -> bool:
        """Whether all that was found of it stays in the house."""
        return all(each.private for each in (*self.first, *self.more))

    @property
    def some_private(self) -> bool:
        """Whether anything that was found of it stays in the house."""
        return any(each.private for each in (*self.first, *self.more))


def cards(hits: Sequence[Any]) -> tuple[Card, ...]:
    """A card for each hit whose record is still there."""
    return tuple(card for hit in hits for card in _card(hit))


def _card(hit: Any) -> Iterator[Card]:
    try:
        record = studio().read(hit.document).record
    except NotOnFile:
        return
    page = page_of(hit.document)
    if page is None:
        return
    work = record if isinstance(record, Work) else None
    shown = [_shown(each, work, page) for each in hit.statements]
    yield Card(
        hit.document,
        page,
        hit.number,
        hit.title,
        work,
        (*shown[:AT_FIRST],),
        (*shown[AT_FIRST:],),
    )


def _shown(found: Any, work: Work | None, page: str) -> Shown:
    """One statement; the link lands at its very value."""
    leads_to = leading_in(work) if work else None
    inscription = _inscription(found.value, work)
    return Shown(
        page=(leads_to(found.value) if leads_to else None) or f"{page}#{found.value}",
        where=found.where,
        html=_text(found, inscription),
        why=found.why,
        light=found.light,
        crop=crop_of(found.photo, found.corners),
        private=found.private,
    )


def _inscription(value: str, work: Work | None) -> Inscription | None:
    return next(
        (each for each in (work.inscriptions if work else ()) if each.id == value), None
    )


def _text(found: Any, inscription: Inscription | None) -> Markup:
    """The marked text; a reading's with its damage."""
    for transcript in inscription.transcripts if inscription else ():
        if (text := damaged(found.html, transcript.reading())) is not None:
            return text
    return undamaged(found.html)


def crop_of(photo: str, corners: Sequence[tuple[float, float]]) -> Crop | None:
    """The upright box around a part of a photograph, a little wider; None where none is framed.

    The size on the page keeps its sides' proportion within 168 by 104.
    """
    if not photo or len(corners) < 3:
        return None
    across, down = zip(*corners, strict=True)
    margin = MARGIN * max(max(across) - min(across), max(down) - min(down))
    x, y = max(math.floor(min(across) - margin), 0), max(math.floor(min(down) - margin), 0)
    width = math.ceil(max(across) + margin) - x
    height = math.ceil(max(down) + margin) - y
    if min(width, height) < 1:
        return None
    shrink = min(168 / width, 104 / height)
    address = url_for("pictures.part", sha256=photo, box=f"{x}-{y}-{width}-{height}")
    return Crop(address, max(round(width * shrink), 1), max(round(height * shrink), 1))
