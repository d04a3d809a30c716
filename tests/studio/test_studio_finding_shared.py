"""The index made anew by several processes answers as the one made by a single one, and a save is found at once."""

from __future__ import annotations

import pytest
from made_records import WHO

from catalogue import sharing
from catalogue.errors import BadSetting
from catalogue.record import Title, Work
from catalogue.studio import Studio


def test_several_processes_make_the_index_that_one_makes(empty_studio, monkeypatch):
    studio: Studio = empty_studio
    for number in range(12):
        title = Title(text=f"Harbour view {number}", kind="title/given", preferred=True)
        studio.save(Work(titles=(title,)), who=WHO)
    assert studio.rebuild() == 12
    alone = studio.search(studio.query("harbour", limit=50))
    assert alone.total == 12
    monkeypatch.setattr(sharing, "WORTH_IT", 1)
    monkeypatch.setenv("DORSE_PROCESSES", "2")
    told = []
    assert studio.rebuild(lambda done, total: told.append(done)) == 12
    shared = studio.search(studio.query("harbour", limit=50))
    assert [hit.document for hit in shared.hits] == [hit.document for hit in alone.hits]
    assert [hit.score for hit in shared.hits] == [hit.score for hit in alone.hits]


def test_a_save_is_found_at_once_and_is_written_when_it_is_quiet(empty_studio):
    studio: Studio = empty_studio
    title = Title(text="Harbour view", kind="title/given", preferred=True)
    studio.save(Work(titles=(title,)), who=WHO)
    assert studio.search(studio.query("harbour")).total == 1
    finder = studio._finder()
    assert finder._words.cursor == 0
    finder.settle()
    assert finder._words.cursor == studio.ledger.last()[0]
    assert studio.search(studio.query("harbour")).total == 1


def test_both_engines_answer_the_studio_alike_and_the_choice_can_be_taken_back(empty_studio):
    studio: Studio = empty_studio
    for number in range(3):
        title = Title(text=f"Harbour view {number}", kind="title/given", preferred=True)
        studio.save(Work(titles=(title,)), who=WHO)
    usual = studio.search(studio.query("harb*"))
    for engine in ("large", "usual"):
        assert studio.set_engine(engine) == ""
        found = studio.search(studio.query("harb*"))
        assert [hit.document for hit in found.hits] == [hit.document for hit in usual.hits]
    with pytest.raises(BadSetting, match="usual or large"):
        studio.set_engine("huge")
