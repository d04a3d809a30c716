"""Proposals, their options and planned steps ⇄ propositional objects, each a component of the one above.

What is planned has not happened: its keys are others than those of a step that was done, so that
nobody who asks what lies under a patch is told of a patch that nobody made.
"""

from __future__ import annotations

from catalogue.linked.fields import (
    amount,
    count,
    date,
    day,
    document,
    form,
    in_document,
    location,
    named,
    notes,
    own_number,
    party,
    pointer,
    statement,
    term,
    values,
    values_elsewhere,
    words,
    yes,
)
from catalogue.linked.treatments import USE
from catalogue.record import Approval, Option, PlannedStep, Proposal

PROPOSED = "object/proposal"
OPTION_OF = "object/option"
PLANNED = "object/planned-step"
APPROVED = "activity/approval"

PLANNED_STEP = in_document(
    form(
        PlannedStep,
        "PropositionalObject",
        PLANNED,
        {
            "order": count("order"),
            "kind": term("step"),
            "work": document("for_work", "HumanMadeObject"),
            "text": statement("text", "note/treatment"),
            "location": location("planned_at"),
            "materials": values("foresees", USE),
            "hours_low": amount("hours_low"),
            "hours_likely": amount("hours_likely"),
            "hours_high": amount("hours_high"),
            "addresses": values_elsewhere("would_address"),
            "covers": values_elsewhere("would_cover"),
            "removes": values_elsewhere("would_remove"),
        },
    ),
    "work",
    ("would_address", "would_cover", "would_remove"),
)

OPTION = form(
    Option,
    "PropositionalObject",
    OPTION_OF,
    {
        "order": count("order"),
        "title": named("title"),
        "nothing": yes("does_nothing"),
        "aim": term("aim"),
        "steps": values("part", PLANNED_STEP),
        "risk": statement("risk", "note/risk"),
        "retreatability": statement("retreatability", "note/reversibility"),
        "on_inscriptions": statement("on-inscriptions", "note/inscription"),
        "rate": amount("hourly_rate"),
        "currency": term("currency"),
        "materials_cost": amount("materials_cost"),
        "outside_cost": amount("outside_cost"),
        "contingency_percent": amount("contingency_percent"),
        "tax_percent": amount("tax_percent"),
    },
)

PROPOSAL = form(
    Proposal,
    "PropositionalObject",
    PROPOSED,
    {
        "number": own_number("proposal"),
        "on": date("proposed_on"),
        "by": party("proposed_by"),
        "valid_until": date("valid_until"),
        "options": values("part", OPTION),
        "notes": notes(),
    },
)

APPROVAL = form(
    Approval,
    "Activity",
    APPROVED,
    {
        "proposal": pointer("considered", "PropositionalObject"),
        "option": pointer("approves", "PropositionalObject"),
        "digest": words("approved_text"),
        "by": party("carried_out_by"),
        "on": day(),
        "cap": amount("spending_cap"),
        "photos": yes("may_photograph"),
        "publication": yes("may_publish"),
        "samples": yes("may_sample"),
        "removed": statement("removed", "note/removed"),
    },
)
