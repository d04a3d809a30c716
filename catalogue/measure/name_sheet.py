"""A name being taken apart: what is understood is blanked out, what is left can be read on.

So no letter is lost and none is told twice: each goes into one part, or stays and is the rest.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

Part: TypeAlias = Literal["qualifier", "family", "given", "honorifics", "life", "rest"]
"""What a letter of a name may belong to."""
SIGNS: Final = ",;:()[]"
"""What stands around the parts of a name and belongs to none."""


@dataclass(slots=True)
class Sheet:
    """A text on which what has been understood is blanked out, letter for letter."""

    text: str
    left: str
    taken: list[tuple[Part, int, str]] = field(default_factory=list)

    def take(self, part: Part, start: int, end: int) -> None:
        """Understand a stretch of what is left as a part, without the signs around it."""
        said = self.left[start:end]
        bare = said if part == "qualifier" else said.strip(SIGNS + " \t\r\n")
        if bare:
            self.taken.append((part, start, bare))
        self.blank(start, end)

    def blank(self, start: int, end: int) -> None:
        """Take signs away that belong to no part."""
        self.left = self.left[:start] + " " * (end - start) + self.left[end:]

    def written(self, part: Part) -> str | None:
        """A part as written; of a family name the particles first, else in the order of the text."""
        places = [(start, said) for what, start, said in self.taken if what == part]
        ordered = places if part == "family" else sorted(places)
        return " ".join(" ".join(said for _, said in ordered).split()) or None

    def rest(self) -> str:
        """All that is left and all that was set aside, in order."""
        aside = [(start, said) for part, start, said in self.taken if part == "rest"]
        left = [(word.start(), word[0]) for word in re.finditer(r"\S+", self.left)]
        bare = (said.strip(SIGNS) for _, said in sorted([*aside, *left]))
        return " ".join(each for each in bare if each.strip(".-–—"))
