"""What the head of a mark says: its kinds, where it stands, how it was made, and other remarks."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal

from catalogue.argument.inscription_fields.words import Meaning, table

Stopped = Literal["colon", "quote", "mark", "text", "end"]
"""What a head ends at: a colon, a quotation, another mark's head, other words, nothing."""
LABEL: Final = "label"
_ALONE: Final = {"upper": "top", "lower": "bottom"}
_EDGES: Final = {"upper": "top", "lower": "bottom", "left": "left", "right": "right"}


@dataclass(slots=True)
class Head:
    """What was found in the head that begins at the token `start`.

    `end` is the place behind its last word or its colon; `next_mark` is where another mark begins
    when it `stopped` at one. `neutral` is whether a kind was said that leaves the hand open,
    `nothing` whether something was said to be missing. `makings` are the runs of words for a
    technique; `spots` the stretches of words for a place that no list knows ("on the boat"),
    `remarks` those that say something else ("in a later hand").
    """

    start: int
    end: int
    stopped: Stopped = "end"
    next_mark: int = 0
    kinds: list[Meaning] = field(default_factory=list)
    neutral: bool = False
    nothing: bool = False
    where: list[Meaning] = field(default_factory=list)
    faces: list[str] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)
    makings: list[list[Meaning]] = field(default_factory=list)
    spots: list[tuple[int, int]] = field(default_factory=list)
    remarks: list[tuple[int, int]] = field(default_factory=list)

    @property
    def located(self) -> bool:
        """Whether it says where."""
        return bool(self.where or self.faces or self.parts)

    @property
    def says_something(self) -> bool:
        """Whether there is anything in it that a head is about."""
        return bool(self.kinds or self.located or self.makings or self.spots)

    @property
    def exact(self) -> bool:
        """Whether the place is one that stands in no text by chance: two words, or a short form."""
        groups = {meaning.group for meaning in self.where}
        return bool(
            groups & {"whole", "short"}
            or {"row", "column"} <= groups
            or ("centre" in groups and groups & {"row", "column"})
        )

    @property
    def strong(self) -> bool:
        """Whether it says where so clearly that another mark may begin with it."""
        return self.exact or bool(self.faces or self.parts)

    @property
    def opens(self) -> bool:
        """Whether it says a kind by a word with which another mark may begin."""
        return any(kind.opens or kind.thing for kind in self.kinds)

    def absorb(self, other: Head) -> None:
        """Take over what another head says."""
        self.kinds += other.kinds
        self.neutral = self.neutral or other.neutral
        self.nothing = self.nothing or other.nothing
        self.where += other.where
        self.faces += other.faces
        self.parts += other.parts
        self.makings += other.makings
        self.spots += other.spots
        self.remarks += other.remarks

    def face(self) -> str | None:
        """The face: that of the part which is named, as seen from the side which is named."""
        side = next(iter(self.faces), None)
        for part in self.parts:
            faces: dict[str, str] = table()["face_of_part"].get(part, {})
            face = faces.get(side or "alone") or faces.get("alone")
            if face == "tacking-edge":
                edges = [_EDGES[each.key] for each in self.where if each.key in _EDGES]
                return f"tacking-edge-{edges[0]}" if len(edges) == 1 else face
            if face:
                return face
        return side

    def part(self) -> str | None:
        """The part that bears the mark; a label only where nothing is said of what bears the label."""
        others = (part for part in self.parts if part != LABEL)
        return next(others, None) or next(iter(self.parts), None)

    def place(self) -> str | None:
        """Where on its face a mark is, "lower left"; several places are joined by "and".

        A row alone is "top" or "bottom".
        """
        places: list[dict[str, str]] = [{}]
        for meaning in self.where:
            current = places[-1]
            if meaning.group in ("whole", "short"):
                places += [{}] if current else []
                places[-1]["whole"] = meaning.key
            elif meaning.group == "zone":
                current.setdefault("zone", meaning.key)
            elif "whole" in current or meaning.group in current:
                # "lower left and right"
                same_row = meaning.group == "column" and "row" in current
                row = {"row": current["row"]} if same_row else {}
                places.append({**row, meaning.group: meaning.key})
            else:
                current[meaning.group] = meaning.key
        told = dict.fromkeys(filter(None, map(_place, places)))
        return " and ".join(told) or None

    def technique(self) -> str | None:
        """How a mark was made, "red paint": colours before what they colour, as English has them."""
        told: list[str] = []
        for run in self.makings:
            words: list[str] = []
            groups: list[str] = []
            for meaning in run:
                behind_medium = meaning.group == "colour" and groups[-1:] == ["medium"]
                words.insert(len(words) - behind_medium, meaning.key)
                groups.insert(len(groups) - behind_medium, meaning.group)
            told.append(" ".join(words))
        return ", ".join(dict.fromkeys(told)) or None


def _place(found: dict[str, str]) -> str:
    row, column, centre = found.get("row"), found.get("column"), "centre" in found
    zone = found.get("zone", "").replace("corner", "")
    if "whole" in found:
        place = found["whole"]
    elif row and column:
        place = f"{row} {column}"
    elif centre:
        place = f"{row} centre" if row else f"centre {column}" if column else "centre"
    else:
        place = row or column or ""
        place = place if zone else _ALONE.get(place, place)
    return f"{place} {zone}".strip()
