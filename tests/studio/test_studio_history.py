"""A record's history in words, and bringing back what stood there: always as a new change."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, WHO, full_work, works

from catalogue.errors import BadData, NotOnFile, StaleRevision
from catalogue.history import in_words, moment
from catalogue.linked.text import parse, write
from catalogue.measure import Day, read_date
from catalogue.record import Note, Title, Transcript, new_id
from catalogue.undoing import changes_between, taken_back
from catalogue.wording import said


def edited(studio, **fields):
    """The sample work with something changed, saved."""
    read = studio.work("2026-041")
    return studio.save(replace(read.record, **fields), who=WHO, why="looked again", read=read)


def last(studio, document_id=None):
    document_id = document_id or studio.work("2026-041").document_id
    return studio.retold(document_id)[1][0]


def lines(change):
    return {
        (value.what, each.label): (each.before, each.after)
        for value in change.changes
        for each in value.fields
    }


def test_the_newest_change_comes_first_and_says_who_why_and_when(studio):
    kept = edited(studio, medium="Oil on linen")
    how_many, changes = studio.retold(kept.document_id)
    assert how_many == len(changes) == 2
    assert (changes[0].who, changes[0].why, changes[0].revision) == (WHO, "looked again", 2)
    assert changes[1].acts == ("first kept",)
    assert studio.retold(kept.document_id, skip=1, at_most=1)[1] == changes[1:]


# The offsets of this zone are from the IANA time zone database, by way of zoneinfo.
@pytest.mark.parametrize(
    ("at", "zone", "said_as"),
    [
        ("2026-07-02T22:20:31.120Z", "Europe/Vienna", "3 July 2026, 00:20"),
        ("2026-01-02T22:20:31.120Z", "Europe/Vienna", "2 January 2026, 23:20"),
        ("2026-01-02T22:20:31.120Z", "America/St_Johns", "2 January 2026, 18:50"),
    ],
)
def test_times_are_by_the_clock_of_the_studio(at, zone, said_as):
    assert moment(at, zone) == said_as


def test_a_fact_of_the_whole_is_told_before_and_after(studio):
    edited(studio, medium="Oil on linen", made=read_date("before 1900"))
    told = lines(last(studio))
    assert told["medium and support", ""] == ("Oil on canvas", "Oil on linen")
    assert told["made", ""] == ("c. 1887", "before 1900")


def test_values_are_told_in_the_words_of_the_trade(studio):
    read = studio.work("2026-041").record
    label = read.inscription("I1")
    again = replace(
        label,
        kind="inscription/stamp",
        hand=None,
        transcripts=(
            *label.transcripts,
            Transcript(markup="Hollis & Trewin", by=ARTIST.document, on=Day(2026, 4, 1)),
        ),
    )
    others = tuple(each for each in read.inscriptions if each.id != label.id)
    edited(studio, inscriptions=(again, *others), notes=read.notes[:1])
    change = last(studio)
    told = lines(change)
    assert told["inscription I1", "kind"] == ("dealer's label", "stamp")
    assert told["inscription I1", "hand"] == ("A", "")
    assert told["reading of inscription I1", "read by"] == ("", "Ada Penhale")
    assert told["reading of inscription I1", "read on"] == ("", "1 April 2026")
    assert [each.did for each in change.changes if each.kind == "Note"] == ["taken away"] * (
        len(read.notes) - 1
    )
    assert {each.number for each in change.changes if each.kind == "Inscription"} == {"I1"}


def test_a_changed_reading_is_shown_in_both_versions_as_typed(studio):
    read = studio.work("2026-041").record
    label = read.inscription("I1")
    first = label.preferred()
    rest = tuple(each for each in label.transcripts if each.id != first.id)
    better = replace(label, transcripts=(replace(first, markup="Hollis & Trewin"), *rest))
    others = tuple(each for each in read.inscriptions if each.id != label.id)
    edited(studio, inscriptions=(better, *others))
    (value,) = last(studio).changes
    (line,) = value.fields
    assert line.markup
    assert (line.before, line.after) == (first.markup, "Hollis & Trewin")


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(works(), works())
def test_every_difference_has_words_and_none_shows_an_id_of_the_program(before, after):
    after = replace(after, id=before.id)
    for value in in_words(before, after, str):
        assert value.what
        assert value.did in ("added", "changed", "taken away")
        assert "_" not in value.what
        for each in value.fields:
            assert each.before != each.after


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(works(), works())
def test_a_change_taken_back_at_once_leaves_what_was_there(before, after):
    after = replace(after, id=before.id)
    record, left = taken_back(after, before, after)
    assert left == ()
    assert changes_between(before, record) == ()


def test_an_earlier_state_is_saved_as_a_new_change(studio):
    first = studio.work("2026-041")
    edited(studio, titles=(), medium="Tempera")
    now = studio.work("2026-041")
    kept = studio.bring_back(now, 1, who="Bram", why="the wrong picture was edited")
    assert kept.revision == 3
    assert studio.work("2026-041").record == first.record, "ids and all"
    assert studio.read(first.document_id, 2).record == now.record, "nothing is overwritten"
    assert last(studio).why == "the wrong picture was edited"
    assert not studio.verify().faults


def test_what_dorse_does_not_know_comes_back_as_well(studio):
    read = studio.work("2026-041")
    strange = {**studio.document(read.document_id), "https://elsewhere.example/shelf": "4"}
    with studio.ledger.change(who=WHO, why="by hand", written_in=1) as change:
        change.save(read.document_id, write(strange), expected=1)
        change.save(read.document_id, studio.ledger.read(read.document_id).body, expected=2)
    edited(studio, medium="Tempera")
    studio.bring_back(studio.work("2026-041"), 2, who=WHO, why="shelf lost")
    body = parse(studio.ledger.read(read.document_id).body)
    assert body["https://elsewhere.example/shelf"] == "4"


@pytest.mark.parametrize("reason", ["", "  "])
def test_bringing_back_needs_a_reason(studio, reason):
    now = edited(studio, medium="Tempera")
    with pytest.raises(BadData, match="needs a reason"):
        studio.bring_back(now, 1, who=WHO, why=reason)


def test_a_state_that_is_not_there_or_is_the_present_one_is_refused(studio):
    now = edited(studio, medium="Tempera")
    with pytest.raises(NotOnFile, match="no state 9"):
        studio.bring_back(now, 9, who=WHO, why="x")
    with pytest.raises(BadData, match="stands already"):
        studio.bring_back(now, 2, who=WHO, why="x")
    assert studio.work("2026-041").revision == 2


def test_a_state_that_was_forgotten_does_not_come_back(studio):
    studio.forget(ARTIST.document, who=WHO, why="asked in writing", pseudonym="N.N.")
    with pytest.raises(NotOnFile, match="asked in writing"):
        studio.bring_back(studio.read(ARTIST.document), 1, who=WHO, why="curious")
    _, changes = studio.retold(ARTIST.document)
    assert "asked in writing" in changes[-1].gone
    assert "Ada" not in repr(changes)


def test_what_somebody_else_changed_meanwhile_is_joined_or_refused(studio):
    stale = edited(studio, medium="Tempera", titles=())
    fresh = studio.work("2026-041")
    studio.save(replace(fresh.record, materials=()), who="Bram", read=fresh)
    kept = studio.bring_back(replace(stale, record=stale.record), 1, who=WHO, why="back")
    assert kept.record.medium == "Oil on canvas"
    again = studio.work("2026-041")
    studio.save(replace(again.record, medium="Gouache"), who="Bram", read=again)
    with pytest.raises(StaleRevision):
        studio.bring_back(again, 2, who=WHO, why="back")


def test_one_value_of_a_change_is_taken_back_and_later_work_stays(studio):
    first = studio.work("2026-041").record
    edited(
        studio, medium="Tempera", titles=(*first.titles, Title(text="Ebb", kind="title/given"))
    )
    now = edited(studio, materials=("material/oak",))
    kept = studio.take_back(now, 2, who=WHO, why="no", value="medium")
    assert (kept.record.medium, len(kept.record.titles)) == ("Oil on canvas", 3)
    kept = studio.take_back(kept, 2, who=WHO, why="no")
    assert kept.record.titles == first.titles
    assert kept.record.materials == ("material/oak",)


def test_an_inscription_that_was_taken_away_comes_back_with_its_readings(studio):
    first = studio.work("2026-041").record
    edited(studio, inscriptions=())
    now = edited(studio, medium="Tempera")
    kept = studio.take_back(now, 2, who=WHO, why="it is there", value="I1")
    assert kept.record.inscriptions == (first.inscription("I1"),)
    assert kept.record.medium == "Tempera"


def test_what_was_changed_again_since_is_not_taken_back(studio):
    edited(studio, medium="Tempera")
    now = edited(studio, medium="Gouache")
    with pytest.raises(BadData, match="medium and support was changed again"):
        studio.take_back(now, 2, who=WHO, why="no")
    with pytest.raises(NotOnFile, match="did nothing to 'I9'"):
        studio.take_back(now, 3, who=WHO, why="no", value="I9")
    with pytest.raises(BadData, match="with its first state"):
        studio.take_back(now, 1, who=WHO, why="no")


def test_a_value_that_was_added_is_not_taken_back_over_what_was_written_in_it_since(studio):
    first = studio.work("2026-041").record
    ebb = Title(text="Ebb", kind="title/given")
    stretcher = first.parts[0]
    edited(studio, titles=(*first.titles, ebb))
    bare = edited(studio, parts=(*first.parts, replace(stretcher, id=new_id(), notes=())))
    added = next(
        each for each in bare.record.parts if each.id not in {p.id for p in first.parts}
    )
    noted = replace(added, notes=(Note(text="Worm in the corner."),))
    others = tuple(each for each in bare.record.parts if each.id != added.id)
    now = edited(studio, parts=(*others, noted))
    with pytest.raises(BadData, match="part was changed again"):
        studio.take_back(now, 3, who=WHO, why="no")


def test_a_person_is_not_named_in_a_reason_that_cannot_be_forgotten(empty_studio):
    kept = empty_studio.save(CLIENT, who=WHO)
    empty_studio.save(replace(CLIENT, roles=()), who=WHO, read=kept)
    assert [each.why for each in empty_studio.history()] == ["new person", "edit person"]


def test_a_value_says_itself_in_words():
    work = full_work()
    label = work.inscription("I1") if work.inscriptions[0].number == "I1" else None
    assert said(label.place) == "62 × 38.5 mm, 10 mm from the left and 5 mm from the top"
    assert said(("material/oak", "material/pine")) == "oak, pine"
    assert said(work.notes[0].released or work.notes[1].released).startswith(
        "by Nell, 2026-03-03"
    )
