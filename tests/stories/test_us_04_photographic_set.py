"""US-4: as the restorer I shoot a defined set and the tool tells me what is missing (trade sheet 1.2)."""

from dataclasses import replace

import pytest

from catalogue.argument.photo_set import missing, photo_set
from catalogue.desk import create_app
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Observation,
    Part,
    Photo,
    PriorRepair,
    Region,
    Step,
    Treatment,
    Work,
)
from catalogue.studio import Studio

WHO = "party/11111111-1111-4111-8111-111111111111"


def codes(work):
    return [each.wanted.code for each in missing(work)]


def shot(face, view="view/whole", light="light/normal", **more):
    return Photo(
        file_name=f"{face[5:]}-{light[6:]}.jpg",
        face=face,
        view=view,
        light=light,
        stage="stage/before",
        **more,
    )


EDGES = tuple(
    shot(f"face/tacking-edge-{side}", "view/edge")
    for side in ("top", "right", "bottom", "left")
)
WHOLE = (shot("face/front"), shot("face/back"), *EDGES)


def test_the_codes_of_the_sheet_are_there():
    assert {each.code for each in photo_set()} == {
        "N-R",
        "N-V",
        "N-E",
        "RK",
        "UV",
        "TR",
        "FR",
        "DET",
    }


def test_an_empty_work_lacks_front_back_and_edges():
    assert set(codes(Work())) == {"N-R", "N-V", "N-E"}
    assert codes(Work(photos=WHOLE)) == []


def test_each_edge_that_is_missing_is_named():
    lacking = missing(Work(photos=WHOLE[:-2]))
    assert [each.of for each in lacking] == ["bottom tacking edge", "left tacking edge"]


def finding(kind):
    look = ConditionCheck(number="K1", occasion="occasion/incoming", on=Day(2026, 3, 2), by=WHO)
    seen = Finding(
        number="F1",
        layer="layer/support",
        kind=kind,
        observations=(Observation(check=look.id),),
    )
    return Work(photos=WHOLE, checks=(look,), findings=(seen,))


@pytest.mark.parametrize(
    ("kind", "wanted"),
    [
        ("damage/bulge", {"RK", "DET"}),
        ("damage/tear-l-shaped", {"RK", "TR", "DET"}),
        ("damage/grime", {"DET"}),
    ],
)
def test_a_damage_calls_for_its_light(kind, wanted):
    work = finding(kind)
    assert set(codes(work)) == wanted
    raking = (*WHOLE, shot("face/front", light="light/raking"))
    assert "RK" not in codes(replace(work, photos=raking))


def test_ultraviolet_comes_before_cleaning():
    steps = (Step(order=1, kind="step/wet-clean"),)
    work = Work(photos=WHOLE, treatments=(Treatment(steps=steps),))
    assert codes(work) == ["UV"]
    assert (
        codes(replace(work, photos=(*WHOLE, shot("face/front", light="light/ultraviolet"))))
        == []
    )


def test_every_inscription_and_repair_has_a_detail_with_a_scale():
    title = Inscription(number="I1", kind="inscription/title", face="face/back")
    tape = PriorRepair(number="R1", kind="repair/tape")
    work = Work(photos=WHOLE, inscriptions=(title,), repairs=(tape,))
    assert [(each.wanted.code, each.of) for each in missing(work)] == [
        ("DET", "I1 title"), ("DET", "R1 tape"),
    ]  # fmt: skip
    plain = shot("face/back", "view/inscription", about=(title.id, tape.id))
    assert len(missing(replace(work, photos=(*WHOLE, plain)))) == 2
    measured = replace(plain, mm_per_pixel=0.08)
    assert not missing(replace(work, photos=(*WHOLE, measured)))
    box = Region(photo=measured.id, corners=((0, 0), (9, 0), (9, 9), (0, 9)))
    framed = replace(
        work,
        photos=(*WHOLE, replace(measured, about=())),
        inscriptions=(replace(title, regions=(box,)),),
    )
    assert [each.of for each in missing(framed)] == ["R1 tape"]


def test_a_mirrored_photograph_is_never_the_only_one():
    mirrored = (replace(WHOLE[0], mirrored=True), *WHOLE[1:])
    assert codes(Work(photos=mirrored)) == ["N-R"]


def test_what_was_taken_afterwards_does_not_count():
    after = (replace(WHOLE[0], stage="stage/after"), *WHOLE[1:])
    assert codes(Work(photos=after)) == ["N-R"]


def test_a_frame_calls_for_its_back():
    assert codes(Work(photos=WHOLE, parts=(Part(kind="part/frame"),))) == ["FR"]


def test_the_desk_says_what_is_missing():
    with Studio.open("memory:") as studio:
        member = studio.welcome("Nell Quince")
        kept = studio.save(Work(), who="Nell Quince")
        client = create_app(studio).test_client()
        with client.session_transaction() as session:
            session["who"] = member.document
        text = client.get(f"/work/{kept.record.id}/photos").text
    assert "What the set before treatment still lacks" in text
    assert "N-R, front: the whole front" in text
