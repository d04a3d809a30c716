"""What is kept up with the ledger says the same as a walk through all records, whatever was done meanwhile.

The walks here are the plain ones: every listed record is read anew, and nothing is remembered.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.history import called
from catalogue.indexes.names_known import keys_of, words_of
from catalogue.keeping import as_read
from catalogue.linked.text import parse
from catalogue.measure import Day, compare
from catalogue.measure.names import ALIKE
from catalogue.record import Attribution, Contact, Inquiry, Party, PartyName, Reach, Title, Work
from catalogue.retention import rules
from catalogue.studio import Studio

ELSEWHERE = "https://museum.example/person/3"
ORR = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": ELSEWHERE,
    "type": "Person",
    "_label": "Maud Orr",
    "identified_by": [{"type": "Name", "content": "Maud Orr"}],
}
ASKER = Party(
    kind="person", names=(PartyName(text="Wil Harrop"),),
    contact=Contact(reaches=(Reach(medium="reach/telephone", text="05 55 01 02"),)),
)  # fmt: skip
TWIN = Party(
    kind="person",
    names=(PartyName(text="W. Harrop", preferred=True), PartyName(text="Ada Penhale")),
)
MILL = Work(
    titles=(Title(text="The Mill", kind="title/given", preferred=True),),
    attributions=(Attribution(artist=TWIN.document, qualifier="qualifier/by"),),
)
SELLER = Inquiry(
    kind="inquiry/seller-identity", subject="Passport of the seller", on=Day(2020, 2, 29)
)


# --- the plain walks ------------------------------------------------------------------------------


def records(studio: Studio, kind: str):
    return [as_read(each) for each in studio.ledger.bodies(kind)]


def retention_by_walk(studio: Studio):
    """Rule, record, name, first day and day due, as the rules say it in vocab/retention.toml."""
    texts = [
        each.body.decode() for kind in ("work", "job") for each in studio.ledger.bodies(kind)
    ]
    named = {each for text in texts for each in re.findall(r"party/[0-9a-f-]{36}", text)}
    days = {each.seq: Day.from_iso(each.at[:10]) for each in studio.ledger.changes()}
    for rule in rules():
        found = []
        if rule.of == "job":
            for kept in records(studio, "job"):
                left = [item.left for item in kept.record.items]
                found.append((kept, max(left) if left and all(left) else None))
        elif rule.of == "inquiry":
            for kept in records(studio, "work"):
                asked = [
                    each.on
                    for each in kept.record.inquiries
                    if each.kind in rule.kinds and each.on
                ]
                if asked:
                    found.append((kept, max(asked)))
        elif rule.of == "party":
            for head in studio.ledger.heads("party"):
                kept = as_read(studio.ledger.read(head.document))
                if head.document not in named and kept.record.contact:
                    found.append((kept, days[head.touched]))
        for kept, begins in found:
            yield (
                rule.key, kept.document_id, called(kept.record), begins,
                rule.due(begins) if begins else None,
            )  # fmt: skip


def naming_by_walk(studio: Studio, document: str, kind: str) -> list[str]:
    """The listed documents of a kind in whose text an id or an address of it stands."""
    own = parse(studio.ledger.read(document).body)["id"]
    ids = {document, own, *studio.ledger.answering_for(document)}
    return sorted(
        each.document
        for each in studio.ledger.bodies(kind)
        if each.document != document
        and any(f'"{wanted}"'.encode() in each.body for wanted in ids)
    )


def doubles_by_walk(studio: Studio, party: Party) -> set[tuple[str, float]]:
    """Everybody whose names share a key and are alike; nobody here has years of life."""

    def keys(one: Party) -> set[str]:
        return {key for it in one.names for word in words_of(it.text) for key in keys_of(word)}

    others = (kept.record for kept in records(studio, "party") if kept.record.id != party.id)
    alike = (
        (other, max(compare(a.text, b.text).score for a in party.names for b in other.names))
        for other in others
        if keys(party) & keys(other)
    )
    return {(other.document, score) for other, score in alike if score >= ALIKE}


def agree(studio: Studio) -> None:
    told = [
        (each.rule.key, each.document_id, each.called, each.begins, each.due)
        for each in studio.retention()
    ]
    assert told == list(retention_by_walk(studio))
    documents = [head.document for head in studio.ledger.heads(listed_only=False)]
    for document in {studio.ledger.read(each).document for each in documents}:
        for kind in ("work", "job", "party", "reference"):
            found = studio._named_by.naming(document, kind)
            assert found == naming_by_walk(studio, document, kind), (document, kind)
        record = studio.read(document).record
        if isinstance(record, Party):
            told = {(each.party.document, each.alike.score) for each in studio.doubles(record)}
            assert told == doubles_by_walk(studio, record)


# --- what is done between two looks ---------------------------------------------------------------


@pytest.fixture
def house(empty_studio, tmp_path):
    """A work with everything, a commission, people who may be one, and a person of a museum."""
    work = full_work()
    for record in (
        replace(ARTIST, began=None, ended=None), CLIENT, work, full_job(work), ASKER, TWIN, MILL,
    ):  # fmt: skip
        empty_studio.save(record, who=WHO)
    (tmp_path / "orr.json").write_text(json.dumps(ORR))
    assert [each.outcome for each in empty_studio.import_([tmp_path], who=WHO)] == ["new"]
    agree(empty_studio)
    return empty_studio


def test_they_agree_and_there_is_something_to_agree_on(house):
    standing = {each.rule.key: each.document_id for each in house.retention()}
    assert set(standing) == {"accounts", "identity", "enquirer"}
    assert standing["enquirer"] == ASKER.document
    assert house.naming(TWIN.document) == [MILL.document]
    assert [each.party.id for each in house.doubles(ASKER)] == [TWIN.id]


def test_after_saves(house):
    mill = house.read(MILL.document)
    asked = (SELLER, replace(SELLER, id=full_work().id, on=Day(2021, 1, 2)))
    house.save(replace(mill.record, inquiries=asked), who=WHO, read=mill)
    assert ("identity", MILL.document, Day(2026, 1, 2)) in [
        (each.rule.key, each.document_id, each.due) for each in house.retention()
    ]
    agree(house)
    mill = house.read(MILL.document)
    house.save(replace(mill.record, attributions=(), inquiries=()), who=WHO, read=mill)
    assert house.naming(TWIN.document) == []
    agree(house)
    mill = house.read(MILL.document)
    by_asker = Attribution(artist=ASKER.document, qualifier="qualifier/by")
    house.save(replace(mill.record, attributions=(by_asker,)), who=WHO, read=mill)
    assert "enquirer" not in {each.rule.key for each in house.retention()}
    agree(house)
    (job,) = records(house, "job")
    gone = tuple(
        replace(each, came=Day(2016, 1, 1), due=None, left=Day(2016, 3, 1))
        for each in job.record.items
    )
    house.save(replace(job.record, items=gone), who=WHO, read=job)
    assert Day(2027, 1, 1) in {each.due for each in house.retention()}
    agree(house)


def test_after_a_work_was_set_aside_and_came_back(house):
    for document in (MILL.document, ASKER.document, house.work("2026-041").document_id):
        house.withdraw(document, who=WHO, why="by mistake")
        agree(house)
    assert house.naming(TWIN.document) == []
    for document in (MILL.document, ASKER.document):
        house.reinstate(document, who=WHO, why="it was none")
        agree(house)
    assert house.naming(TWIN.document) == [MILL.document]


def test_after_a_merge_and_its_undoing(house):
    house.merge(TWIN.document, ASKER.document, who=WHO, why="one person")
    assert house.naming(ASKER.document) == [MILL.document], "named by the id it answers for"
    merged = house.doubles(house.read(ASKER.document).record)
    assert TWIN.document not in {each.party.document for each in merged}
    agree(house)
    house.unmerge(TWIN.document, who=WHO, why="two after all")
    agree(house)


def test_after_somebody_was_forgotten(house):
    house.forget(ASKER.document, who=WHO, why="asked for it")
    assert "enquirer" not in {each.rule.key for each in house.retention()}
    assert "Harrop" not in repr([each.called for each in house.retention()])
    agree(house)
    house.forget(TWIN.document, who=WHO, why="asked for it")
    agree(house)


def test_a_record_from_elsewhere_is_named_by_its_address_before_and_after_it_is_ours(house):
    reference = house.at(ELSEWHERE)
    mill = house.read(MILL.document)
    by_orr = Attribution(artist=ELSEWHERE, qualifier="qualifier/by")
    house.save(replace(mill.record, attributions=(by_orr,)), who=WHO, read=mill)
    assert house.naming(reference) == [MILL.document]
    agree(house)
    ours = house.adopt(reference, who=WHO, why="she is a client").document_id
    assert house.naming(ours) == [MILL.document]
    agree(house)


def test_a_hold_is_seen_at_once_though_nothing_was_saved(house):
    (asker,) = [each for each in house.retention() if each.rule.key == "enquirer"]
    assert asker.is_due(Day(2040, 1, 1))
    house.hold(ASKER.document, who=WHO, why="a claim")
    (asker,) = [each for each in house.retention() if each.rule.key == "enquirer"]
    assert not asker.is_due(Day(2040, 1, 1))
    house.let_go(ASKER.document)
    (asker,) = [each for each in house.retention() if each.rule.key == "enquirer"]
    assert asker.held is None


def test_everything_on_a_person_has_their_own_changes_without_those_of_others(house):
    with house.ledger.change(who=WHO, why="many at once") as change:
        for each in (ASKER, MILL):
            now = house.ledger.read(each.document)
            change.save(each.document, now.body, expected=now.revision)
    told = house.about_person(ASKER.document)
    assert [each.why for each in told.changes][-1] == "many at once"
    entries = {entry.document for each in told.changes for entry in each.entries}
    assert entries == {ASKER.document}


def test_what_was_deleted_is_what_all_changes_say(house):
    house.forget(ASKER.document, who=WHO, why="asked for it")
    house.forget(CLIENT.document, who=WHO, why="asked for it too")
    by_walk = [
        each for each in house.history() if any(entry.act == "forget" for entry in each.entries)
    ]
    assert list(house.forgotten()) == by_walk
    assert len(by_walk) == 2
