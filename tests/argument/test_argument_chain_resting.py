"""Evidence both ways, what falls without a label or under a new reading, and the due-diligence list."""

from __future__ import annotations

from dataclasses import replace

import pytest
from chain_events import event, label, paper, party, resting, work_of

from catalogue.argument.chain.diligence import closing, diligence
from catalogue.argument.chain.falling import re_read, read_as, without, would_fall
from catalogue.argument.chain.holders import tenures
from catalogue.argument.chain.passages import passages
from catalogue.argument.chain.resting import rests_on, supports
from catalogue.argument.chain.tightened import tightened
from catalogue.argument.chain.words import rows
from catalogue.argument.spans import Interval
from catalogue.argument.statements import find_statements
from catalogue.argument.timing.changes import changes
from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness
from catalogue.argument.timing.solving import solve
from catalogue.errors import BadData, NotOnFile
from catalogue.measure import Day, read_date
from catalogue.record import Citation, Exhibition, Inquiry, Region, Work
from catalogue.record import Photo as Photograph
from catalogue.terms import group

TEXT = "Winter Show 1937|Lot 38|Inv. Nr. 47"
SHOT = Photograph(number="P1", file_name="back.jpg", about=())


def marked() -> Work:
    """A label that bears one event alone, one with a book, an exhibition and a citation."""
    mark = label("I1", TEXT)
    shot = replace(SHOT, about=(mark.id,))
    shown = mark.preferred()
    found = find_statements(shown.reading())
    said = {each.written: each for each in found}
    mark = replace(
        mark,
        regions=(Region(photo=shot.id, corners=((0, 0), (9, 0), (9, 9))),),
        statements=(
            said["1937"].decided(shown.id, "standing/accepted"),
            said["Lot 38"].decided(shown.id, "standing/accepted"),
            said["Inv. Nr. 47"].decided(shown.id, "standing/rejected"),
        ),
    )
    book = paper("D1", "stock-book")
    return work_of(
        event(1, "presence", party("Morvane", "dealer"), when="1937", passage="direct", rests_on=mark, grade="secondary"),
        event(2, "sale", party("Joan Price", "buyer"), when="1938", evidence=(resting(mark, "secondary"), resting(book, "oral"))),
        event(3, "gift", party("Ann Price", "heir"), when="1960"),
        inscriptions=(mark,),
        papers=(book,),
        photos=(shot,),
        exhibitions=(Exhibition(title="Winter Show", when=read_date("1937"), evidence=(resting(mark),)),),
        citations=(Citation(kind="citation/book", text="A list of 1937", evidence=(resting(mark), resting(book))),),
    )  # fmt: skip


def test_an_event_names_what_it_rests_on():
    work = marked()
    (first, second) = rests_on(work, "E2")
    assert {first.called, second.called} == {"I1 label", "D1 page of a stock book"}
    shown = next(each for each in (first, second) if each.called == "I1 label")
    assert shown.photos == (work.photos[0].id,)
    (words,) = rests_on(work, "E3")
    assert (words.called, words.source) == ("a letter", None)
    assert [each.called for each in rests_on(work, work.exhibitions[0].id)] == ["I1 label"]
    with pytest.raises(NotOnFile, match="E9"):
        rests_on(work, "E9")


def test_an_inscription_names_what_it_supports():
    work = marked()
    found = supports(work, "I1")
    said = [(each.sort, each.called, each.alone) for each in found]
    assert said == [
        ("event", "E1 presence", True),
        ("event", "E2 sale", False),
        ("exhibition", "Winter Show", True),
        ("citation", "A list of 1937", False),
        ("statement", "1937", False),
        ("statement", "Lot 38", False),
        ("other", "P1 photo", False),
    ]
    assert found[-1].field == "Photo.about"
    assert [each.called for each in supports(work, "D1")] == ["E2 sale", "A list of 1937"]


def test_evidence_is_the_same_from_both_sides():
    work = marked()
    resting_on = {
        (each.number, rest.source.id)
        for each in work.provenance
        for rest in rests_on(work, each.id)
        if rest.source
    }
    supported = {
        (each.called.split()[0], source.id)
        for source in (*work.inscriptions, *work.papers)
        for each in supports(work, source.id)
        if each.sort == "event"
    }
    assert resting_on == supported


def test_what_falls_without_a_label():
    work = marked()
    falls = would_fall(work, "I1")
    assert [each.called for each in falls.fallen] == ["E1 presence", "Winter Show"]
    assert [each.called for each in falls.weakened] == ["E2 sale", "A list of 1937"]
    assert [each.called for each in falls.statements] == ["1937", "Lot 38"]
    assert [(a.number, b.number) for a, b in falls.passages] == [("E1", "E2")]
    assert falls.anything
    assert "the best is oral" in " ".join(falls.says())


def test_without_a_label_the_chain_is_what_would_be_said_to_fall():
    work = marked()
    assert passages(tenures(work))[0].stands
    after = without(work, "I1")
    assert not passages(tenures(after))[0].stands
    assert [each.supported for each in tenures(after)] == [False, True, True]
    assert after.exhibitions[0].evidence == ()
    assert work.inscriptions  # nothing was done to the work that was asked about


def test_nothing_falls_without_a_mark_that_nothing_rests_on():
    bare = label("I2")
    falls = would_fall(work_of(inscriptions=(bare,)), "I2")
    assert not falls.anything
    assert falls.says() == ()


def test_a_new_reading_keeps_what_is_still_seen():
    work = marked()
    same = re_read(work, "I1", TEXT.upper())
    assert not same.fallen
    assert not same.look_again
    found = re_read(work, "I1", "Winter Show 1931|Lot 38|Inv. Nr. 47")
    assert [each.statement.written for each in found.fallen] == ["1937"]
    assert [each.statement.written for each in found.kept] == ["Lot 38"]
    assert found.fallen[0].now.written == "1931"
    assert [each.called for each in found.look_again][:2] == ["E1 presence", "E2 sale"]
    assert any("1931" in said for said in found.says())


def test_letters_within_longer_ones_are_not_still_there():
    found = re_read(marked(), "I1", "Winter Show 19370|Lot 388")
    assert {each.statement.written for each in found.fallen} == {"1937", "Lot 38"}


def test_a_restored_letter_is_not_seen():
    found = re_read(marked(), "I1", "Winter Show 19[37]|Lot 38")
    assert [each.statement.written for each in found.fallen] == ["1937"]


def test_a_work_read_anew_has_the_new_reading_and_not_what_fell():
    work = read_as(marked(), "I1", "Winter Show 1931|Lot 38")
    (mark,) = work.inscriptions
    assert mark.preferred().markup == "Winter Show 1931|Lot 38"
    assert len(mark.transcripts) == 2
    assert [each.written for each in mark.statements] == ["Lot 38", "Inv. Nr. 47"]


def test_only_an_inscription_is_read():
    with pytest.raises(BadData, match="not an inscription"):
        re_read(marked(), "D1", "x")


def test_windows_that_move_are_told():
    fixing = Event(id="a", kind="label", called="I1", words="its fixing")
    sale = Event(id="b", kind="sale", called="E1", words="sale", moment=True)
    day = Day(1937, 1, 1).ordinal
    first = Claim(
        key="date:a",
        words="1937",
        bounds=(AtLeast(None, fixing.began, day),),
        firmness=Firmness.HARD,
    )
    order = Claim(key="order", words="after", bounds=(AtLeast(fixing.began, sale.began, 0),), firmness=Firmness.HARD)  # fmt: skip
    before = solve((fixing, sale), (first, order))
    found = changes(before, before.without_claim("date:a"))
    assert {each.event.id for each in found.moved} == {"a", "b"}
    sold = next(each for each in found.moved if each.event.id == "b")
    assert sold.before == Interval(Day(1937, 1, 1), None)
    assert sold.after == Interval()
    assert "1 January 1937 or later" in sold.says()
    assert not changes(before, before).moved
    alone = solve((fixing,), (first,))
    gone = next(each for each in changes(before, alone).moved if each.event.id == "b")
    assert gone.after is None


def test_contradictions_that_come_and_go_are_told():
    one = Event(id="a", kind="label", called="I1", words="its fixing", moment=True)
    day = Day(1937, 1, 1).ordinal
    after = Claim(
        key="x", words="after", bounds=(AtLeast(None, one.began, day),), firmness=Firmness.HARD
    )
    until = Claim(key="y", words="before", bounds=(AtLeast(one.began, None, 9 - day),), firmness=Firmness.HARD)  # fmt: skip
    agreed, quarrel = solve((one,), (after,)), solve((one,), (after, until))
    assert len(changes(agreed, quarrel).arisen) == 1
    assert len(changes(quarrel, agreed).resolved) == 1


def test_all_evidence_together_narrows_a_holding_and_keeps_what_was_said():
    work = work_of(
        event(1, "presence", party("Morvane", "dealer"), when="by 1937", until="1938")
    )
    (held,) = tenures(work)
    holding = Event(id=held.event, kind="holding", called="E1", words="presence")
    label_printed = Claim(
        key="label", words="not before 1931", firmness=Firmness.HARD,
        bounds=(AtLeast(None, holding.began, Day(1931, 1, 1).ordinal),),
    )  # fmt: skip
    (narrow,) = tightened((held,), solve((holding,), (label_printed,)))
    assert narrow.began == Interval(Day(1931, 1, 1), Day(1937, 12, 31))
    assert narrow.said_began == held.said_began == Interval(None, Day(1937, 12, 31))
    too_late = replace(
        label_printed, bounds=(AtLeast(None, holding.began, Day(1950, 1, 1).ordinal),)
    )
    assert tightened((held,), solve((holding,), (too_late,))) == (held,)
    other = replace(holding, id="x")
    assert tightened((held,), solve((other,), ())) == (held,)


# --- due diligence: facts/trade.md US-30 and section 0, point 8 -------------------------------------


def asked(work: Work) -> dict[str, object]:
    return {each.key: each for each in diligence(work, tenures(work))}


def test_a_search_without_result_is_a_fact_with_a_day():
    # facts/trade.md section 0, point 8: absence of a hit is not clearance
    inquiry = Inquiry(
        number="S1", kind="inquiry/register-of-losses", subject="a register of losses",
        asked="quay, evening, 50 x 61", on=Day(2026, 2, 11), result="inquiry-result/nothing-found", reference="77",
    )  # fmt: skip
    found = asked(work_of(inquiries=(inquiry,)))["loss-registers"]
    assert not found.open
    assert found.last_asked == Day(2026, 2, 11)
    (said,) = found.says()
    for words in ("11 February 2026", "quay, evening, 50 x 61", "nothing found", "77"):
        assert words in said
    assert "not a proof of title" in closing()


@pytest.mark.parametrize("result", ["inquiry-result/awaited", "inquiry-result/refused", None])
def test_what_was_not_answered_stays_open(result):
    inquiry = Inquiry(
        number="S1", kind="inquiry/official-list", subject="a list", result=result
    )
    found = asked(work_of(inquiries=(inquiry,)))["loss-registers"]
    assert found.open
    assert found.facts


def test_a_window_is_computed_and_not_ticked():
    # facts/trade.md US-30: the 1933-45 gap is computed (C10), not ticked by hand
    tick = Inquiry(
        number="S1", kind="inquiry/years-of-persecution", subject="the chain", on=Day(2026, 1, 1),
        result="inquiry-result/worked-out",
    )  # fmt: skip
    gap = work_of(
        event(1, "sale", party("Joan Price", "owner"), when="1920", until="1936"),
        inquiries=(tick,),
    )
    found = asked(gap)["years-1933-1945"]
    assert found.open
    assert found.coverage.nobody_days == 3050  # 1 January 1937 to 8 May 1945
    whole = work_of(event(1, "sale", party("Joan Price", "owner"), when="1920", until="1960"))
    assert not asked(whole)["years-1933-1945"].open


def test_a_painting_made_later_is_not_asked_about_years_before_it():
    # facts/trade.md US-30: works made before 1946
    found = asked(work_of(made=read_date("1950")))
    assert "years-1933-1945" not in found
    assert "country-1970" in found


def test_papers_answer_and_what_was_taken_is_asked_about_only_where_it_is_recorded():
    deed = paper("D1", "bill-of-sale", on=Day(1990, 4, 1))
    taken = event(1, "confiscation", party("an office", "authority"), when="1939")
    assert "taken-and-given-back" not in asked(work_of())
    found = asked(work_of(taken, papers=(deed,)))
    assert found["taken-and-given-back"].open
    assert not found["title-papers"].open
    assert "1 April 1990" in found["title-papers"].says()[0]
    assert found["who-offers"].says() == ("nothing is on file",)


def test_the_list_names_terms_that_there_are():
    for field, name in (
        ("inquiries", "inquiry"),
        ("papers", "paper"),
        ("events", "provenance"),
    ):
        known = {each.key for each in group(name)}
        for row in rows("question"):
            assert set(row.get(field, ())) <= known
            assert row["source"]
    listed = [kind for row in rows("question") for kind in row.get("inquiries", ())]
    assert sorted(listed) == sorted(each.key for each in group("inquiry"))
