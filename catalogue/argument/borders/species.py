"""Materials of protected species in a work, by its terms and by the words written about its parts."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from catalogue.argument.borders.asked import Advice, Answer, borders, question, said
from catalogue.record import Layer, Part, Work
from catalogue.terms import label, within

INQUIRY = "inquiry/species-papers"


def protected(work: Work) -> Advice:
    """What of a work is, or may be, of a protected species; what was asked about it."""
    because: list[str] = []
    for row in borders()["species"]:
        because += _by_terms(work, row)
        because += _by_words(work, row)
    answer: Answer = "ask" if because else "unlikely"
    if not because:
        names = ", ".join(row["name"] for row in borders()["species"])
        because.append(said("not_named", species=names))
    for inquiry in work.inquiries:
        if inquiry.kind == INQUIRY:
            day = inquiry.on.iso if inquiry.on else "?"
            result = label(inquiry.result) if inquiry.result else "?"
            because.append(said("looked", kind=label(INQUIRY), result=result, day=day))
    every = (part for row in borders()["species"] for part in row["source"].split("; "))
    sources = dict.fromkeys(every)
    return Advice(
        key="species", question=question("species"), answer=answer,
        rule="CITES", because=tuple(because), version="", source="; ".join(sources),
    )  # fmt: skip


def materials(work: Work) -> Iterator[tuple[str, str]]:
    """Every material term of a work and of its parts and layers, and what is made of it."""
    yield from ((key, work.title()) for key in work.materials)
    for piece in _pieces(work):
        yield from ((key, label(piece.kind)) for key in piece.materials)


def _pieces(work: Work) -> tuple[Part | Layer, ...]:
    return (*work.parts, *work.layers)


def _by_terms(work: Work, row: dict[str, Any]) -> Iterator[str]:
    for key, where in materials(work):
        if within(key, *row["materials"]):
            yield said(
                "made_of",
                where=where,
                material=label(key),
                species=row["name"],
                what=row["what"],
            )


def _by_words(work: Work, row: dict[str, Any]) -> Iterator[str]:
    for where, text in _texts(work):
        for word in row["words"]:
            if re.search(rf"\b{re.escape(word)}\b", text, re.IGNORECASE):
                yield said(
                    "named", word=word, where=where, species=row["name"], what=row["what"]
                )
                break


def _texts(work: Work) -> Iterator[tuple[str, str]]:
    if work.medium:
        yield work.title(), work.medium
    for piece in _pieces(work):
        for note in piece.notes:
            yield label(piece.kind), note.text
