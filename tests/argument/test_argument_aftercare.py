"""When to look again (trade sheet, C19) and how complete a value is (C18)."""

from __future__ import annotations

import datetime
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_records import days, full_work

from catalogue.argument.aftercare import completeness, look_again, months_on, rows, weights
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Observation,
    PriorRepair,
    Step,
    Treatment,
    Work,
)

WHO = "party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01"
LOOKED = ConditionCheck(occasion="occasion/periodic", on=Day(2026, 3, 2), by=WHO)


def work(*findings, steps=(), checks=(LOOKED,)):
    return Work(checks=checks, findings=findings, treatments=(Treatment(steps=steps),))


def finding(kind, stability):
    seen = Observation(check=LOOKED.id, stability=stability)
    return Finding(kind=kind, layer="layer/paint", observations=(seen,))


MEND = Step(order=1, kind="step/thread-by-thread-mend", began=Day(2026, 4, 2))


@pytest.mark.parametrize(
    ("here", "on", "key"),
    [
        (work(), "2029-03-02", "stable"),
        (work(finding("damage/flaking", "stability/active")), "2026-06-02", "lifting"),
        (work(finding("damage/flaking", "stability/stable")), "2029-03-02", "stable"),
        (work(finding("damage/stain", "stability/active")), "2029-03-02", "stable"),
        (work(steps=(MEND,)), "2027-04-02", "mended"),
        (work(finding("damage/flaking", "stability/active"), steps=(MEND,)), "2026-06-02", "lifting"),
    ],
)  # fmt: skip
def test_the_months_go_by_the_risk(here, on, key):
    """Trade sheet, C19: a fresh mend 12 months, active flaking 3, stable 36."""
    found = look_again(here)
    assert (found.on.iso, found.row.key) == (on, key)


def test_a_mend_that_was_looked_at_since_is_fresh_no_more():
    later = replace(LOOKED, id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a61", on=Day(2027, 4, 9))
    assert look_again(work(steps=(MEND,), checks=(LOOKED, later))).row.key == "stable"
    on_leaving = replace(later, occasion="occasion/outgoing", on=Day(2026, 4, 20))
    found = look_again(work(steps=(MEND,), checks=(LOOKED, on_leaving)))
    assert (found.on.iso, found.row.key) == ("2027-04-02", "mended")


def test_nobody_is_reminded_of_what_nobody_looked_at():
    assert look_again(Work()) is None
    assert look_again(work(checks=(), steps=(replace(MEND, began=None),))) is None


@given(days, st.integers(1, 60))
def test_months_on_stay_in_their_month(day, months):
    """Against the standard library's calendar."""
    found = months_on(day, months)
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    last = datetime.date(year + (month == 11), (month + 1) % 12 + 1, 1) - datetime.timedelta(1)
    assert (found.year, found.month) == (year, month + 1)
    assert found.day == min(day.day, last.day)


def test_every_row_says_why_and_who_says_so():
    assert all(row.why and row.source for row in rows())


def test_a_full_value_is_complete_and_a_bare_one_says_what_lacks():
    label = full_work().inscriptions[0]
    assert completeness(label).percent == 100
    bare = completeness(Inscription(kind="inscription/date", face="face/back"))
    assert bare.lacking == ("place", "transcripts", "techniques", "sightings")
    assert bare.percent == pytest.approx(100 * 2 / 9)


def test_a_kind_without_weights_is_complete():
    assert completeness(Work()).percent == 100


@pytest.mark.parametrize("kind", [Inscription, Finding, PriorRepair])
def test_each_field_that_is_there_counts_for_its_weight(kind):
    values = {Inscription: full_work().inscriptions[0], Finding: full_work().findings[0],
              PriorRepair: full_work().repairs[0]}  # fmt: skip
    whole = values[kind]
    counted = weights()[kind.__name__]
    optional = {each.name: each.default for each in fields(kind)}
    for name, weight in counted.items():
        if optional[name] in (None, ()):
            less = completeness(replace(whole, **{name: optional[name]}))
            assert less.percent == pytest.approx(100 - 100 * weight / sum(counted.values()))
            assert less.lacking == (name,)
