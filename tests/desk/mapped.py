"""The picture of trade sheet 0.1 on a desk: a tear in front, a title behind it, two checks, one treatment."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Location,
    Observation,
    Photo,
    Size,
    Title,
    Transcript,
    Treatment,
    Work,
)
from catalogue.surface import Box, Shape


@dataclass(frozen=True)
class Mapped:
    """The work as it was saved."""

    work: Work

    @property
    def path(self) -> str:
        return f"/work/{self.work.id}"


def sea_wall(studio, member: str, *, size: bool = True) -> Mapped:
    """Saved, with every number issued; its title is read but not photographed with a scale."""
    checks = tuple(
        ConditionCheck(
            occasion=f"occasion/{what}", on=day, by=member, lights=(f"light/{light}",)
        )
        for number, what, day, light in (
            ("K1", "incoming", Day(2025, 1, 6), "normal"),
            ("K2", "periodic", Day(2026, 2, 3), "raking"),
        )
    )
    tear = Shape.of_box(Box(120, 140, 60, 45))
    finding = Finding(
        number="F1", kind="damage/tear", layer="layer/support",
        observations=(
            Observation(
                check=checks[0].id, location=Location(face="face/front", shape=tear),
                length_mm=62, severity="severity/visible", change="change/new",
            ),
            Observation(
                check=checks[1].id, location=Location(face="face/front", shape=tear),
                length_mm=68, severity="severity/affecting", change="change/grown",
            ),
        ),
    )  # fmt: skip
    title = Inscription(
        number="I1", kind="inscription/title", face="face/back", place=Box(395, 120, 150, 40),
        transcripts=(Transcript(markup="Sea Wall, Evening", by=member, on=Day(2026, 2, 3)),),
    )  # fmt: skip
    stamp = Inscription(
        number="I2",
        kind="inscription/canvas-stamp",
        face="face/back",
        place=Box(40, 380, 60, 40),
    )
    signature = Inscription(
        number="I3", kind="inscription/signature", face="face/front", place=Box(20, 440, 90, 30)
    )
    work = Work(
        titles=(Title(text="Sea Wall, Evening", kind="title/inscribed"),),
        sizes=(Size(what="size/support", width_mm=610, height_mm=500),) if size else (),
        checks=checks, findings=(finding,), inscriptions=(title, stamp, signature),
        treatments=(Treatment(title="The tear"),),
        photos=(Photo(file_name="back.jpg", face="face/back", about=(title.id,)),),
    )  # fmt: skip
    return Mapped(studio.save(work, who=member).record)
