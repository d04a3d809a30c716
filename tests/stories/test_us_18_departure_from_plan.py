"""US-18, a departure from the plan: what, why, who decided, how the client heard of it, what it adds.

The story and its acceptance facts are those of the trade sheet, section 1.5.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from catalogue.argument.costs import spending
from catalogue.errors import BadData
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.measure import Day
from catalogue.record import Approval, Departure, Hours, Job, Option, Proposal

DEPARTURE = Departure(
    on=Day(2026, 4, 2), what="A larger patch.", why="The canvas gave way beside the tear.",
    by="party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01", told="By telephone", told_on=Day(2026, 4, 2),
    cost=100,
)  # fmt: skip
LEAVE = Option(order=1, title="Leave it", nothing=True)
MEND = Option(order=2, title="Mend", rate=50, currency="currency/euro")
PROPOSAL = Proposal(options=(LEAVE, MEND))
JOB = Job(
    reason="reason/treatment", proposals=(PROPOSAL,),
    approvals=(Approval(proposal=PROPOSAL.id, option=MEND.id, on=Day(2026, 3, 9), cap=500),),
    hours=(Hours(on=Day(2026, 4, 1), hours=10),), departures=(DEPARTURE,),
)  # fmt: skip


def test_it_says_what_why_who_and_when_and_how_the_client_heard_of_it():
    (kept,) = from_jsonld(to_jsonld(JOB)).departures
    assert kept == DEPARTURE
    assert (kept.told, kept.told_on) == ("By telephone", Day(2026, 4, 2))


@pytest.mark.parametrize("lacks", [{"what": " "}, {"why": ""}, {"cost": -1}])
def test_what_says_nothing_is_refused(lacks):
    with pytest.raises(BadData):
        replace(DEPARTURE, **lacks)


def test_it_is_not_approved_until_the_client_says_so():
    assert not DEPARTURE.approved


def test_beyond_the_cap_one_goes_on_only_with_the_clients_agreement():
    assert spending(JOB).level == "stop"
    agreed = replace(JOB, departures=(replace(DEPARTURE, approved=True),))
    found = spending(agreed)
    assert (found.approved, found.level) == (Decimal("600.00"), "within")
