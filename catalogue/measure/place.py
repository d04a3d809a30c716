"""The pieces of a text as one asks them: what stands at a place, and what it may mean."""

from __future__ import annotations

from collections.abc import Sequence

from catalogue.measure.point import Year
from catalogue.measure.words import Piece


class Places:
    """The pieces of one text; a place is an index of them. Behind the last there is nothing."""

    __slots__ = ("pieces",)

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = pieces

    def has(self, at: int, *senses: str) -> bool:
        """Whether the piece there has one of the senses."""
        held = self.pieces[at].senses
        return any(sense in held for sense in senses)

    def key(self, at: int) -> str:
        """The piece there as it is written, in small letters; "" behind the last."""
        return self.pieces[at].key

    def glued(self, first: int, last: int) -> bool:
        """Whether no white space stands before any of these pieces."""
        return all(self.pieces[at].glued for at in range(first, last + 1))

    def figures(self, at: int) -> str:
        """The figures of the number there; "" where there is none."""
        figures: str = self.pieces[at].senses.get("number", "")
        return figures

    def holds_its_point(self, at: int) -> bool:
        """Whether a point belongs to the word there, as to an abbreviation."""
        piece = self.pieces[at]
        return piece.end - piece.start > len(piece.key)

    def behind(self, at: int, sense: str) -> int:
        """The place behind all pieces there that have the sense."""
        while sense in self.pieces[at].senses:
            at += 1
        return at

    def behind_of(self, at: int) -> int:
        """The place behind a comma or point and the words for "of the"."""
        return self.behind(at + (self.key(at) in (",", ".")), "of")

    def counted(self, at: int) -> int | None:
        """What a roman number, an ordinal or a number of one or two figures counts."""
        senses = self.pieces[at].senses
        number: int | None = senses.get("roman", senses.get("nth"))
        if number is None and len(self.figures(at)) in (1, 2):
            number = int(self.figures(at))
        return number

    def year(
        self, at: int, *, dual: bool = False, short_too: bool = True
    ) -> tuple[Year, int] | None:
        """A year of four figures, of two, or of any with its era behind it; and the place behind."""
        if self.key(at) == "'":
            figures = self.figures(at + 1)
            return (Year(int(figures), short=True), at + 2) if len(figures) == 2 else None
        if self.key(at) == "[" and self.key(at + 2) == "]":
            figures = self.figures(at + 1)  # 4 July [1876]
            return (Year(int(figures)), at + 3) if len(figures) == 4 else None
        figures = self.figures(at)
        if len(figures) == 4:
            two_years = dual and self._follows(at, int(figures) + 1)
            return Year(int(figures), dual=two_years), at + (3 if two_years else 1)
        if 1 <= len(figures) <= 4 and self.has(at + 1, "bc", "ad"):
            return Year(int(figures)), at + 1
        if len(figures) == 2 and short_too:
            return Year(int(figures), short=True), at + 1
        return None

    def _follows(self, at: int, next_year: int) -> bool:
        """Whether the last figures of the next year stand behind a stroke: 1702/3."""
        last = self.figures(at + 2)
        if self.key(at + 1) != "/" or not 1 <= len(last) <= 2:
            return False
        return last == str(next_year)[-len(last) :]
