"""US-2, the parties and the basis of work: who commissions, on what, and where the studio has two parts.

The story and its acceptance facts are those of the trade sheet, section 1.1; that somebody who restores
and sells one work discloses it in writing is there after the codes of AIC and E.C.C.O. (from memory).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO

from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.record import Item, Job, Work

WORK = Work()
JOB = Job(reason="reason/treatment", client=CLIENT.document, items=(Item(work=WORK.document),))


@pytest.mark.parametrize(
    "kind", ["private", "dealer", "museum", "estate", "insurer", "trade-referral"]
)
def test_the_client_is_of_one_of_these_kinds(kind):
    assert replace(JOB, client_kind=f"client-kind/{kind}").client_kind == f"client-kind/{kind}"


def test_another_kind_is_refused():
    with pytest.raises(BadData):
        replace(JOB, client_kind="client-kind/friend")


def test_the_basis_of_the_work_is_kept():
    assert replace(JOB, basis="Order of 9 March").basis == "Order of 9 March"


@pytest.mark.parametrize("advice", ["valuation", "consignment", "purchase-offer"])
def test_advising_on_the_sale_of_what_one_treats_is_a_conflict(empty_studio, advice):
    for record in (ARTIST, CLIENT, WORK):
        empty_studio.save(record, who=WHO)
    treats = empty_studio.save(JOB, who=WHO).record
    assert empty_studio.conflicts(treats) == ()
    sells = Job(
        reason=f"reason/{advice}", client=ARTIST.document, items=(Item(work=WORK.document),)
    )
    sells = empty_studio.save(sells, who=WHO).record
    assert [each.number for each in empty_studio.conflicts(treats)] == [sells.number]
    assert [each.number for each in empty_studio.conflicts(sells)] == [treats.number]


def test_another_work_or_another_reason_is_none(empty_studio):
    other = Work()
    for record in (ARTIST, CLIENT, WORK, other):
        empty_studio.save(record, who=WHO)
    treats = empty_studio.save(JOB, who=WHO).record
    for reason, work in (("storage", WORK), ("consignment", other)):
        item = Item(work=work.document)
        empty_studio.save(Job(reason=f"reason/{reason}", items=(item,)), who=WHO)
    assert empty_studio.conflicts(treats) == ()


def test_the_disclosure_is_kept_with_its_day():
    told = replace(JOB, disclosure="We also sell it.", disclosed=Day(2026, 10, 12))
    assert (told.disclosure, told.disclosed) == ("We also sell it.", Day(2026, 10, 12))
    with pytest.raises(BadData, match="what was disclosed"):
        replace(JOB, disclosed=Day(2026, 10, 12))
