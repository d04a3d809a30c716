"""What a strict record may hold, and how one is made from a full-graph node.

The allowed keys are facts of the Linked Art API 1.0 schemas (linked.art, CC BY 4.0).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from catalogue.linked import concepts
from catalogue.linked.contexts import LINKED_ART
from catalogue.linked.node import BRIEF_TEXT, many, nodes, one, text
from catalogue.linked.text import Node

Labels = Callable[[str], tuple[str, str]]
"""From a document's id to its type ("Person", "Group") and the label to show for it."""

_EVERYWHERE = "id type _label identified_by classified_as referred_to_by equivalent "
_HAPPENING = (
    "took_place_at timespan caused_by carried_out_by used_specific_object influenced_by technique "
    "during after before part_of "
)


def _keys(words: str) -> frozenset[str]:
    return frozenset(words.split())


RECORDS: dict[str, frozenset[str]] = {
    "HumanMadeObject": _keys(
        _EVERYWHERE
        + "representation member_of subject_of attributed_by dimension made_of part_of "
        "current_owner current_custodian current_location used_for shows carries produced_by "
        "destroyed_by removed_by modified_by"
    ),
    "LinguisticObject": _keys(
        _EVERYWHERE + "representation member_of subject_of attributed_by dimension subject_to "
        "format language about created_by used_for part_of content"
    ),
    "DigitalObject": _keys(
        _EVERYWHERE
        + "representation member_of subject_of attributed_by dimension part_of format "
        "conforms_to access_point digitally_available_via digitally_shows used_for created_by"
    ),
    "Person": _keys(
        _EVERYWHERE + "representation member_of subject_of attributed_by carried_out residence "
        "born died"
    ),
    "Group": _keys(
        _EVERYWHERE + "representation member_of subject_of attributed_by carried_out residence "
        "formed_by dissolved_by"
    ),
    "Place": _keys(_EVERYWHERE + "member_of subject_of attributed_by defined_by part_of"),
    "Activity": _keys(
        _EVERYWHERE + _HAPPENING + "member_of subject_of attributed_by participant part"
    ),
}
"""The keys that a record of each type may have, beside `@context`."""

EMBEDDED: dict[str, frozenset[str]] = {
    "Name": _keys("type _label identified_by referred_to_by classified_as content language"),
    "Identifier": _keys("type _label identified_by referred_to_by classified_as content"),
    "LinguisticObject": _keys(
        "type _label identified_by referred_to_by classified_as content language format"
    ),
    "TimeSpan": _keys(
        "type _label identified_by classified_as begin_of_the_begin end_of_the_begin "
        "begin_of_the_end end_of_the_end"
    ),
    "Dimension": _keys(
        "type _label identified_by classified_as value lower_value_limit upper_value_limit unit "
        "assigned_by"
    ),
    "VisualItem": _keys("type _label identified_by classified_as digitally_shown_by"),
    **dict.fromkeys(
        ("AttributeAssignment", "Activity"),
        _keys("type _label identified_by classified_as referred_to_by assigned assigned_property "
              + _HAPPENING),
    ),
    **dict.fromkeys(
        ("Creation", "Production", "Formation", "Dissolution", "Birth", "Death"),
        _keys("type _label identified_by classified_as referred_to_by part attributed_by "
              + _HAPPENING),
    ),
    "Modification": _keys(
        "type _label identified_by classified_as referred_to_by employed " + _HAPPENING
    ),
    "Acquisition": _keys(
        "type _label identified_by classified_as referred_to_by transferred_title_of "
        "transferred_title_to transferred_title_from " + _HAPPENING
    ),
    "TransferOfCustody": _keys(
        "type _label identified_by classified_as referred_to_by transferred_custody_of "
        "transferred_custody_to transferred_custody_from " + _HAPPENING
    ),
    "Payment": _keys(
        "type _label identified_by classified_as referred_to_by paid_amount paid_to paid_from "
        + _HAPPENING
    ),
    "MonetaryAmount": _keys("type _label identified_by classified_as value currency"),
    "Move": _keys(
        "type _label identified_by classified_as referred_to_by moved moved_to moved_from "
        + _HAPPENING
    ),
}  # fmt: skip
"""The keys that a structure within a record may have; it has no id of its own."""

CONCEPTS = ("Type", "Material", "Language", "MeasurementUnit", "Currency")


@dataclass(slots=True)
class Sheet:
    """The records made so far from one document."""

    labels: Labels
    reductions: Mapping[tuple[str, str], Reduction]
    records: list[Node] = field(default_factory=list)


def enter(here: Node, label: str, sheet: Sheet, **more: object) -> None:
    """Add the record of a node, and through its reductions those of the nodes within it."""
    kind = str(many(here, "type")[0])
    made: Node = {
        "@context": LINKED_ART, "id": here["id"], "type": kind, "_label": label, **more,
    }  # fmt: skip
    sheet.records.append(made)
    for key in here:
        carried = key in RECORDS[kind] and (kind, key) not in sheet.reductions
        if carried and key not in ("id", "type", "_label"):
            add(made, key, embedded_all(here, key, sheet))
    # In the order of the table, whatever the document's: evidence names texts that went before.
    for (reduced, key), reduction in sheet.reductions.items():
        if reduced == kind and key in here:
            reduction.apply(made, here, sheet)


def add(record: Node, key: str, value: object) -> None:
    """Add to a key: what it holds already stays."""
    if value in (None, [], {}):
        return
    held = record.get(key)
    record[key] = (
        [*held, *value] if isinstance(held, list) and isinstance(value, list) else value
    )


def embedded_all(here: Node, key: str, sheet: Sheet) -> object:
    """What stands under a key, each structure as a record may hold it; None for nothing."""
    held = here.get(key)
    if isinstance(held, list):
        return [found for each in held if (found := embedded(each, sheet)) is not None]
    return embedded(held, sheet)


def embedded(value: object, sheet: Sheet) -> object:
    """A structure as a record may hold it: without an id, a concept with one, or a reference."""
    if not isinstance(value, dict):
        return value
    kind = str(next(iter(many(value, "type")), ""))
    if kind in CONCEPTS:
        return {
            key: value[key] if key != "classified_as" else embedded_all(value, key, sheet)
            for key in ("id", "type", "_label", "classified_as")
            if key in value
        }
    if kind == "LinguisticObject" and not value.get("content"):
        return None  # an empty reading says nothing to anybody else
    if kind not in EMBEDDED:
        return reference(value, sheet) if value.get("id") else None
    return {key: embedded_all(value, key, sheet) for key in value if key in EMBEDDED[kind]}


def reference(value: Node, sheet: Sheet) -> Node:
    """Another entity by id, type and label; a party's come from its own document."""
    address = str(value.get("id", ""))
    said = str(many(value, "type")[0])
    kind = {"Actor": "Person", "PhysicalObject": "HumanMadeObject"}.get(said, said)
    if address.startswith(("party/", "work/")):
        kind, label = sheet.labels(address)
    elif address.startswith("reference/"):
        label = sheet.labels(address)[1]
    else:
        label = label_of(value)
    return {"id": address, "type": kind, "_label": label}


def label_of(value: Node) -> str:
    """What a node is called: its label, its name, else that it has none."""
    name = one(value, "identified_by")
    return str(value.get("_label") or (name and name.get("content")) or "unnamed")


@dataclass(frozen=True, slots=True)
class Reduction:
    """What becomes of a key that the schemas don't allow as it stands, and why."""

    why: str
    apply: Callable[[Node, Node, Sheet], None]


def first_label(here: Node, group: str | None = None) -> str:
    """The label of the first class of a node, or of its first class of one group."""
    for kind in nodes(here, "classified_as"):
        if group is None or concepts.recognise(kind, group):
            return str(kind.get("_label", "inscription"))
    return "inscription"


def position(bearer: Node) -> Iterator[Node]:
    """Where something is on the painting, as a sentence: the schemas have no place for places."""
    place = one(bearer, "occupies")
    if place is not None:
        yield sentence("note/position", place_words(place))


def place_words(place: Node) -> str:
    """A place on the painting in words: its face, and the box around its outline in mm."""
    said = [first_label(place)]
    outline = re.findall(r"(-?[\d.]+) (-?[\d.]+)", text(place, "defined_by") or "")
    if outline:
        xs, ys = zip(*((float(x), float(y)) for x, y in outline), strict=True)
        said.append(
            f"{min(xs):g} mm from the left edge and {min(ys):g} mm from the top as seen on that "
            f"side, {max(xs) - min(xs):g} mm wide, {max(ys) - min(ys):g} mm high"
        )
    return "; ".join(said)


def sentence(kind: str, said: str) -> Node:
    """A statement of a kind of note."""
    return {
        "type": "LinguisticObject",
        "classified_as": [{**concepts.describe(kind), "classified_as": [BRIEF_TEXT]}],
        "content": said,
    }
