"""From words to a place: "verso, upper right: 65 mm from right edge, 120 mm from top edge".

`in_words` says where a box lies; this is the way back, for catalogues and older reports too. The words
are those of vocab/places_words.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final, NamedTuple, cast

from catalogue.surface.bars import Edge
from catalogue.surface.boxes import SLACK_MM, Sheet
from catalogue.surface.place_words import END, Piece, doubt, face_of, in_millimetres, pieces
from catalogue.surface.shapes import Shape
from catalogue.surface.words import clock, ninth
from catalogue.surface.written_places import Distance, Side, WrittenPlace

_FARTHEST_MM: Final = 100_000
_FEW: Final = 4
_EDGED: Final = ("tacking-edge",)
"""Faces of which there is one along each edge."""
_BARRED: Final = ("stretcher-bar", "tacking-edge", "frame", "frame-front", "frame-back")
"""Faces made of one piece along each edge."""
_BACK_OR_FRONT: Final = ("frame",)
"""What is on neither side before that is said."""
_THIRD_AT: Final = {"top": "upper", "bottom": "lower", "left": "left", "right": "right"}
_BAR_OF: Final = {third: edge for edge, third in _THIRD_AT.items()}
_OTHER: Final = {"left": "right", "right": "left"}
_SAID: Final = ("face", "part", "row", "column", "seen")
_PLAIN: Final = ("sign", "understood", "at", "from", "rim")


def read_place(text: str, sheet: Sheet | None = None) -> WrittenPlace:
    """What a text says of a place on a picture of that size; never raises, time grows with the text.

    >>> found = read_place("verso, upper right: 65 mm from right edge, 120 mm from top edge")
    >>> found.face, found.field, [(each.edge, each.mm) for each in found.distances]
    ('face/back', 'upper right', [('right', 65.0), ('top', 120.0)])
    >>> found.doubts[0]
    'left and right: as seen from the back, or from the front through the picture, is not said'
    """
    reader = _Reader(pieces(text))
    reader.read()
    found = _found(reader, text, sheet)
    unsure = [doubt("language", each) for each in reader.unsure]
    return replace(found, doubts=(*_doubts(found), *unsure))


class _Edge(NamedTuple):
    """An edge by its name; `rim`: the text calls it an edge; `behind`: what follows it."""

    name: Edge
    inner: bool
    rim: bool
    behind: int


class _Reader:
    """Goes once through the pieces of a text; `at` is where it stands."""

    def __init__(self, found: list[Piece]) -> None:
        self.pieces = found
        self.at = 0
        self.said: dict[str, str] = {}
        self.centred = False
        self.hour: int | None = None
        self.distances: list[Distance] = []
        self.unsure: list[str] = []
        self.rest: list[str] = []

    def read(self) -> None:
        """All of it."""
        while self.pieces[self.at] is not END:
            behind = (
                self._distance_behind()
                or self._distance_before()
                or self._hour()
                or self._bar()
                or self._word()
            )
            if not behind:
                self.rest.append(self.pieces[self.at].text)
            self.at = behind or self.at + 1

    # --- one thing at a time: each gives the place behind it, 0 when it isn't there -------------------

    def _distance_behind(self) -> int:
        """65 mm from the right edge, 3 mm over the left edge."""
        number = self._measure(self.at)
        if number is None:
            return 0
        joint = self._skip(self.at + 2)
        over = self.pieces[joint].means("over")
        edge = self._edge(joint + 1 if over or self.pieces[joint].means("from") else joint)
        return self._keep(-number if over else number, edge)

    def _distance_before(self) -> int:
        """Right edge: 65 mm, from the top 120 mm; at the top edge."""
        piece = self.pieces[self.at]
        edge = self._edge(self.at + 1 if piece.means("from") or piece.means("at") else self.at)
        if edge is None or not (edge.rim or piece.means("from")):
            return 0
        at = self._skip(edge.behind)
        number = self._measure(at)
        if number is not None and (piece.means("from") or not self._leads_on(at + 2)):
            return self._keep(number, edge._replace(behind=at + 2))
        return self._keep(0, edge) if piece.means("at") and edge.rim else 0

    def _keep(self, mm: float, edge: _Edge | None) -> int:
        if edge is None or any(each.edge == edge.name for each in self.distances):
            return 0
        self.distances.append(Distance(edge.name, mm, edge.inner))
        return edge.behind

    def _hour(self) -> int:
        """2 o'clock."""
        number = self.pieces[self.at].number
        if number is None or not (1 <= number <= 12 and number.is_integer()):
            return 0
        if self.hour or not self.pieces[self.at + 1].means("clock"):
            return 0
        self.hour = int(number)
        return self.at + 2

    def _bar(self) -> int:
        """The top stretcher bar, the right tacking edge."""
        edge = self._side(self.at)
        part = self.pieces[self.at + 1].means("part") if edge else None
        if not part or face_of(part, None) not in _BARRED or "part" in self.said:
            return 0
        self.said |= {"part": part, "bar": str(edge)}
        return self.at + 2

    def _word(self) -> int:
        """A word for side, part, row, column or corner; or one that says nothing by itself."""
        piece = self.pieces[self.at]
        if piece.means("understood") and self.pieces[self.at + 1].number is not None:
            return self.at + 1  # "c. 65 mm" is no centre
        new = {kind: value for kind in _SAID if (value := piece.means(kind))}
        centred = bool(piece.means("centre"))
        if new or centred:
            if any(self.said.get(kind, value) != value for kind, value in new.items()):
                return 0
            self.said |= new
            self.centred = self.centred or centred
            self.unsure += [piece.text] if piece.unsure else []
            return self.at + 1
        return self.at + 1 if any(piece.means(kind) for kind in _PLAIN) else 0

    # --- looking ahead --------------------------------------------------------------------------------

    def _measure(self, at: int) -> float | None:
        """A number with its unit, in mm."""
        number, unit = self.pieces[at].number, self.pieces[at : at + 2][-1].means("unit")
        if number is None or not unit:
            return None
        mm = in_millimetres(number, unit)
        return mm if abs(mm) <= _FARTHEST_MM else None

    def _edge(self, at: int) -> _Edge | None:
        """An edge by its name: right, the right-hand edge, inner edge of the right bar."""
        at = self._skip(at)
        inner = bool(self.pieces[at].means("inner"))
        at = self._skip(at + inner)
        rim = bool(self.pieces[at].means("rim"))
        at += rim
        name = self._side(at)
        if name is None:
            return None
        at += 1
        if self._side(at):
            return None  # the upper left corner is no edge
        if self.pieces[at].means("rim") or (inner and self.pieces[at].means("part")):
            rim, at = True, at + 1
        return _Edge(name, inner, rim, at)

    def _side(self, at: int) -> Edge | None:
        return cast(Edge | None, self.pieces[at].means("edge"))

    def _leads_on(self, at: int) -> bool:
        """Whether a number belongs to an edge that follows it."""
        piece = self.pieces[self._skip(at)]
        return bool(piece.means("from") or piece.means("over"))

    def _skip(self, at: int) -> int:
        """Behind a few signs and words that say nothing by themselves."""
        for _ in range(_FEW):
            piece = self.pieces[at]
            if not (piece.means("sign") or piece.means("understood")):
                break
            at += 1
        return at


def _found(reader: _Reader, text: str, sheet: Sheet | None) -> WrittenPlace:
    """What the reader has gathered, as one place."""
    said = reader.said
    row, column = said.get("row"), said.get("column")
    part, face, bar = said.get("part"), said.get("face"), said.get("bar")
    if reader.centred:
        row, column = row or "centre", column or "centre"
    on = face_of(part, face) if part else None
    borne = f"part/{part}" if on else None
    if on in _BARRED and bar is None and bool(row) != bool(column):
        # "Stretcher, top" names the bar
        bar = _BAR_OF.get(row or column or "")
        row, column = (None, None) if bar else (row, column)
    seen = said.get("seen") or ("front" if face == "front" else None)
    if on in _EDGED:
        # Their names are those of the front, whatever side they were told from.
        named = _OTHER.get(bar or "", bar) if seen == "back" else bar
        on = f"{on}-{named}" if named else None
    face = face if on in _BACK_OR_FRONT else on or face
    return WrittenPlace(
        text=text,
        face=f"face/{face}" if face else None,
        part=borne,
        bar=cast(Edge | None, bar),
        row=row,
        column=column,
        hour=reader.hour,
        distances=tuple(reader.distances),
        seen=cast(Side | None, seen),
        rest=" ".join(reader.rest),
        sheet=sheet,
    )


def _doubts(found: WrittenPlace) -> Iterator[str]:
    """What a text leaves open, or says against itself."""
    if found.face is None:
        yield doubt("side")
    told = {found.column, found.bar, *(each.edge for each in found.distances)}
    sideways = told & {"left", "right"}
    if found.seen is None and (sideways or found.hour not in (None, 6, 12)):
        yield doubt("seen")
    if found.sheet is None:
        return
    for each in found.distances:
        if not _goes_together(found, each, found.sheet):
            yield doubt("edges", found.field, each.edge)
    if found.hour and found.field and not _is_hour_of(found, found.sheet):
        yield doubt("hour", found.hour, found.field)
    region = found.region
    if region and not region.fits(found.sheet):
        yield doubt("off")


def _goes_together(found: WrittenPlace, distance: Distance, sheet: Sheet) -> bool:
    """Whether something that begins so far from an edge can have its middle in that third."""
    row = distance.edge in ("top", "bottom")
    third = found.row if row else found.column
    whole = sheet.height_mm if row else sheet.width_mm
    if third == _THIRD_AT[distance.edge]:
        return distance.mm <= whole / 3 + SLACK_MM
    return third != "centre" or distance.mm <= whole * 2 / 3 + SLACK_MM


def _is_hour_of(found: WrittenPlace, sheet: Sheet) -> bool:
    """Whether it is that hour anywhere in the field."""
    left, top, right, bottom = ninth(found.row, found.column, sheet).bounds
    steps = [step / 12 for step in range(13)]
    return any(
        clock(Shape("point", ((left + (right - left) * x, top + (bottom - top) * y),)), sheet)
        == found.hour
        for x in steps
        for y in steps
    )
