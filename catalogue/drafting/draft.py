"""What a machine made of a part of a photograph: lines with their boxes, letters with how sure it was."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import Any, TypeAlias

from catalogue.places import table

TABLE = "machine_reading.toml"
Corners: TypeAlias = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line as the engine found it.

    `corners` are pixels of the picture that was read, clockwise from where the text begins; `sure` is
    the engine's confidence in each letter of `text`, 0 to 1, `score` that in the whole line.
    """

    text: str
    corners: Corners
    sure: tuple[float, ...]
    score: float

    def __post_init__(self) -> None:
        if len(self.sure) != len(self.text):
            raise ValueError("each letter needs its own confidence")

    def doubtful(self) -> tuple[bool, ...]:
        """Which of its letters a person has to look at first.

        >>> Line(text="No 7", corners=(), sure=(0.99, 0.41, 0.9, 0.98), score=0.9).doubtful()
        (False, True, False, False)
        """
        bounds = table(TABLE)["doubtful"]
        whole = self.score < bounds["line"]
        return tuple(
            not letter.isspace() and (whole or sure < bounds["letter"])
            for letter, sure in zip(self.text, self.sure, strict=True)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineDraft:
    """A draft of what stands on one part of a photograph, and what made it, when.

    `photo` is the digest of the photograph, `corners` the part of it in upright pixels (none for all of
    it), `turn` the degrees clockwise by which the text stands turned; `width` and `height` are of the
    picture that was read, set upright; `on` is the day.
    """

    key: str
    photo: str
    corners: Corners
    turn: int
    width: int
    height: int
    engine: str
    version: str
    on: str
    lines: tuple[Line, ...]

    @property
    def says(self) -> str:
        """What it is, in a sentence that stands wherever it is shown."""
        return self._told("made")

    @property
    def begun(self) -> str:
        """What is noted of a reading that somebody began from it."""
        return self._told("begun")

    def _told(self, which: str) -> str:
        words: str = table(TABLE)["says"][which]
        return words.format(engine=self.engine, version=self.version, day=self.on)


def written(draft: MachineDraft) -> str:
    """The text of the file that keeps a draft."""
    return json.dumps(asdict(draft), ensure_ascii=False)


def read_back(text: str) -> MachineDraft:
    """The draft in such a file. Raises `ValueError`, `KeyError` or `TypeError` for any other text."""
    told: dict[str, Any] = json.loads(text)
    lines = tuple(
        Line(
            text=each["text"], corners=_corners(each["corners"]), sure=tuple(each["sure"]),
            score=each["score"],
        )
        for each in told.pop("lines")
    )  # fmt: skip
    return MachineDraft(**{**told, "corners": _corners(told["corners"])}, lines=lines)


def _corners(told: Any) -> Corners:
    return tuple((float(x), float(y)) for x, y in told)
