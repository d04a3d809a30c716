"""Receipts: what must stand on them, and what must not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import CLIENT, WHO
from printed_papers import both

from catalogue.errors import BadData, BadSetting, NotOnFile
from catalogue.record import Job, Work

# Spectrum 5.1 (Collections Trust), object entry, what the receipt says: entry number; depositor and
# owner; entry date; reason; number of items and brief description; condition; how it came;
# requirements; return date; packing; signatures. As noted in the trade facts of this project.
ENTRY = (
    "Receipt for works received", "J2026-007", "Client Mrs Quillan", "Brought by Ada Penhale",
    "Owner Mrs Quillan", "Letter of the owner, 27 February", "Reason treatment",
    "Agreement Order of 9 March", "Requirements The dealer's label stays.",
    "2026-041 Low Water", "Received on 1 March 2026", "Return by 1 December 2026",
    "How it came by hand", "Packing blanket, two cords", "1 × frame",
    "2 × bag or envelope (loose labels)", "3 in all", "Condition in brief torn",
    "Live insects: yes; settled on 20 March 2026: Frozen by a firm; no frass since.; mould: no",
    "terms of business, version 2025-2", "Privacy", "For the depositor", "For the studio",
)  # fmt: skip
PRIVATE = (
    "quillan@post.example", "Ring after six.", "Half in advance.", "rack 3", "12 gns.",
    "The owner's own, until fetched", "ring the client", "envelope", "4000", "62.5", "110",
    "Bought from a cellar.", "The client argues.", "Slower than thought.",
)  # fmt: skip


@pytest.mark.parametrize("wanted", ["J2026-007", "2026-041"])
def test_an_entry_receipt_says_what_a_receipt_says(studio, wanted):
    told = both(studio, wanted, "entry-receipt")
    for each in ENTRY:
        assert each in told


@pytest.mark.parametrize("paper", ["entry-receipt", "exit-receipt"])
def test_a_receipt_holds_nothing_private_and_no_value(studio, paper):
    told = both(studio, "J2026-007", paper).replace("bag or envelope", "")
    for secret in PRIVATE:
        assert secret not in told
    assert "This receipt states no value." in told


def test_what_a_receipt_does_not_say_is_said_to_be_missing(studio):
    kept = studio.named("J2026-007")
    bare = replace(
        kept.record,
        terms_version=None,
        items=tuple(
            replace(
                each,
                due=None,
                left=None,
                arrived_by=None,
                condition=None,
                contents=(),
                risks=(),
            )
            for each in kept.record.items
        ),
    )
    studio.save(bare, who=WHO, read=kept)
    told = both(studio, "J2026-007", "entry-receipt")
    for each in ("Return by not recorded", "How it came not recorded", "Received not counted"):
        assert each in told
    assert "No version of the terms of business is recorded" in told


def test_a_danger_that_stands_is_told_and_the_work_kept_apart(studio):
    kept = studio.named("J2026-007")
    items = tuple(
        replace(
            item,
            risks=tuple(replace(each, settled=None, settled_how=None) for each in item.risks),
        )
        for item in kept.record.items
    )
    assert "Kept apart" not in both(studio, "J2026-007", "entry-receipt")
    studio.save(replace(kept.record, items=items), who=WHO, read=kept)
    assert "2026-041 Low Water is kept apart" in both(studio, "J2026-007", "entry-receipt")


def test_an_exit_receipt_gives_the_balance_of_what_was_taken_off(studio):
    told = both(studio, "J2026-007", "exit-receipt")
    for each in (
        "Returned on 30 November 2026",
        "K2, outgoing, 20 November 2026, Ada Penhale",
        "B1 label: Dealer's label 2026-041 1 April 2026 returned, 30 November 2026",
        "B2 tape: Three strips",
        "Received in the state described",
    ):
        assert each in told


def test_before_anything_left_the_day_is_filled_in_by_hand(studio):
    kept = studio.named("J2026-007")
    items = tuple(replace(item, left=None) for item in kept.record.items)
    studio.save(replace(kept.record, items=items), who=WHO, read=kept)
    assert "Returned on ____" in both(studio, "J2026-007", "exit-receipt")


def test_what_is_still_here_is_listed_apart(studio):
    other = studio.new_work(title="Ebb", who=WHO).record
    kept = studio.named("J2026-007")
    item = replace(kept.record.items[0], left=None, work=other.document, id=other.id)
    studio.save(
        replace(kept.record, items=(*kept.record.items, item), pieces=()), who=WHO, read=kept
    )
    told = both(studio, "J2026-007", "exit-receipt")
    assert "Still in the studio" in told
    assert f"{other.number} Ebb Return by 1 December 2026" in told


def test_a_client_who_may_not_be_named_is_named_on_this_paper_alone(studio):
    assert "visibility/studio" in CLIENT.visibility
    assert "Mrs Quillan" in both(studio, "J2026-007", "entry-receipt")


def test_the_letterhead_stands_on_every_paper(studio):
    studio.set_letterhead(["Example Studio", "", "  4 Oakum   Yard "])
    assert studio.letterhead == ("Example Studio", "4 Oakum Yard")
    assert both(studio, "J2026-007", "entry-receipt").count("Example Studio 4 Oakum Yard") == 1


def test_what_is_not_there_is_refused_in_words(studio):
    with pytest.raises(BadSetting, match=r"(?s)no paper 'receipt'.*entry-receipt"):
        studio.print_("J2026-007", "receipt")
    with pytest.raises(BadSetting, match=r"(?s)format.*'docx'.*pdf, html"):
        studio.print_("J2026-007", "entry-receipt", written_as="docx")
    with pytest.raises(BadSetting, match=r"(?s)no page 'a5'.*a4, letter"):
        studio.print_("J2026-007", "entry-receipt", page="a5")
    with pytest.raises(NotOnFile, match="nothing on file is called"):
        studio.print_("J1999-001", "entry-receipt")
    with pytest.raises(BadData, match="a work or a commission"):
        studio.print_("Ada Penhale", "entry-receipt")
    alone = studio.save(Work(), who=WHO).record
    with pytest.raises(NotOnFile, match="no commission that is on file"):
        studio.print_(alone.number, "entry-receipt")


def test_a_work_that_came_twice_needs_the_number_of_the_commission(studio):
    first = studio.named("J2026-007").record
    second = studio.save(Job(reason="reason/storage", items=first.items), who=WHO).record
    with pytest.raises(BadData, match=rf"(?s)more than once.*{second.number}"):
        studio.print_("2026-041", "entry-receipt")
    assert second.number in both(studio, second.number, "entry-receipt")
