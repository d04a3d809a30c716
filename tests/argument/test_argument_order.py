"""The order of work: every rule has a log that breaks it and one that does not (trade sheet, C5).

The rules are common practice and ethics codes, as the sheet tells; its worked log is the last test.
"""

from dataclasses import replace

import pytest

from catalogue.argument.order import breaches, breaches_of_plan, rule, rules, suggested_order
from catalogue.errors import BadSetting
from catalogue.measure import Day
from catalogue.record import (
    Approval,
    ConditionCheck,
    Departure,
    Finding,
    Inscription,
    Job,
    Location,
    MaterialUse,
    Note,
    Observation,
    Option,
    Override,
    Photo,
    PlannedStep,
    PriorRepair,
    Proposal,
    Region,
    Size,
    Step,
    Transcript,
    Treatment,
    Work,
)
from catalogue.record import (
    Test as Trial,
)
from catalogue.surface import Box, Shape

WHO = "party/11111111-1111-4111-8111-111111111111"
DAY, NEXT, LATER = Day(2026, 3, 2), Day(2026, 3, 3), Day(2026, 3, 20)
# the sheet's running example: a tear on the front, its twin on the back, a title beside it
TEAR = Shape.of_box(Box(120, 140, 60, 45))
TWIN = Shape.of_box(Box(430, 140, 60, 45))
PATCH = Shape.of_box(Box(415, 125, 90, 75))
TITLE = Box(395, 120, 150, 40)
FAR = Shape.of_box(Box(20, 440, 30, 30))
CHECK = ConditionCheck(number="K1", occasion="occasion/incoming", on=DAY, by=WHO)


def photo(face, stage="stage/before", **more):
    return Photo(
        file_name=f"{face[5:]}-{stage[6:]}.jpg", face=face, stage=stage, taken=DAY, mm_per_pixel=0.1,
        **more,
    )  # fmt: skip


FRONT, BACK = photo("face/front"), photo("face/back")


def written(**more):
    """A title on the back with all that must be recorded of it."""
    told = {
        "number": "I1", "kind": "inscription/title", "face": "face/back", "place": TITLE,
        "regions": (Region(photo=BACK.id, corners=((0, 0), (90, 0), (90, 40), (0, 40))),),
        "transcripts": (Transcript(markup="Low Tide", by=WHO),),
    }  # fmt: skip
    return Inscription(**{**told, **more})


def finding(
    kind, stability="stability/stable", face="face/front", shape=TEAR, layer="layer/paint"
):
    seen = Observation(
        check=CHECK.id, location=Location(face=face, shape=shape), stability=stability
    )
    return Finding(number="F1", layer=layer, kind=kind, observations=(seen,))


def step(kind, on=DAY, shape=None, face="face/back", **more):
    location = Location(face=face, shape=shape) if shape else None
    return {"kind": kind, "began": on, "ended": on, "location": location, **more}


def work(*steps, **more):
    done = tuple(Step(order=number, **told) for number, told in enumerate(steps, 1))
    told = {
        "sizes": (Size(what="size/support", width_mm=610, height_mm=500),),
        "photos": (FRONT, BACK),
        "checks": (CHECK,),
        "treatments": (Treatment(number="T1", steps=done),),
    }
    return Work(**{**told, **more})


def keys(found, level=None):
    return {each.rule.key for each in found if level in (None, each.rule.level)}


def used(material, **more):
    return (MaterialUse(material=material, data_sheet=DAY, **more),)


def trial(kind, result="result/safe", material=None, **more):
    return Trial(
        kind=kind, on=DAY, result=result, materials=used(material) if material else (), **more
    )


def job_for(record, *, nothing=False, on=DAY, departures=(), approved=True):
    option = Option(order=1, title="Mend", nothing=nothing)
    nothing_done = Option(order=2, title="Leave it as it is", nothing=True)
    proposal = Proposal(number="Q1", options=(option, nothing_done))
    given = Approval(proposal=proposal.id, option=option.id, digest="0" * 64, on=on)
    return Job(
        client=WHO, reason="reason/treatment", proposals=(proposal,),
        approvals=(given,) if approved else (), departures=departures,
    )  # fmt: skip


MEND = step("step/tear-mend", shape=TWIN)
TEARS = {"findings": (finding("damage/tear"),)}
TAPE = PriorRepair(
    number="R1", kind="repair/tape", location=Location(face="face/back", shape=TWIN)
)
WAX = PriorRepair(number="R2", kind="repair/wax-resin-lining")
CLEAN = {"role": "use/cleaning-agent"}

# key: (a work that breaks it, one that does not), each with its jobs
CASES = {
    "O1": (
        lambda: (work(MEND), job_for(None, approved=False)),
        lambda: (work(MEND), job_for(None)),
    ),
    "O2": (lambda: (work(MEND, photos=(BACK,)), None), lambda: (work(MEND), None)),
    "O3": (
        lambda: (
            work(step("step/patch", shape=PATCH), inscriptions=(written(transcripts=()),)), None,
        ),
        lambda: (work(step("step/patch", shape=PATCH), inscriptions=(written(),)), None),
    ),
    "O4": (
        lambda: (work(step("step/humidify", shape=TWIN), inscriptions=(written(),)), None),
        lambda: (_tested_ink(), None),
    ),
    "O5": (
        lambda: (
            work(step("step/wet-clean", materials=used("material/ammonia-solution", **CLEAN))), None,
        ),
        lambda: (
            work(
                step("step/wet-clean", materials=used("material/ammonia-solution", **CLEAN)),
                tests=(trial("test/cleaning", material="material/ammonia-solution"),),
            ),
            None,
        ),
    ),
    "O6": (
        lambda: (
            work(
                step("step/turn-face-down"),
                findings=(finding("damage/flaking", "stability/active"),),
            ),
            None,
        ),
        lambda: (
            work(
                step("step/face"), step("step/turn-face-down"),
                findings=(finding("damage/flaking", "stability/active"),),
            ),
            None,
        ),
    ),
    "O7": (
        lambda: (work(step("step/humidify", shape=TWIN), **TEARS), None),
        lambda: (
            work(
                step("step/face", shape=TEAR, face="face/front"),
                step("step/humidify", shape=TWIN), **TEARS,
            ),
            None,
        ),
    ),
    "O8": (
        lambda: (work(step("step/face", shape=TEAR, face="face/front")), None),
        lambda: (
            work(step("step/dry-clean", face="face/front"), step("step/face", face="face/front")),
            None,
        ),
    ),
    "O9": (
        lambda: (work(step("step/face")), None),
        lambda: (work(step("step/face"), tests=(trial("test/facing"),)), None),
    ),
    "O10": (
        lambda: (work(step("step/flatten", shape=TWIN), repairs=(TAPE,)), None),
        lambda: (
            work(
                step("step/remove-tape", shape=TWIN), step("step/flatten", shape=TWIN),
                repairs=(TAPE,),
            ),
            None,
        ),
    ),
    "O11": (
        lambda: (work(MEND, **TEARS), None),
        lambda: (work(step("step/flatten", shape=TWIN), MEND, **TEARS), None),
    ),
    "O12": (
        lambda: (work(step("step/patch", shape=PATCH), **TEARS), None),
        lambda: (work(MEND, step("step/patch", shape=PATCH), **TEARS), None),
    ),
    "O13": (
        lambda: (work(step("step/patch", shape=PATCH), inscriptions=(written(),)), None),
        lambda: (_patch_that_says_what_it_covers(), None),
    ),
    "O14": (
        lambda: (
            work(step("step/patch-heat-set", materials=used("material/eva-adhesive"))), None,
        ),
        lambda: (
            work(
                step(
                    "step/patch-heat-set",
                    materials=used(
                        "material/eva-adhesive", lot="A-1107", formulation_year=2024
                    ),
                )
            ),
            None,
        ),
    ),
    "O15": (
        lambda: (work(step("step/patch-heat-set"), repairs=(WAX,)), None),
        lambda: (
            work(step("step/patch-heat-set"), repairs=(WAX,), tests=(trial("test/heat"),)),
            None,
        ),
    ),
    "O16": (
        lambda: (work(step("step/fill", shape=TEAR, face="face/front"), **TEARS), None),
        lambda: (work(MEND, step("step/fill", shape=TEAR, face="face/front"), **TEARS), None),
    ),
    "O16-2": (
        lambda: (work(step("step/face"), step("step/fill")), None),
        lambda: (work(step("step/face"), step("step/remove-facing"), step("step/fill")), None),
    ),
    "O17": (
        lambda: (work(step("step/retouch")), None),
        lambda: (work(step("step/isolate-varnish"), step("step/retouch")), None),
    ),
    "O17-2": (
        lambda: (work(step("step/fill"), step("step/retouch")), None),
        lambda: (work(step("step/fill"), step("step/level"), step("step/retouch")), None),
    ),
    "O18": (
        lambda: (work(step("step/retouch"), step("step/varnish-brush", NEXT)), None),
        lambda: (work(step("step/retouch"), step("step/varnish-brush", LATER)), None),
    ),
    "O19": (
        lambda: (work(step("step/retouch"), step("step/varnish-removal")), None),
        lambda: (work(step("step/varnish-removal"), step("step/retouch")), None),
    ),
    "O20": (
        lambda: (_taken_off(None), None),
        lambda: (_taken_off(False, photo("face/back", "stage/during")), None),
    ),
    "O21": (
        lambda: (
            work(
                step("step/humidify", began_at="10:00", ended_at="12:00"),
                step("step/patch", began_at="15:00"),
            ),
            None,
        ),
        lambda: (work(step("step/humidify"), step("step/patch", LATER)), None),
    ),
    "O22": (
        lambda: (work(step("step/patch"), step("step/tone-patch")), None),
        lambda: (
            work(
                step("step/patch"), step("step/tone-patch"),
                photos=(FRONT, BACK, photo("face/back", "stage/during")),
            ),
            None,
        ),
    ),
    "O23": (
        lambda: (work(step("step/backing-board")), None),
        lambda: (
            work(
                step("step/backing-board"),
                photos=(FRONT, BACK, photo("face/back", "stage/outgoing")),
            ),
            None,
        ),
    ),
    "O24": (
        lambda: (_going_out(ended=None), None),
        lambda: (_going_out(ended=DAY), None),
    ),
    "O25": (
        lambda: (work(step("step/fumigate", materials=used("material/ethanol"))), None),
        lambda: (
            work(
                step(
                    "step/fumigate", materials=used("material/ethanol"),
                    notes=(Note(text="Room shut for two days.", kind="note/condition"),),
                )
            ),
            None,
        ),
    ),
}  # fmt: skip


def _tested_ink():
    title = written()
    tests = (trial("test/inscription-solubility", inscription=title.id),)
    return work(step("step/humidify", shape=TWIN), inscriptions=(title,), tests=tests)


def _patch_that_says_what_it_covers():
    title = written()
    return work(step("step/patch", shape=PATCH, covers=(title.id,)), inscriptions=(title,))


def _taken_off(beneath, *photos):
    tape = replace(TAPE, writing_beneath=beneath)
    return work(
        step("step/remove-tape", removes=(tape.id,)), step("step/flatten"), repairs=(tape,),
        photos=(FRONT, BACK, *photos),
    )  # fmt: skip


def _going_out(ended):
    going = ConditionCheck(number="K2", occasion="occasion/outgoing", on=LATER, by=WHO)
    told = {**step("step/dry-clean"), "ended": ended}
    return work(told, checks=(CHECK, going))


def found_in(case):
    record, job = case()
    return breaches(record, (job,) if job else ())


def test_every_rule_has_its_two_cases():
    assert [each.key for each in rules()] == list(CASES)
    assert {each.key.partition("-")[0] for each in rules()} == {f"O{n}" for n in range(1, 26)}


@pytest.mark.parametrize("key", CASES)
def test_a_log_that_breaks_the_rule(key):
    found = [each for each in found_in(CASES[key][0]) if each.rule.key == key]
    assert found
    for each in found:
        assert each.says
        assert "{" not in each.says
        assert each.rule.remedy
        assert each.stops is (each.rule.level == "stop")


@pytest.mark.parametrize("key", CASES)
def test_a_log_that_does_not(key):
    assert key not in keys(found_in(CASES[key][1]))


@pytest.mark.parametrize(
    "key", [each.key for each in rules() if each.level == "stop" and each.key != "O24"]
)
def test_a_stop_gives_way_to_a_written_reason(key):
    record, job = CASES[key][0]()
    jobs = (job,) if job else ()
    stopped = {each.value for each in breaches(record, jobs) if each.rule.key == key}
    (treatment,) = record.treatments
    steps = tuple(
        replace(each, overrides=(Override(rule=key, reason="agreed by telephone"),))
        if each.id in stopped else each
        for each in treatment.steps
    )  # fmt: skip
    again = replace(record, treatments=(replace(treatment, steps=steps),))
    found = [each for each in breaches(again, jobs) if each.rule.key == key]
    assert found
    assert not any(each.stops for each in found)
    assert all(each.override.reason == "agreed by telephone" for each in found)


def test_the_emergency_needs_no_approval_but_its_reason():
    record = work({**MEND, "emergency": "flaking in transport"})
    assert "O1" not in keys(breaches(record, (job_for(record, approved=False),)))


@pytest.mark.parametrize(
    ("more", "says"),
    [({"nothing": True}, "to do nothing"), ({"on": LATER}, "after the step began")],
)
def test_not_every_approval_is_one_for_this(more, says):
    record = work(MEND)
    found = [e for e in breaches(record, (job_for(record, **more),)) if e.rule.key == "O1"]
    assert says in found[0].says


def test_a_departure_that_waits_keeps_the_work_here():
    record = _going_out(ended=DAY)
    waits = Departure(on=DAY, what="a second patch")
    found = breaches(record, (job_for(record, departures=(waits,)),))
    assert "O24" in keys(found)
    told = replace(waits, approved=True)
    assert "O24" not in keys(breaches(record, (job_for(record, departures=(told,)),)))


def test_far_from_the_writing_nothing_has_to_be_tested():
    record = work(step("step/humidify", shape=FAR), inscriptions=(written(),))
    assert "O4" not in keys(breaches(record))


def test_moisture_on_the_front_reaches_the_ink_on_the_back():
    # the sheet's trap: whoever forgets the mirror finds nothing near
    record = work(
        step("step/humidify", shape=TEAR, face="face/front"), inscriptions=(written(),)
    )
    assert "O4" in keys(breaches(record))


def test_a_step_without_a_place_may_work_anywhere():
    record = work(step("step/humidify"), inscriptions=(written(),))
    assert "O4" in keys(breaches(record))


def test_a_lining_lies_over_all_of_the_back_and_nothing_of_the_front():
    front = written(number="I2", face="face/front")
    found = breaches(work(step("step/lining"), inscriptions=(written(), front)))
    handled = [each.says for each in found if each.rule.key == "O13"]
    assert len(handled) == 1
    assert "I1 title" in handled[0]


def test_the_sheets_worked_log():
    # C5: 10:00 patch; 11:00 mend; no test of ink, title 5 mm from the moist area, no scale photo
    title = written(regions=(), place=Box(520, 120, 50, 40))
    record = work(
        step("step/humidify", shape=Shape.of_box(Box(420, 130, 95, 60)), began_at="08:00", ended_at="09:00"),
        step("step/patch", shape=PATCH, began_at="10:00", ended_at="10:30", covers=(title.id,)),
        step("step/tear-mend", shape=TWIN, began_at="11:00", ended_at="12:00"),
        inscriptions=(title,), **TEARS,
    )  # fmt: skip
    found = breaches(record)
    assert keys(found, "stop") == {"O3", "O4"}
    assert "O12" in keys(found, "warn")
    near = next(each for each in found if each.rule.key == "O4")
    assert "I1 title is not tested" in near.says


def plan(*kinds):
    return tuple(PlannedStep(order=n, kind=f"step/{kind}") for n, kind in enumerate(kinds, 1))


def test_a_plan_is_held_to_the_rules_too():
    option = Option(order=1, title="Mend", steps=plan("patch", "tear-mend"))
    found = breaches_of_plan(Work(findings=TEARS["findings"], checks=(CHECK,)), option)
    assert "O12" in keys(found)
    assert not keys(found) & {"O1", "O2", "O20"}  # nothing was done yet


def test_the_order_that_the_sheet_returns():
    jumbled = plan(
        "tone-patch", "varnish", "retouch", "isolate-varnish", "level", "fill", "remove-facing", "patch", "tear-mend",
        "flatten", "humidify", "face", "remove-tape", "surface-clean",
    )  # fmt: skip
    found = [each.kind[5:] for each in suggested_order(jumbled)]
    wanted = [  # C5, "Correct order returned", without what is no treatment
        "surface-clean", "face", "flatten", "tear-mend", "patch", "fill", "level", "retouch", "varnish",
    ]  # fmt: skip
    places = [found.index(each) for each in wanted]
    assert places == sorted(places)
    assert found.index("remove-tape") < found.index("flatten")
    assert found.index("face") < found.index("humidify")
    assert found.index("isolate-varnish") < found.index("retouch")


def test_an_unknown_rule_is_said():
    assert rule("O3").level == "stop"
    with pytest.raises(BadSetting, match="O99"):
        rule("O99")
