"""US-20, hand-over: the outgoing check mirrors the incoming, the exit receipt balances, the owner is told.

The story and its acceptance facts are those of the trade sheet, section 1.6 (report to the owner with
the names of those who did the work: E.C.C.O. Professional Guidelines II, art. 10).
"""

from __future__ import annotations

from dataclasses import replace

from made_records import WHO
from printed_papers import both

from catalogue.record import Observation


def test_the_outgoing_check_is_held_against_the_incoming_line_by_line(studio):
    told = both(studio, "2026-041", "comparison", checks=("K1", "K2"))
    assert "Occasion Incoming, K1 Outgoing, K2" in told
    for finding in studio.work("2026-041").record.findings:
        assert f"{finding.number} Tear" in told


def test_what_was_not_looked_at_on_the_way_out_is_said_and_not_left_out(studio):
    read = studio.work("2026-041")
    (tear,) = read.record.findings
    incoming = next(each for each in tear.observations if each.severity)
    assert isinstance(incoming, Observation)
    only_in = replace(tear, observations=(incoming,))
    studio.save(replace(read.record, findings=(only_in,)), who=WHO, read=read)
    told = both(studio, "2026-041", "comparison", checks=("K1", "K2"))
    assert "stability: active not noted Not seen" in told


def test_the_exit_receipt_is_signed_and_balances_what_was_taken_off(studio):
    told = both(studio, "J2026-007", "exit-receipt")
    assert "Received in the state described" in told
    assert "For the studio" in told
    assert "B1 label: Dealer's label 2026-041 1 April 2026 returned, 30 November 2026" in told
    assert "B2 tape: Three strips 2026-041 kept" in told


def test_the_report_names_who_did_the_work(studio):
    assert "Who did the work Ada Penhale" in both(studio, "2026-041", "treatment")


def test_the_report_states_what_the_back_looked_like_and_where_covered_text_is(studio):
    told = both(studio, "2026-041", "treatment")
    assert "What is written on it" in told
    assert (
        "I1 Dealer's label stretcher bar; back, upper left, 10 mm from the left edge and 5 mm from"
        " the top edge (seen from the back) Hollis & Trewin …don S.W. partly covered, paper tape R1,"
        " 2 March 2026 beneath R1, T1.1"
    ) in told
