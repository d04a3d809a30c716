"""Reductions of what was seen of a painting and done to it: checks and findings, repairs, tests, treatments.

A check and a treatment become records of their own; what has no identity elsewhere (a test, an
inquiry, a step) stays within the painting's. Places on the painting, measures and batches of
materials have no place in the schemas: they are said in sentences.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from catalogue.linked import concepts
from catalogue.linked.node import is_a, nodes, one
from catalogue.linked.strict import history
from catalogue.linked.strict.happening import (
    activity,
    dated,
    happening,
    is_on_the_painting,
    itself,
    number_and_kind,
    of_group,
    titled,
)
from catalogue.linked.strict.sheet import (
    Sheet,
    add,
    embedded,
    embedded_all,
    first_label,
    label_of,
    place_words,
    sentence,
)
from catalogue.linked.text import Node

EXAMINATION = "activity/condition-check"


def checks(record: Node, here: Node, sheet: Sheet) -> None:
    """A check is an examination of the painting, a record of its own."""
    for check in nodes(here, "assessed_by"):
        happening(check, titled(check, record), [itself(record)], sheet, kind=EXAMINATION)


def findings(record: Node, here: Node, sheet: Sheet) -> None:
    """A finding is assigned to the painting anew by each check that saw it."""
    checked = {str(each.get("id")): each for each in nodes(here, "assessed_by")}
    for feature in nodes(here, "bears"):
        if is_a(feature, "PhysicalFeature"):
            for state in sorted(nodes(feature, "condition"), key=_day_of(checked)):
                add(
                    record, "attributed_by", [_observed(feature, state, checked, record, sheet)]
                )


def _day_of(checked: dict[str, Node]) -> Callable[[Node], str]:
    """What states are ordered by: the day of their check."""

    def day(state: Node) -> str:
        check = checked.get(str((one(state, "condition_identified_by") or {}).get("id")), {})
        return str((one(check, "timespan") or {}).get("begin_of_the_begin", ""))

    return day


def _observed(
    feature: Node, state: Node, checked: dict[str, Node], record: Node, sheet: Sheet
) -> Node:
    found: Node = {
        "type": "AttributeAssignment",
        "_label": number_and_kind(feature, "damage"),
        "assigned_property": "classified_as",
        "assigned": of_group(feature, "damage"),
    }
    add(found, "identified_by", embedded_all(feature, "identified_by", sheet))
    add(found, "classified_as", embedded_all(state, "classified_as", sheet))
    own = str(state.get("id"))
    said = [
        first_label(feature, "layer"),
        *(place_words(each) for each in _belonging(feature, "occupies", own)),
        *_sizes(_belonging(feature, "dimension", own)),
    ]
    add(found, "referred_to_by", [sentence("note/condition", "; ".join(said))])
    for each in (feature, state):
        add(found, "referred_to_by", embedded_all(each, "referred_to_by", sheet))
    check = checked.get(str((one(state, "condition_identified_by") or {}).get("id")))
    if check is not None:
        for key in ("carried_out_by", "timespan"):
            add(found, key, embedded_all(check, key, sheet))
        found["part_of"] = activity(check, titled(check, record))
    return found


def tests(record: Node, here: Node, sheet: Sheet) -> None:
    """A test or an inquiry is an activity within the record of the painting."""
    for used in nodes(here, "used_for"):
        if concepts.first(used, "classified_as", "activity") == history.INQUIRY:
            made = history.inquiry(used, here, sheet)
        else:
            made = _embedded(used, "test", sheet)
        add(record, "used_for", [made])


def fitted(record: Node, here: Node, sheet: Sheet) -> None:
    """When a part or a layer came to the painting, in a sentence."""
    for addition in nodes(here, "added_by"):
        when = one(addition, "timespan")
        if when is not None:
            said = f"came to the painting: {dated(when)}"
            add(record, "referred_to_by", [sentence("note/description", said)])


def modifications(record: Node, here: Node, sheet: Sheet) -> None:
    """Repairs and steps are modifications of the painting; a treatment is a record of its own."""
    for event in nodes(here, "modified_by"):
        if concepts.first(event, "classified_as", "activity") != "activity/treatment":
            add(record, "modified_by", [_embedded(event, "repair", sheet)])
            continue
        label = titled(event, record)
        happening({**event, "part": []}, label, [itself(record)], sheet)
        for step in nodes(event, "part"):
            made = _embedded(step, "step", sheet)
            add(record, "modified_by", [{**made, "part_of": activity(event, label)}])


def _embedded(event: Node, group: str, sheet: Sheet) -> Node:
    """An event within the painting's record, with sentences for what it cannot hold."""
    kept = {
        key: value
        for key, value in event.items()
        if key not in ("took_place_at", "used_specific_object", "motivated_by")
    }
    found = embedded(kept, sheet)
    assert isinstance(found, dict)
    found["_label"] = number_and_kind(event, group, "technique")
    places = [each for each in nodes(event, "took_place_at") if is_on_the_painting(each)]
    add(found, "referred_to_by", [sentence("note/position", place_words(it)) for it in places])
    used = [_batch(each) for each in nodes(event, "used_specific_object") if "made_of" in each]
    stuck = [label_of(each) for each in nodes(event, "adhesive")]
    if used or stuck:
        add(found, "referred_to_by", [sentence("note/materials", "; ".join([*stuck, *used]))])
    return found


def _batch(batch: Node) -> str:
    """A material as it was used, in words: what, in which strength, as what."""
    said = [label_of(each) for each in nodes(batch, "made_of")]
    for strength in nodes(batch, "dimension"):
        basis = first_label(batch, "concentration")
        said.append(f"{strength.get('value')} % {basis}")
    said += [str(each["_label"]) for each in of_group(batch, "use")]
    said += [str(it["content"]) for it in nodes(batch, "identified_by") if it.get("content")]
    return ", ".join(said)


def _belonging(here: Node, key: str, own: str) -> Iterator[Node]:
    return (each for each in nodes(here, key) if str(each.get("id", "")).startswith(f"{own}/"))


def _sizes(dimensions: Iterable[Node]) -> Iterator[str]:
    for each in dimensions:
        unit = one(each, "unit") or {}
        counted = concepts.recognise(unit, "unit") == "unit/count"
        measure = "" if counted else f" {unit.get('_label', '')}"
        yield f"{first_label(each)} {each.get('value')}{measure}"
