"""The same questions put to networkx: can claims all hold, what do they leave, how few reasons are there."""

from __future__ import annotations

from collections.abc import Iterable

import networkx

from catalogue.argument.timing.claims import AtLeast, Claim, Event, Instant
from catalogue.argument.timing.solving import Chronology

Graph = networkx.DiGraph
ORIGIN = "the day before the first"


def graph_of(events: Iterable[Event], claims: Iterable[Claim]) -> Graph:
    """An arc from the later to the earlier of a bound, minus its days long."""
    graph = Graph()
    graph.add_node(ORIGIN)
    moments = {event.id for event in events if event.moment}

    def node(instant: Instant | None) -> object:
        if instant is None:
            return ORIGIN
        return Instant(instant.event, "began") if instant.event in moments else instant

    bounds = [bound for claim in claims for bound in claim.bounds]
    for event in events:
        graph.add_nodes_from((event.began, event.ended))
        bounds.append(AtLeast(event.began, event.ended, 0))
    for bound in bounds:
        ends = node(bound.later), node(bound.earlier)
        least = graph.edges[ends]["weight"] if graph.has_edge(*ends) else -bound.days
        graph.add_edge(*ends, weight=min(least, -bound.days))
    return graph


def can_hold(events: Iterable[Event], claims: Iterable[Claim]) -> bool:
    """Bellman-Ford: no way round is shorter than nothing."""
    return not networkx.negative_edge_cycle(graph_of(events, claims))


def bounds_of(
    events: Iterable[Event], claims: Iterable[Claim]
) -> dict[Instant, tuple[int | None, int | None]]:
    """The first and last day of every instant by Bellman-Ford, None = open."""
    graph = graph_of(events, claims)
    latest = networkx.single_source_bellman_ford_path_length(graph, ORIGIN)
    earliest = networkx.single_source_bellman_ford_path_length(graph.reverse(), ORIGIN)
    return {
        node: (
            -earliest[node] if node in earliest else None,
            latest.get(node),
        )
        for node in graph
        if node != ORIGIN
    }


def fewest_reasons(
    events: Iterable[Event], claims: Iterable[Claim]
) -> dict[Instant, tuple[int | None, int | None]]:
    """Of every instant how many arcs the shortest explanations of its first and last day have.

    Among the arcs that lie on a shortest way the fewest are found by going level by level.
    """
    graph = graph_of(events, claims)
    counts = []
    for each in (graph.reverse(), graph):
        far = networkx.single_source_bellman_ford_path_length(each, ORIGIN)
        tight = Graph()
        tight.add_node(ORIGIN)
        tight.add_edges_from(
            (a, b) for a, b, w in each.edges(data="weight") if a in far and far[a] + w == far[b]
        )
        counts.append(networkx.single_source_shortest_path_length(tight, ORIGIN))
    return {
        node: (counts[0].get(node), counts[1].get(node)) for node in graph if node != ORIGIN
    }


def standing(chronology: Chronology) -> list[Claim]:
    return [claim for claim in chronology.claims if claim not in chronology.aside]


def windows(chronology: Chronology) -> dict[Instant, tuple[int | None, int | None]]:
    """What a chronology leaves, as numbers of days."""
    found = {}
    for event in chronology.events:
        for instant in (event.began, event.ended):
            window = chronology.window(instant)
            found[instant] = (
                window.earliest.ordinal if window.earliest else None,
                window.latest.ordinal if window.latest else None,
            )
    return found


def reasons(chronology: Chronology) -> dict[tuple[Instant, str], tuple[str, ...]]:
    """Every chain of reasons, by keys."""
    return {
        (instant, bound): tuple(link.claim.key for link in chronology.why(instant, bound))
        for event in chronology.events
        for instant in (event.began, event.ended)
        for bound in ("earliest", "latest")
    }
