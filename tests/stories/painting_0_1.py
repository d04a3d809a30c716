"""The painting of the trade sheet's section 0.1, piece by piece, and the desk on which it lies."""

from __future__ import annotations

from typing import Any

from catalogue.desk import create_app
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Location,
    Observation,
    Part,
    Party,
    PartyName,
    Photo,
    Size,
    Transcript,
    Work,
)
from catalogue.studio import Studio
from catalogue.surface import Box, Shape

WHO = "Nell Quince"
MEMBER = "party/5f0d6e0c-58ad-4d4b-9e0c-55b0f4b2a6d1"
EXAMINER = Party(
    id=MEMBER.partition("/")[2], kind="person", names=(PartyName(text=WHO),),
    roles=("role/studio-member",),
)  # fmt: skip
"""Who looked; without somebody on file a check tells strangers nothing."""
TEAR = Box(120, 140, 60, 45)
TITLE = Box(395, 120, 150, 40)
"""On the back, in mm from its top left corner; the picture is 610 mm wide and 500 mm high."""


def check(day: Day, occasion: str = "incoming", number: str = "K1") -> ConditionCheck:
    return ConditionCheck(number=number, occasion=f"occasion/{occasion}", on=day, by=MEMBER)


def seen(at: ConditionCheck, place: Box | None = TEAR, **more: Any) -> Observation:
    shape = Shape.of_box(place) if place else None
    location = Location(face="face/front", shape=shape) if shape else None
    return Observation(check=at.id, location=location, **more)


def tear(*observations: Observation, kind: str = "tear", **more: Any) -> Finding:
    told = {"number": "F1", "layer": "layer/support", **more}
    return Finding(kind=f"damage/{kind}", observations=observations, **told)


def title(**more: Any) -> Inscription:
    told: dict[str, Any] = {
        "number": "I1", "kind": "inscription/title", "face": "face/back", "place": TITLE,
        "transcripts": (Transcript(markup="Sea Wall, Evening", by=MEMBER, on=Day(2026, 2, 3)),),
    }  # fmt: skip
    return Inscription(**{**told, **more})


def photo(number: int, face: str, stage: str = "before", **more: Any) -> Photo:
    told: dict[str, Any] = {
        "file_name": f"{number}.jpg", "mm_per_pixel": 0.2, "taken": Day(2026, 2, 3), **more,
    }  # fmt: skip
    return Photo(number=f"P{number}", face=f"face/{face}", stage=f"stage/{stage}", **told)


def painting(**more: Any) -> Work:
    first = check(Day(2026, 2, 3))
    told: dict[str, Any] = {
        "sizes": (Size(what="size/support", width_mm=610, height_mm=500),),
        "checks": (first,),
        "findings": (tear(seen(first, stability="stability/stable")),),
        "inscriptions": (title(),),
        "parts": (Part(kind="part/stretcher", original=None),),
    }
    return Work(**{**told, **more})


def page(studio: Studio, work: Work, leaf: str = "", **asked: Any) -> str:
    """The text of one page of the work's folder."""
    client = create_app(studio).test_client()
    answer = client.get(f"/work/{work.id}/{leaf}".rstrip("/"), query_string=asked)
    assert answer.status_code == 200
    text: str = answer.text
    return text
