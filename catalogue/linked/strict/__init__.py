"""Strict Linked Art 1.0 documents, made from full-graph nodes by one visible table of reductions.

A strict document holds only keys that the published schemas allow, and every entity is a record of
its own that others refer to by id, type and label. What the schemas have no place for is either
brought to a form that they have (`REDUCTIONS`) or left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from catalogue.linked import concepts
from catalogue.linked.concepts import NAMESPACE
from catalogue.linked.contexts import LINKED_ART
from catalogue.linked.names import is_name
from catalogue.linked.node import BRIEF_TEXT, PREFERRED, is_a, nodes
from catalogue.linked.strict import events, history, objects
from catalogue.linked.strict.sheet import Labels, Reduction, Sheet, enter
from catalogue.linked.text import Node, nodes_within
from catalogue.terms import Concept, of_iri


def _borne(record: Node, here: Node, sheet: Sheet) -> None:
    objects.borne(record, here, sheet)
    events.findings(record, here, sheet)


REDUCTIONS: dict[tuple[str, str], Reduction] = {
    ("HumanMadeObject", "part"): Reduction(
        "a part names its whole (`part_of`), never the whole its parts", objects.parts
    ),
    ("HumanMadeObject", "bears"): Reduction(
        "there are no features: the part itself carries the text, and damage is assigned to it",
        _borne,
    ),
    ("HumanMadeObject", "subject_of"): Reduction(
        "a book is a statement, a paper a text that a file carries", history.sources
    ),
    ("HumanMadeObject", "assessed_by"): Reduction(
        "there are no condition assessments: an examination is an activity", events.checks
    ),
    ("HumanMadeObject", "used_for"): Reduction(
        "a test or an inquiry has no record of its own", events.tests
    ),
    ("HumanMadeObject", "added_by"): Reduction(
        "when a part came to the painting is said in a sentence", events.fitted
    ),
    ("HumanMadeObject", "modified_by"): Reduction(
        "a treatment is an activity, its steps are modifications that are part of it",
        events.modifications,
    ),
    ("HumanMadeObject", "present_at"): Reduction(
        "events name the painting, not the painting its events", history.happenings
    ),
    ("HumanMadeObject", "moved_by"): Reduction(
        "a move is part of an event in its history", history.moves
    ),
    ("HumanMadeObject", "attributed_by"): Reduction(
        "what it is a part of is its whole", history.relations
    ),
    ("HumanMadeObject", "carries"): Reduction(
        "texts are records of their own", objects.carried
    ),
    ("HumanMadeObject", "produced_by"): Reduction(
        "a plain attribution is the maker; groups around a master are records", objects.made
    ),
    ("HumanMadeObject", "representation"): Reduction(
        "digital objects are records of their own", objects.shown
    ),
    ("LinguisticObject", "referred_to_by"): Reduction(
        "the preferred reading is the content; who read it when has no place", objects.readings
    ),
    ("LinguisticObject", "classified_as"): Reduction(
        "every text is classed as an inscription as well", objects.kinds_of_text
    ),
    ("Person", "carried_out"): Reduction("places are records of their own", objects.addresses),
    ("Group", "carried_out"): Reduction("places are records of their own", objects.addresses),
}
"""Every key that is not carried over as it stands."""


def reduce(document: Node, labels: Labels) -> list[Node]:
    """The strict records of a document, ids still relative to it, the document's own first.

    A commission makes none: there is nothing in it for anybody else.
    """
    if not is_a(document, "HumanMadeObject", "Person", "Group"):
        return []
    sheet = Sheet(labels, REDUCTIONS)
    enter(document, _called(document), sheet)
    return sheet.records


def _called(document: Node) -> str:
    """The preferred name of a document, else its first."""
    said = [each for each in nodes(document, "identified_by") if is_name(each)]
    preferred = [each for each in said if PREFERRED in nodes(each, "classified_as")]
    return next((str(each["content"]) for each in (*preferred, *said)), "untitled")


def concepts_used(records: list[Node]) -> list[Concept]:
    """The concepts of our own that these records use, in a stable order."""
    return concepts_of({str(here.get("id", "")) for here in nodes_within({"records": records})})


def concepts_of(addresses: Iterable[str]) -> list[Concept]:
    """The concepts of our own among these addresses, in a stable order."""
    own = sorted(each for each in addresses if each.startswith(NAMESPACE))
    return [known for address in own if (known := _own_concept(address))]


@cache
def _own_concept(address: str) -> Concept | None:
    return of_iri(address, address.removeprefix(NAMESPACE).partition("/")[0])


def concept_records(records: list[Node]) -> list[Node]:
    """A record for each concept of our own that these records use, so that nobody has to ask us."""
    return [concept_record(known) for known in concepts_used(records)]


def concept_record(known: Concept) -> Node:
    """The record of one concept of our own."""
    described = concepts.describe(known.key)
    record: Node = {
        "@context": LINKED_ART,
        "id": known.iri,
        "type": described["type"],
        "_label": known.label,
        "identified_by": [{"type": "Name", "content": known.label}],
        "referred_to_by": [
            {
                "type": "LinguisticObject",
                "classified_as": [
                    {**concepts.describe("note/description"), "classified_as": [BRIEF_TEXT]}
                ],
                "content": known.note,
            }
        ],
    }
    if known.broad_aat:
        record["broader"] = [{"id": known.broad_aat, "type": described["type"]}]
    return record
