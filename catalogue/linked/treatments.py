"""Prior repairs, tests and treatments ⇄ modifications and activities.

A material as it was used is a batch: a thing of that material, with its lot and strength, which the
activity used. Where on the painting something was done is the place where the activity took place.
"""

from __future__ import annotations

from catalogue.linked import concepts, inscriptions
from catalogue.linked.fields import (
    Field,
    Form,
    amount,
    count,
    date,
    day,
    first_day,
    form,
    last_day,
    location,
    materials,
    named,
    notes,
    own_number,
    parties,
    party,
    pointer,
    pointers,
    span,
    statement,
    term,
    terms,
    texts,
    values,
    visibility,
    words,
    yes,
)
from catalogue.linked.node import nodes, number, whole
from catalogue.linked.text import Node
from catalogue.record import MaterialUse, Override, PriorRepair, Response, Step, Test, Treatment

PRIOR_REPAIR = "activity/prior-repair"
TEST_MADE = "activity/test"
TREATMENT_MADE = "activity/treatment"
OVERRIDDEN = "activity/override"
BATCH = "object/batch"


def _describe_strength(percent: float, own: str) -> Node:
    return {
        "dimension": [
            {
                "id": f"{own}/concentration",
                "type": "Dimension",
                "classified_as": [concepts.describe("dimension/concentration")],
                "value": whole(percent),
                "unit": concepts.describe("unit/percent"),
            }
        ]
    }


def _recognise_strength(here: Node) -> float | None:
    for each in nodes(here, "dimension"):
        if str(each.get("id", "")).endswith("/concentration"):
            return number(each, "value")
    return None


USE = form(
    MaterialUse,
    "HumanMadeObject",
    BATCH,
    {
        "material": Field(
            lambda held, _: {"made_of": concepts.describe_all((held,), "Material")},
            lambda here: next(iter(concepts.all_of(here, "made_of", "material")), None),
        ),
        "role": term("use"),
        "product": named("product"),
        "maker": statement("maker", "note/materials"),
        "lot": own_number("batch"),
        "formulation_year": count("formulation_year"),
        "concentration_percent": Field(_describe_strength, _recognise_strength),
        "basis": term("concentration"),
        "amount": statement("amount", "note/amount"),
        "opened": date("opened_on"),
        "expires": date("expires_on"),
        "data_sheet": date("data_sheet_of"),
        "signal": statement("signal", "note/caution"),
        "hazards": texts("hazard_codes"),
        "precautions": texts("precaution_codes"),
    },
)

SIGHTING = Form(
    inscriptions.describe_sighting, inscriptions.is_sighting, inscriptions.recognise_sighting
)

REPAIR = form(
    PriorRepair,
    "Modification",
    PRIOR_REPAIR,
    {
        "number": own_number("repair"),
        "kind": term("repair", "technique"),
        "materials": materials("employed"),
        "adhesive": Field(
            lambda held, _: {"adhesive": concepts.describe_all((held,), "Material")},
            lambda here: next(iter(concepts.all_of(here, "adhesive", "material")), None),
        ),
        "adhesive_basis": Field(
            term("basis").describe,
            # A strict record says how it is known, but has no place for the adhesive itself.
            lambda here: (
                concepts.first(here, "classified_as", "basis") if here.get("adhesive") else None
            ),
        ),
        "location": location(),
        "writing_beneath": yes("writing_beneath"),
        "covers": pointers("covers"),
        "effects": terms("effect"),
        "made": span(),
        "by": party("carried_out_by"),
        "decision": term("decision"),
        "reason": statement("reason", "note/reason"),
        "reversibility": statement("reversibility", "note/reversibility"),
        "kept_as": own_number("bag"),
        "sightings": values("attributed_by", SIGHTING),
        "notes": notes(),
        "visibility": visibility(),
    },
)

RESPONSE = form(
    Response,
    "AttributeAssignment",
    None,
    {"layer": term("layer"), "seen": terms("response", "assigned")},
)

TEST = form(
    Test,
    "Activity",
    TEST_MADE,
    {
        "number": own_number("test"),
        "kind": term("test", "technique"),
        "on": day(),
        "by": party("carried_out_by"),
        "location": location(),
        "inscription": pointer("used_specific_object", "LinguisticObject"),
        "materials": values("used_specific_object", USE),
        "ph": amount("ph"),
        "conductivity_ms_cm": amount("conductivity_ms_cm"),
        "temperature_c": amount("temperature_c"),
        "dwell_s": amount("dwell_s"),
        "applicator": statement("applicator", "note/applicator"),
        "rolls": count("rolls"),
        "area_mm2": amount("area_mm2"),
        "responses": values("attributed_by", RESPONSE),
        "result": term("result"),
        "notes": notes(),
        "visibility": visibility(),
    },
)

OVERRIDE = form(
    Override,
    "AttributeAssignment",
    OVERRIDDEN,
    {
        "rule": named("rule"),
        "reason": statement("reason", "note/reason"),
        "by": party("carried_out_by"),
        "on": day(),
    },
)

STEP = form(
    Step,
    "Modification",
    None,
    {
        "order": count("order"),
        "kind": term("step", "technique"),
        "aim": term("aim"),
        "began": first_day(),
        "began_at": words("began_at"),
        "ended": last_day(),
        "ended_at": words("ended_at"),
        "by": parties("carried_out_by"),
        "location": location(),
        "materials": values("used_specific_object", USE),
        "set_temperature_c": amount("set_temperature_c"),
        "surface_temperature_c": amount("surface_temperature_c"),
        "humidity_percent": amount("humidity_percent"),
        "dwell_s": amount("dwell_s"),
        "pressure_mbar": amount("pressure_mbar"),
        "weight_kg": amount("weight_kg"),
        "ph": amount("ph"),
        "conductivity_ms_cm": amount("conductivity_ms_cm"),
        "layers": count("coats"),
        "overlap_mm": amount("overlap_mm"),
        "edge": term("edge"),
        "addresses": pointers("motivated_by"),
        "covers": pointers("covers"),
        "removes": pointers("removes"),
        "outcome": statement("outcome", "note/outcome"),
        "departures": statement("departures", "note/departure"),
        "overrides": values("attributed_by", OVERRIDE),
        "emergency": statement("emergency", "note/reason"),
        "notes": notes(),
        "visibility": visibility(),
    },
)

TREATMENT = form(
    Treatment,
    "Modification",
    TREATMENT_MADE,
    {
        "number": own_number("treatment"),
        "title": named("title"),
        "aim": term("aim"),
        "steps": values("part", STEP),
        "notes": notes(),
        "visibility": visibility(),
    },
)
