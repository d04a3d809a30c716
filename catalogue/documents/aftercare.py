"""How to look after a painting at home: advice that its materials, damages and treatment call for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from catalogue.argument.aftercare import look_again
from catalogue.argument.climate import limits
from catalogue.argument.handling import stands
from catalogue.documents.given import Given
from catalogue.documents.model import Block, Document, Facts, Heading, Notice, Paragraph, Points
from catalogue.documents.words import day_said, number_said, told, words
from catalogue.record import Work
from catalogue.terms import within


def aftercare(given: Given) -> Document:
    """The advice of vocab/documents.toml that a work calls for, and when to have it looked at again."""
    work = given.work
    said = words("aftercare")
    blocks = (
        Facts(told(given.identity(work)[:3])),
        *_again(work),
        Facts(_advice(work)),
        Heading(said["call"]),
        Points(tuple(said["calls"])),
        Paragraph(said["source"].format(sources="; ".join(_sources())), "small"),
        Paragraph(words("every")["advice"], "small"),
    )
    return given.document("aftercare", work.number or "", None, blocks)


def _again(work: Work) -> Iterator[Block]:
    said = words("aftercare")
    due = look_again(work)
    if due is not None:
        text = said["again"].format(day=day_said(due.on), why=due.row.why)
        yield Notice(said["again_title"], text)


def _advice(work: Work) -> tuple[tuple[str, str], ...]:
    """The sentences of every row that holds for the work, beside what they are about."""
    here = set(_terms(work))
    figures = _figures()
    headings: dict[str, list[str]] = {}
    for row in words("aftercare")["advice"]:
        if _holds(row, here):
            headings.setdefault(row["under"], []).append(row["says"].format(**figures))
    return tuple((heading, "\n".join(sentences)) for heading, sentences in headings.items())


def _holds(row: dict[str, Any], here: set[str]) -> bool:
    """Whether a work calls for a row: one of its terms is there, and none that it is not for."""
    called = not row["terms"] or any(within(each, *row["terms"]) for each in here)
    barred = row.get("unless", ())
    return called and not any(within(each, *barred) for each in here)


def _terms(work: Work) -> Iterator[str]:
    """What a work is made of, what has been done to it, and the damages that are still there."""
    yield from work.materials
    for layer in work.layers:
        yield from (layer.kind, *layer.materials)
    for part in work.parts:
        yield from (part.kind, *part.materials)
    yield from (each.kind for each in work.findings if stands(work, each))
    for treatment in work.treatments:
        yield from (step.kind for step in treatment.steps if step.began)


def _figures() -> dict[str, str]:
    """Limits of climate and light as the words have them, from the rows that [aftercare] names."""
    said = words("aftercare")
    climate, light = limits()[said["climate"]], limits()[said["light"]]
    between = said["between"]
    return {
        "humidity": between.format(*map(number_said, climate.humidity)) + " %",
        "temperature": between.format(*map(number_said, climate.temperature)) + " °C",
        "swing": number_said(climate.humidity_swing, "%"),
        "lux": number_said(light.lux),
    }


def _sources() -> Iterator[str]:
    said = words("aftercare")
    yield from dict.fromkeys(limits()[said[name]].source for name in ("climate", "light"))
