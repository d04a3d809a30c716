"""Where each bed of a stratigraphy stands on the paper: bearers at the bottom, what lies over them above.

A bearer with all that stands on it is a column; columns stand side by side on a shelf, and what does
not fit on one goes on a shelf below. On a shelf a bed always lies higher than what it lies over.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from catalogue.argument.stratigraphy import Bed, Stratigraphy

WIDE: Final = 160.0
HIGH: Final = 58.0
BESIDE: Final = 26.0
"""Between two boxes; lines that pass by boxes run there."""
_ABOVE: Final = 34.0
_FLOOR: Final = 40.0
_MARGIN: Final = 16.0
_ACROSS: Final = 4
"""As many boxes as stand side by side at the most."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one bed lies on the paper, and on which shelf."""

    left: float
    top: float
    wide: float
    high: float
    shelf: int

    @property
    def middle(self) -> float:
        """Half way from left to right."""
        return self.left + self.wide / 2

    @property
    def bottom(self) -> float:
        """The lower edge."""
        return self.top + self.high


@dataclass(frozen=True, slots=True)
class _Column:
    """A bearer, and what stands on it: by level, in rows from below."""

    bearer: Bed
    across: int
    rows: Mapping[int, Sequence[Sequence[Bed]]]


def laid_out(found: Stratigraphy) -> tuple[dict[str, Spot], float, float]:
    """Where each bed stands, by its id; how wide and how high the paper is."""
    spots: dict[str, Spot] = {}
    top = _MARGIN
    for number, shelf in enumerate(_shelves(_columns(found))):
        top = _stand(shelf, number, top, found, spots) + 26
    right = max((spot.left + spot.wide for spot in spots.values()), default=0)
    return spots, max(right + _MARGIN, 2 * WIDE), top


def _columns(found: Stratigraphy) -> list[list[_Column]]:
    """A column for each bearer, those together between which something lies over something."""
    levels: dict[str, dict[int, list[Bed]]] = {}
    for bed in found.beds:
        if bed.bearer is None:
            levels[bed.id] = {}
    for bed in found.beds:
        if bed.bearer is not None:
            levels[bed.bearer].setdefault(found.level[bed.id], []).append(bed)
    across = {
        bearer: min(max(map(len, held.values()), default=1), _ACROSS)
        for bearer, held in levels.items()
    }
    together = _together(found)
    for group in together:
        _narrow(group, across)
    return [
        [_column(each, levels[each], across[each], found) for each in group]
        for group in together
    ]


def _column(
    bearer: str, levels: Mapping[int, Sequence[Bed]], across: int, found: Stratigraphy
) -> _Column:
    rows = {level: _rows(beds, across, found) for level, beds in levels.items()}
    return _Column(found.bed(bearer), across, rows)


def _together(found: Stratigraphy) -> list[list[str]]:
    """The bearers in groups: those of one group are joined by what lies over what."""
    own = {bed.id: bed.bearer or bed.id for bed in found.beds}
    group = {bed.id: [bed.id] for bed in found.beds if bed.bearer is None}
    for each in found.overs:
        first, second = group[own[each.upper]], group[own[each.lower]]
        if first is not second:
            first += second
            group |= dict.fromkeys(second, first)
    return list({id(each): each for each in group.values()}.values())


def _narrow(group: Sequence[str], across: dict[str, int]) -> None:
    """Make the widest columns narrower until all stand on one shelf, as far as that can be."""
    while sum(across[each] for each in group) > _ACROSS:
        widest = max(group, key=lambda each: across[each])
        if across[widest] == 1:
            return
        across[widest] -= 1


def _rows(beds: Sequence[Bed], across: int, found: Stratigraphy) -> list[Sequence[Bed]]:
    """The beds of one level in rows; what nothing lies over or under does not stand in between."""
    if len(beds) <= across:
        return [beds]
    joined = {each for over in found.overs for each in (over.upper, over.lower)}
    alone = [bed for bed in beds if bed.id not in joined]
    rest = [bed for bed in beds if bed.id in joined]
    return [
        some[start : start + across]
        for some in (alone, rest)
        for start in range(0, len(some), across)
    ]


def _shelves(groups: Iterable[Sequence[_Column]]) -> list[list[_Column]]:
    """Groups one after the other; one that still fits on the shelf stands beside those before it."""
    shelves: list[list[_Column]] = []
    left = 0
    for group in groups:
        if sum(column.across for column in group) > left:
            left = 0
        for column in group:
            if column.across > left:
                shelves.append([])
                left = _ACROSS
            shelves[-1].append(column)
            left -= column.across
    return shelves


def _stand(
    shelf: Sequence[_Column],
    number: int,
    top: float,
    found: Stratigraphy,
    spots: dict[str, Spot],
) -> float:
    """Place one shelf from its top; gives back where it ends."""
    levels = sorted({level for column in shelf for level in column.rows})
    rows = {level: max(len(column.rows.get(level, ())) for column in shelf) for level in levels}
    floor = top + sum(rows.values()) * (HIGH + _ABOVE)
    left = _MARGIN
    for column in shelf:
        wide = column.across * WIDE + (column.across - 1) * BESIDE
        spots[column.bearer.id] = Spot(left, floor, wide, _FLOOR, number)
        bottom = floor
        for level in levels:
            for row, beds in enumerate(column.rows.get(level, ()), 1):
                for place, bed in enumerate(_beside(beds, found, spots)):
                    across = left + place * (WIDE + BESIDE)
                    spots[bed.id] = Spot(
                        across, bottom - row * (HIGH + _ABOVE), WIDE, HIGH, number
                    )
            bottom -= rows[level] * (HIGH + _ABOVE)
        left += wide + BESIDE
    return floor + _FLOOR


def _beside(beds: Sequence[Bed], found: Stratigraphy, spots: Mapping[str, Spot]) -> list[Bed]:
    """Beds of one level from left to right: each as near as may be above what it lies over."""

    def wanted(bed: Bed) -> float:
        below = [
            spots[each.lower].middle for each in found.below(bed.id) if each.lower in spots
        ]
        return sum(below) / len(below) if below else 1e9

    return sorted(beds, key=wanted)
