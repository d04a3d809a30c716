"""What is said about the provenance of a work: each row by an example that it speaks of, and by one that silences it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from chain_events import event, label, paper, party, resting, work_of
from made_records import ARTIST

from catalogue.checking import Around, Remark, of_record
from catalogue.checking.remark import rows
from catalogue.measure import Day, read_date
from catalogue.record import Evidence, Note, Party, PartyName, PartyRole, Work

TODAY = Day(2026, 3, 2)
LIVING = Party(kind="person", names=(PartyName(text="Ada Fenn"),), began=read_date("1948"))
GONE = replace(ARTIST, ended=read_date("1901"))
MARK = label("I1")
BOOK = paper("D1", "stock-book")


def told(work: Work, *parties: Party) -> list[Remark]:
    kept = {each.document: each for each in parties}

    def name_of(document: str) -> str:
        return kept[document].name() if document in kept else document

    return list(of_record(work, Around(kept.get, name_of, today=TODAY)))


def keys(work: Work, *parties: Party) -> set[str]:
    remedies = {each.remedy for each in told(work, *parties)}
    of_hands = [row for row in rows().checks.values() if row.key.startswith("provenance.")]
    return {row.key for row in of_hands if row.remedy in remedies}


def sold(order: int, name: str = "Joan Price", role: str = "owner", **more):
    return event(order, "sale", party(name, role), **more)


def whole(*events, **more) -> Work:
    """A work of 1950, which the windows do not concern but for 1970."""
    return work_of(*events, made=read_date("1975"), **more)


def with_note(text: str, *evidence: Evidence) -> Work:
    told_of = sold(1, when="1980", evidence=evidence or None)
    return whole(replace(told_of, notes=(Note(kind="note/provenance", text=text),)))


def named(who: Party) -> Work:
    role = PartyRole(party=who.document, role="capacity/owner")
    return whole(event(1, "sale", role, when="1980"))


ORAL = Evidence(kind="evidence/oral", text="a niece")
SPEAKS: dict[str, Work] = {
    "provenance.unsupported": whole(sold(1, when="1980", cited=False)),
    "provenance.mark-alone": whole(sold(1, when="1980", rests_on=MARK), inscriptions=(MARK,)),
    "provenance.not-direct": whole(
        sold(1, when="1980", passage="direct", grade="oral"), sold(2, "Ann Price", when="1985")
    ),
    "provenance.overlap": whole(
        sold(1, when="1980", until="1990"), sold(2, "Ann Price", when="1985")
    ),
    "provenance.direct-gap": whole(
        sold(1, when="1980", until="1982", passage="direct", grade="primary"),
        sold(2, "Ann Price", when="1985"),
    ),
    "provenance.other-giver": whole(
        sold(1, when="1980", passage="direct", grade="primary"),
        event(2, "sale", party("Otto Vane", "seller"), party("Ann Price", "buyer"), when="1985"),
    ),
    "provenance.agent-owner": whole(
        event(1, "consignment", party("H. Keeler", "agent"), when="1979"),
        sold(2, "H. Keeler", when="1980"),
    ),
    "provenance.no-paper": whole(
        event(1, "confiscation", party("an office", "authority"), when="1980", evidence=(ORAL,))
    ),
    "provenance.window": work_of(sold(1, when="1920", until="1936")),
    "provenance.living": named(LIVING),
}  # fmt: skip

SILENT: dict[str, list[Work]] = {
    "provenance.unsupported": [whole(sold(1, when="1980"))],
    "provenance.mark-alone": [
        whole(sold(1, when="1980", evidence=(resting(MARK), resting(BOOK))), inscriptions=(MARK,), papers=(BOOK,)),
        whole(event(1, "presence", party("Morvane", "dealer"), when="1980", rests_on=MARK), inscriptions=(MARK,)),
        whole(event(1, "creation", party("the painter", "artist"), when="1980", rests_on=MARK), inscriptions=(MARK,)),
    ],
    "provenance.not-direct": [
        whole(sold(1, when="1980", passage="direct"), sold(2, "Ann Price", when="1985", grade="secondary")),
        whole(sold(1, when="1980", passage="not-known"), sold(2, "Ann Price", when="1985")),
    ],
    "provenance.overlap": [whole(sold(1, when="1980", until="1985"), sold(2, "Ann Price", when="1985"))],
    "provenance.direct-gap": [
        whole(sold(1, when="1980", passage="direct", grade="primary"), sold(2, "Ann Price", when="1985")),
        whole(sold(1, when="1980", until="1982"), sold(2, "Ann Price", when="1985")),
    ],
    "provenance.other-giver": [
        whole(
            sold(1, when="1980", passage="direct", grade="primary"),
            event(2, "sale", party("JOAN PRICE", "seller"), party("Ann Price", "buyer"), when="1985"),
        )
    ],
    "provenance.agent-owner": [
        whole(event(1, "consignment", party("H. Keeler", "agent"), when="1979"), sold(2, when="1980"))
    ],
    "provenance.no-paper": [
        whole(
            event(1, "confiscation", party("an office", "authority"), when="1980", rests_on=BOOK),
            papers=(BOOK,),
        ),
        with_note("It was sold in the seizure of the market."),
    ],
    "provenance.window": [
        work_of(sold(1, when="1 May 1920", until="3 June 1980")),
        work_of(),
        whole(sold(1, when="1980")),
    ],
    "provenance.living": [
        named(GONE),
        named(replace(LIVING, kind="group")),
        named(replace(LIVING, began=read_date("1890"))),
    ],
}  # fmt: skip


@pytest.mark.parametrize("key", SPEAKS)
def test_a_row_speaks_of_its_example(key):
    # each row names the place of the trade sheet (facts/trade.md) that it comes from
    assert key in keys(SPEAKS[key], LIVING, GONE)


@pytest.mark.parametrize("key", SILENT)
def test_a_row_is_silent_where_it_is_answered(key):
    for work in SILENT[key]:
        every = (replace(LIVING, kind="group"), GONE) if key == "provenance.living" else ()
        assert key not in keys(work, *every)


def test_every_row_has_an_example_and_a_silence():
    of_hands = {key for key in rows().checks if key.startswith("provenance.")}
    assert set(SPEAKS) == set(SILENT) == of_hands - {"provenance.order"}


def test_words_of_loss_in_a_note_want_a_paper():
    # facts/trade.md V15: such words stand only with a source document
    assert "provenance.no-paper" in keys(with_note("Looted in the war.", ORAL))
    assert "provenance.no-paper" not in keys(with_note("Looted in the war."))


def test_somebody_in_words_with_a_birth_alone_may_be_living():
    # facts/trade.md V7: never life dates of living people unless consented
    for life, may in (
        ("b. 1948", True),
        ("1889-1961", False),
        ("b. 1850", False),
        (None, False),
    ):
        role = replace(party("Marc Brandl", "owner"), life=life)
        found = keys(whole(event(1, "gift", role, when="2015")))
        assert ("provenance.living" in found) is may


def test_a_person_without_a_birth_is_taken_for_grown_up_and_told_once():
    unborn = replace(LIVING, began=None)
    role = PartyRole(party=unborn.document, role="capacity/owner")
    early, late = (event(n, "sale", role, when=when) for n, when in ((1, "1914"), (2, "1980")))
    assert "provenance.living" not in keys(whole(early), unborn)
    twice = whole(late, replace(late, id=early.id, number="E3", order=3))
    assert sum("may be living" in each.says for each in told(twice, unborn)) == 1


def test_a_painter_is_no_private_person():
    role = PartyRole(party=LIVING.document, role="capacity/artist")
    assert "provenance.living" not in keys(
        whole(event(1, "creation", role, when="1980")), LIVING
    )


def test_a_name_that_is_not_open_is_not_asked_about():
    role = PartyRole(
        party=LIVING.document, role="capacity/owner", visibility="visibility/studio"
    )
    assert "provenance.living" not in keys(whole(event(1, "sale", role, when="1980")), LIVING)


def test_what_is_said_accuses_nobody():
    for work in SPEAKS.values():
        for each in told(work, LIVING):
            said = f"{each.says} {each.remedy}".lower()
            assert not any(word in said for word in ("stolen", "suspicious", "guarantee"))
