"""What lies over what: levels, bearers, and records that go round in a circle."""

import random
from dataclasses import replace

import networkx as nx
import pytest

from catalogue.argument.stratigraphy import PAINTING, Over, stratigraphy
from catalogue.measure import Day
from catalogue.record import Inscription, Part, PriorRepair, Step, Treatment, Work, new_id
from catalogue.record.condition import ConditionCheck, Finding, Observation
from catalogue.record.location import Location


def mark(number, *over, across=(), part=None, own=None):
    return Inscription(
        id=own or new_id(), number=f"I{number}", kind="inscription/label", face="face/back",
        lies_over=over, across=across, part=part,
    )  # fmt: skip


def test_a_label_over_a_label_lies_one_level_higher():
    first = mark(1)
    found = stratigraphy(Work(inscriptions=(first, mark(2, first.id))))
    assert [(bed.called, found.level[bed.id]) for bed in found.beds] == [
        ("", 0), ("I1", 1), ("I2", 2),
    ]  # fmt: skip


def test_a_repair_a_join_and_a_step_each_say_what_came_first():
    stretcher = Part(kind="part/stretcher")
    label = mark(1)
    patch = PriorRepair(number="R1", kind="repair/patch", covers=(label.id,))
    across = mark(2, across=(patch.id, stretcher.id), part=stretcher.id)
    off = Step(order=3, kind="step/patch", removes=(patch.id,))
    found = stratigraphy(
        Work(
            parts=(stretcher,), inscriptions=(label, across), repairs=(patch,),
            treatments=(Treatment(number="T1", steps=(off,)),),
        )
    )  # fmt: skip
    assert set(found.overs) == {
        Over(patch.id, label.id, "covers"), Over(across.id, patch.id, "across"),
        Over(across.id, stretcher.id, "across"), Over(off.id, patch.id, "removes"),
    }  # fmt: skip
    assert found.bed(off.id).called == "T1.3"
    assert found.bed(across.id).bearer == stretcher.id
    for each in found.overs:
        assert found.level[each.upper] > found.level[each.lower]


def test_parts_stand_side_by_side_each_with_what_is_on_it():
    stretcher, frame = Part(kind="part/stretcher"), Part(kind="part/frame")
    unused = Part(kind="part/backing-board")
    marks = mark(1, part=stretcher.id), mark(2, part=frame.id), mark(3)
    found = stratigraphy(Work(parts=(stretcher, frame, unused), inscriptions=marks))
    bearers = [bed.id for bed in found.beds if bed.bearer is None]
    assert set(bearers) == {PAINTING, stretcher.id, frame.id}
    assert [found.bed(each.id).bearer for each in marks] == [stretcher.id, frame.id, PAINTING]


def test_a_step_stands_where_what_it_touched_stands():
    stretcher = Part(kind="part/stretcher")
    patch = PriorRepair(
        number="R1", kind="repair/patch",
        location=Location(face="face/back", part=stretcher.id),
    )  # fmt: skip
    off = Step(order=1, kind="step/patch", removes=(patch.id,))
    found = stratigraphy(
        Work(parts=(stretcher,), repairs=(patch,), treatments=(Treatment(steps=(off,)),))
    )
    assert found.bed(off.id).bearer == stretcher.id


def test_a_step_that_covers_a_finding_alone_lies_over_nothing_here():
    check = ConditionCheck(
        occasion="occasion/periodic", on=Day(2026, 3, 1), by=f"party/{new_id()}"
    )
    seen = (Observation(check=check.id),)
    tear = Finding(number="F1", kind="damage/tear", layer="layer/support", observations=seen)
    step = Step(order=1, kind="step/patch", covers=(tear.id,))
    found = stratigraphy(
        Work(checks=(check,), findings=(tear,), treatments=(Treatment(steps=(step,)),))
    )
    assert found.beds == ()


def test_an_empty_record_has_no_beds():
    assert stratigraphy(Work()).beds == ()


@pytest.mark.parametrize("size", [2, 3, 7])
def test_a_circle_is_told_and_the_rest_keeps_its_levels(size):
    ids = [new_id() for _ in range(size)]
    ring = [mark(n + 1, ids[(n + 1) % size], own=own) for n, own in enumerate(ids)]
    above = mark(size + 1, ids[0])
    found = stratigraphy(Work(inscriptions=(*ring, above)))
    assert [set(each) for each in found.circles] == [set(ids)]
    assert len(found.against) == 1
    assert found.level[above.id] > found.level[ids[0]]


def test_two_circles_are_two():
    a, b, c, d = (new_id() for _ in range(4))
    found = stratigraphy(
        Work(
            inscriptions=(
                mark(1, b, own=a),
                mark(2, a, own=b),
                mark(3, d, own=c),
                mark(4, c, a, own=d),
            )
        )
    )
    assert [set(each) for each in found.circles] == [{a, b}, {c, d}]


def random_work(chance, marks, overs):
    ids = [new_id() for _ in range(marks)]
    over = {each: set() for each in ids}
    for _ in range(overs):
        upper, lower = chance.sample(ids, 2)
        over[upper].add(lower)
    return Work(
        inscriptions=tuple(mark(n, *over[each], own=each) for n, each in enumerate(ids, 1))
    )


@pytest.mark.parametrize("seed", range(200))
def test_circles_and_levels_agree_with_networkx(seed):
    """Outside check: strongly connected components and longest paths of networkx."""
    chance = random.Random(seed)
    found = stratigraphy(random_work(chance, chance.randint(2, 14), chance.randint(0, 24)))
    graph = nx.DiGraph()
    graph.add_nodes_from(bed.id for bed in found.beds if bed.bearer)
    graph.add_edges_from((each.lower, each.upper) for each in found.overs)
    rings = {
        frozenset(each) for each in nx.strongly_connected_components(graph) if len(each) > 1
    }
    assert {frozenset(each) for each in found.circles} == rings
    assert bool(found.against) == bool(rings)
    graph.remove_edges_from((each.lower, each.upper) for each in found.against)
    assert nx.is_directed_acyclic_graph(graph)
    for number, generation in enumerate(nx.topological_generations(graph), 1):
        assert all(found.level[each] == number for each in generation)


def test_no_statement_is_set_aside_that_could_stand_with_the_rest():
    chance = random.Random(4)
    for _ in range(100):
        found = stratigraphy(random_work(chance, 8, 18))
        kept = nx.DiGraph((e.upper, e.lower) for e in found.overs if e not in found.against)
        for each in found.against:
            assert nx.has_path(kept, each.lower, each.upper)


def test_a_deep_pile_is_no_trouble():
    labels = [mark(1)]
    for number in range(2, 3000):
        labels.append(mark(number, labels[-1].id))
    bottom = replace(labels[0], lies_over=(labels[-1].id,))
    found = stratigraphy(Work(inscriptions=(bottom, *labels[1:])))
    assert len(found.circles) == 1
    assert max(found.level.values()) == len(labels)
