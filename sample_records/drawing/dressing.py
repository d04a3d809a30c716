"""What a record cannot know and a photograph shows anyway: `dressing.toml`, read into values."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path
from typing import Any

from catalogue.record import Inscription
from catalogue.surface import Box
from drawing.texture import seeded

TABLE = Path(__file__).parent.parent / "dressing.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """How one inscription looks: its faces and hands, its paper, and how the years treated it.

    `askew` is what its orientation, in whole degrees, leaves out; `strength` fades its ink.
    """

    askew: float = 0.0
    heading: str = "bodoni"
    body: str = "baskerville"
    hands: tuple[str, ...] = ("copperplate", "quick")
    paper: str = "cream"
    frame: str = "none"
    edges: str = "worn"
    age: float = 0.6
    strength: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """Something without words on a back: tape, a patch, a stain; there from one day until another."""

    what: str
    place: Box
    turn: float = 0.0
    since: str = ""
    until: str = "9999"

    def on(self, day: str) -> bool:
        """Whether it is there on a day; tape that has gone has left its adhesive."""
        return self.since <= day < self.until


@dataclass(frozen=True, slots=True, kw_only=True)
class Dressing:
    """How one painting is dressed for the camera. Lengths in mm; `skew` in degrees for each photo.

    `ground` is a cloth or a wood; `bars` the wood of the stretcher, "" where there is none.
    `cross_mm` is how far down the middle of a cross bar lies, 0 where there is none.
    """

    ground: str
    bars: str = "pine"
    bar_mm: float = 46
    cross_mm: float = 0
    fold_mm: float = 0
    tack_mm: float = 60
    thread_mm: float = 0.75
    front: str = "coast"
    skew: Mapping[str, float] = field(default_factory=dict)
    loose: Mapping[str, str] = field(default_factory=dict)
    wear: Mapping[str, Wear] = field(default_factory=dict)
    lying: tuple[Lying, ...] = ()


@cache
def dressings() -> Mapping[str, Dressing]:
    """The dressing of each work, by the name of its file."""
    told = tomllib.loads(TABLE.read_text("utf-8"))
    return {slug: _dressing(said) for slug, said in told.items()}


def _dressing(said: Mapping[str, Any]) -> Dressing:
    plain = {each.name for each in fields(Dressing)} - {"wear", "lying"}
    return Dressing(
        **{key: value for key, value in said.items() if key in plain},
        wear={number: _wear(told) for number, told in said.get("wear", {}).items()},
        lying=tuple(_lying(told) for told in said.get("lying", [])),
    )


def _wear(told: Mapping[str, Any]) -> Wear:
    return Wear(**{**told, **({"hands": tuple(told["hands"])} if "hands" in told else {})})


def _lying(told: Mapping[str, Any]) -> Lying:
    x, y, width, height = told["place"]
    place = Box(x_mm=x, y_mm=y, width_mm=width, height_mm=height)
    return Lying(**{**told, "place": place})


_HEADINGS = ("bodoni", "fat", "slab", "grotesque", "garamond", "geometric")
_BODIES = ("baskerville", "bodoni", "garamond", "grotesque")
_HANDS = (
    "copperplate",
    "clerk",
    "broad nib",
    "quick",
    "round",
    "schoolroom",
    "upright",
    "brush",
)
_PAPERS = ("cream", "white", "buff", "manila", "blue", "grey", "green")


def wear_of(dressing: Dressing, inscription: Inscription) -> Wear:
    """How an inscription looks: as the table says, else something fitting that is always the same."""
    told = dressing.wear.get(inscription.number or "")
    if told is not None and told != Wear(askew=told.askew):
        return told
    rng = seeded("wear", inscription.id)
    hand = int(rng.integers(len(_HANDS)))
    return Wear(
        askew=told.askew if told else 0.0,
        heading=_HEADINGS[int(rng.integers(len(_HEADINGS)))],
        body=_BODIES[int(rng.integers(len(_BODIES)))],
        hands=(_HANDS[hand], _HANDS[(hand + 3) % len(_HANDS)]),
        paper=_PAPERS[int(rng.integers(len(_PAPERS)))],
        frame="none",
        age=float(rng.uniform(0.4, 0.9)),
    )
