"""Look-alike labels through the studio: found, said to be one form by a person, feeding each other's dates."""

from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest
from click.testing import CliRunner

from catalogue.command import main
from catalogue.record import Inscription, Transcript, Work
from catalogue.studio import Studio

FORM = "@p Harkwick & Son | Fine Art Dealers | 14 Tanner Street, York | No @h {} @p Date @h {}"


def with_label(markup: str) -> Work:
    label = Inscription(
        kind="inscription/dealer-label", face="face/stretcher-bar", transcripts=(Transcript(markup=markup),)
    )  # fmt: skip
    return Work(inscriptions=(label,))


@pytest.fixture
def three(tmp_path):
    with Studio.open("memory:") as studio:
        one, other, sister = (
            studio.save(with_label(markup), who="Nell")
            for markup in (
                FORM.format("341", "3 May 1931"),
                FORM.format("344", "").replace("York", "Y_o[..]"),
                FORM.format("9", "").replace("14", "16"),
            )
        )
        yield studio, one, other, sister


def test_a_label_finds_its_like_and_its_neighbours_number(three):
    studio, one, other, sister = three
    best = studio.alike(other.record, "I1")[0]
    assert best.on_file.work.number == one.record.number
    assert best.verdict is None
    assert any("neighbours" in why for why in best.likeness.why)
    told = {
        each.on_file.work.number: each.likeness.telling
        for each in studio.alike(other.record, "I1")
    }
    assert told.get(sister.record.number, 1) >= 1


def test_nothing_is_a_family_until_a_person_says_so(three):
    studio, one, other, _ = three
    assert studio.families() == ()
    studio.lay_beside(other, "I1", (one.record.number, "I1"), "verdict/same-form", who="Nell")
    (family,) = studio.families()
    assert {each.work.number for each in family.members} == {
        one.record.number,
        other.record.number,
    }
    assert [number for number, _ in family.numbers] == [341, 344]


def test_not_the_same_is_remembered_and_not_offered_again(three):
    studio, one, other, _ = three
    studio.lay_beside(
        other, "I1", (one.record.number, "I1"), "verdict/another-form", who="Nell"
    )
    assert all(
        each.on_file.work.number != one.record.number
        for work, number in ((other, "I1"),)
        for each in studio.alike(studio.read(work.document_id).record, number)
    )
    assert one.record.number
    assert all(
        each.on_file.work.number != other.record.number
        for each in studio.alike(one.record, "I1")
    )


def test_a_confirmed_family_dates_a_new_member_softly(three):
    studio, one, other, _ = three
    before = next(iter(studio.argue(other.record)))
    assert not any(each.rule.startswith("family:") for each in before.dating.reasons)
    kept = studio.lay_beside(
        other, "I1", (one.record.number, "I1"), "verdict/same-form", who="Nell"
    )
    argued = next(iter(studio.argue(kept.record)))
    (reason,) = [each for each in argued.dating.reasons if each.rule.startswith("family:")]
    assert reason.strength == "soft"
    assert reason.soft_earliest.year <= 1931 <= reason.soft_latest.year
    assert one.record.number in reason.why


def test_the_shelf_keeps_up_with_what_is_saved_and_withdrawn(three):
    studio, one, _other, _ = three
    assert studio.alike(one.record, "I1")
    later = studio.save(with_label(FORM.format("350", "")), who="Nell")
    found = {each.on_file.work.number for each in studio.alike(one.record, "I1")}
    assert later.record.number in found
    studio.withdraw(later.document_id, who="Nell", why="entered twice")
    found = {each.on_file.work.number for each in studio.alike(one.record, "I1")}
    assert later.record.number not in found


def test_the_commands_say_it(tmp_path):
    folder = tmp_path / "studio"
    with Studio.init(folder) as studio:
        one, other = (
            studio.save(with_label(FORM.format(number, "")), who="Nell").record.number
            for number in (1, 2)
        )
    run = CliRunner().invoke
    at = ["--studio", str(folder), "--who", "Nell"]
    proposed = run(main, [*at, "families", "--proposed"])
    assert f"{one}" in proposed.output
    assert "likely" in proposed.output
    shown = run(main, [*at, "alike", one, "I1", "--same", other, "I1"])
    assert shown.exit_code == 0, shown.output
    assert "same printed form" in shown.output
    listed = run(main, [*at, "families"])
    assert one in listed.output
    assert other in listed.output


def test_an_argument_reads_no_works_but_those_of_a_family(three, monkeypatch):
    studio, one, other, sister = three
    read: list[str] = []
    ledger_read = studio.ledger.read

    def watched(document, *more):
        read.append(document)
        return ledger_read(document, *more)

    monkeypatch.setattr(studio.ledger, "read", watched)
    list(studio.argue(sister.record))
    assert not {one.document_id, other.document_id} & set(read)
    studio.lay_beside(other, "I1", (one.record.number, "I1"), "verdict/same-form", who="Nell")
    read.clear()
    list(studio.argue(studio.read(other.document_id).record))
    assert {one.document_id, other.document_id} <= set(read)
    assert sister.document_id not in read


def test_what_is_kept_of_labels_can_be_deleted_broken_or_old_at_any_time(tmp_path):
    folder = tmp_path / "studio"
    with Studio.init(folder) as studio:
        one, other = (
            studio.save(with_label(FORM.format(number, "")), who="Nell") for number in (1, 2)
        )
        studio.lay_beside(
            other, "I1", (one.record.number, "I1"), "verdict/same-form", who="Nell"
        )

    def told():
        with Studio.open(folder) as studio:
            work = studio.read(one.document_id).record
            return len(studio.families()), [
                each.on_file.work.number for each in studio.alike(work, "I1")
            ]

    expected = (1, [other.record.number])
    assert told() == expected
    kept = folder / "indexes" / "labels.sqlite"
    assert kept.is_file()
    kept.unlink()
    assert told() == expected
    kept.write_bytes(b"no file of ours at all, whatever it was" * 50)
    assert told() == expected
    with closing(sqlite3.connect(kept)) as file, file:
        file.execute("update reached set rules = 'older rules'")
        file.execute("delete from label")
        file.execute("delete from said")
    assert told() == expected
    # another process saves, and this file is behind
    with Studio.open(folder) as studio:
        third = studio.save(with_label(FORM.format(3, "")), who="Nell")
    many, found = told()
    assert many == 1
    assert set(found) == {other.record.number, third.record.number}
    with Studio.open(folder) as studio:
        studio.withdraw(other.document_id, who="Nell", why="entered twice")
    assert told() == (0, [third.record.number])


def test_pairs_of_which_nobody_said_anything_are_proposed_once_and_no_more_when_decided(three):
    studio, one, other, _sister = three
    pairs = [
        {each.one.work.number, each.other.work.number} for each in studio.may_be_one_form()
    ]
    assert pairs.count({one.record.number, other.record.number}) == 1
    best = studio.may_be_one_form()[0]
    assert best.likeness.why
    studio.lay_beside(other, "I1", (one.record.number, "I1"), "verdict/same-form", who="Nell")
    assert {one.record.number, other.record.number} not in [
        {each.one.work.number, each.other.work.number} for each in studio.may_be_one_form()
    ]


def test_a_number_that_was_struck_and_written_anew_counts_as_it_stands_now(three):
    studio, one, _other, _ = three
    renumbered = studio.save(with_label(FORM.format("[[341]]<<346>>", "")), who="Nell")
    studio.lay_beside(
        renumbered, "I1", (one.record.number, "I1"), "verdict/same-form", who="Nell"
    )
    (family,) = studio.families()
    assert [number for number, _ in family.numbers] == [341, 346]
