"""What is asked: the words as typed, the filters of a form, and which page of the answer."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.errors import BadData


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """What to look for; what is "" or None does not restrict.

    `kind` may be a whole key ("inscription/dealer-label") or words of it ("label"). The days
    are ordinals; a statement is found when it may lie between them, with `certainly` only when
    it must.
    """

    words: str = ""
    artist: str = ""
    kind: str = ""
    place: str = ""
    earliest: int | None = None
    latest: int | None = None
    certainly: bool = False
    limit: int = 20
    page: int = 1
    counting: bool = True
    """Whether what the works have in common is counted."""

    def __post_init__(self) -> None:
        if self.limit < 1 or self.page < 1:
            raise BadData("a search shows at least one work a page, and pages count from 1")
        if None not in (self.earliest, self.latest) and self.earliest > self.latest:  # type: ignore[operator]
            raise BadData("the span to search in ends before it begins")

    @property
    def dated(self) -> bool:
        """Whether a date restricts the answer."""
        return self.earliest is not None or self.latest is not None
