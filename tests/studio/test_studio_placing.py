"""A chronology is worked out once while nothing changes, and anew as soon as anything it rests on does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, full_work

from catalogue import placing
from catalogue.measure import read_date
from catalogue.placing import placed
from catalogue.record import Attribution, Inscription, Transcript, Work
from catalogue.studio import Studio

LABEL = Inscription(
    kind="inscription/dealer-label",
    face="face/stretcher-bar",
    transcripts=(Transcript(markup="Harkwick & Son | 14 Bruton St. W.1 | 3 May 1931"),),
)


@pytest.fixture
def studio():
    with Studio.open("memory:") as opened:
        yield opened


@pytest.fixture
def solved(monkeypatch):
    """How often a chronology was worked out."""
    asked = []

    def count(work, firms, read):
        asked.append(work.id)
        return placed(work, firms, read)

    monkeypatch.setattr(placing, "placed", count)
    return asked


def anew(studio: Studio, work: Work):
    """The chronology worked out with nothing remembered."""
    return placed(work, studio._known_addresses(), studio._beside_it)


def test_the_pages_of_a_work_ask_for_one_chronology(studio, solved):
    studio.save(ARTIST, who="Nell")
    kept = studio.save(replace(full_work(), inscriptions=(LABEL,)), who="Nell")
    work = studio.read(kept.document_id).record
    first = studio.chronology(work)
    studio.chain(work, together=True)
    studio.check(kept.document_id, shapes=False)
    assert studio.chronology(studio.read(kept.document_id).record) is first
    assert solved == [work.id]
    assert first == anew(studio, work)


def test_a_life_saved_since_is_heard(studio, solved):
    artist = studio.save(replace(ARTIST, ended=None), who="Nell")
    said = Attribution(artist=artist.document_id, qualifier="qualifier/attributed-to")
    kept = studio.save(Work(attributions=(said,)), who="Nell")
    work = studio.read(kept.document_id).record
    before = studio.chronology(work)
    studio.save(replace(artist.record, ended=read_date("1899")), who="Nell", read=artist)
    after = studio.chronology(studio.read(kept.document_id).record)
    assert after == anew(studio, work) != before
    assert solved == [work.id] * 2


def test_a_record_that_is_not_saved_has_a_chronology_of_its_own(studio, solved):
    work = studio.save(Work(inscriptions=(LABEL,)), who="Nell").record
    kept = studio.chronology(work)
    for year in range(1840, 1840 + 100):
        other = replace(work, made=read_date(str(year)))
        assert studio.chronology(other) == anew(studio, other)
    assert studio.chronology(work) == kept
    assert len(solved) == 102


def test_a_change_of_what_is_remembered_is_another_chronology(studio):
    work = studio.save(Work(inscriptions=(LABEL,), made=read_date("1887")), who="Nell").record
    remembered = studio.chronology(work)
    for claim in remembered.claims:
        remembered.without_claim(claim.key)
    assert remembered.claims
    assert studio.chronology(work) is remembered
    assert remembered == anew(studio, work)
    for event in remembered.events:
        for instant in (event.began, event.ended):
            assert remembered.window(instant) == anew(studio, work).window(instant)
