"""What is half typed in a form: where it belongs, what is kept of it, and that a save uses it up."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_records import ARTIST, WHO

from catalogue.errors import BadData
from catalogue.half_typed import LARGEST, HalfTyped, document_of, page_of, read
from catalogue.record import new_id

OWN = ARTIST.id


@pytest.mark.parametrize(
    ("place", "document"),
    [
        (f"/work/{OWN}#note", f"work/{OWN}"),
        (f"/work/{OWN}#note:{OWN}", f"work/{OWN}"),
        (f"/work/{OWN}/enter/treatments/{OWN}/steps", f"work/{OWN}"),
        (f"/jobs/{OWN}/enter/notes/{OWN}", f"job/{OWN}"),
        (f"/people/{OWN}/edit", f"party/{OWN}"),
        ("/work/new", "work/new"),
        ("/jobs/new", "job/new"),
        ("/take-in/Zk3_-", "tray/new"),
    ],
)
def test_a_place_belongs_to_a_record(place, document):
    assert document_of(place) == document
    assert page_of(place) == place.split("#")[0]


@pytest.mark.parametrize(
    "place",
    ["", "/", "/work", "//elsewhere.example/work/new", "/work/7", "/find?q=x", f"/work/{OWN}?x=1", f"/work/{OWN}#<b>",
     "/take-in/../../etc", f"/photo/{OWN}", "/work/new\n", "javascript:alert(1)", "/work/" + "new/" * 200],
)  # fmt: skip
def test_nothing_is_kept_for_any_other_address(place):
    with pytest.raises(BadData):
        document_of(place)


names = st.text(min_size=1, max_size=12)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)


@given(st.dictionaries(names, st.lists(texts, max_size=3), max_size=6))
def test_every_blank_comes_back_letter_by_letter(fields):
    kept = HalfTyped.of("a note", fields.items())
    assert read(kept.text()) == kept
    assert set(fields) - set(kept.fields) <= {
        "draft", "look", "more", "remove", "known", "csrf_token", "draft_place", "draft_from", "draft_called",
    }  # fmt: skip


def test_more_than_a_page_can_hold_is_refused_not_cut():
    with pytest.raises(BadData, match="too long"):
        HalfTyped("note", {"text": ["x" * LARGEST]}).text()


@pytest.mark.parametrize(
    "text", ["", "Holl", "[]", "{}", '{"called": 1, "fields": []}', "[" * 5000]
)
def test_what_is_no_form_says_nothing(text):
    assert read(text).fields == {}


def test_a_draft_is_used_up_by_a_save_that_changes_nothing_without_a_change(studio):
    kept = next(iter(studio.all(type(ARTIST))))
    draft = studio.ledger.keep_draft(who=WHO, document=kept.document_id, place="/x", text="{}")
    assert studio.ledger.draft(draft.id) == draft
    assert studio.ledger.drafts(document=kept.document_id) == [draft]
    assert studio.ledger.drafts(document="work/other") == []
    before = studio.ledger.last()
    studio.save(kept.record, who=WHO, read=kept, draft=draft.id)
    assert (studio.ledger.last(), studio.ledger.draft(draft.id)) == (before, None)


def test_a_draft_stays_when_its_save_is_refused(studio):
    kept = next(iter(studio.all(type(ARTIST))))
    draft = studio.ledger.keep_draft(who=WHO, document=kept.document_id, place="/x", text="{}")
    first = replace(kept.record, names=(replace(kept.record.names[0], text="A"),))
    second = replace(kept.record, names=(replace(kept.record.names[0], text="B"),))
    studio.save(first, who=WHO, read=kept)
    with pytest.raises(RuntimeError):
        studio.save(second, who=WHO, read=kept, draft=draft.id)
    assert studio.ledger.draft(draft.id) == draft


def test_what_is_half_typed_for_a_new_record_lies_on_the_bench(studio):
    studio.ledger.keep_draft(who=WHO, document="job/new", place="/jobs/new", text="{}")
    studio.ledger.keep_draft(who=WHO, document=f"job/{new_id()}", place="/jobs/x", text="{}")
    assert [each.document for each in studio.bench().drafts] == ["job/new"]
