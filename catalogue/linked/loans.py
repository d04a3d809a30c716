"""Loans of a commission ⇄ an Activity between lender and borrower, with the answers about the house."""

from __future__ import annotations

from catalogue.linked.fields import (
    amount,
    date,
    document,
    first_day,
    form,
    last_day,
    named,
    notes,
    party,
    somewhere,
    statement,
    term,
    terms,
    values,
)
from catalogue.record import Facility, Loan

FACILITY = form(
    Facility,
    "AttributeAssignment",
    "activity/loan-question",
    {
        "kind": term("facility"),
        "answer": term("answer", "assigned"),
        "note": statement("note"),
    },
)

LOAN = form(
    Loan,
    "Activity",
    "activity/loan",
    {
        "work": document("used_specific_object", "HumanMadeObject"),
        "lender": party("lender"),
        "borrower": party("borrower"),
        "title": named("title"),
        "venue": somewhere("venue"),
        "began": first_day(),
        "ended": last_day(),
        "facilities": values("attributed_by", FACILITY),
        "climate": statement("climate", "note/loan-terms"),
        "humidity_least_percent": amount("humidity_least"),
        "humidity_most_percent": amount("humidity_most"),
        "humidity_swing_percent": amount("humidity_swing"),
        "temperature_least_c": amount("temperature_least"),
        "temperature_most_c": amount("temperature_most"),
        "lux_most": amount("lux_most"),
        "light": statement("light", "note/loan-terms"),
        "packing": terms("packing"),
        "packing_says": statement("packing", "note/loan-terms"),
        "transport": statement("transport", "note/loan-terms"),
        "courier": party("courier"),
        "handling": statement("handling", "note/loan-terms"),
        "fixing": statement("fixing", "note/loan-terms"),
        "covered_from": date("covered_from"),
        "covered_until": date("covered_until"),
        "insured_value": amount("insured_for"),
        "currency": term("currency"),
        "value_basis": term("value-basis"),
        "notes": notes(),
    },
)
