"""Checks, findings and their states ⇄ condition assessments, features and condition states.

A finding is a physical feature that the painting bears; each observation is a state of it that one
check identified. What was measured stands on the feature, for a state is no thing that could have a
size (CIDOC CRM: P43 has the domain E70); its id says which observation it belongs to.
"""

from __future__ import annotations

from dataclasses import replace

from catalogue.linked import concepts
from catalogue.linked.fields import (
    Field,
    amount,
    day,
    describe_location,
    form,
    is_location,
    join,
    notes,
    own_number,
    party,
    pointer,
    recognise_location,
    somewhere,
    statement,
    term,
    terms,
    visibility,
    yes,
)
from catalogue.linked.node import nodes, number, recognised, whole
from catalogue.linked.text import Node
from catalogue.record import ConditionCheck, Finding, Observation

CHECK = form(
    ConditionCheck,
    "ConditionAssessment",
    None,
    {
        "number": own_number("check"),
        "occasion": term("occasion"),
        "on": day(),
        "by": party("carried_out_by"),
        "at": somewhere(),
        "lights": terms("light", "technique"),
        "instruments": statement("instruments", "note/instruments"),
        "limits": statement("limits", "note/limits"),
        "framed": yes("framed"),
        "glazed": yes("glazed"),
        "condition": term("condition"),
        "urgency": term("urgency"),
        "handling": term("handling"),
        "temperature_c": amount("temperature_c"),
        "humidity_percent": amount("humidity_percent"),
        "notes": notes(),
        "visibility": visibility(),
    },
)

STATE = form(
    Observation,
    "ConditionState",
    None,
    {
        "check": pointer("condition_identified_by", "ConditionAssessment"),
        "extent": term("extent"),
        "severity": term("severity"),
        "stability": term("stability"),
        "change": term("change"),
        "notes": notes(),
        "visibility": visibility(),
    },
)
"""An observation without what was measured: that stands on the finding."""

_MEASURES = {
    "length_mm": ("length", "unit/millimetre"),
    "gap_mm": ("gap", "unit/millimetre"),
    "depth_mm": ("depth", "unit/millimetre"),
    "area_mm2": ("area", "unit/square-millimetre"),
    "count": ("count", "unit/count"),
}


def _describe_observations(observations: tuple[Observation, ...], _: str) -> Node:
    found: Node = {"condition": STATE.describe_all(observations)}
    for each in observations:
        own = f"#{each.id}"
        if each.location is not None:
            join(found, {"occupies": [describe_location(each.location, own)]})
        for name, (measure, unit) in _MEASURES.items():
            value = getattr(each, name)
            if value is not None:
                size = {
                    "id": f"{own}/{measure}",
                    "type": "Dimension",
                    "classified_as": [concepts.describe(f"dimension/{measure}")],
                    "value": whole(value),
                    "unit": concepts.describe(unit),
                }
                join(found, {"dimension": [size]})
    return found


def _recognise_observations(here: Node) -> tuple[Observation, ...]:
    return tuple(_measured(state, here) for state in STATE.recognise_all(here, "condition"))


def _measured(state: Observation, feature: Node) -> Observation:
    """The observation with what its finding says of its size and place."""
    own = f"#{state.id}"
    sizes: dict[str, float | None] = {}
    by_id = {each.get("id"): each for each in nodes(feature, "dimension")}
    for name, (measure, _) in _MEASURES.items():
        size = by_id.get(f"{own}/{measure}")
        if size is not None:
            value = number(size, "value")
            sizes[name] = int(value) if name == "count" and value is not None else value
    places = [each for each in nodes(feature, "occupies") if is_location(each, own)]
    place = recognised(places[0], recognise_location) if places else None
    if not sizes and place is None:
        return state
    return recognised(feature, lambda _: replace(state, location=place, **sizes))  # type: ignore[arg-type]


FINDING = form(
    Finding,
    "PhysicalFeature",
    None,
    {
        "number": own_number("finding"),
        "layer": term("layer"),
        "kind": term("damage"),
        "cause": term("cause"),
        "cause_certainty": term("certainty"),
        "observations": Field(_describe_observations, _recognise_observations),
        "notes": notes(),
        "visibility": visibility(),
    },
)
