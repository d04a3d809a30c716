"""What is said about a commission: each row of vocab/checks.toml by a job that it speaks of, and one it does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.checking.commissions import commission
from catalogue.checking.remark import rows
from catalogue.errors import BadData
from catalogue.linked.approvals import sealed
from catalogue.measure import Day
from catalogue.record import (
    Approval,
    Content,
    Cover,
    Departure,
    Item,
    Job,
    Option,
    Piece,
    Proposal,
    Risk,
    Valuation,
    Work,
)
from catalogue.terms import group

WORK = Work()
CAME = Day(2026, 3, 1)
ITEM = Item(
    work=WORK.document, came=CAME, due=Day(2026, 12, 1), arrived_by="by hand", condition="Good.",
    contents=(Content(kind="content/painting"),),
    risks=tuple(Risk(kind=danger.key, answer="answer/no") for danger in group("risk")),
)  # fmt: skip
JOB = Job(reason="reason/treatment", client=CLIENT.document, items=(ITEM,))
LEAVE = Option(order=1, title="Leave it", nothing=True)
MEND = Option(order=2, title="Mend")
PROPOSAL = Proposal(number="Q1", options=(LEAVE, MEND))
APPROVED = replace(
    JOB, proposals=(PROPOSAL,),
    approvals=(Approval(proposal=PROPOSAL.id, option=MEND.id, on=Day(2026, 3, 9)),),
)  # fmt: skip
APPROVED = replace(APPROVED, approvals=sealed(APPROVED))
DEARER = replace(PROPOSAL, options=(LEAVE, replace(MEND, title="Mend and line")))
SELLS = Job(number="J2026-008", reason="reason/consignment", items=(Item(work=WORK.document),))
OTHERWISE = Departure(on=Day(2026, 4, 2), what="A larger patch.")
BAG = Piece(number="B1", work=WORK.document, kind="piece/tape", what="Three strips")
TODAY = Day(2026, 4, 20)
COVER = Cover(holder="risk-holder/studio-policy")
VALUE = Valuation(
    work=WORK.document, basis="value-basis/market", low=900, currency="currency/euro",
    on=CAME, until=Day(2026, 4, 19),
)  # fmt: skip
LEFT = replace(ITEM, left=Day(2026, 11, 1))


def risk(name, **said):
    return tuple(
        replace(each, **said) if each.kind == f"risk/{name}" else each for each in ITEM.risks
    )


SPEAKS = {
    # the row: a job that it speaks of, and one like it of which it does not
    "commission.lacks": (replace(JOB, items=(replace(ITEM, due=None),)), JOB),
    "commission.apart": (
        replace(JOB, items=(replace(ITEM, risks=risk("mould", answer="answer/yes")),)),
        replace(JOB, items=(replace(LEFT, risks=risk("mould", answer="answer/yes")),)),
    ),
    "commission.no-choice": (
        replace(JOB, proposals=(replace(PROPOSAL, options=(MEND,)),)),
        replace(JOB, proposals=(PROPOSAL,)),
    ),
    "commission.changed": (replace(APPROVED, proposals=(DEARER,)), APPROVED),
    "commission.untold": (
        replace(JOB, departures=(OTHERWISE,)),
        replace(JOB, departures=(replace(OTHERWISE, approved=True),)),
    ),
    "commission.not-agreed": (
        replace(JOB, departures=(replace(OTHERWISE, told="By letter"),)),
        replace(JOB, departures=(replace(OTHERWISE, told="By letter", approved=True),)),
    ),
    "commission.undisclosed": (
        JOB, replace(JOB, disclosure="We sell it too.", disclosed=Day(2026, 3, 8)),
    ),
    "commission.uncovered": (
        replace(JOB, covers=(replace(COVER, until=Day(2026, 3, 10)),)), replace(JOB, covers=(COVER,)),
    ),
    "commission.value-over": (
        replace(JOB, valuations=(VALUE,)), replace(JOB, valuations=(replace(VALUE, until=TODAY),)),
    ),
    "commission.bag-left": (
        replace(JOB, items=(LEFT,), pieces=(BAG,)),
        replace(JOB, items=(LEFT,), pieces=(replace(BAG, state="piece-state/returned"),)),
    ),
}  # fmt: skip


def said(job, key):
    others = (job, SELLS) if key == "commission.undisclosed" else (job,)
    says = rows().checks[key].says.partition("{")[0]
    return [each for each in commission(job, others, str, TODAY) if says in each.says]


def test_every_row_of_commissions_has_an_example():
    assert set(SPEAKS) == {key for key in rows().checks if key.startswith("commission.")}


@pytest.mark.parametrize("key", SPEAKS)
def test_a_row_speaks_where_it_should_and_is_silent_where_it_is_answered(key):
    speaks, silent = SPEAKS[key]
    (remark,) = said(speaks, key)
    assert remark.kind == rows().checks[key].kind
    assert "{" not in remark.says
    assert said(silent, key) == []


def test_of_a_whole_commission_nothing_is_said():
    assert list(commission(JOB, (JOB,), str, TODAY)) == []
    assert list(commission(APPROVED, (APPROVED,), str, TODAY)) == []


def test_what_lacks_on_the_job_is_said_once_and_what_lacks_on_a_work_by_its_name():
    two = replace(JOB, client=None, items=(ITEM, replace(ITEM, id=WORK.id, due=None)))
    found = [
        (each.where, each.says)
        for each in commission(two, (two,), lambda work: "2026-041", TODAY)
    ]
    assert found == [
        ("", "a receipt wants who the client is"),
        ("2026-041", "a receipt wants the day on which it is to go back"),
    ]


def test_the_studio_checks_a_commission_and_no_person(empty_studio):
    work = full_work()
    for record in (ARTIST, CLIENT, work):
        empty_studio.save(record, who=WHO)
    kept = empty_studio.save(full_job(work), who=WHO)
    found = [(each.kind, each.says) for each in empty_studio.check(kept.document_id)]
    assert ("wrong", "it was changed since it was approved on 2026-03-09") in found
    with pytest.raises(BadData, match="neither a work nor a commission"):
        empty_studio.check(CLIENT.document)
