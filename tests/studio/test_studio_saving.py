"""Saving: numbers, two people at once, drafts, bad moments; and what history then says."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, WHO, changed_title, full_work

from catalogue.errors import BadData, NotOnFile, StaleRevision
from catalogue.measure import Day
from catalogue.record import (
    Content,
    Inscription,
    Item,
    Job,
    Offer,
    Party,
    PartyName,
    Title,
    Transcript,
    Work,
    new_id,
)
from catalogue.studio import Studio


def new_work(title="Low Water"):
    return Work(titles=(Title(text=title, kind="title/given", preferred=True),))


def test_numbers_are_issued_in_order_and_within_a_work(empty_studio):
    mark = Inscription(kind="inscription/chalk-mark", face="face/back")
    other = Inscription(kind="inscription/seal", face="face/back")
    first = empty_studio.save(replace(new_work(), inscriptions=(mark,)), who=WHO)
    second = empty_studio.save(new_work(), who=WHO)
    year = empty_studio.today().year
    assert (first.record.number, second.record.number) == (f"{year}-001", f"{year}-002")
    assert first.record.inscriptions[0].number == "I1"
    gone = empty_studio.save(replace(first.record, inscriptions=()), who=WHO, read=first)
    again = empty_studio.save(replace(gone.record, inscriptions=(other,)), who=WHO, read=gone)
    assert again.record.inscriptions[0].number == "I2", "a number is never used again"


def test_what_was_saved_is_what_is_read(studio):
    work = full_work()
    kept = studio.save(replace(work, number=None), who=WHO)
    assert studio.read(kept.document_id).record == kept.record
    assert studio.work(kept.record.number).record == kept.record
    assert studio.work(work.id).revision == 1


def test_saving_without_a_change_saves_nothing(studio):
    kept = studio.work("2026-041")
    assert studio.save(kept.record, who=WHO, read=kept) is kept
    assert studio.work("2026-041").revision == kept.revision


def test_two_people_change_different_values_and_both_stay(studio):
    read = studio.work("2026-041")
    studio.save(replace(read.record, medium="Oil on linen"), who="Nell", read=read)
    joined = studio.save(changed_title(read.record, "High Water"), who="Bram", read=read)
    assert (joined.record.medium, joined.record.title()) == ("Oil on linen", "High Water")
    assert [change.who for change in studio.history(read.document_id)][-2:] == ["Nell", "Bram"]


def test_the_same_value_changed_twice_shows_both_sides(studio):
    read = studio.work("2026-041")
    studio.save(replace(read.record, medium="Tempera"), who="Nell", read=read)
    before = studio.ledger.last()
    with pytest.raises(StaleRevision) as stale:
        studio.save(replace(read.record, medium="Oil on linen"), who="Bram", read=read)
    assert (stale.value.mine, stale.value.theirs) == ("Oil on linen", "Tempera")
    assert studio.ledger.last() == before, "nothing was saved"


def test_the_same_change_made_twice_is_no_quarrel(studio):
    read = studio.work("2026-041")
    studio.save(replace(read.record, medium="Tempera"), who="Nell", read=read)
    both = replace(read.record, medium="Tempera", materials=("material/tempera",))
    assert studio.save(both, who="Bram", read=read).record.materials == ("material/tempera",)


def test_a_reading_added_by_each_of_two_people_stays_twice(studio):
    read = studio.work("2026-041")

    def with_reading(markup):
        first, *rest = read.record.inscriptions
        more = (*first.transcripts, Transcript(markup=markup, on=Day(2026, 4, 1)))
        return replace(read.record, inscriptions=(replace(first, transcripts=more), *rest))

    studio.save(with_reading("Hollis"), who="Nell", read=read)
    joined = studio.save(with_reading("Hallis"), who="Bram", read=read)
    read_as = {each.markup for each in joined.record.inscriptions[0].transcripts}
    assert {"Hollis", "Hallis"} <= read_as


def test_taking_away_what_somebody_else_changed_is_refused(studio):
    read = studio.work("2026-041")
    studio.save(changed_title(read.record, "High Water"), who="Nell", read=read)
    with pytest.raises(StaleRevision):
        studio.save(replace(read.record, titles=()), who="Bram", read=read)


def test_a_save_uses_up_its_draft(studio):
    read = studio.work("2026-041")
    draft = studio.ledger.keep_draft(
        who=WHO, document=read.document_id, place="I1", text="Holl"
    ).id
    assert [each.text for each in studio.ledger.drafts()] == ["Holl"]
    studio.save(replace(read.record, medium="Tempera"), who=WHO, read=read, draft=draft)
    assert studio.ledger.drafts() == []


def test_members_are_known_by_name(studio):
    nell = Party(
        kind="person",
        names=(PartyName(text="Nell Quay", preferred=True),),
        roles=("role/studio-member",),
    )
    studio.save(nell, who=WHO)
    assert studio.who("Nell Quay") == nell.document
    assert studio.who("a stranger") == "a stranger"
    studio.save(new_work(), who="Nell Quay")
    last = list(studio.history())[-1]
    assert studio.name_of(last.who) == "Nell Quay"


def test_a_new_work_from_the_door(studio):
    kept = studio.new_work(
        title="Harbour", artist="circle of Ada Penhale", made="c. 1890", who=WHO
    )
    assert kept.record.attribution().qualifier == "qualifier/circle-of"
    assert kept.record.attribution().artist == ARTIST.document
    with pytest.raises(BadData, match="there is no day 1890-02-31"):
        studio.new_work(title="Harbour", made="31 February 1890", who=WHO)


def test_asking_for_what_is_not_there(studio):
    for wanted in ("2026-999", "nonsense", "work/0", ARTIST.id):
        with pytest.raises(NotOnFile):
            studio.work(wanted)


def test_forgetting_a_person_leaves_a_pseudonym_and_a_chain_that_holds(studio):
    kept = studio.read(ARTIST.document)
    studio.save(replace(kept.record, roles=()), who=WHO, read=kept)
    with pytest.raises(BadData, match="needs a reason"):
        studio.forget(ARTIST.document, who=WHO, why=" ", pseudonym="N.N.")
    assert (
        studio.forget(ARTIST.document, who=WHO, why="asked in writing", pseudonym="N.N.") == 2
    )
    verdict = studio.verify()
    assert not verdict.faults
    assert len(verdict.forgotten) == 2
    assert studio.read(ARTIST.document).record.name() == "N.N."
    with pytest.raises(NotOnFile, match="asked in writing"):
        studio.read(ARTIST.document, 1)


def test_the_bench_shows_what_is_here(studio):
    bench = studio.bench()
    assert bench.works == 1
    assert bench.here == (), "the one work of the commission has left"
    assert [work.number for work in bench.latest] == ["2026-041"]


def test_a_forgotten_name_leaves_the_index_of_words_and_its_files(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        name = "Quillanderby"
        party = Party(kind="person", names=(PartyName(text=name, preferred=True),))
        studio.save(party, who=WHO)
        for number in range(3):
            title = Title(text=f"Harbour {number}", kind="title/given")
            studio.save(Work(titles=(title,)), who=WHO)
        assert studio.search(studio.query(name)).total == 1
        studio.forget(party.document, who=WHO, why="asked in writing", pseudonym="N.N.")
        assert studio.search(studio.query(name)).total == 0
        assert studio.search(studio.query("harbour")).total == 3
        kept = b"".join(
            path.read_bytes()
            for path in (tmp_path / "studio" / "indexes").rglob("*")
            if path.is_file()
        )
        assert name.lower().encode() not in kept.lower()


def test_a_member_whom_another_process_put_on_file_is_known_at_once(tmp_path):
    with Studio.init(tmp_path / "studio") as here, Studio.open(tmp_path / "studio") as there:
        assert here.members() == ()
        nell = there.welcome("Nell Quay")
        assert here.members() == (nell,)
        kept = there.read(nell.document)
        there.save(replace(kept.record, roles=("role/artist",)), who=WHO, read=kept)
        assert here.members() == ()


def test_a_new_record_that_would_not_be_read_again_is_not_saved(empty_studio):
    """A stranger's word where only ours can stand was kept once, and no page could show the record again."""
    before = empty_studio.ledger.last()
    offer = Offer(
        work=f"work/{new_id()}", status="offer-status/for-sale", asked=12, currency="a:b"
    )
    with pytest.raises(BadData, match="cannot be kept"):
        empty_studio.save(Job(reason="reason/consignment", offers=(offer,)), who=WHO)
    item = Item(
        work=f"work/{new_id()}", contents=(Content(kind="https://elsewhere.example/7"),)
    )
    with pytest.raises(BadData, match="cannot be kept"):
        empty_studio.save(Job(reason="reason/treatment", items=(item,)), who=WHO)
    assert empty_studio.ledger.last() == before
    assert list(empty_studio.all(Job)) == []
