"""Records that came as strict Linked Art and leave so again, untouched.

Another institution's record, or one of ours that was sent out as strict records and came back, holds
structures and types that our own reductions never make. Taking it apart would lose some of them.
The allowed keys are facts of the Linked Art API 1.0 schemas (linked.art, CC BY 4.0).
"""

from __future__ import annotations

from catalogue.linked.contexts import LINKED_ART
from catalogue.linked.node import types
from catalogue.linked.text import Node, nodes_within

_EVERYWHERE = (
    "@context id type _label identified_by classified_as referred_to_by equivalent representation "
    "member_of subject_of attributed_by "
)
_HAPPENING = (
    "during after before took_place_at timespan caused_by carried_out_by used_specific_object "
    "influenced_by technique part_of "
)
_ACTOR = "carried_out participated_in contact_point residence "


def _keys(words: str) -> frozenset[str]:
    return frozenset((_EVERYWHERE + words).split())


_CONCEPT = _keys("created_by broader")
_EVENT = _keys(_HAPPENING + "participant part")

RECORDS: dict[str, frozenset[str]] = {
    "HumanMadeObject": _keys(
        "dimension made_of part_of current_owner current_custodian current_permanent_custodian "
        "current_location current_permanent_location held_or_supported_by used_for shows carries "
        "produced_by destroyed_by removed_by encountered_by modified_by changed_ownership_through"
    ),
    "LinguisticObject": _keys(
        "dimension subject_to format language about created_by used_for part_of "
        "conceptually_part_of content"
    ),
    "VisualItem": _keys(
        "dimension subject_to part_of conceptually_part_of about created_by represents "
        "represents_instance_of_type used_for"
    ),
    "DigitalObject": _keys(
        "dimension part_of format conforms_to access_point digitally_available_via "
        "digitally_carries digitally_shows used_for created_by"
    ),
    "Activity": _EVENT,
    "Event": _EVENT,
    "Period": _EVENT,
    "Set": _keys(
        "dimension about members_contained_by members_exemplified_by used_for created_by"
    ),
    "Person": _keys(_ACTOR + "born died"),
    "Group": _keys(_ACTOR + "formed_by dissolved_by"),
    "Place": _keys("defined_by part_of"),
    "PropositionalObject": _keys(
        "dimension subject_to about conceptually_part_of created_by"
    ),
    **dict.fromkeys(("Type", "Currency", "Material", "Language", "MeasurementUnit"), _CONCEPT),
}  # fmt: skip
"""The keys that the schemas allow in a record of each type."""


def is_strict(document: Node) -> bool:
    """Whether a stored document is a strict record as it stands.

    Not one that was worked on here since: values of ours have ids, structures of strict records none.

    >>> came = {"@context": LINKED_ART, "id": "https://museum.example/77", "type": "Set", "_label": "Room 9"}
    >>> is_strict(came), is_strict({**came, "shelf": "R 12"})
    (True, False)
    """
    kinds = types(document)
    if document.get("@context") != LINKED_ART or len(kinds) != 1 or "_label" not in document:
        return False
    if not document.keys() <= RECORDS.get(kinds[0], frozenset()):
        return False
    return not any(
        str(here.get("id", "")).startswith("#") and not is_reference(here)
        for here in nodes_within(document)
    )


def is_reference(here: Node) -> bool:
    """Whether a node only names another record."""
    return here.keys() <= {"id", "type", "_label", "equivalent"}
