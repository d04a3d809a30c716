"""What is said about a work beyond its shapes: each row of vocab/checks.toml by an example that it speaks of."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from made_records import ARTIST, CLIENT, full_job, full_work, works

from catalogue.argument.order import rule
from catalogue.checking import Around, Remark, of_record
from catalogue.checking.inscriptions import lacking
from catalogue.checking.remark import KINDS, check, rows
from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    ConditionCheck,
    Evidence,
    Exhibition,
    Finding,
    Inscription,
    Item,
    Location,
    MaterialUse,
    Observation,
    Override,
    Paper,
    PriorRepair,
    ProvenanceEvent,
    Relation,
    Sighting,
    Size,
    Step,
    Transcript,
    Treatment,
    Work,
)
from catalogue.record import Test as Trial
from catalogue.surface import Box

TODAY = Day(2026, 3, 2)
NELL = ARTIST.document
LOOK = ConditionCheck(number="K1", occasion="occasion/incoming", on=TODAY, by=NELL)
AGAIN = ConditionCheck(number="K2", occasion="occasion/outgoing", on=Day(2026, 9, 1), by=NELL)
CHALK = Inscription(number="I2", kind="inscription/chalk-mark", face="face/back")
SHEET = Day(2025, 5, 5)


def told(work: Work, *others: Work, items: tuple[Item, ...] = ()) -> list[Remark]:
    kept = {each.document: each for each in (work, *others, ARTIST, CLIENT)}

    def name_of(document: str) -> str:
        return getattr(kept.get(document), "number", None) or document

    return list(of_record(work, Around(kept.get, name_of, items)))


def of_order(remark: Remark) -> bool:
    """Whether it is about the order of work, which has tests of its own."""
    return " in the order of work, " in remark.says or remark.says.startswith("order of work, ")


def keys(remarks: list[Remark]) -> set[str]:
    """The rows that remarks came from, told by how they begin."""
    every = (*rows().needs, *rows().advice, *rows().checks.values())
    return {
        row.key
        for row in every
        for each in remarks
        if each.remedy == row.remedy and each.says.startswith(row.says.partition("{")[0])
    }


def seen(kind: str, *, at=LOOK, **facts) -> Finding:
    return Finding(
        number="F1",
        layer="layer/support",
        kind=kind,
        observations=(Observation(check=at.id, **facts),),
    )


def with_finding(kind: str, **facts) -> Work:
    return Work(checks=(LOOK,), findings=(seen(kind, **facts),))


def with_steps(*steps: Step, **more) -> Work:
    return Work(treatments=(Treatment(number="T1", steps=steps),), **more)


def used(material: str, **facts) -> MaterialUse:
    return MaterialUse(material=material, **facts)


def done(kind: str, **facts) -> Step:
    return Step(order=1, kind=kind, began=TODAY, by=(NELL,), **facts)


def event(order: int | None, when: str, kind: str = "provenance/sale") -> ProvenanceEvent:
    return ProvenanceEvent(
        number=f"E{order}" if order else None, order=order, kind=kind, when=read_date(when),
        evidence=(Evidence(kind="evidence/oral", text="an aunt"),),
    )  # fmt: skip


TAPE = PriorRepair(number="R1", kind="repair/tape")
GONE = (Sighting(state="state/removed-kept", on=TODAY),)
OF_ARTIST = (Attribution(artist=ARTIST.document),)
DEAD = replace(ARTIST, ended=read_date("1901"))
STAY = Item(work=f"work/{uuid4()}", came=Day(2026, 3, 1), left=Day(2026, 6, 1))
SECOND = replace(STAY, id=str(uuid4()), came=Day(2026, 9, 1), left=None)
STRANGER = f"party/{uuid4()}"

SPEAKS: dict[str, Work] = {
    "tear.length": with_finding("damage/tear-l-shaped", gap_mm=0),
    "tear.gap": with_finding("damage/tear", length_mm=60),
    "loss.area": with_finding("damage/loss"),
    "finding.place": with_finding("damage/stain"),
    "finding.severity": with_finding("damage/stain"),
    "check.light": Work(checks=(LOOK,)),
    "check.limits": Work(checks=(LOOK,)),
    "step.material": with_steps(Step(order=1, kind="step/varnish-spray")),
    "step.heat": with_steps(done("step/patch-heat-set", set_temperature_c=70)),
    "step.humidity": with_steps(done("step/humidify")),
    "step.ph": with_steps(done("step/wet-clean")),
    "step.overlap": with_steps(done("step/patch")),
    "step.hand": with_steps(Step(order=1, kind="step/other", began=TODAY)),
    "test.result": Work(tests=(Trial(kind="test/heat", on=TODAY),)),
    "flaking.face-down": with_finding("damage/flaking", stability="stability/active"),
    "mould.quarantine": with_finding("damage/mould-active"),
    "mould.quarantine-while": with_finding("damage/mould", stability="stability/active"),
    "insects.quarantine": with_finding("damage/frass", stability="stability/active"),
    "pointer.nothing": Work(papers=(Paper(kind="paper/letter", title="Letter", file_name="l.pdf", about=(str(uuid4()),)),)),
    "document.not-on-file": Work(attributions=(Attribution(artist=STRANGER),)),
    "inscription.reading": Work(inscriptions=(CHALK,)),
    "inscription.place": Work(inscriptions=(CHALK,)),
    "inscription.photo": Work(inscriptions=(CHALK,)),
    "inscription.state": Work(inscriptions=(CHALK,)),
    "inscription.sensitivity": Work(inscriptions=(CHALK,)),
    "cover.unrecorded": with_steps(done("step/patch", covers=(CHALK.id,)), inscriptions=(CHALK,)),
    "remove.unrecorded": with_steps(done("step/label-lifting", removes=(CHALK.id,)), inscriptions=(CHALK,)),
    "finding.unseen": Work(checks=(LOOK, AGAIN), findings=(seen("damage/stain"),)),
    "checks.one-day": Work(checks=(LOOK, replace(AGAIN, on=TODAY))),
    "observation.closed-again": Work(
        checks=(LOOK, AGAIN),
        findings=(
            Finding(
                layer="layer/support", kind="damage/stain",
                observations=(
                    Observation(check=LOOK.id, change="change/treated"),
                    Observation(check=AGAIN.id, change="change/treated"),
                ),
            ),
        ),
    ),
    "observation.new-again": Work(
        checks=(LOOK, AGAIN),
        findings=(
            Finding(
                layer="layer/support", kind="damage/stain",
                observations=(
                    Observation(check=LOOK.id), Observation(check=AGAIN.id, change="change/new"),
                ),
            ),
        ),
    ),
    "removed.no-state": with_steps(done("step/remove-tape", removes=(TAPE.id,)), repairs=(TAPE,)),
    "removed.no-step": Work(repairs=(replace(TAPE, sightings=GONE),)),
    "batch.expired": with_steps(
        done("step/consolidate", materials=(used("material/isinglass", expires=Day(2025, 1, 1)),))
    ),
    "batch.no-data-sheet": Work(tests=(Trial(kind="test/heat", materials=(used("material/acetone"),)),)),
    "date.before-it-was-made": Work(made=read_date("1887"), exhibitions=(Exhibition(title="Winter", when=read_date("1880")),)),
    "provenance.order": Work(provenance=(event(1, "1911"), event(2, "1903"))),
    "steps.order": with_steps(done("step/other"), Step(order=2, kind="step/other", began=Day(2026, 3, 1))),
}  # fmt: skip
"""For each row a work of which it speaks; those that need more than the work follow below."""


@pytest.mark.parametrize("key", SPEAKS)
def test_a_row_speaks_of_its_example_and_not_of_an_empty_work(key):
    assert key in keys(told(SPEAKS[key]))
    assert told(Work()) == []


def test_every_row_has_an_example():
    elsewhere = {
        "circle", "date.before-it-came", "date.after-it-left", "date.between-stays", "check.elsewhere",
        "date.after-death", "order.stop", "order.warn", "chronology.firm", "chronology.soft",
    }  # fmt: skip
    every = (*rows().needs, *rows().advice, *rows().checks.values())
    of_works = {row.key for row in every if not row.key.startswith("commission.")}
    # those of the chain of hands stand in a file of their own, which holds them to be all
    of_works -= {key for key in of_works if key.startswith("provenance.")} - {
        "provenance.order"
    }
    assert of_works == set(SPEAKS) | elsewhere


def test_every_row_says_what_is_so_and_what_to_do_in_plain_words():
    for row in (*rows().needs, *rows().advice, *rows().ranges, *rows().checks.values()):
        assert row.kind in KINDS
        assert row.source
        assert row.remedy, row.key
        assert not row.says.endswith("."), row.key
        assert not row.remedy.endswith("."), row.key


@pytest.mark.parametrize("row", rows().ranges, ids=lambda row: row.key)
def test_a_figure_outside_the_studios_range_is_told_and_one_at_its_end_is_not(row):
    # the ends are those of the trade sheet 2.6 and 2.7; the sheet prescribes none
    term = next(iter(row.terms), "step/other" if row.value == "Step" else "test/other")

    def record(figure):
        told_value = {row.field: figure}
        if row.value == "Test":
            return Work(tests=(Trial(kind=term, **told_value),))
        if row.value == "MaterialUse":
            material = MaterialUse(
                material="material/dammar",
                role=term,
                basis="concentration/w-v",
                **told_value,
            )
            return with_steps(done("step/other", materials=(material,)))
        return with_steps(done(term, **told_value))

    def says(figure):
        return [each.says for each in told(record(figure)) if each.remedy == row.remedy]

    for end, beyond in ((row.low, -0.5), (row.high, 0.5)):
        if end is not None:
            assert not says(end)
            if end + beyond > 0:
                assert f"{end + beyond:g}" in says(end + beyond)[0]


@pytest.mark.parametrize(
    ("kind", "begins"),
    [
        ("step/other", "stop in the order of work, O2: "),
        ("step/retouch", "order of work, O17: "),
    ],
)
def test_the_order_of_work_is_told_with_what_its_rule_advises(kind, begins):
    work = with_steps(done(kind))
    said = [each for each in told(work) if each.says.startswith(begins)]
    assert said
    assert said[0].remedy == rule(begins.partition(", ")[2].partition(":")[0]).remedy
    (step,) = work.treatments[0].steps
    decided = Override(rule="O2", reason="photographed by the owner")
    again = with_steps(replace(step, overrides=(decided,)))
    assert not [each for each in told(again) if ", O2: " in each.says]


# --- what silences a row --------------------------------------------------------------------------

ANYWHERE = Location(face="face/back", wording="lower left")

SILENT: dict[str, Work] = {
    "tear.length": with_finding("damage/tear", length_mm=62),
    "tear.gap": with_finding("damage/tear", gap_mm=0),
    "loss.area": with_finding("damage/loss", area_mm2=20),
    "finding.place": with_finding("damage/stain", location=ANYWHERE),
    "step.heat": with_steps(Step(order=1, kind="step/patch-heat-set")),
    "flaking.face-down": with_finding("damage/flaking", stability="stability/stable"),
    "mould.quarantine": with_finding("damage/mould-active", change="change/treated"),
    "finding.unseen": Work(checks=(LOOK, AGAIN), findings=(seen("damage/stain", change="change/treated"),)),
    "removed.no-state": with_steps(
        done("step/remove-tape", removes=(TAPE.id,)), repairs=(replace(TAPE, sightings=GONE),)
    ),
    "removed.no-step": with_steps(
        done("step/remove-tape", removes=(TAPE.id,)), repairs=(replace(TAPE, sightings=GONE),)
    ),
    "batch.expired": with_steps(
        done("step/consolidate", materials=(used("material/isinglass", expires=TODAY),))
    ),
    "batch.no-data-sheet": Work(
        tests=(Trial(kind="test/heat", materials=(used("material/acetone", data_sheet=SHEET), used("material/sailcloth"))),)
    ),
    "date.before-it-was-made": Work(made=read_date("c. 1887"), exhibitions=(Exhibition(title="Winter", when=read_date("before 1900")),)),
    "provenance.order": Work(provenance=(event(1, "1880s"), event(2, "1885"), event(None, "1700"))),
    "inscription.sensitivity": Work(
        inscriptions=(CHALK,), tests=(Trial(kind="test/water-sensitivity", inscription=CHALK.id),)
    ),
    "inscription.reading": Work(inscriptions=(replace(CHALK, sightings=(Sighting(state="state/lost"),)),)),
    "document.not-on-file": Work(attributions=(Attribution(artist="https://people.example/7"),)),
}  # fmt: skip


@pytest.mark.parametrize("key", SILENT)
def test_a_row_is_silent_where_it_is_answered(key):
    assert key not in keys(told(SILENT[key]))


def test_where_a_thing_is_is_said_by_number_and_field():
    film = used("material/eva-adhesive", expires=Day(2025, 1, 1), data_sheet=SHEET)
    work = with_steps(
        done("step/patch-heat-set", materials=(film,), surface_temperature_c=65, overlap_mm=15)
    )
    assert [
        (each.kind, each.where, each.says) for each in told(work) if not of_order(each)
    ] == [
        (
            "wrong",
            "T1.1 heat-set patching, heat-seal EVA adhesive, expires on",
            "the batch had expired on 2025-01-01, and was used on 2026-03-02",
        )
    ]


def test_what_lacks_is_named_before_an_inscription_is_covered():
    read = replace(CHALK, transcripts=(Transcript(markup="84"),), place=Box(1, 1, 9, 9))
    assert lacking(read) == ("a photograph",)
    work = with_steps(done("step/patch", covers=(read.id,)), inscriptions=(read,))
    says = [each.says for each in told(work)]
    assert (
        "I2 chalk mark would disappear under this step without a photograph on record" in says
    )


def test_two_checks_on_one_day_are_kept_and_count_by_their_numbers():
    work = SPEAKS["checks.one-day"]
    assert [each.number for each in work.checks] == ["K1", "K2"]
    (said,) = (each for each in told(work) if "same day" in each.says)
    assert said.where == "K2 condition check, looked at on"
    assert said.says.startswith("K1 of 2026-03-02 was made on the same day")


# --- what needs more than the work ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("day", "key"),
    [
        (Day(2026, 2, 28), "date.before-it-came"),
        (Day(2026, 7, 1), "date.between-stays"),
        (Day(2026, 3, 1), None),
        (Day(2026, 6, 1), None),
        (Day(2031, 1, 1), None),
    ],
)
def test_what_was_done_was_done_while_the_work_was_here(day, key):
    work = with_steps(Step(order=1, kind="step/other", began=day, by=(NELL,)))
    found = keys(told(work, items=(STAY, SECOND)))
    assert found == ({key} if key else set())


def test_a_step_after_the_work_left_and_a_check_nobody_said_where():
    late = Day(2026, 6, 2)
    work = with_steps(
        Step(order=1, kind="step/other", began=TODAY, ended=late, by=(NELL,)),
        checks=(replace(LOOK, on=late, lights=("light/normal",), limits="None."),),
    )
    assert keys(told(work, items=(STAY,))) == {"date.after-it-left", "check.elsewhere"}
    elsewhere = replace(work, checks=(replace(work.checks[0], at="the owner's house"),))
    assert keys(told(elsewhere, items=(STAY,))) == {"date.after-it-left"}
    assert all(map(of_order, told(elsewhere)))


@pytest.mark.parametrize(
    "work",
    [
        Work(attributions=OF_ARTIST, made=read_date("1920")),
        Work(attributions=OF_ARTIST, provenance=(event(1, "1903", "provenance/creation"),)),
    ],
)
def test_nothing_was_painted_after_the_painter_died(work):
    around = Around({DEAD.document: DEAD}.get, str)
    assert "date.after-death" in keys(list(of_record(work, around)))
    assert list(of_record(replace(work, attributions=()), around)) == []


def test_a_circle_of_parts_is_kept_and_said():
    top, middle = Work(number="2026-001"), Work(number="2026-002")
    wing = Work(
        number="2026-003", relations=(Relation(kind="relation/part-of", to=middle.document),)
    )
    middle = replace(middle, relations=(Relation(kind="relation/part-of", to=top.document),))
    assert told(wing, middle, top) == []
    top = replace(top, relations=(Relation(kind="relation/part-of", to=wing.document),))
    (said,) = told(wing, middle, top)
    assert said.says == (
        "a work cannot be a part of itself: 2026-003 is part of 2026-002 is part of 2026-001 is part of 2026-003"
    )
    assert said.kind == "wrong"


def test_a_circle_is_seen_from_either_end_of_a_relation():
    album = Work(number="2026-001")
    sheet = Work(
        number="2026-002", relations=(Relation(kind="relation/has-part", to=album.document),)
    )
    album = replace(album, relations=(Relation(kind="relation/has-part", to=sheet.document),))
    assert keys(told(album, sheet)) == {"circle"}
    assert keys(told(sheet, album)) == {"circle"}
    pendant = Relation(kind="relation/pendant-of", to=sheet.document)
    assert told(replace(album, relations=(pendant,)), sheet) == []


def test_the_full_record_is_told_and_nothing_is_said_twice():
    work = full_work()
    found = told(work, items=full_job(work).items)
    assert len(found) == len(set(found))
    assert {"inscription.photo", "removed.no-state", "document.not-on-file"} <= keys(found)


@settings(
    max_examples=30,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.generate],
)
@given(works())
def test_whatever_a_record_can_be_can_be_told(work):
    for each in told(work):
        assert each.kind in KINDS
        assert each.says
        assert "{" not in check("circle").remedy + each.remedy


def test_a_size_has_a_name_too():
    work = Work(sizes=(Size(what="size/support", height_mm=1, by=STRANGER),))
    assert [each.where for each in told(work)] == ["size, measured by"]
