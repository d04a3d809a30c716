"""What a reading would bring while it is typed: the same as once it is saved, and nothing of it is kept."""

from __future__ import annotations

from time import sleep

import pytest

from catalogue.errors import MarkupError
from catalogue.record import Inscription, Transcript, Work
from catalogue.studio import Studio

FORM = "@p Harkwick & Son | Fine Art Dealers | 14 Tanner Street, London, W.1 | No @h {} @p Date @h {}"
BOTH = {"2019-001", "2019-002"}
TYPED = FORM.format("341", "3 May 1931")


def label(markup: str = "", kind: str = "inscription/dealer-label") -> Inscription:
    transcripts = (Transcript(markup=markup),) if markup else ()
    return Inscription(kind=kind, face="face/stretcher-bar", transcripts=transcripts)


@pytest.fixture
def studio():
    with Studio.open("memory:") as opened:
        for number, (own, when) in enumerate([("338", "1 May 1931"), ("344", "9 June 1931")]):
            work = Work(
                number=f"2019-00{number + 1}", inscriptions=(label(FORM.format(own, when)),)
            )
            opened.save(work, who="Nell")
        yield opened


def test_it_is_told_as_the_saved_label_tells_it(studio):
    work = studio.save(Work(), who="Nell").record
    told = studio.foretold(work, label(), TYPED)
    before = studio.ledger.last()
    kept = studio.save(Work(inscriptions=(label(TYPED),)), who="Nell").record
    assert told.statements == studio.statements(kept.inscriptions[0])
    assert told.dating == next(iter(studio.argue(kept))).dating
    assert (
        told.dating.earliest.iso >= "1917-03-01"
    )  # rule gb.post.london_numbered, with its source
    saved = {each.on_file.work.number for each in studio.alike(kept, "I1")}
    assert {each.alike.on_file.work.number for each in told.alike} == saved == BOTH
    assert before[0] + 1 == studio.ledger.last()[0]  # telling it had kept nothing


def test_labels_like_it_come_with_their_own_years(studio):
    told = studio.foretold(Work(), label(), TYPED).alike
    # the margin of a written day is a year: the accuracy note that vocab/dating names
    assert {each.years[0].iso for each in told} == {"1930-05-01", "1930-06-09"}


def test_an_empty_slip_tells_nothing(studio):
    told = studio.foretold(Work(), label(), " \n ")
    assert (told.statements, told.dating, told.alike) == ((), None, ())


def test_a_signature_is_compared_by_eye(studio):
    told = studio.foretold(Work(), label(kind="inscription/signature"), TYPED)
    assert not told.is_form
    assert told.alike == ()
    assert told.statements


def test_what_was_decided_in_another_reading_is_said_to_be(studio):
    work = studio.save(Work(inscriptions=(label(TYPED),)), who="Nell")
    found = studio.statements(work.record.inscriptions[0])
    date = next(each for each in found if each.kind == "statement/date")
    shown = work.record.inscriptions[0].preferred()
    kept = studio.decide(work, "I1", date.decided(shown.id, "standing/accepted"), who="Nell")
    told = studio.foretold(kept.record, kept.record.inscription("I1"), TYPED + "\nLot 12")
    assert [each.written for each in told.decided] == ["3 May 1931"]


def test_a_confirmed_family_dates_it_before_it_is_saved(studio):
    kept = studio.save(Work(inscriptions=(label(FORM.format("346", "")),)), who="Nell")
    kept = studio.lay_beside(kept, "I1", ("2019-001", "I1"), "verdict/same-form", who="Nell")
    told = studio.foretold(kept.record, kept.record.inscription("I1"), FORM.format("347", ""))
    assert any(each.rule.startswith("family:") for each in told.dating.reasons)


def test_where_many_works_would_have_to_be_looked_through_one_is_told_to_ask_again(studio):
    for _ in range(60):
        studio.save(Work(), who="Nell")
    found = None
    for _asked in range(200):
        found = studio.foretold(Work(), label(), TYPED).alike
        if found is not None:
            break
        sleep(0.1)
    assert _asked > 0
    assert len(found) == 2


def test_what_cannot_be_a_label_is_refused(studio):
    with pytest.raises(MarkupError):
        studio.foretold(Work(), label(), "x" * 1_100_000)
