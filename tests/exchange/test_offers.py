"""Offers for sale on their way out: the price a buyer is told, and what a buyer is never told."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from made_records import full_job, full_work

from catalogue.errors import BadData
from catalogue.exchange.withholding.offers import newest, told
from catalogue.exchange.withholding.redaction import profile, profiles
from catalogue.measure import Day
from catalogue.record import Offer

WORK = full_work()
FOR_SALE = Offer(
    work=WORK.document,
    status="offer-status/for-sale",
    asked=2400,
    currency="currency/euro",
    terms="Framed.",
    since=Day(2026, 3, 10),
    until=Day(2026, 9, 10),
    net=1900,
    reserve=1800,
)
PRIVATE = {"net", "reserve"}


def test_a_buyer_is_told_everything_but_net_and_reserve():
    sent = told(FOR_SALE, profile("sale"))
    for each in fields(Offer):
        if each.name not in PRIVATE:
            assert getattr(sent, each.name) == getattr(FOR_SALE, each.name), each.name
    assert (sent.net, sent.reserve) == (None, None)


@pytest.mark.parametrize("name", sorted(profiles()))
def test_net_and_reserve_leave_with_no_offer(name):
    sent = told(FOR_SALE, profile(name))
    assert sent is None or (sent.net, sent.reserve) == (None, None)


def test_only_a_sale_its_papers_and_the_whole_are_told_of_an_offer():
    assert {name for name in profiles() if told(FOR_SALE, profile(name))} == {
        "sale",
        "sale-papers",
        "full",
    }


@pytest.mark.parametrize("status", ["on-request", "sold"])
def test_a_price_on_request_and_the_price_of_a_sold_work_stay_home(status):
    sent = told(replace(FOR_SALE, status=f"offer-status/{status}"), profile("sale"))
    assert (sent.asked, sent.currency) == (None, None)
    assert sent.terms == "Framed."


@pytest.mark.parametrize(
    "change",
    [{"status": "offer-status/withdrawn"}, {"visibility": "visibility/restricted"}],
    ids=["withdrawn", "restricted"],
)
def test_an_offer_that_is_nobodys_business_is_not_told(change):
    assert told(replace(FOR_SALE, **change), profile("sale")) is None


def test_of_several_offers_the_last_one_counts():
    later = replace(FOR_SALE, id=full_work().id, asked=2000, since=Day(2026, 5, 1))
    job, other = full_job(WORK), full_job(WORK)
    both = [replace(job, offers=(later,)), replace(other, offers=(FOR_SALE,))]
    assert newest(both) == newest(reversed(both)) == {WORK.document: later}


def test_an_offer_that_was_withdrawn_later_is_none():
    gone = replace(
        FOR_SALE, id=full_work().id, status="offer-status/withdrawn", since=Day(2026, 5, 1)
    )
    assert newest([replace(full_job(WORK), offers=(FOR_SALE, gone))]) == {}


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"currency": None}, "a sum needs its currency"),
        ({"until": Day(2026, 1, 1)}, "it was offered on 2026-03-10"),
    ],
)
def test_an_offer_that_cannot_be_is_refused(said, why):
    with pytest.raises(BadData, match=why):
        replace(FOR_SALE, **said)
