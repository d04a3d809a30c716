"""A work as full as any gets: 40 inscriptions, 60 findings at four checks, 30 photographs, 200 revisions."""

from __future__ import annotations

from dataclasses import replace

from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Location,
    Observation,
    Party,
    Photo,
    Region,
    Size,
    Step,
    Transcript,
    Treatment,
    Work,
)
from catalogue.studio import Studio
from catalogue.surface import Box, Shape

SCALE = 0.25
REVISIONS = 200


def heavy(studio: Studio, content: bytes, revisions: int = REVISIONS) -> str:
    """Put one into a studio; its UUID. `content` is the picture that all its photographs show."""
    member: Party = studio.welcome("Nell Quince")
    kept = studio.new_work(title="The Long Wharf", made="c. 1870", who="Nell Quince")
    original = studio.taken_in(content, name="back.jpg", face="face/back")
    kept = studio.add_photos(kept, [(original, content)], who="Nell Quince")
    first = kept.record.photos[0]
    photos = (first, *(_further(first, number) for number in range(2, 31)))
    checks = tuple(
        ConditionCheck(
            on=Day(2020 + year, 3, 1), by=member.document, occasion="occasion/incoming"
        )
        for year in range(4)
    )
    full = replace(
        kept.record,
        sizes=(Size(what="size/support", width_mm=600, height_mm=450),),
        photos=photos,
        checks=checks,
        inscriptions=tuple(_label(number, photos, member) for number in range(40)),
        findings=tuple(_finding(number, checks) for number in range(60)),
        treatments=(
            Treatment(
                title="All that is to do",
                steps=tuple(Step(order=n, kind="step/photograph", began=Day(2023, 4, n)) for n in range(1, 25)),
            ),
        ),
    )  # fmt: skip
    kept = studio.save(full, who="Nell Quince", read=kept)
    while kept.revision < revisions:
        changed = replace(kept.record, medium=f"oil on canvas, looked at {kept.revision} times")
        kept = studio.save(changed, who="Nell Quince", read=kept, why="looked again")
    work: Work = kept.record
    return work.id


def _further(first: Photo, number: int) -> Photo:
    return Photo(
        sha256=first.sha256, file_name=f"back-{number}.jpg", media_type=first.media_type,
        width=first.width, height=first.height, face="face/front" if number % 3 == 0 else "face/back",
        light="light/raking" if number % 2 else "light/normal", taken=Day(2023, 4, 1 + number % 28),
    )  # fmt: skip


def _label(number: int, photos: tuple[Photo, ...], member: Party) -> Inscription:
    place = Box(10 + number % 8 * 70, 10 + number // 8 * 80, 50, 20)
    left, top, right, bottom = (round(each / SCALE) for each in place.bounds)
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Inscription(
        kind="inscription/dealer-label", face="face/back", place=place,
        regions=tuple(Region(photo=photos[n].id, corners=corners) for n in (0, 1)),
        transcripts=(
            Transcript(
                markup=f"Ambrose & Fell\nDealers in Pict[ures]\n14 Sorrel Place, London, S.W.{1 + number % 9}\nNo. {1200 + number}",
                by=member.document, on=Day(2023, 4, 1), preferred=True,
            ),
        ),
    )  # fmt: skip


def _finding(number: int, checks: tuple[ConditionCheck, ...]) -> Finding:
    at = Shape.of_box(Box(5 + number % 10 * 58, 40 + number // 10 * 65, 12, 8))
    return Finding(
        kind="damage/puncture", layer="layer/support",
        observations=tuple(
            Observation(
                check=check.id, severity="severity/visible", length_mm=5.0 + year * (number % 3),
                change=("change/new", "change/grown", "change/unchanged", "change/shrunk")[year],
                location=Location(face="face/front" if number % 2 else "face/back", shape=at),
            )
            for year, check in enumerate(checks)
        ),
    )  # fmt: skip
