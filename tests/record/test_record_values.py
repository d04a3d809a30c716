"""Wrong values are impossible: each is refused with its field, what it was given, and the rule."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_records import full_work

from catalogue.errors import BadData
from catalogue.measure import Day, read_date
from catalogue.record import (
    Citation,
    ConditionCheck,
    Content,
    Departure,
    Evidence,
    Finding,
    Hours,
    Inquiry,
    Inscription,
    Layer,
    Location,
    MaterialUse,
    Movement,
    Observation,
    Outlay,
    Override,
    Paper,
    Part,
    PartyRole,
    Photo,
    Piece,
    PlannedStep,
    Price,
    PriorRepair,
    Proposal,
    ProvenanceEvent,
    Relation,
    Response,
    Risk,
    Statement,
    Step,
    Treatment,
    Work,
    dangling,
    new_id,
)
from catalogue.record import (
    Test as SpotTest,
)
from catalogue.surface import Shape
from catalogue.terms import group

SOMEBODY = "party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01"
PRICE = {
    "kind": "statement/money", "written": "12 gns", "transcript": new_id(), "start": 4, "end": 10,
    "standing": "standing/accepted",
}  # fmt: skip
CITED = (Evidence(kind="evidence/none-cited"),)

REFUSED = {
    # Ranges of sizes, temperatures and acidity follow the field tables of the trade sheet
    # (common practice, no source).
    "a location without a term": (Location, {"face": "back"}, "Location.face"),
    "degrees of a whole turn": (Location, {"face": "face/back", "orientation": 360}, "0 and 359"),
    "a tolerance below nothing": (
        Location, {"face": "face/back", "tolerance_mm": -1}, "Location.tolerance_mm",
    ),
    "a finding of no layer of ours": (
        Finding, {"layer": "layer/skin", "kind": "damage/tear", "observations": ()}, "Finding.layer",
    ),
    "a finding that nobody saw": (
        Finding, {"layer": "layer/paint", "kind": "damage/tear", "observations": ()}, "some check",
    ),
    "a length of nothing": (Observation, {"check": new_id(), "length_mm": 0}, "length_mm"),
    "a length in words": (Observation, {"check": new_id(), "length_mm": "62"}, "it is a text"),
    "a gap below nothing": (Observation, {"check": new_id(), "gap_mm": -0.1}, "gap_mm"),
    "a half damage": (Observation, {"check": new_id(), "count": 1.5}, "Observation.count"),
    "a severity of another scale": (
        Observation, {"check": new_id(), "severity": "extent/general"}, "Observation.severity",
    ),
    "an observation at no check": (Observation, {"check": "K1"}, "an id is a UUID"),
    "humidity over a hundred": (
        ConditionCheck,
        {"occasion": "occasion/incoming", "on": Day(2026, 3, 2), "by": SOMEBODY,
         "humidity_percent": 101},
        "humidity_percent",
    ),
    "a check by a work": (
        ConditionCheck,
        {"occasion": "occasion/incoming", "on": Day(2026, 3, 2), "by": "work/" + new_id()},
        "expected party/<uuid>",
    ),
    "an adhesive's proof without one": (
        PriorRepair, {"kind": "repair/tape", "adhesive_basis": "basis/tested"}, "name the adhesive",
    ),
    "a strength without its basis": (
        MaterialUse, {"material": "material/water", "concentration_percent": 5}, "go together",
    ),
    "a basis without a strength": (
        MaterialUse, {"material": "material/water", "basis": "concentration/v-v"}, "go together",
    ),
    "a statement that ends before it begins": (Statement, {**PRICE, "end": 4}, "behind the start"),
    "a statement before the first letter": (Statement, {**PRICE, "start": -1}, "Statement.start"),
    "a statement in no letters": (Statement, {**PRICE, "written": " "}, "Statement.written"),
    "a statement of a kind of ours for marks": (
        Statement, {**PRICE, "kind": "inscription/price"}, "Statement.kind",
    ),
    "a statement that is to be kept, as a repair is": (Statement, {**PRICE, "standing": "decision/keep"}, "Statement.standing"),
    "a correction that says nothing": (
        Statement, {**PRICE, "standing": "standing/corrected"}, "says what is right",
    ),
    "more than all of it": (
        MaterialUse,
        {"material": "material/water", "concentration_percent": 100.5, "basis": "concentration/v-v"},
        "0 and 100",
    ),
    "an acidity off the scale": (SpotTest, {"kind": "test/ph", "ph": 14.1}, "0 and 14"),
    "a response that says nothing": (Response, {"layer": "layer/paint", "seen": ()}, "if only nothing"),
    "a step before the first": (Step, {"order": 0, "kind": "step/varnish"}, "Step.order"),
    "a step that ends before it starts": (
        Step,
        {"order": 1, "kind": "step/varnish", "began": Day(2026, 4, 3), "ended": Day(2026, 4, 2)},
        "it began 2026-04-03",
    ),
    "a step that ends an hour before it starts": (
        Step,
        {"order": 1, "kind": "step/varnish", "began": Day(2026, 4, 3), "began_at": "10:00",
         "ended": Day(2026, 4, 3), "ended_at": "09:00"},
        "it began 2026-04-03 10:00",
    ),
    "a step that ends and never began": (
        Step, {"order": 1, "kind": "step/varnish", "ended": Day(2026, 4, 2)}, "when it began",
    ),
    "a time without a day": (
        Step, {"order": 1, "kind": "step/varnish", "began_at": "09:30"}, "needs its day",
    ),
    "a time that is none": (
        Step,
        {"order": 1, "kind": "step/varnish", "began": Day(2026, 4, 2), "began_at": "24:30"},
        "09:30",
    ),
    "heat that would burn it": (
        Step, {"order": 1, "kind": "step/varnish", "set_temperature_c": 900}, "-50 and 400",
    ),
    "nobody in a role": (PartyRole, {"role": "capacity/owner"}, "on file or in words"),
    "an amount of no currency": (Price, {"written": "12", "amount": 12}, "needs its currency"),
    "evidence that cites nothing": (Evidence, {"kind": "evidence/inscription"}, "say what it is"),
    "none cited, yet cited": (
        Evidence, {"kind": "evidence/none-cited", "text": "a label"}, "cited after all",
    ),
    "an event that rests on nothing": (
        ProvenanceEvent, {"kind": "provenance/sale", "evidence": ()}, "none cited",
    ),
    "a place that is a party": (
        ProvenanceEvent,
        {"kind": "provenance/sale", "evidence": CITED, "place": SOMEBODY},
        "expected reference/<uuid>",
    ),
    "a book without words": (Citation, {"kind": "citation/book", "text": " "}, "say something"),
    "a paper that is nowhere": (Paper, {"kind": "paper/letter", "title": "A"}, "file name"),
    "a move to nowhere": (Movement, {}, "say where to"),
    "a layer below the lowest": (Layer, {"kind": "layer/paint", "position": 0}, "position"),
    "a hazard that is no code": (
        MaterialUse,
        {"material": "material/acetone", "data_sheet": Day(2026, 1, 9), "hazards": ("225",)},
        "MaterialUse.hazards",
    ),
    "precautions that run together": (
        MaterialUse,
        {"material": "material/acetone", "data_sheet": Day(2026, 1, 9), "precautions": ("P301P310",)},
        "P280",
    ),
    "a decision against no rule": (Override, {"rule": "o4", "reason": "So be it."}, "such as O4"),
    "a decision against a rule that says no why": (Override, {"rule": "O4", "reason": " "}, "reason"),
    "nothing that came with it": (Content, {"kind": "content/frame", "count": 0}, "1 and 10000"),
    "a danger of another list": (
        Risk, {"kind": "damage/mould", "answer": "answer/yes"}, "Risk.kind",
    ),
    "a danger that was settled and was none": (
        Risk,
        {"kind": "risk/mould", "answer": "answer/no", "settled": Day(2026, 3, 9), "settled_how": "Gone."},
        "was not a yes",
    ),
    "a danger that was settled nobody knows how": (
        Risk, {"kind": "risk/mould", "answer": "answer/yes", "settled": Day(2026, 3, 9)}, "how",
    ),
    "a bag that is kept and gone": (
        Piece,
        {"work": f"work/{new_id()}", "kind": "piece/label", "what": "A label", "gone": Day(2026, 3, 9)},
        "still kept",
    ),
    "a bag that went before it was filled": (
        Piece,
        {"work": f"work/{new_id()}", "kind": "piece/label", "what": "A label",
         "taken": Day(2026, 3, 9), "gone": Day(2026, 3, 8), "state": "piece-state/returned"},
        "taken off on 2026-03-09",
    ),
    "a bag of somebody's": (
        Piece, {"work": SOMEBODY, "kind": "piece/label", "what": "A label"}, "expected work/<uuid>",
    ),
    "hours below nothing": (Hours, {"on": Day(2026, 3, 9), "hours": -1}, "0 and 10000"),
    "money below nothing": (
        Outlay, {"on": Day(2026, 3, 9), "what": "Film", "amount": -1}, "Outlay.amount",
    ),
    "a departure that says nothing": (Departure, {"on": Day(2026, 3, 9), "what": ""}, "say something"),
    "a planned step that points at a number": (
        PlannedStep, {"order": 1, "kind": "step/patch", "covers": ("I1",)}, "an id is a UUID",
    ),
    "a proposal numbered as a repair": (Proposal, {"number": "R1"}, "Q1"),
    "a photo about a number": (Photo, {"file_name": "a.jpg", "about": ("F1",)}, "Photo.about"),
}  # fmt: skip


@pytest.mark.parametrize(("kind", "said", "rule"), REFUSED.values(), ids=REFUSED)
def test_it_is_refused_with_its_field_and_the_rule(kind, said, rule):
    with pytest.raises(BadData, match=kind.__name__) as refused:
        kind(**said)
    assert rule in str(refused.value)


@pytest.mark.parametrize(
    ("kind", "corners", "rule"),
    [
        ("area", ((0, 0), (10, 10), (10, 0), (0, 10)), "crosses itself"),
        ("area", ((0, 0), (10, 0), (20, 0)), "encloses something"),
        ("area", ((0, 0), (10, 0)), "3 to 500 corners"),
        ("line", ((5, 5), (5, 5)), "some length"),
        ("point", ((1, 1), (2, 2)), "1 to 1 corners"),
        ("line", ((0, 0), (float("nan"), 1)), "off any painting"),
        ("blob", ((0, 0),), "none of point, line, area"),
    ],
)
def test_a_shape_that_is_none_is_refused(kind, corners, rule):
    with pytest.raises(ValueError, match=rule):
        Shape(kind, corners)


def test_two_observations_of_one_finding_at_one_check_are_refused():
    check = new_id()
    with pytest.raises(BadData, match="one check has one observation"):
        Finding(
            layer="layer/paint",
            kind="damage/loss",
            observations=(Observation(check=check), Observation(check=check)),
        )


def test_two_steps_cannot_have_one_place_in_order():
    step = Step(order=1, kind="step/varnish")
    with pytest.raises(BadData, match="one place in order"):
        Treatment(steps=(step, replace(step, id=new_id())))


def test_an_observation_at_a_check_that_is_not_here_is_refused():
    seen = Finding(
        layer="layer/paint", kind="damage/loss", observations=(Observation(check=new_id()),)
    )
    with pytest.raises(BadData, match="no such condition check here"):
        Work(findings=(seen,))


def test_a_painting_is_no_part_of_itself():
    work = Work()
    with pytest.raises(BadData, match="this very painting"):
        replace(work, relations=(Relation(kind="relation/part-of", to=work.document),))


def test_two_checks_on_one_day_are_kept_in_the_order_of_their_numbers():
    day = {"on": Day(2026, 3, 2), "by": SOMEBODY}
    second = ConditionCheck(number="K2", occasion="occasion/after-treatment", **day)
    first = ConditionCheck(number="K1", occasion="occasion/incoming", **day)
    work = Work(checks=(second, first))
    assert [check.number for check in work.checks] == ["K1", "K2"]


def test_what_points_at_nothing_is_kept_and_said():
    elsewhere = new_id()
    step = Step(order=1, kind="step/varnish", covers=(elsewhere,))
    work = Work(treatments=(Treatment(steps=(step,)),))
    (open_question,) = dangling(work)
    assert (open_question.owner, open_question.field, open_question.target) == (
        step, "covers", elsewhere,
    )  # fmt: skip


def test_nothing_lies_over_itself_runs_across_itself_or_rests_on_itself():
    own = new_id()
    for wrong in (
        lambda: Inscription(
            id=own, kind="inscription/label", face="face/back", lies_over=(own,)
        ),
        lambda: Inscription(id=own, kind="inscription/stamp", face="face/back", across=(own,)),
        lambda: PriorRepair(id=own, kind="repair/tape", covers=(own,)),
        lambda: Citation(
            id=own,
            kind="citation/book",
            text="A book",
            evidence=(Evidence(kind="evidence/citation", source=own),),
        ),
    ):
        with pytest.raises(BadData, match="itself"):
            wrong()


def test_a_label_may_lie_over_a_repair_and_a_repair_over_a_repair():
    patch = PriorRepair(kind="repair/paper-patch")
    tape = PriorRepair(kind="repair/tape", covers=(patch.id,))
    stretcher = Part(kind="part/stretcher", fitted=read_date("c. 1936"))
    label = Inscription(
        kind="inscription/label",
        face="face/stretcher-bar",
        lies_over=(tape.id,),
        across=(tape.id, stretcher.id),
    )
    work = Work(parts=(stretcher,), inscriptions=(label,), repairs=(patch, tape))
    assert list(dangling(work)) == []
    photo = Photo(file_name="back.jpg")
    odd = replace(label, lies_over=(photo.id,), across=())
    (pointer,) = dangling(replace(work, inscriptions=(odd,), photos=(photo,)))
    assert (pointer.field, pointer.target) == ("lies_over", photo.id)


def test_an_inquiry_stays_in_the_house_until_somebody_says_otherwise():
    """A seller's identity may be part of it (trade sheet US-30)."""
    asked = Inquiry(
        number="S1", kind="inquiry/seller-identity", subject="Passport of the seller"
    )
    assert asked.visibility == "visibility/studio"
    with pytest.raises(BadData, match="an inquiry's number is S1"):
        replace(asked, number="7")


def test_no_answer_to_an_inquiry_reads_as_a_judgement():
    """The tool advises: nothing it says certifies, and nothing it says accuses."""
    said = [
        word.lower()
        for name in ("inquiry", "inquiry-result")
        for each in group(name)
        for word in (each.label, each.note, *each.alternatives)
    ]
    for never in ("clear", "guarantee", "suspicious", "stolen", "authentic"):
        assert not [each for each in said if never in each]


def test_what_points_at_a_thing_of_another_kind_is_an_open_question():
    work = full_work()
    (tape,) = work.repairs
    wrong = replace(tape, covers=(work.photos[0].id,))
    assert [each.target for each in dangling(replace(work, repairs=(wrong,)))] == [
        work.photos[0].id
    ]
    assert list(dangling(work)) == []


def test_the_course_of_a_finding_goes_by_the_days_of_its_checks():
    work = full_work()
    (tear,) = work.findings
    assert [work.check_of(each).number for each in work.course(tear)] == ["K1", "K2"]


corners = st.tuples(st.integers(-50, 900), st.integers(-50, 900))


@given(st.lists(corners, min_size=2, max_size=8, unique=True))
def test_a_line_is_written_and_read_as_the_same(drawn):
    line = Shape("line", tuple(drawn))
    assert Shape.from_wkt(line.wkt()) == line


@given(st.lists(corners, min_size=3, max_size=7, unique=True))
def test_outlines_agree_with_a_plain_count_of_crossings(drawn):
    """Against every pair of edges that are no neighbours, without sorting or early end."""
    edges = list(zip(drawn, drawn[1:] + drawn[:1], strict=True))
    crossed = any(
        _meet(edges[i], edges[j])
        for i in range(len(edges))
        for j in range(i + 2, len(edges))
        if (i, j) != (0, len(edges) - 1)
    )
    try:
        Shape("area", tuple(drawn))
        refused = ""
    except ValueError as why:
        refused = str(why)
    if "encloses" not in refused:
        assert ("crosses" in refused) is crossed


def _meet(one, other):
    def turn(a, b, c):
        found = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        return (found > 0) - (found < 0)

    def within(a, b, c):
        return all(min(a[k], b[k]) <= c[k] <= max(a[k], b[k]) for k in (0, 1))

    (a, b), (c, d) = one, other
    turns = turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)
    if turns[0] != turns[1] and turns[2] != turns[3]:
        return True
    ends = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    return any(t == 0 and within(*end) for t, end in zip(turns, ends, strict=True))
