"""Verdicts of the shapes that are kept: the same as asking anew, and none outlives what it rests on."""

from __future__ import annotations

import json
import shutil
import sqlite3
from dataclasses import replace

import pytest
from damaged import without_words
from made_records import ARTIST, CLIENT, full_job, full_work

from catalogue import places, shapes_kept
from catalogue.checking import shapes
from catalogue.ledger import Revision
from catalogue.linked.documents import FORMAT, to_jsonld
from catalogue.linked.text import write
from catalogue.measure import read_date
from catalogue.record import Work
from catalogue.shapes_kept import ShapesKept
from catalogue.studio import Studio


def as_saved(document, body=None):
    return Revision("work/1", 1, 1, FORMAT, body or write(document), None)


@pytest.fixture
def never_again(monkeypatch):
    """From here on nothing is held to the shapes."""

    def begin():
        def refuse(document):
            raise AssertionError("held to the shapes twice")

        monkeypatch.setattr(shapes, "faults", refuse)

    return begin


def test_what_was_found_to_be_right_is_known_when_the_studio_is_opened_again(
    tmp_path, never_again
):
    text = as_saved(to_jsonld(full_work()))
    kept = ShapesKept(tmp_path / "shapes.sqlite")
    assert kept.known(text) is None
    assert kept.faults(text) == ()
    never_again()
    assert kept.known(text) == kept.faults(text) == ()
    again = ShapesKept(tmp_path / "shapes.sqlite")
    assert again.known(text) == again.faults(text) == ()


def test_what_was_found_to_be_wrong_is_the_same_and_stands_in_no_file(tmp_path, never_again):
    document = to_jsonld(full_work())
    without_words(document)
    text = as_saved(document)
    wanted = shapes.faults(document)
    assert wanted
    kept = ShapesKept(tmp_path / "shapes.sqlite")
    assert kept.faults(text) == wanted
    assert ShapesKept(tmp_path / "shapes.sqlite").known(text) is None
    never_again()
    assert kept.known(text) == kept.faults(text) == wanted


def test_a_text_that_differs_in_one_letter_is_another(tmp_path):
    text = as_saved(to_jsonld(Work()))
    kept = ShapesKept(tmp_path / "shapes.sqlite")
    kept.faults(text)
    assert kept.known(as_saved(None, text.body + b" ")) is None
    assert kept.known(Revision("work/1", 1, 1, FORMAT + 1, text.body, None)) is None


@pytest.mark.parametrize("changed", ["shapes/works.ttl", "terms/light.ttl", "context.json"])
def test_a_changed_vocabulary_makes_every_verdict_anew(tmp_path, monkeypatch, changed):
    text = as_saved(to_jsonld(Work()))
    ShapesKept(tmp_path / "shapes.sqlite").faults(text)
    vocab = tmp_path / "vocab"
    shutil.copytree(places.folder("vocab"), vocab)
    monkeypatch.setattr(shapes_kept, "folder", lambda name: tmp_path / name)
    assert ShapesKept(tmp_path / "shapes.sqlite").known(text) == ()
    with next(vocab.glob(changed)).open("a", encoding="utf-8") as file:
        file.write("\n")
    assert ShapesKept(tmp_path / "shapes.sqlite").known(text) is None


def test_a_new_release_of_what_judges_makes_every_verdict_anew(tmp_path, monkeypatch):
    text = as_saved(to_jsonld(Work()))
    ShapesKept(tmp_path / "shapes.sqlite").faults(text)
    monkeypatch.setattr(shapes_kept, "version", lambda name: f"{name} of tomorrow")
    kept = ShapesKept(tmp_path / "shapes.sqlite")
    assert kept.known(text) is None
    # What the old release judged is thrown away, and not only passed over.
    with sqlite3.connect(tmp_path / "shapes.sqlite") as file:
        assert file.execute("select count(*) from conforms").fetchone() == (0,)


def test_a_broken_file_or_none_at_all_costs_nothing_but_time(tmp_path):
    text = as_saved(to_jsonld(Work()))
    (tmp_path / "shapes.sqlite").write_bytes(
        b"no file of ours, and long enough to be looked at"
    )
    kept = ShapesKept(tmp_path / "shapes.sqlite")
    assert kept.known(text) is None
    assert kept.faults(text) == ()
    assert ShapesKept(tmp_path / "shapes.sqlite").known(text) == ()
    nowhere = ShapesKept(tmp_path / "no such folder" / "shapes.sqlite")
    assert nowhere.faults(text) == ()
    assert nowhere.known(text) == ()


def test_a_check_says_the_same_of_sound_and_of_damaged_records_the_first_time_and_the_next(
    tmp_path,
):
    with Studio.init(tmp_path / "studio") as studio:
        for record in (ARTIST, CLIENT):
            studio.save(record, who="Nell")
        work = studio.save(full_work(), who="Nell")
        job = studio.save(full_job(work.record), who="Nell")
        spoilt = json.loads(studio.ledger.read(work.document_id).body)
        spoilt.setdefault("referred_to_by", []).append(
            {"id": "no address", "type": "LinguisticObject"}
        )
        with studio.ledger.change(who="Nell", why="by hand", written_in=FORMAT) as change:
            change.save(work.document_id, write(spoilt), expected=work.revision)
        for document in (work.document_id, job.document_id):
            assert not studio.held_to_shapes(document)
            first = studio.check(document)
            assert studio.held_to_shapes(document)
            assert studio.check(document) == first
            with Studio.open(tmp_path / "studio") as other:
                assert other.check(document) == first
        told = {each.says for each in studio.check(work.document_id)}
        assert any("no address" in each for each in told)
        assert not any(
            "no address" in each.says for each in studio.check(work.document_id, shapes=False)
        )


def test_what_is_forgotten_leaves_no_digest(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        work = studio.save(Work(), who="Nell")
        studio.save(replace(work.record, made=read_date("1887")), who="Nell", read=work)
        studio.check(work.document_id)
        assert (tmp_path / "studio" / "indexes" / "shapes.sqlite").exists()
        studio.forget(work.document_id, who="Nell", why="asked to")
        assert not (tmp_path / "studio" / "indexes" / "shapes.sqlite").exists()
        assert not studio.held_to_shapes(work.document_id)
