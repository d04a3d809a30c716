"""Where on a painting something is: the face, the part, the outline in mm, and who measured it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.rules import PartyId, Text, between, inside, term
from catalogue.surface import Shape, Sheet, mirror


@dataclass(frozen=True, slots=True, kw_only=True)
class Location:
    """A place on one face, in mm from its top left corner as seen on that side, the picture's top up.

    `seen` says from which side it was measured: what was seen through from the front, or from an
    unknown side, is not mirrored until somebody knows. `wording` keeps the words it came in.
    `tolerance_mm` is by how much the measures may be out: 1 for a ruler, 2 for a tape over a
    stretcher bar, 0.5 for a calliper (common practice, no source).
    """

    face: Annotated[str, term("face")]
    part: Annotated[str, inside("Part", "Layer")] | None = None
    shape: Shape | None = None
    orientation: Annotated[int, between(0, 359)] = 0
    wording: Text | None = None
    seen: Annotated[str, term("seen")] = "seen/that-side"
    tolerance_mm: Annotated[float, between(0, 100)] | None = None
    by: PartyId | None = None
    instrument: Text | None = None
    on: Day | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    def on_its_face(self, sheet: Sheet | None) -> Shape | None:
        """The outline as seen on its own face; None where nobody knows how it lies there.

        What was seen through from the front is mirrored for any other face, if the size is known.
        """
        if self.shape is None or self.seen == "seen/unknown":
            return None
        if self.seen == "seen/that-side" or self.face == "face/front":
            return self.shape
        return mirror(self.shape, sheet) if sheet else None
