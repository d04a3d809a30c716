"""US-26, insurance: kind of value, currency, day, valuer, grounds, expiry; who bears the risk at each moment.

The story is that of the trade sheet, section 1.7; a cover also says within how many hours damage is reported.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, WHO

from catalogue.errors import BadData
from catalogue.house import borne_by, unborne
from catalogue.measure import Day
from catalogue.record import Cover, Valuation
from catalogue.record.rules import values_within


def commission(studio):
    (job,) = studio.jobs_of(studio.work("2026-041").document_id)
    return studio.read(job.document)


def test_a_valuation_says_kind_sum_currency_day_valuer_grounds_and_expiry(studio):
    work = studio.work("2026-041").document_id
    told = Valuation(
        work=work, basis="value-basis/replacement", low=9000, high=11000, currency="currency/euro",
        on=Day(2026, 3, 5), until=Day(2026, 9, 5), by=ARTIST.document, grounds="Two of the kind since 2024.",
    )  # fmt: skip
    read = commission(studio)
    kept = studio.save(replace(read.record, valuations=(told,)), who=WHO, read=read)
    assert studio.read(kept.document_id).record.valuations == (told,)
    assert told.stands(Day(2026, 9, 5))
    assert not told.stands(Day(2026, 9, 6))
    assert not told.stands(Day(2026, 3, 4))
    with pytest.raises(BadData):
        replace(told, high=8000)


def test_who_bears_the_risk_at_each_moment_and_when_nobody_does(studio):
    read = commission(studio)
    item = replace(read.record.items[0], came=Day(2026, 3, 1), due=None, left=Day(2026, 3, 31))
    covers = (
        Cover(holder="risk-holder/carrier-policy", until=Day(2026, 3, 2), report_hours=24),
        Cover(
            holder="risk-holder/studio-policy",
            since=Day(2026, 3, 5),
            until=Day(2026, 3, 20),
            policy="77-4",
        ),
        Cover(
            holder="risk-holder/owner-policy",
            work=item.work,
            since=Day(2026, 3, 19),
            until=Day(2026, 3, 25),
        ),
    )
    job = replace(read.record, items=(item,), covers=covers)
    assert [each.holder for each in borne_by(job, item.work, Day(2026, 3, 19))] == [
        "risk-holder/studio-policy",
        "risk-holder/owner-policy",
    ]
    assert borne_by(job, item.work, Day(2026, 3, 3)) == ()
    assert unborne(job, item, Day(2026, 6, 1)) == (
        (Day(2026, 3, 3), Day(2026, 3, 4)),
        (Day(2026, 3, 26), Day(2026, 3, 31)),
    )
    # day by day, the slow way
    for day in range(Day(2026, 3, 1).ordinal, Day(2026, 3, 31).ordinal + 1):
        here = Day.from_ordinal(day)
        gap = any(first <= here <= last for first, last in unborne(job, item, here.years_on(1)))
        assert gap is (borne_by(job, item.work, here) == ())


def test_the_check_tells_of_an_uncovered_spell_and_of_a_value_that_is_over(studio):
    read = commission(studio)
    work = read.record.items[0].work
    covers = (Cover(holder="risk-holder/studio-policy", until=Day(2026, 3, 10)),)
    valued = Valuation(
        work=work, basis="value-basis/market", low=9000, currency="currency/euro",
        on=Day(2020, 1, 1), until=Day(2021, 1, 1),
    )  # fmt: skip
    items = tuple(replace(each, left=None, due=None) for each in read.record.items)
    studio.save(
        replace(read.record, items=items, covers=covers, valuations=(valued,)),
        who=WHO,
        read=read,
    )
    told = [each.says for each in studio.check(read.document_id)]
    assert any("nobody bears its risk" in each for each in told)
    assert any("the valuation counted until 2021-01-01" in each for each in told)


def test_neither_value_nor_policy_leaves_but_in_the_whole():
    from catalogue.exchange.withholding.redaction import profiles

    for name, allowed in profiles().items():
        listed = {each for each in allowed.fields if each.startswith(("Valuation.", "Cover."))}
        assert bool(listed) is (name == "full"), name


def test_the_made_commission_carries_both(studio):
    kinds = {type(each).__name__ for each in values_within(commission(studio).record)}
    assert {"Valuation", "Cover"} <= kinds
