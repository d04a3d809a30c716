"""How far points on a line may lie from each other: whether all that is said can hold, and if not why not.

A simple temporal network: R. Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", Artificial
Intelligence 49 (1991). Its arcs can all hold exactly when no way round them comes back earlier than it
set out (their theorem 3.1). The network keeps one place for every point at which all its arcs hold.
An arc that holds there costs one comparison; another moves only the points that it pushes: S. Cotton,
O. Maler, "Fast and flexible difference constraint propagation for DPLL(T)", SAT 2006. (References
from memory.) Points are numbers and arcs have a label; nothing here knows of paintings.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from heapq import heappop, heappush
from typing import Final

Arc = tuple[int, int, int, str]
"""`(source, target, length, label)`: the target lies no further than `length` after the source."""

Step = tuple[int, int, str]
"""An arc as seen from one of its ends: the other end, the length, the label."""

DAY: Final = 1 << 24
"""A day in the measure of lengths. Every arc is one unit longer than its days, so that of two ways of
as many days the one over fewer arcs is shorter. That changes no answer: a way has fewer arcs than
there are units in a day."""


def length_of(days: int) -> int:
    """An arc of so many days as a length."""
    return days * DAY + 1


def days_of(length: int) -> int:
    """How many days are in the length of a way over any number of arcs.

    >>> days_of(length_of(-3) + length_of(10)), days_of(length_of(-3))
    (7, -3)
    """
    return length // DAY


class Network:
    """Arcs that can all hold, and places of the points at which they do. It changes as arcs come and go.

    `ahead` are the arcs that leave a point, `behind` those that come to it.
    """

    __slots__ = ("ahead", "behind", "place")

    def __init__(self, places: Iterable[int]) -> None:
        self.place = list(places)
        self.ahead: list[list[Step]] = [[] for _ in self.place]
        self.behind: list[list[Step]] = [[] for _ in self.place]

    def copy(self) -> Network:
        """The same network, to be changed without this one."""
        other = Network(())
        other.place = self.place.copy()
        other.ahead = [each.copy() for each in self.ahead]
        other.behind = [each.copy() for each in self.behind]
        return other

    def admit(self, arcs: Iterable[Arc]) -> tuple[str, ...]:
        """Add some arcs if all of them can hold; then what comes back is empty.

        If not, nothing is added, and what comes back are the labels of arcs, as few as lead to the
        trouble that was met first, that cannot all hold.

        >>> network = Network([0, 0, 0])
        >>> network.admit([(0, 1, 5, "by the 5th"), (1, 2, -7, "a week earlier at least")])
        ()
        >>> network.admit([(2, 0, 1, "on the 1st before at the earliest")])
        ('on the 1st before at the earliest', 'by the 5th', 'a week earlier at least')
        """
        place, ahead, behind = self.place, self.ahead, self.behind
        added: list[Arc] = []
        for arc in arcs:
            source, target, length, label = arc
            if place[source] + length < place[target]:
                pushed = self._pushed(arc)
                if pushed is None:
                    labels = self._shortest_trouble(arc)
                    self.remove(added)
                    return labels
                for point, where in pushed.items():
                    place[point] = where
            ahead[source].append((target, length, label))
            behind[target].append((source, length, label))
            added.append(arc)
        return ()

    def trouble_with(self, arcs: Sequence[Arc]) -> tuple[str, ...]:
        """What `admit` would answer; the network stays as it is."""
        before = self.place.copy()
        labels = self.admit(arcs)
        if not labels:
            self.remove(arcs)
        self.place = before
        return labels

    def remove(self, arcs: Iterable[Arc]) -> None:
        """Take some arcs out again; what held before holds without them."""
        for source, target, length, label in arcs:
            self.ahead[source].remove((target, length, label))
            self.behind[target].remove((source, length, label))

    def _pushed(self, arc: Arc) -> dict[int, int] | None:
        """New places of the points that must move back for a new arc; None when it cannot hold.

        The point that must move furthest goes first, so each moves once. When the push comes round
        to where it started, no places will do.
        """
        source, target, length, _ = arc
        place, ahead = self.place, self.ahead
        moves = {target: place[source] + length - place[target]}
        waiting = [(moves[target], target)]
        pushed: dict[int, int] = {}
        while waiting:
            move, point = heappop(waiting)
            if point == source:
                return None
            if point in pushed:
                continue
            here = pushed[point] = place[point] + move
            for other, far, _ in ahead[point]:
                move = here + far - place[other]
                if move < moves.get(other, 0):
                    moves[other] = move
                    heappush(waiting, (move, other))
        return pushed

    def _shortest_trouble(self, arc: Arc) -> tuple[str, ...]:
        """Labels of the way round over the fewest arcs, this one first, that comes back too early.

        One arc more at a time, from the end of this one back to its start. How much earlier than
        the places allow a way has still to come is known at each point (`spare`), so that only ways
        are followed that can end in trouble. There is one, or this would not have been asked.
        """
        source, target, length, label = arc
        place, ahead = self.place, self.ahead
        spare = place[target] - place[source] - length
        least = {target: 0}
        reached = {target: 0}
        came: list[dict[int, tuple[int, str]]] = []
        while source not in reached:
            onward: dict[int, int] = {}
            by: dict[int, tuple[int, str]] = {}
            for point, cost in reached.items():
                here = cost + place[point]
                for other, far, name in ahead[point]:
                    there = here + far - place[other]
                    if there < least.get(other, spare):
                        least[other] = onward[other] = there
                        by[other] = (point, name)
            came.append(by)
            reached = onward
        labels: list[str] = []
        point = source
        for by in reversed(came):
            point, name = by[point]
            labels.append(name)
        return (label, *reversed(labels))
