"""Shapes and record rules say the same: what a record can be conforms, what its rules forbid is reported."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from functools import cache

import pytest
import rdflib
from damaged import (
    Node,
    all_twice,
    documents,
    first,
    nodes,
    other_classes,
    other_sorts,
    typed,
    without_words,
)
from forced import NOBODY, forbidden, forced
from hypothesis import HealthCheck, Phase, given, settings
from made_records import ARTIST, CLIENT, full_job, full_work, records
from rdflib.namespace import SH

from catalogue.checking.shapes import SHAPE, Fault, faults, shapes
from catalogue.errors import BadData
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.measure import DateSpan, Day
from catalogue.record import VALUES, Reference, Work

CANNOT_BE_SEEN = {
    "Party.kind": "the kind of a party is the type of its node: what is neither is written as a group",
    "Inscription.part": "an inscription stands within its part: on one that is not there it stands nowhere",
    "Transcript.markup": "a reading that says nothing is a reading: nothing could be read",
}
"""What the rules of a field forbid and a graph cannot show, each with the reason."""


@cache
def found_in_forced(kind: type) -> tuple[tuple[str, ...], frozenset[str]]:
    """What was forbidden in one kind of value and went unreported, and the shapes that reported."""
    wanted = [
        each
        for each in forbidden(kind)
        if f"{kind.__name__}.{each.field}" not in CANNOT_BE_SEEN
    ]
    missed, seen = [], set()
    for each in forced(kind, wanted):
        found = faults(to_jsonld(each.record))
        seen |= {fault.shape for fault in found}
        places = {fault.value for fault in found}
        missed += [str(one) for one, ids in each.within.items() if not ids & places]
    return tuple(missed), frozenset(seen)


KINDS = [kind for kind in VALUES if kind is not Reference]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_what_the_rules_of_a_field_forbid_is_reported_at_its_value(kind):
    missed, _ = found_in_forced(kind)
    assert missed == ()


@pytest.mark.parametrize(
    "record",
    [full_work(), full_job(full_work()), ARTIST, CLIENT],
    ids=lambda it: type(it).__name__,
)
def test_a_full_record_conforms(record):
    assert faults(to_jsonld(record)) == ()


@settings(
    max_examples=12,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.generate],
)
@given(records)
def test_whatever_a_record_can_be_conforms(record):
    assert faults(to_jsonld(record)) == ()


def test_years_before_the_first_and_after_9999_conform():
    span = DateSpan(
        written="?", edtf="?", earliest=Day(-43, 3, 15), latest=Day(12026, 1, 1), rule="made up"
    )
    assert faults(to_jsonld(Work(made=span))) == ()


def test_the_form_that_a_reference_made_by_hand_has_conforms():
    here = Reference(
        address="https://museum.example/7", types=("Place",), labels=("Garrow Quay",)
    )
    assert faults(to_jsonld(here)) == ()


def test_what_somebody_else_says_as_well_is_no_fault():
    document = to_jsonld(full_work())
    document["classified_as"].append({"id": "https://museum.example/marine", "type": "Type"})
    document["member_of"] = [{"id": "https://museum.example/set/1", "type": "Set"}]
    assert faults(document) == ()


# --- damage that no record could have -------------------------------------------------------------

DAMAGE: tuple[Callable[[Node], None], ...] = (
    without_words,
    all_twice,
    other_sorts,
    other_classes,
)


@cache
def found_in_damage(damage: Callable[[Node], None]) -> frozenset[str]:
    seen = set()
    for document in documents():
        damage(document)
        seen |= {fault.shape for fault in faults(document)}
    return frozenset(seen)


def _set(kind: str, key: str, value: object) -> Callable[[Node], None]:
    def damage(document: Node) -> None:
        typed(document, kind, key)[key] = value

    return damage


def _drop(kind: str, key: str) -> Callable[[Node], None]:
    def damage(document: Node) -> None:
        del typed(document, kind, key)[key]

    return damage


def _evidence(document: Node, **more: object) -> None:
    oral = first(document, lambda each: str(each.get("content")) == "the client's aunt")
    evidence = first(document, lambda each: oral in each.get("referred_to_by", []))
    evidence.update(more)


def _none_cited_after_all(document: Node) -> None:
    none = {"id": "https://dorse.example/ns/1#evidence/none-cited", "type": "Type"}
    _evidence(document, classified_as=[none])


def _over_itself(document: Node) -> None:
    text = typed(document, "LinguisticObject", "lies_over")
    text["lies_over"] = [{"id": text["id"]}]


def _across_itself(document: Node) -> None:
    text = typed(document, "LinguisticObject", "runs_across")
    text["runs_across"].append({"id": text["id"]})


def _two_shown_first(document: Node) -> None:
    text = first(
        document, lambda each: len(each.get("referred_to_by", [])) == 3 and "shown_in" in each
    )
    for each in text["referred_to_by"]:
        each["preferred"] = True


def _batch(document: Node, change: Callable[[Node], None]) -> None:
    change(first(document, lambda each: "expires_on" in each))


def _ended_and_never_began(document: Node) -> None:
    step = first(document, lambda each: "ended_at" in each)
    del step["timespan"]["begin_of_the_begin"]


def _clock_without_a_day(document: Node) -> None:
    step = first(document, lambda each: "ended_at" in each)
    del step["timespan"]["end_of_the_end"]


def _unknown_word(document: Node) -> None:
    finding = typed(document, "PhysicalFeature", "condition")
    finding["classified_as"].append(
        {"id": "https://dorse.example/ns/1#damage/teer", "type": "Type"}
    )


def _identifiers(document: Node, type_: str, *keep: str) -> None:
    here = first(document, lambda each: each.get("type") == type_ and "identified_by" in each)
    here["identified_by"] = [
        each for each in here["identified_by"] if str(each["id"]).endswith(keep or ("nothing",))
    ]


def _ends_before(document: Node) -> None:
    step = first(document, lambda each: "ended_at" in each)
    step["timespan"]["end_of_the_end"] = "2020-01-01T23:59:59Z"


def _repair(document: Node, key: str) -> None:
    del first(document, lambda each: "adhesive" in each)[key]


def _without_an_artist(document: Node) -> None:
    said = first(
        document, lambda each: each.get("assigned_property") == "part" and each.get("preferred")
    )
    del said["assigned"][0]["carried_out_by"]


def _move(document: Node) -> None:
    move = first(document, lambda each: each.get("type") == "Move" and "moved_to" not in each)
    move.pop("referred_to_by", None)
    move.pop("participant", None)


def _role(document: Node) -> None:
    del first(document, lambda each: each.get("type") == "Acquisition")["transferred_title_to"]


def _region(document: Node) -> None:
    first(document, lambda each: each.get("type") == "FragmentSelector")["value"] = "here"


def _photo_elsewhere(document: Node) -> None:
    for each in nodes(document):
        if "source" in each:
            each["source"]["id"] = f"#{NOBODY}"


def _address(document: Node) -> None:
    first(document, lambda each: "took_place_at" in each)["took_place_at"] = []


def _unnamed(document: Node) -> None:
    document["identified_by"] = []


def _left_before_it_came(document: Node) -> None:
    typed(document, "Activity", "left_on")["left_on"] = "2020-01-01"


def _nobody_released(document: Node) -> None:
    del typed(document, "LinguisticObject", "released_text")["released_by"]


def _price(document: Node) -> None:
    del typed(document, "MonetaryAmount", "currency")["currency"]


def _by_two(document: Node, assigns: str) -> None:
    """Let two people have seen a state, or measured, at once."""
    said = first(
        document,
        lambda each: (
            each.get("type") == "AttributeAssignment"
            and assigns in each
            and each.get(assigns) != "part"
        ),
    )
    said["carried_out_by"] = [{"id": f"party/{NOBODY}"}, {"id": f"party/{ARTIST.id}"}]


def _out_of_place(document: Node) -> None:
    word = {"id": "https://dorse.example/ns/1#seen/unknown", "type": "Type"}
    typed(document, "Activity", "participant")["classified_as"].append(word)


def _english(document: Node) -> None:
    for each in typed(document, "Name", "language")["language"]:
        each["id"] = "https://dorse.example/ns/1#language/English_"


def _no_step(document: Node) -> None:
    first(document, lambda each: "order" in each and "technique" in each)["type"] = "Set"


WORK, JOB, PERSON = 0, 1, 2
BY_HAND = {
    # the shape that must speak: which document, and what is done to it
    "evidence-none": (WORK, _none_cited_after_all),
    "evidence-says": (WORK, lambda it: _evidence(it, referred_to_by=[])),
    "bearer-over": (WORK, _over_itself),
    "bearer-across": (WORK, _across_itself),
    "inscription-preferred": (WORK, _two_shown_first),
    "batch-strength": (WORK, lambda it: _batch(it, lambda batch: batch.pop("dimension"))),
    "step-begin": (WORK, _ended_and_never_began),
    "step-clock": (WORK, _ended_and_never_began),
    "step-end-clock": (WORK, _clock_without_a_day),
    "span-order": (WORK, _ends_before),
    "Term": (WORK, _unknown_word),
    "photo-file": (
        WORK,
        lambda it: _identifiers(it["representation"][0], "DigitalObject", "/photo"),
    ),
    "TextsAndPapers": (WORK, lambda it: _identifiers(it, "DigitalObject", "/title")),
    "repair-adhesive-named": (WORK, lambda it: _repair(it, "adhesive")),
    "attribution-artist": (WORK, _without_an_artist),
    "MoveSaysWhere": (WORK, _move),
    "event-parts": (WORK, _role),
    "region-outline": (WORK, _region),
    "region-photo": (WORK, _photo_elsewhere),
    "price-whole": (WORK, _price),
    "sighting-by": (WORK, lambda it: _by_two(it, "assigned_property")),
    "size-by": (WORK, lambda it: _by_two(it["dimension"][0], "technique")),
    "exhibition-words": (WORK, _out_of_place),
    "mirrored": (
        WORK,
        lambda it: typed(it, "DigitalObject", "mm_per_pixel").update(mirrored="much"),
    ),
    "treatment-steps": (WORK, _no_step),
    "Language": (WORK, _english),
    "ReleasedBy-whole": (WORK, _nobody_released),
    "bearer-place": (WORK, _drop("HumanMadeObject", "occupies")),
    "relation-to": (WORK, lambda it: it["attributed_by"][0].pop("assigned")),
    "party-addresses": (PERSON, _address),
    "Parties": (PERSON, _unnamed),
    "stay-order": (JOB, _left_before_it_came),
    "stay-work": (JOB, _drop("Activity", "used_specific_object")),
}


KEPT = {"@context", "id", "type", "classified_as"}
WITH = {"region-photo": {"representation"}}
"""What must be there beside what was damaged, so that only the damage is at fault."""


@cache
def found_by_hand(name: str) -> frozenset[str]:
    """What the shapes say of the part of a document that was damaged, and did not say before."""
    which, damage = BY_HAND[name]
    before, after = documents()[which], documents()[which]
    damage(after)
    changed = {key for key in after if after[key] != before[key]} | KEPT | WITH.get(name, set())
    seen = [
        {
            fault.shape
            for fault in faults({key: held for key, held in it.items() if key in changed})
        }
        for it in (before, after)
    ]
    return frozenset(seen[1] - seen[0])


@pytest.mark.parametrize("name", BY_HAND)
def test_rules_over_several_values_are_reported(name):
    wanted = "released-by" if name == "ReleasedBy-whole" else name
    assert wanted in found_by_hand(name)


def _twice_at_one_check(document: Node) -> None:
    states = typed(document, "PhysicalFeature", "condition")["condition"]
    states[1]["condition_identified_by"] = states[0]["condition_identified_by"]


def _two_in_one_place(document: Node) -> None:
    first(document, lambda each: each.get("order") == 2)["order"] = 1


def _related_to_itself(document: Node) -> None:
    document["attributed_by"][0]["assigned"][0]["id"] = document["id"]


def _flat_region(document: Node) -> None:
    first(document, lambda each: each.get("type") == "FragmentSelector")["value"] = (
        "xywh=pixel:1,1,0,9"
    )


def _covers_itself(document: Node) -> None:
    repair = first(document, lambda each: "adhesive" in each)
    repair["covers"] = [{"id": repair["id"]}]


def _rests_on_itself(document: Node) -> None:
    book = first(document, lambda each: "illustrated" in each)
    book["attributed_by"][0]["motivated_by"] = [{"id": book["id"]}]


ONLY_THE_RECORD_SEES = {
    "a graph says once what is said twice": (
        _twice_at_one_check,
        "one check has one observation",
    ),
    "a shape cannot compare siblings": (_two_in_one_place, "cannot have one place in order"),
    "a shape cannot name the node it looks at": (_related_to_itself, "this very painting"),
    "nor a repair, whatever else it covers": (_covers_itself, "cannot lie over itself"),
    "nor a text, whatever else it rests on": (_rests_on_itself, "cannot rest on itself"),
    "a shape does not reckon": (_flat_region, "must enclose an area"),
}
"""Rules over several values that no shape of ours can say, and how the record refuses to be read."""


@pytest.mark.parametrize("why", ONLY_THE_RECORD_SEES)
def test_what_no_shape_can_say_the_record_refuses(why):
    damage, said = ONLY_THE_RECORD_SEES[why]
    document = documents()[WORK]
    damage(document)
    with pytest.raises(BadData, match=said):
        from_jsonld(document)


def _speaking() -> set[str]:
    """The shapes that can report: those with a message."""
    return {str(shape).removeprefix(SHAPE) for shape in shapes().subjects(SH.message)}


def test_every_shape_has_an_example_that_it_reports():
    seen = {shape for kind in KINDS for shape in found_in_forced(kind)[1]}
    seen |= {shape for damage in DAMAGE for shape in found_in_damage(damage)}
    seen |= {shape for name in BY_HAND for shape in found_by_hand(name)}
    assert _speaking() - seen == set()


def test_every_shape_that_reports_says_how_bad_and_what_to_do():
    graph = shapes()
    for shape in graph.subjects(SH.message):
        assert isinstance(shape, rdflib.URIRef)
        said = str(graph.value(shape, SH.message))
        assert graph.value(shape, SH.severity) in (SH.Violation, SH.Warning), shape
        assert said.endswith("."), said
        assert said[0].isupper() or said[0] == "'", said


def test_no_shape_is_written_for_nothing():
    """A shape that reports is aimed at something, or taken up by one that is."""
    graph = shapes()
    for shape in graph.subjects(SH.message):
        aimed = any(
            graph.value(shape, key)
            for key in (SH.targetClass, SH.targetNode, SH.targetObjectsOf, SH.targetSubjectsOf)
        )
        assert aimed or graph.value(predicate=SH.property, object=shape), shape


def test_a_fault_says_where():
    document = to_jsonld(full_work())
    _unknown_word(document)
    finding = typed(document, "PhysicalFeature", "condition")["id"][1:]
    here = [fault for fault in faults(document) if fault.value == finding]
    assert [(fault.shape, fault.missing, fault.mild) for fault in here] == [
        ("finding-words", False, False)
    ]


def test_an_address_that_leads_nowhere_is_no_silent_loss():
    document = to_jsonld(full_job(full_work()))
    document["client"] = [{"id": "Mrs Quillan", "type": "Actor"}]
    assert [fault.says.partition(".")[0] for fault in faults(document)] == [
        "'Mrs Quillan' is no address"
    ]


def test_nothing_is_changed_by_looking():
    document = to_jsonld(full_work())
    before = deepcopy(document)
    faults(document)
    assert document == before


def test_faults_are_values_in_order():
    document = documents()[WORK]
    without_words(document)
    found = faults(document)
    assert list(found) == sorted(set(found))
    assert all(isinstance(fault, Fault) for fault in found)
