"""Set aside, merged, forgotten: out of sight and back again, and what others then show."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.errors import BadData, NotOnFile
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.measure import read_date
from catalogue.record import (
    Address,
    Attribution,
    Contact,
    Inscription,
    Party,
    PartyName,
    Reach,
    Title,
    Transcript,
    Work,
)

TWIN = Party(
    kind="person",
    names=(
        PartyName(text="A. J. Penhale", preferred=True),
        PartyName(text="Ada Penhale"),
    ),
    roles=("role/artist", "role/dealer"),
    ended=read_date("1903"),
    addresses=(Address(text="9 Quay Row, Porthmellow"),),
)


def words(studio, *asked):
    return [hit.document for hit in studio.search(studio.query(" ".join(asked))).hits]


def other_work(studio, **fields):
    fields.setdefault("titles", (Title(text="The Ferry", kind="title/given", preferred=True),))
    return studio.save(Work(**fields), who=WHO)


# --- out of the lists -----------------------------------------------------------------------------


def test_a_work_set_aside_is_in_no_list_and_says_who_when_and_why(studio, tmp_path):
    work = studio.work("2026-041")
    studio.withdraw(work.document_id, who="Bram", why="entered twice")
    assert list(studio.all(Work)) == []
    assert words(studio, "trewin") == []
    bench = studio.bench()
    assert (bench.here, bench.latest, bench.works) == ((), (), 0)
    assert studio.export("full-graph", "full", tmp_path / "all").documents == 3
    act = studio.standing(work.document_id).withdrawn
    assert (act.who, act.why) == ("Bram", "entered twice")
    assert studio.work("2026-041").record == work.record, "its own page still opens"


def test_a_work_set_aside_does_not_leave_by_its_number_either(studio, tmp_path):
    studio.withdraw(studio.work("2026-041").document_id, who="Bram", why="entered twice")
    with pytest.raises(BadData, match=r"set aside by Bram on .*: entered twice"):
        studio.export("linked-art", "public", tmp_path / "one", ["2026-041"])


def test_its_drafts_and_its_place_on_the_bench_are_not_shown_meanwhile(studio):
    kept = other_work(studio)
    job = full_job(kept.record)
    here = replace(
        job, number=None, id=kept.record.id, items=(replace(job.items[0], left=None),)
    )
    studio.save(here, who=WHO)
    studio.ledger.keep_draft(who=WHO, document=kept.document_id, place="new", text="Holl")
    assert (len(studio.bench().here), len(studio.bench().drafts)) == (1, 1)
    studio.withdraw(kept.document_id, who=WHO, why="a mistake")
    assert (studio.bench().here, studio.bench().drafts) == ((), ())
    studio.reinstate(kept.document_id, who=WHO, why="no mistake")
    assert (len(studio.bench().here), len(studio.bench().drafts)) == (1, 1)
    assert studio.standing(kept.document_id).withdrawn is None
    acts = [act for each in studio.retold(kept.document_id)[1] for act in each.acts]
    assert acts == ["back in the lists", "set aside: no longer in the lists", "first kept"]


def test_setting_aside_twice_or_without_a_reason_is_refused(studio):
    work = studio.work("2026-041").document_id
    with pytest.raises(BadData, match="needs a reason"):
        studio.withdraw(work, who=WHO, why=" ")
    with pytest.raises(BadData, match="is not set aside"):
        studio.reinstate(work, who=WHO, why="x")
    studio.withdraw(work, who=WHO, why="x")
    with pytest.raises(BadData, match="set aside already"):
        studio.withdraw(work, who=WHO, why="x")


# --- one answers for the other --------------------------------------------------------------------


def test_two_records_of_one_person_become_one(studio):
    studio.save(TWIN, who=WHO)
    told = studio.joining(TWIN.document, ARTIST.document)
    assert {each.what for each in told.adds} == {"roles", "name", "address"}
    assert [
        (each.what, each.fields[0].before, each.fields[0].after) for each in told.differs
    ] == [("died or closed", "after 1901", "1903")]
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="one and the same")
    kept = studio.read(TWIN.document)
    assert kept.document_id == ARTIST.document, "the old id answers with the new"
    assert [name.text for name in kept.record.names] == [
        "Ada Penhale", "A. J. Penhale", "A. Penhale"
    ]  # fmt: skip
    assert kept.record.name() == "Ada Penhale"
    assert kept.record.roles == ("role/artist", "role/dealer")
    assert kept.record.ended.written == "after 1901"
    assert [each.id for each in kept.record.addresses if "Quay" in each.text] == [
        TWIN.addresses[0].id
    ], "values keep their ids"
    assert [each.document_id for each in studio.all(Party)].count(TWIN.document) == 0


def test_what_names_the_old_one_shows_the_new_ones_name_everywhere(studio, tmp_path):
    studio.save(TWIN, who=WHO)
    ferry = other_work(
        studio, attributions=(Attribution(artist=TWIN.document, preferred=True),)
    )
    assert studio.joining(TWIN.document, ARTIST.document).named_by == 1
    studio.search(studio.query("ferry"))
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="one and the same")
    assert studio.name_of(ferry.record.attribution().artist) == "Ada Penhale"
    found = studio.search(studio.query(artist="A. Penhale")).hits
    assert {hit.document for hit in found} >= {ferry.document_id}
    kept = studio.read(ARTIST.document)
    named = replace(kept.record, names=(*kept.record.names, PartyName(text="Adeline Penhale")))
    studio.save(named, who=WHO, read=kept)
    found = studio.search(studio.query(artist="adeline")).hits
    assert ferry.document_id in {hit.document for hit in found}, "even after a later change"
    studio.export("linked-art", "public", tmp_path / "out", [ferry.record.number])
    written = "".join(path.read_text() for path in (tmp_path / "out").iterdir())
    assert ARTIST.id in written
    assert TWIN.id not in written


def test_a_merge_is_undone_and_both_are_as_they_were(studio):
    twin = studio.save(TWIN, who=WHO)
    before = studio.read(ARTIST.document).record
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="one and the same")
    (former,) = studio.standing(ARTIST.document).answers_for
    assert (former.document, former.called) == (TWIN.document, "A. J. Penhale")
    assert former.act.why == "one and the same"
    assert studio.unmerge(TWIN.document, who=WHO, why="mother and daughter") == ()
    assert studio.read(ARTIST.document).record == before
    assert studio.read(TWIN.document).record == twin.record
    assert not studio.verify().faults
    _, changes = studio.retold(ARTIST.document)
    assert "answers for A. J. Penhale from here on" in changes[1].acts


def test_what_was_worked_on_since_stays_when_a_merge_is_undone(studio):
    studio.save(TWIN, who=WHO)
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="one and the same")
    kept = studio.read(ARTIST.document)
    dated = tuple(
        replace(each, when=read_date("1899")) if "Quay" in each.text else each
        for each in kept.record.addresses
    )
    studio.save(replace(kept.record, addresses=dated), who=WHO, read=kept)
    left = studio.unmerge(TWIN.document, who=WHO, why="mother and daughter")
    assert [each.what for each in left] == ["address"]
    assert len(studio.read(ARTIST.document).record.addresses) == 2
    assert len(studio.read(ARTIST.document).record.names) == 2


def test_two_records_of_one_work_become_one_with_numbers_that_are_free(studio):
    marks = tuple(
        Inscription(
            number=number,
            kind="inscription/chalk-mark",
            face="face/back",
            transcripts=(Transcript(markup=number),),
        )
        for number in ("I1", "I7")
    )
    again = other_work(studio, inscriptions=marks, medium="Tempera")
    work = studio.work("2026-041")
    studio.merge(again.document_id, work.document_id, who=WHO, why="entered twice")
    kept = studio.work(again.record.number)
    assert kept.document_id == work.document_id, "the old number finds the new work"
    numbers = {each.transcripts[-1].markup: each.number for each in kept.record.inscriptions}
    assert (numbers["I1"], numbers["I7"]) == ("I3", "I4")
    assert [each.id for each in kept.record.inscriptions[2:]] == [each.id for each in marks]
    assert kept.record.title() == "Low Water"
    assert sum(each.preferred for each in kept.record.titles) == 1
    assert again.record.number in {each.text for each in kept.record.numbers}
    assert kept.record.medium == "Oil on canvas"
    studio.unmerge(again.document_id, who=WHO, why="two pictures")
    assert studio.work("2026-041").record == work.record
    assert studio.work(again.record.number).record == again.record


def test_the_commission_of_a_merged_work_is_found_from_the_new_one(studio):
    again = other_work(studio)
    work = studio.work("2026-041").document_id
    (job,) = studio.jobs_of(work)
    studio.merge(work, again.document_id, who=WHO, why="entered twice")
    assert studio.jobs_of(again.document_id) == (job,)
    assert studio.name_of(job.items[0].work) == "The Ferry"


def test_who_may_see_a_merged_person_is_never_widened_and_no_contact_is_lost(studio):
    reach = Reach(medium="reach/telephone", text="555 0107")
    twin = Party(
        kind="person",
        names=(PartyName(text="Mrs E. Quillan", preferred=True),),
        contact=Contact(reaches=(reach,)),
    )
    studio.save(twin, who=WHO)
    studio.merge(CLIENT.document, twin.document, who=WHO, why="one and the same")
    kept = studio.read(twin.document).record
    assert kept.visibility == "visibility/studio"
    assert {each.text for each in kept.contact.reaches} == {"555 0107", "quillan@post.example"}
    assert len(kept.contact.notes) == 1


def test_what_cannot_answer_for_another_is_refused_in_words(studio):
    studio.save(TWIN, who=WHO)
    work = studio.work("2026-041").document_id
    with pytest.raises(BadData, match="not of one kind"):
        studio.merge(TWIN.document, work, who=WHO, why="x")
    with pytest.raises(BadData, match="into itself"):
        studio.merge(TWIN.document, TWIN.document, who=WHO, why="x")
    with pytest.raises(BadData, match="needs a reason"):
        studio.merge(TWIN.document, ARTIST.document, who=WHO, why="")
    with pytest.raises(BadData, match="was not merged"):
        studio.unmerge(TWIN.document, who=WHO, why="x")
    studio.withdraw(ARTIST.document, who=WHO, why="x")
    with pytest.raises(BadData, match="set aside and cannot answer"):
        studio.merge(TWIN.document, ARTIST.document, who=WHO, why="x")
    studio.reinstate(ARTIST.document, who=WHO, why="x")
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="x")
    with pytest.raises(BadData, match="merged already: Ada Penhale answers"):
        studio.merge(TWIN.document, CLIENT.document, who=WHO, why="x")
    with pytest.raises(BadData, match="is in no list"):
        studio.withdraw(TWIN.document, who=WHO, why="x")
    with pytest.raises(NotOnFile):
        studio.merge("party/" + work[5:], ARTIST.document, who=WHO, why="x")


def test_merges_in_a_row_are_undone_from_the_last_one(studio):
    studio.save(TWIN, who=WHO)
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="x")
    studio.merge(ARTIST.document, CLIENT.document, who=WHO, why="x")
    assert studio.read(TWIN.document).document_id == CLIENT.document
    assert len(studio.standing(CLIENT.document).answers_for) == 2
    with pytest.raises(BadData, match="was itself merged"):
        studio.unmerge(TWIN.document, who=WHO, why="x")
    studio.unmerge(ARTIST.document, who=WHO, why="x")
    studio.unmerge(TWIN.document, who=WHO, why="x")
    assert studio.read(ARTIST.document).record == ARTIST


# --- forgotten for good ---------------------------------------------------------------------------


def test_forgetting_tells_its_numbers_first(studio):
    kept = studio.read(ARTIST.document)
    studio.save(replace(kept.record, roles=()), who=WHO, read=kept)
    studio.ledger.keep_draft(who=WHO, document=ARTIST.document, place="new", text="Ada")
    told = studio.forgetting(ARTIST.document)
    assert (told.revisions, told.named_by, told.drafts) == (2, 1, 1)
    assert studio.read(ARTIST.document).revision == 2, "nothing was done yet"


def test_whoever_was_merged_into_the_forgotten_is_forgotten_too(studio):
    studio.save(TWIN, who=WHO)
    studio.merge(TWIN.document, ARTIST.document, who=WHO, why="one and the same")
    assert studio.forget(TWIN.document, who=WHO, why="asked", pseudonym="N.N.") == 3
    for document, revision in ((TWIN.document, 1), (ARTIST.document, 1), (ARTIST.document, 2)):
        with pytest.raises(NotOnFile, match="asked"):
            studio.read(document, revision)
    assert studio.name_of(TWIN.document) == "N.N."
    with pytest.raises(BadData, match="was forgotten"):
        studio.unmerge(TWIN.document, who=WHO, why="x")
    assert not studio.verify().faults


def test_the_file_a_forgotten_person_came_from_goes_as_well(empty_studio, tmp_path):
    alone, both = tmp_path / "alone.json", tmp_path / "both.json"
    alone.write_bytes(write(to_jsonld(ARTIST)))
    both.write_bytes(b"[" + write(to_jsonld(CLIENT)) + b"," + write(to_jsonld(TWIN)) + b"]")
    list(empty_studio.import_([alone, both], who=WHO))
    digest = empty_studio.ledger.read(ARTIST.document, 1).source
    assert empty_studio.forgetting(ARTIST.document).files == ("alone.json",)
    told = empty_studio.forgetting(CLIENT.document)
    assert (told.files, told.shared) == ((), ("both.json",))
    empty_studio.forget(ARTIST.document, who=WHO, why="asked")
    assert not empty_studio.ledger.has_file(digest)
    empty_studio.forget(CLIENT.document, who=WHO, why="asked")
    assert not empty_studio.verify().faults
    assert empty_studio.name_of(CLIENT.document) == "Name withheld"
    assert empty_studio.read(CLIENT.document).record.visibility == "visibility/studio"


def test_of_a_work_only_what_it_used_to_say_is_forgotten(studio):
    work = studio.work("2026-041")
    with pytest.raises(BadData, match="no older state"):
        studio.forget(work.document_id, who=WHO, why="x")
    kept = studio.save(replace(work.record, notes=()), who=WHO, read=work)
    assert studio.forget(work.document_id, who=WHO, why="a name in a note") == 1
    assert studio.work("2026-041").record == kept.record
    with pytest.raises(NotOnFile, match="a name in a note"):
        studio.read(work.document_id, 1)
    assert not studio.verify().faults


def test_a_commission_cannot_be_forgotten(studio):
    (job,) = studio.jobs_of(studio.work("2026-041").document_id)
    with pytest.raises(BadData, match="no older state"):
        studio.forget(job.document, who=WHO, why="x")
    assert full_work().number == "2026-041"
