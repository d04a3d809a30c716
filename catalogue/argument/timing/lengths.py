"""The shortest ways of a network from its origin to every point and back, kept up as arcs come and go.

What a point's shortest way is in days is the last day that all arcs together leave it, and the way back
gives the first. The places of the network make all lengths positive (E. W. Dijkstra's rule then needs
each point once; the trick is D. B. Johnson's, 1977). When arcs go, only points all of whose shortest
ways lead over them are worked out again: G. Ramalingam, T. Reps, "On the computational complexity of
dynamic graph problems", Theoretical Computer Science 158 (1996). (References from memory.)
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import Final

from catalogue.argument.timing.network import Arc, Network, Step, days_of

ORIGIN: Final = 0
"""The point from which days are counted."""

NO_WAY: Final = 1 << 100
"""Longer than any way: no way leads there."""


@dataclass(frozen=True, slots=True)
class Side:
    """A network as seen going one way: along its arcs, or against them.

    `onward` are the steps from each point, `back` those that come to it; a step from one point to
    another is never shorter than `height` falls between them.
    """

    onward: list[list[Step]]
    back: list[list[Step]]
    height: list[int]

    @classmethod
    def along(cls, network: Network) -> Side:
        """Along the arcs."""
        return cls(network.ahead, network.behind, network.place)

    @classmethod
    def against(cls, network: Network) -> Side:
        """Against them."""
        return cls(network.behind, network.ahead, [-place for place in network.place])


def lengths(side: Side) -> list[int]:
    """The shortest way from the origin to every point."""
    known = [NO_WAY] * len(side.height)
    known[ORIGIN] = 0
    _spread(side, known, [(-side.height[ORIGIN], ORIGIN)])
    return known


def shorten(side: Side, known: list[int], arcs: Iterable[Arc]) -> None:
    """Bring lengths up to date, in place, after arcs have come."""
    waiting: list[tuple[int, int]] = []
    for source, target, far, _ in arcs:
        there = known[source] + far
        if known[source] != NO_WAY and there < known[target]:
            known[target] = there
            heappush(waiting, (there - side.height[target], target))
    _spread(side, known, waiting)


def lengthen(side: Side, known: list[int], arcs: Iterable[Arc]) -> None:
    """Bring lengths up to date, in place, after arcs have gone.

    A point is lost when no shortest way to it is left that comes from a point not lost. No round of
    arcs is as long as nothing (`DAY`), so points cannot vouch for each other in a circle.
    """
    lost: dict[int, None] = {}
    asked = [target for source, target, far, _ in arcs if known[source] + far == known[target]]
    for point in asked:
        if point in lost or any(
            known[other] + far == known[point] and other not in lost
            for other, far, _ in side.back[point]
        ):
            continue
        lost[point] = None
        asked.extend(
            other for other, far, _ in side.onward[point] if known[point] + far == known[other]
        )
    for point in lost:
        known[point] = NO_WAY
    waiting: list[tuple[int, int]] = []
    for point in lost:
        ways = (
            known[other] + far for other, far, _ in side.back[point] if known[other] != NO_WAY
        )
        known[point] = min(ways, default=NO_WAY)
        if known[point] != NO_WAY:
            heappush(waiting, (known[point] - side.height[point], point))
    _spread(side, known, waiting)


def _spread(side: Side, known: list[int], waiting: list[tuple[int, int]]) -> None:
    """Follow every way onward from the points waiting, shortest first, as long as ways get shorter."""
    onward, height = side.onward, side.height
    while waiting:
        above, point = heappop(waiting)
        here = above + height[point]
        if here > known[point]:
            continue
        for other, far, _ in onward[point]:
            there = here + far
            if there < known[other]:
                known[other] = there
                heappush(waiting, (there - height[other], other))


@dataclass(frozen=True, slots=True)
class Reach:
    """A network with its shortest ways: `out` from the origin to every point, `home` from there back."""

    network: Network
    out: list[int]
    home: list[int]

    @classmethod
    def of(cls, network: Network) -> Reach:
        """Worked out from nothing."""
        along, against = Side.along(network), Side.against(network)
        return cls(network, lengths(along), lengths(against))

    def changed(self, gone: Iterable[Arc], come: Iterable[Arc]) -> Reach | None:
        """The same without some arcs and with others; None when these cannot hold with the rest."""
        network, out, home = self.network.copy(), self.out.copy(), self.home.copy()
        gone, come = tuple(gone), tuple(come)
        if gone:
            network.remove(gone)
            lengthen(Side.along(network), out, gone)
            lengthen(Side.against(network), home, map(_turned, gone))
        if come:
            if network.admit(come):
                return None
            shorten(Side.along(network), out, come)
            shorten(Side.against(network), home, map(_turned, come))
        return Reach(network, out, home)

    def earliest(self, point: int) -> int | None:
        """The first day of a point, counted from the origin; None = open."""
        length = self.home[point]
        return None if length == NO_WAY else -days_of(length)

    def latest(self, point: int) -> int | None:
        """Its last day."""
        length = self.out[point]
        return None if length == NO_WAY else days_of(length)

    def moved(self, other: Reach) -> list[int]:
        """The points of which another reach has another first or last day."""
        return [
            point
            for point in range(len(self.out))
            if self.latest(point) != other.latest(point)
            or self.earliest(point) != other.earliest(point)
        ]


def _turned(arc: Arc) -> Arc:
    source, target, length, label = arc
    return target, source, length, label
