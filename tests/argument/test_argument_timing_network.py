"""The network alone: what it admits, which arcs it blames, and its shortest ways as arcs come and go.

Oracle: networkx 3, Bellman-Ford, on random networks of numbers.
"""

from __future__ import annotations

import random

import networkx
import pytest

from catalogue.argument.timing.lengths import NO_WAY, Reach
from catalogue.argument.timing.network import Network, days_of, length_of


def an_arc(chance, points, number):
    days = chance.randint(-6, 20)
    return (chance.randrange(points), chance.randrange(points), length_of(days), str(number))


def graph_of(points, arcs):
    graph = networkx.MultiDiGraph()
    graph.add_nodes_from(range(points))
    graph.add_weighted_edges_from((a, b, length) for a, b, length, _ in arcs)
    return graph


def feasible(points, arcs):
    return not networkx.negative_edge_cycle(graph_of(points, arcs))


def filled(chance, points, count):
    """A network that was offered arcs, and those that it took."""
    network, taken = Network([chance.randint(-9, 9) for _ in range(points)]), []
    for number in range(count):
        arc = an_arc(chance, points, number)
        if not network.admit([arc]):
            taken.append(arc)
    return network, taken


@pytest.mark.parametrize("seed", range(40))
def test_it_admits_what_bellman_ford_admits(seed):
    chance = random.Random(seed)
    points, taken = chance.randint(1, 12), []
    network = Network([0] * points)
    for number in range(60):
        some = [an_arc(chance, points, number) for _ in range(chance.choice((1, 1, 3)))]
        labels = network.admit(some)
        assert (labels == ()) == feasible(points, taken + some)
        if not labels:
            taken += some
        else:
            blamed = [arc for arc in taken + some if arc[3] in labels]
            assert str(number) in labels
            assert not feasible(points, blamed)
        for source, target, length, _ in taken:
            assert network.place[target] <= network.place[source] + length


@pytest.mark.parametrize("seed", range(40))
def test_no_trouble_is_over_fewer_arcs_than_the_one_told(seed):
    """Oracle: shortest ways over at most so many arcs, by matrices that grow one arc at a time."""
    chance = random.Random(seed)
    points = chance.randint(2, 9)
    network, taken = filled(chance, points, 50)
    for number in range(50, 90):
        arc = an_arc(chance, points, number)
        labels = network.trouble_with([arc])
        if labels:
            assert len(labels) == fewest(points, taken, arc)


def fewest(points, arcs, last):
    """Over how few arcs one can come back too early by way of the last."""
    source, target, length, _ = last
    reached = {target: 0}
    for count in range(1, points + 2):
        if source in reached and reached[source] + length < 0:
            return count
        reached = reached | {
            b: min(
                [reached[a] + far for a, other, far, _ in arcs if other == b and a in reached]
                + [reached.get(b, NO_WAY)]
            )
            for _, b, _, _ in arcs
        }
        reached = {point: far for point, far in reached.items() if far < NO_WAY // 2}
    return None


@pytest.mark.parametrize("seed", range(20))
def test_a_trial_and_a_removal_leave_no_trace(seed):
    chance = random.Random(seed)
    network, _ = filled(chance, 8, 30)

    def all_of_it():
        return (network.place.copy(), [sorted(each) for each in network.ahead + network.behind])

    before = all_of_it()
    for number in range(30, 60):
        some = [an_arc(chance, 8, number) for _ in range(3)]
        tried = network.trouble_with(some)
        assert all_of_it() == before
        assert network.copy().admit(some) == tried
        assert all_of_it() == before


@pytest.mark.parametrize("seed", range(60))
def test_the_shortest_ways_are_kept_up(seed):
    chance = random.Random(seed)
    points = chance.randint(1, 15)
    network, arcs = filled(chance, points, chance.randint(0, 60))
    reach = Reach.of(network)
    for number in range(100, 140):
        gone = chance.sample(arcs, min(len(arcs), chance.randint(0, 3)))
        come = [an_arc(chance, points, number) for _ in range(chance.randint(0, 3))]
        kept = [arc for arc in arcs if arc not in gone]
        after = reach.changed(gone, come)
        assert (after is None) == (not feasible(points, kept + come))
        if after is None:
            continue
        reach, arcs = after, kept + come
        graph = graph_of(points, arcs)
        for found, oracle in ((reach.out, graph), (reach.home, graph.reverse())):
            far = networkx.single_source_bellman_ford_path_length(oracle, 0)
            assert found == [far.get(point, NO_WAY) for point in range(points)]


def test_a_way_over_fewer_arcs_is_shorter_only_among_equals():
    assert length_of(3) + length_of(4) > length_of(7)
    assert length_of(3) + length_of(4) < length_of(8)
    assert days_of(length_of(-5) + length_of(-5)) == -10


def test_an_arc_from_a_point_to_itself():
    network = Network([0])
    assert network.admit([(0, 0, length_of(0), "same day")]) == ()
    assert network.admit([(0, 0, length_of(-1), "before itself")]) == ("before itself",)
