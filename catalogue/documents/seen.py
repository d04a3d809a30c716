"""What was seen on a work, in cells and pictures that several papers share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from catalogue.documents.given import Given
from catalogue.documents.model import Block, Heading, Picture, Pictures, Table
from catalogue.documents.words import capital, day_said, joined, labels, number_said, words
from catalogue.measure import Day
from catalogue.pictures.marks import marks
from catalogue.pictures.svg import Svg
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    MaterialUse,
    Note,
    Observation,
    Photo,
    PriorRepair,
    Sighting,
    Work,
)
from catalogue.surface.words import nine_field
from catalogue.terms import label

_VIEW = re.compile(r'viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"')
_GONE = ("state/removed", "state/removed-kept", "state/removed-lost", "state/lost")
_SAID = re.compile(r"<title>([^<]*)</title>")


def drawing(svg: Svg | None, caption: str) -> Iterator[Block]:
    """A drawing over the width of the page, nothing where there is none."""
    if svg is None:
        return
    size, said = _VIEW.search(svg), _SAID.search(svg)
    assert size is not None, "every picture of ours says its size"
    assert said is not None, "every picture of ours says what it shows"
    yield Pictures(
        (
            Picture(
                content=svg.replace("currentColor", "#1d1b18").encode(),
                media_type="image/svg+xml",
                width=float(size[1]),
                height=float(size[2]),
                alt=said[1],
                caption=caption,
            ),
        ),
        wide=True,
    )


def photographs(given: Given, photos: Iterable[Photo], heading: str) -> Iterator[Block]:
    """Photographs under a heading, those whose files are here."""
    shown = [given.shown(each, photo_said(each)) for each in photos]
    there = tuple(each for each in shown if each)
    if there:
        yield Heading(heading)
        yield Pictures(there)


def photo_said(photo: Photo) -> str:
    """What a photograph shows, in words: side, view, light, stage.

    >>> photo_said(Photo(file_name="a.jpg", face="face/back", light="light/raking"))
    'back, whole, raking light'
    """
    mirrored = words("photo")["mirrored"] if photo.mirrored else ""
    return joined((labels((photo.face, photo.view, photo.light, photo.stage)), mirrored))


def wheres(work: Work, check: ConditionCheck | None = None) -> dict[str, str]:
    """Where everything on a work is, in words, by the id of what it is."""
    return {each.value: each.where for each in marks(work, check)}


def ninths(work: Work) -> dict[str, str]:
    """Where everything on a work is, in a few words without figures, by the id of what it is.

    >>> from catalogue.record import Inscription, Size
    >>> from catalogue.surface import Box
    >>> title = Inscription(kind="inscription/title", face="face/back", place=Box(395, 120, 150, 40))
    >>> list(ninths(Work(inscriptions=(title,))).values())
    ['back']
    >>> sheet = (Size(what="size/support", width_mm=610, height_mm=500),)
    >>> list(ninths(Work(inscriptions=(title,), sizes=sheet)).values())
    ['back, upper right']
    """
    faces = {each.id: each.face for each in work.inscriptions}
    found = {}
    for mark in marks(work):
        face = faces.get(mark.value, "")
        shown = label(face) if face not in ("", "face/front", "face/back") else ""
        placed = nine_field(mark.shape, work.sheet) if mark.shape and work.sheet else ""
        side = label(f"face/{mark.side}") if placed or (face and not shown) else ""
        found[mark.value] = joined((shown, side, placed))
    return found


def finding_said(finding: Finding) -> str:
    """What a finding is: its term, its layer, its cause as far as argued."""
    said = words("finding")
    cause = ""
    if finding.cause:
        sure = f" ({label(finding.cause_certainty)})" if finding.cause_certainty else ""
        cause = said["cause"].format(cause=label(finding.cause) + sure)
    what = capital(joined((label(finding.kind), label(finding.layer))))
    return joined((what, cause, *released(finding.notes)), "\n")


def measured(seen: Observation) -> str:
    """Everything that was measured of a finding, a measure a line."""
    said = words("finding")
    told = (
        (said["length"], number_said(seen.length_mm, "mm")),
        (said["gap"], number_said(seen.gap_mm, "mm")),
        (said["depth"], number_said(seen.depth_mm, "mm")),
        (said["area"], number_said(seen.area_mm2, "mm²")),
        (said["count"], number_said(seen.count)),
    )
    return "\n".join(f"{name} {value}" for name, value in told if value)


def judged(seen: Observation) -> str:
    """How a finding was judged, on which scales."""
    said = words("finding")
    told = (
        (said["severity"], seen.severity),
        (said["extent"], seen.extent),
        (said["stability"], seen.stability),
    )
    return "\n".join(f"{name} {label(key)}" for name, key in told if key)


def released(notes: Iterable[Note]) -> tuple[str, ...]:
    """The texts of notes; only those that somebody released have come this far."""
    return tuple(note.text for note in notes)


def material_said(use: MaterialUse) -> str:
    """One material as it was used: what, for what, which product and lot, how strong."""
    said = words("material")
    strength = ""
    if use.concentration_percent is not None and use.basis is not None:
        strength = (
            f"{number_said(use.concentration_percent, '%')}\N{NO-BREAK SPACE}{label(use.basis)}"
        )
    for_what = f"({label(use.role)})" if use.role else ""
    product = joined((use.product or "", use.maker or ""))
    facts = (
        product,
        said["lot"].format(lot=use.lot) if use.lot else "",
        said["year"].format(year=use.formulation_year) if use.formulation_year else "",
        strength,
        use.amount or "",
    )
    return joined((joined((label(use.material), for_what), " "), *facts))


def what_stands(work: Work) -> Iterator[Block]:
    """Everything written on a work: where, what it reads, and whether it can still be seen."""
    if not work.inscriptions:
        return
    said = words("standing")
    where = wheres(work)
    yield Heading(said["title"])
    yield Table(
        (said["number"], said["what"], said["reads"], said["state"]),
        tuple(
            (
                each.number or "",
                joined((capital(label(each.kind)), where.get(each.id, label(each.face))), "\n"),
                _reads(each),
                _state(work, each),
            )
            for each in work.inscriptions
        ),
        (2, 8, 8, 6),
    )


def _reads(inscription: Inscription) -> str:
    shown = inscription.preferred()
    return shown.reading().diplomatic() if shown else str(words("standing")["unread"])


def _state(work: Work, inscription: Inscription) -> str:
    """Its last state on record, and what lies over it by repairs and steps that say so."""
    said = words("standing")
    latest = inscription.latest()
    over = [
        each.number or ""
        for each in work.repairs
        if inscription.id in each.covers and not is_gone(each)
    ]
    over += [
        treatment.label(step)
        for treatment in work.treatments
        for step in treatment.steps
        if inscription.id in step.covers and step.began
    ]
    beneath = said["beneath"].format(what=", ".join(over)) if over else ""
    return joined((_sighted(latest) if latest else "", beneath), "\n")


def is_gone(repair: PriorRepair, by: Day | None = None) -> bool:
    """Whether the last sighting of a repair, up to a day, says that it is no longer there."""
    seen = [each for each in repair.sightings if by is None or each.on is None or each.on <= by]
    return bool(seen) and seen[-1].state in _GONE


def _sighted(sighting: Sighting) -> str:
    return joined((label(sighting.state), sighting.covered_by or "", day_said(sighting.on)))
