"""What the samples tell of condition, treatment and provenance: complete, possible, and in order.

The story is invented, but it has to be one that could have happened: nothing lies off its painting,
what is behind something lies behind it, and nothing was done before its day.
"""

from __future__ import annotations

from dataclasses import MISSING, fields
from datetime import date
from itertools import chain, pairwise

import pytest

from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import parse
from catalogue.places import folder
from catalogue.record import (
    Citation,
    ConditionCheck,
    Evidence,
    Exhibition,
    Finding,
    Inquiry,
    Job,
    Layer,
    Location,
    MaterialUse,
    Movement,
    Note,
    Observation,
    Paper,
    Part,
    PartyRole,
    Price,
    PriorRepair,
    ProvenanceEvent,
    Relation,
    Response,
    Step,
    Treatment,
    dangling,
)
from catalogue.record import Test as Tried
from catalogue.record.rules import values_within
from catalogue.surface import Box, Sheet, mirror, overlap_mm2

SAMPLES = folder("sample_records")
TODAY = date(2026, 11, 25).isoformat()
"""The day for which the stays were invented."""


def read(kind):
    paths = sorted((SAMPLES / kind).glob("*.json"))
    return {path.stem: from_jsonld(parse(path.read_bytes())) for path in paths}


WORKS = read("works")
JOBS: list[Job] = list(read("jobs").values())
ALL = [
    (name, value) for name, work in WORKS.items() for value in values_within(work)
]  # every value of every work, with the name of its work's file
EACH_WORK = pytest.mark.parametrize("work", [pytest.param(w, id=n) for n, w in WORKS.items()])


def of(kind):
    return [value for _, value in ALL if isinstance(value, kind)]


def steps(work):
    return [
        (f"{treatment.number}.{step.order}", step)
        for treatment in work.treatments
        for step in treatment.steps
    ]


# Every kind of value, every field ---------------------------------------------------------------

KINDS = (
    Layer, ConditionCheck, Finding, Observation, PriorRepair, Tried, Response, Treatment, Step,
    MaterialUse, Location, ProvenanceEvent, PartyRole, Price, Evidence, Exhibition, Citation,
    Inquiry, Movement, Relation, Paper,
)  # fmt: skip
NOT_IN_A_FILE = {"Paper.sha256"}
"""A record on its way in names its paper by file name; the digest comes with the file."""


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_field_is_used_somewhere(kind):
    unused = {
        f"{kind.__name__}.{each.name}"
        for each in fields(kind)
        if each.name != "id"
        and each.default is not MISSING
        and all(getattr(value, each.name) == each.default for value in of(kind))
    }
    assert unused <= NOT_IN_A_FILE


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_kind_of_value_occurs_in_several_works(kind):
    assert len({name for name, value in ALL if isinstance(value, kind)}) >= 3


def heat_set(work):
    return [step for _, step in steps(work) if step.kind == "step/patch-heat-set"]


def made_by(work, name):
    party = read("parties")[name].document
    return any(each.artist == party for each in work.attributions)


FEATURES = {
    "heat-set patches on works by one artist": lambda: any(
        heat_set(work) for work in WORKS.values() if made_by(work, "eliza-dunmarrow")
    ),
    "two formulations of one adhesive": lambda: len({
        each.formulation_year for each in of(MaterialUse) if each.material == "material/eva-adhesive"
    }) >= 2,
    "a dealer's label on a work of 1880 to 1900": lambda: any(
        work.made.earliest.iso[:4] >= "1880" and work.made.latest.iso[:4] <= "1900"
        for work in WORKS.values()
        if work.made and work.made.earliest and work.made.latest
        and any(each.kind == "inscription/dealer-label" for each in work.inscriptions)
    ),
    "still covered": lambda: sum(
        bool(each.latest() and each.latest().state == "state/covered")
        for work in WORKS.values() for each in work.inscriptions
    ) >= 2,
    "partly covered by our own patch": lambda: any(
        each.latest() and "heat-set patch" in (each.latest().covered_by or "")
        for work in WORKS.values() for each in work.inscriptions
    ),
    "not transcribed yet": lambda: any(
        not each.transcripts for work in WORKS.values() for each in work.inscriptions
    ),
    "tears that affect the picture": lambda: sum(
        finding.kind.startswith("damage/tear")
        and any(each.severity in ("severity/affecting", "severity/threatening")
                for each in finding.observations)
        for finding in of(Finding)
    ) >= 3,
    "every severity": lambda: {each.severity for each in of(Observation)} >= {
        f"severity/{each}" for each in ("trace", "visible", "affecting", "threatening")
    },
    "grown, shrunk, treated": lambda: {each.change for each in of(Observation)} >= {
        f"change/{each}" for each in ("new", "unchanged", "grown", "shrunk", "treated")
    },
    "repairs of every usual kind": lambda: {each.kind for each in of(PriorRepair)} >= {
        f"repair/{each}"
        for each in ("tape", "fabric-patch", "glue-paste-lining", "overpaint", "retouch", "fill")
    },
    "repairs kept, removed and undecided": lambda: {each.decision for each in of(PriorRepair)} >= {
        f"decision/{each}" for each in ("keep", "remove", "reduce", "replace", "undecided")
    },
    "every result of a test": lambda: {each.result for each in of(Tried)} >= {
        f"result/{each}" for each in ("safe", "conditional", "unsafe", "inconclusive")
    },
    "a treatment with a mend of threads": lambda: any(
        step.kind == "step/thread-by-thread-mend" and step.began for step in of(Step)
    ),
    "a departure from the plan": lambda: any(step.departures for step in of(Step)),
    "planned and not begun": lambda: any(step.began is None for step in of(Step)),
    "begun and not ended": lambda: any(step.began and not step.ended for step in of(Step)),
    "two checks on one day": lambda: any(
        len({each.on for each in work.checks}) < len(work.checks) for work in WORKS.values()
    ),
    "a stated gap": lambda: any(each.passage == "passage/gap" for each in of(ProvenanceEvent)),
    "bought in": lambda: any(each.kind == "provenance/bought-in" for each in of(ProvenanceEvent)),
    "an agent": lambda: any(
        each.role == "capacity/agent" and each.written for each in of(PartyRole)
    ),
    "taken and given back, each by a paper": lambda: all(
        any(
            each.kind == f"provenance/{kind}"
            and any(
                it.kind == "evidence/paper" and it.strength == "strength/primary"
                for it in each.evidence
            )
            for each in of(ProvenanceEvent)
        )
        for kind in ("confiscation", "restitution")
    ),
    "an heir, and whose": lambda: any(
        each.relation and each.role == "capacity/heir" for each in of(PartyRole)
    ),
    "how long it was held": lambda: sum(each.until is not None for each in of(ProvenanceEvent)) >= 6,
    "showings proven by their labels": lambda: sum(bool(each.evidence) for each in of(Exhibition)) >= 6,
    "parts and layers that came later": lambda: sum(
        (each.fitted if isinstance(each, Part) else each.applied) is not None
        for each in (*of(Part), *of(Layer))
    ) >= 6,
    "a repair over a repair": lambda: any(
        other.id in each.covers for each in of(PriorRepair) for other in of(PriorRepair)
    ),
    "inquiries that were answered, refused and are awaited": lambda: {
        each.result for each in of(Inquiry)
    } >= {
        f"inquiry-result/{each}"
        for each in ("nothing-found", "same-found", "seen-and-copied", "worked-out-with-gaps",
                     "awaited", "refused", "not-to-be-had", "not-applicable")
    },
    "nothing cited": lambda: sum(each.kind == "evidence/none-cited" for each in of(Evidence)) >= 4,
    "no place in the chain": lambda: any(each.order is None for each in of(ProvenanceEvent)),
    "a price in guineas": lambda: any(
        each.currency == "currency/guinea" and "gns" in each.written for each in of(Price)
    ),
    "told by somebody": lambda: any(each.strength == "strength/oral" for each in of(Evidence)),
    "pendants that name each other": lambda: {
        (name, other) for name, work in WORKS.items() for each in work.relations
        for other in WORKS
        if each.kind == "relation/pendant-of" and each.to == WORKS[other].document
    } == {
        ("low-water-at-skerry-point", "evening-the-ropewalk"),
        ("evening-the-ropewalk", "low-water-at-skerry-point"),
    },
    "a part of something": lambda: any(each.kind == "relation/part-of" for each in of(Relation)),
    "a side not known, a side seen through": lambda: {each.seen for each in of(Location)} >= {
        "seen/that-side", "seen/unknown", "seen/through-front"
    },
    "photographs taken for a finding or a repair": lambda: sum(
        bool(photo.about) for work in WORKS.values() for photo in work.photos
    ) >= 12,
    "papers of jobs": lambda: sum(bool(job.papers) for job in JOBS) >= 3,
    "notes that were released": lambda: sum(each.may_leave for each in of(Note)) >= 20,
}  # fmt: skip


@pytest.mark.parametrize("feature", FEATURES)
def test_the_histories_hold(feature):
    assert FEATURES[feature]()


# Nothing dangles, nothing lies off the painting --------------------------------------------------


@EACH_WORK
def test_nothing_points_at_what_is_not_there(work):
    assert list(dangling(work)) == []


def test_nothing_in_a_job_points_at_what_is_not_there():
    assert [pointer for job in JOBS for pointer in dangling(job)] == []


def sheet_of(work, face):
    """The plane of a face: its width and height as seen on that side."""
    size = next(each for each in work.sizes if each.what == "size/support")
    wide, high, deep = size.width_mm, size.height_mm, size.depth_mm
    edge = face.removeprefix("face/tacking-edge-")
    if edge in ("top", "bottom"):
        return Sheet(wide, deep)
    return Sheet(high, deep) if edge in ("left", "right") else Sheet(wide, high)


def outline(location):
    """The box around a place; a point or an upright line is given a millimetre."""
    xs, ys = zip(*location.shape.corners, strict=True)
    return Box(min(xs), min(ys), max(max(xs) - min(xs), 1), max(max(ys) - min(ys), 1))


@EACH_WORK
def test_everything_measured_lies_on_its_painting(work):
    off = [
        place
        for place in values_within(work)
        if isinstance(place, Location)
        and place.shape
        and not outline(place).fits(sheet_of(work, place.face))
    ]
    assert off == []


BEHIND = ("face/back", "face/lining", "face/stretcher-bar")


def shared(work, one, other):
    """The area that two places share, the one turned to the other's side; None if they cannot be compared."""
    if not (one and other and one.shape and other.shape):
        return None
    a, b = outline(one), outline(other)
    sides = [place.face in BEHIND for place in (one, other)]
    if any(place.face not in (*BEHIND, "face/front") for place in (one, other)):
        return None
    return overlap_mm2(mirror(a, sheet_of(work, one.face)) if sides[0] != sides[1] else a, b)


@EACH_WORK
def test_what_was_done_for_a_damage_was_done_where_it_is(work):
    places = {
        **{each.id: each.location for each in work.repairs},
        **{
            each.id: next((seen.location for seen in each.observations if seen.location), None)
            for each in work.findings
        },
    }
    for label, step in steps(work):
        areas = [shared(work, step.location, places[each]) for each in step.addresses]
        known = [each for each in areas if each is not None]
        assert all(known), label


@EACH_WORK
def test_whatever_covers_an_inscription_lies_over_it_and_says_so(work):
    laid = [(each.number, each) for each in work.repairs]
    laid += [(label, each) for label, each in steps(work) if each.kind == "step/patch-heat-set"]
    for label, value in laid:
        if not (value.location and value.location.shape):
            continue
        place = value.location
        beneath = {
            each.id
            for each in work.inscriptions
            if each.place
            and each.face == "face/back"
            and place.face in BEHIND
            and overlap_mm2(outline(place), each.place) > 0
        }
        if label[0] == "R" and value.kind.endswith("re-keying"):
            continue
        assert beneath == {each for each in value.covers if each in beneath}, label
        written = {each.id for each in work.inscriptions}
        assert not {each for each in value.covers if each in written} - beneath, label


@EACH_WORK
def test_lengths_are_those_of_the_lines_drawn(work):
    for finding in work.findings:
        for seen in finding.observations:
            shape = seen.location.shape if seen.location else None
            if shape and shape.kind == "line" and seen.length_mm:
                assert abs(shape.length_mm - seen.length_mm) < 1, finding.number


# Days -------------------------------------------------------------------------------------------


def stays(work):
    return [
        (item.came.iso, item.left.iso if item.left else TODAY, job)
        for job in JOBS
        for item in job.items
        if item.work == work.document
    ]


def in_the_house(work, day):
    return any(came <= day.iso <= left for came, left, _ in stays(work))


@EACH_WORK
def test_steps_and_tests_were_done_while_the_painting_was_here(work):
    for label, step in steps(work):
        for day in (step.began, step.ended):
            assert day is None or in_the_house(work, day), label
    for test in work.tests:
        assert test.on is None or in_the_house(work, test.on), test.number
    for check in work.checks:
        assert (check.at or "").startswith("Studio") == in_the_house(work, check.on) or (
            check.occasion == "occasion/other"
        ), check.number


LOOKING = {
    f"step/{each}" for each in ("examination", "photograph", "transcribe", "test", "wait")
}


@EACH_WORK
def test_nothing_was_touched_before_it_was_approved(work):
    for label, step in steps(work):
        if step.began and step.kind not in LOOKING:
            approved = [
                job.approved.iso
                for came, left, job in stays(work)
                if job.approved and came <= step.began.iso <= left
            ]
            assert approved, label
            assert approved[0] <= step.began.iso, label


@EACH_WORK
def test_steps_follow_one_another(work):
    for treatment in work.treatments:
        begun = [step for step in treatment.steps if step.began]
        assert list(treatment.steps[: len(begun)]) == begun
        for before, after in pairwise(begun):
            assert before.began.iso <= after.began.iso
            if before.kind in LOOKING or before.ended is None:
                continue
            assert (before.ended.iso, before.ended_at or "") <= (
                after.began.iso,
                after.began_at or "24:00",
            ), f"{treatment.number}.{after.order}"


@EACH_WORK
def test_a_finding_has_one_first_day_and_a_course_from_there(work):
    for finding in work.findings:
        course = work.course(finding)
        days = [work.check_of(each).on.iso for each in course]
        assert days == sorted(days)
        assert [each.change == "change/new" for each in course] == [
            place == 0 for place in range(len(course))
        ], finding.number


@EACH_WORK
def test_nothing_on_record_is_of_a_day_to_come(work):
    seen = [
        each.on for each in chain(*(each.sightings for each in work.inscriptions)) if each.on
    ]
    seen += [each.on for each in chain(*(each.sightings for each in work.repairs)) if each.on]
    days = [*seen, *(each.on for each in (*work.checks, *work.tests, *work.papers) if each.on)]
    assert max(day.iso for day in days) <= TODAY


@EACH_WORK
def test_the_chain_runs_forwards(work):
    chained = [each for each in work.provenance if each.order and each.when]
    for before, after in pairwise(chained):
        if before.when.earliest and after.when.latest:
            assert before.when.earliest <= after.when.latest, (before.number, after.number)
    orders = [each.order for each in work.provenance if each.order]
    assert len(set(orders)) == len(orders)


# What became of what was covered and removed -----------------------------------------------------


@EACH_WORK
def test_what_a_step_removed_was_seen_to_have_gone(work):
    last = {each.id: each.sightings for each in (*work.inscriptions, *work.repairs)}
    for label, step in steps(work):
        for removed in step.removes:
            if step.began and removed in last:
                gone = [
                    each
                    for each in last[removed]
                    if each.state.startswith("state/removed") and each.on >= step.began
                ]
                assert gone, label


@EACH_WORK
def test_what_a_step_covered_was_seen_beneath_it(work):
    for label, step in steps(work):
        for covered in (each for each in work.inscriptions if each.id in step.covers):
            if step.began:
                named = [each for each in covered.sightings if label in (each.covered_by or "")]
                assert named, label
                assert all(each.on >= step.began for each in named), label


@EACH_WORK
def test_what_was_kept_has_its_bag_and_a_way_there(work):
    moved = {each.piece for each in work.movements}
    kept = [
        each
        for each in (*work.inscriptions, *work.repairs)
        if each.latest() and each.latest().state == "state/removed-kept"
    ]
    assert {each.id for each in kept} <= moved
    assert all(each.kept_as for each in kept if isinstance(each, PriorRepair))


# Evidence ---------------------------------------------------------------------------------------


@EACH_WORK
def test_a_dealers_label_alone_proves_no_more_than_presence(work):
    """Common practice, no source: a label proves that a painting was there, not who owned it."""
    labels = {each.id for each in work.inscriptions if each.kind == "inscription/dealer-label"}
    for event in work.provenance:
        if {each.source for each in event.evidence} <= labels:
            assert event.kind == "provenance/presence", event.number
        for each in event.evidence:
            assert each.source not in labels or each.strength != "strength/primary"


def test_labels_alone_leave_the_gap_of_the_worked_example():
    """Trade sheet C10: from a label seen until 1938 to one of 1948 lie 3,287 days of which nothing is known."""
    work = WORKS["hafen-im-nebel"]
    firm, lender = (
        next(each for each in work.provenance if each.number == number)
        for number in ("E2", "E6")
    )
    assert firm.order < lender.order
    assert {it.kind for each in (firm, lender) for it in each.evidence} == {
        "evidence/inscription"
    }
    assert lender.when.earliest.ordinal - firm.until.latest.ordinal - 1 == 3287


def test_one_label_is_older_than_the_bar_it_is_stuck_to():
    """A contradiction on purpose, so that a chronology has something to explain."""
    work = WORKS["evening-the-ropewalk"]
    label, stretcher = (
        work.inscription("I4"),
        next(each for each in work.parts if each.kind == "part/stretcher"),
    )
    firm = next(each for each in work.provenance if each.number == "E2")
    assert label.part == stretcher.id
    assert firm.evidence[0].source == label.id
    assert firm.when.latest < stretcher.fitted.earliest


def test_inquiries_stay_in_the_house_where_they_concern_a_seller():
    private = {"inquiry/seller-identity", "inquiry/sanctions-and-money"}
    assert {each.visibility for each in of(Inquiry) if each.kind in private} == {
        "visibility/studio"
    }


# Heat, solvents ---------------------------------------------------------------------------------


def test_every_heat_set_patch_tells_its_batch_and_was_tried_on_scrap():
    done = [(work, step) for work in WORKS.values() for step in heat_set(work) if step.began]
    assert len(done) >= 4
    for work, step in done:
        glue = next(each for each in step.materials if each.role == "use/adhesive")
        assert glue.lot
        assert glue.formulation_year
        assert step.surface_temperature_c is not None
        assert 55 <= step.surface_temperature_c <= 80
        tried = [
            use.lot
            for test in work.tests
            if test.on and test.on < step.began and test.result == "result/safe"
            for use in test.materials
        ]
        assert glue.lot in tried


# Papers -----------------------------------------------------------------------------------------

PAPERS = [each for record in (*WORKS.values(), *JOBS) for each in record.papers]


def test_every_paper_is_there_and_every_file_is_somebodys():
    named = [each.file_name for each in PAPERS]
    assert len(set(named)) == len(named)
    assert {path.name for path in (SAMPLES / "papers").iterdir()} == set(named)


@pytest.mark.parametrize("paper", PAPERS, ids=lambda each: each.file_name)
def test_a_paper_is_a_short_text(paper):
    text = (SAMPLES / "papers" / paper.file_name).read_text("utf-8")
    assert text.strip()
    assert len(text) < 2000
    assert paper.media_type == "text/plain"
