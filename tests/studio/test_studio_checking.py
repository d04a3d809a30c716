"""`check` of the studio: what is kept, held to the shapes, to itself and to what is on file around it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.errors import BadData, NotOnFile
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.measure import Day
from catalogue.record import Relation, Step, Treatment, Work


def test_a_full_work_is_told_and_its_shapes_are_kept(studio):
    (kept,) = studio.all(Work)
    found = studio.check(kept.document_id)
    assert [each.kind for each in found] == sorted(
        (each.kind for each in found), key=("wrong", "missing", "open").index
    )
    assert not [each for each in found if each.kind == "wrong"]
    (removed,) = (each for each in found if "T1.1" in each.says and "order" not in each.says)
    assert (removed.where, removed.kind) == ("R1 tape, states", "open")


def test_what_came_damaged_is_told_by_its_shape(empty_studio, tmp_path):
    document = to_jsonld(full_work())
    features = [each for each in document["bears"] if each["type"] == "PhysicalFeature"]
    features[0]["classified_as"].append(
        {"id": "https://dorse.example/ns/1#view/whole", "type": "Type", "_label": "whole"}
    )
    (tmp_path / "came.json").write_bytes(write(document))
    list(empty_studio.import_([tmp_path], who=WHO))
    (kept,) = empty_studio.all(Work)
    wrong = [each for each in empty_studio.check(kept.document_id) if each.kind == "wrong"]
    assert [(each.where, each.value) for each in wrong] == [
        ("F1 tear", kept.record.findings[0].id)
    ]
    assert "has no business on a finding" in wrong[0].says


def test_a_step_before_the_work_came_is_told_by_its_commission(empty_studio):
    step = Step(order=1, kind="step/other", began=Day(2026, 2, 1), by=(ARTIST.document,))
    work = Work(treatments=(Treatment(number="T1", steps=(step,)),))
    for record in (ARTIST, CLIENT, work, full_job(work)):
        empty_studio.save(record, who=WHO)
    said = [each.says for each in empty_studio.check(work.document)]
    assert "2026-02-01 is before the work came (2026-03-01)" in said
    # the commission is asked too: its approval came after the step
    assert any(each.startswith("stop in the order of work, O1") for each in said)


def test_a_circle_through_a_merged_work_is_told(empty_studio):
    album, old, sheet = Work(), Work(), Work()
    sheet = replace(sheet, relations=(Relation(kind="relation/part-of", to=old.document),))
    album = replace(album, relations=(Relation(kind="relation/part-of", to=sheet.document),))
    for work in (album, old, sheet):
        empty_studio.save(work, who=WHO)
    assert empty_studio.check(album.document) == ()
    empty_studio.merge(old.document, album.document, who=WHO, why="one album")
    (said,) = empty_studio.check(sheet.document)
    numbers = [empty_studio.work(each.document).record.number for each in (sheet, album)]
    assert said.says.endswith(f"{numbers[0]} is part of {numbers[1]} is part of {numbers[0]}")


def test_only_works_and_commissions_can_be_checked(studio):
    with pytest.raises(BadData, match="neither a work nor a commission"):
        studio.check(ARTIST.document)
    with pytest.raises(NotOnFile):
        studio.check("work/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a99")


def test_checking_saves_nothing(studio):
    (kept,) = studio.all(Work)
    before = len(list(studio.history()))
    studio.check(kept.document_id)
    assert len(list(studio.history())) == before
