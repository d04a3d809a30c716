"""Values put on works of a commission, and who bears their risk ⇄ judgements and spells within it."""

from __future__ import annotations

from catalogue.linked.fields import (
    amount,
    count,
    date,
    day,
    document,
    form,
    notes,
    party,
    statement,
    term,
)
from catalogue.record import Cover, Valuation

VALUATION = form(
    Valuation,
    "Activity",
    "activity/valuation",
    {
        "work": document("used_specific_object", "HumanMadeObject"),
        "basis": term("value-basis"),
        "low": amount("valued_at"),
        "high": amount("valued_up_to"),
        "currency": term("currency"),
        "on": day(),
        "until": date("valid_until"),
        "by": party("carried_out_by"),
        "grounds": statement("grounds", "note/reason"),
        "notes": notes(),
    },
)

COVER = form(
    Cover,
    "Activity",
    "activity/cover",
    {
        "work": document("used_specific_object", "HumanMadeObject"),
        "holder": term("risk-holder"),
        "since": date("covered_from"),
        "until": date("covered_until"),
        "policy": statement("policy", "note/insurance"),
        "insured_for": amount("insured_for"),
        "currency": term("currency"),
        "report_hours": count("report_within_hours"),
        "notes": notes(),
    },
)
