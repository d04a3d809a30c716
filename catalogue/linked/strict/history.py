"""Reductions of where a painting has been: provenance and what it rests on, books, moves, ties, inquiries.

An event that others may speak of becomes a record of its own; an inquiry stays within the
painting's. What a source says of people in words, and how long they had it, is said in sentences.
"""

from __future__ import annotations

from catalogue.linked import concepts
from catalogue.linked.node import BRIEF_TEXT, is_a, nodes, one, text
from catalogue.linked.strict.happening import (
    dated,
    happening,
    itself,
    of_group,
    own_number,
    titled,
)
from catalogue.linked.strict.sheet import (
    Sheet,
    add,
    embedded,
    embedded_all,
    first_label,
    label_of,
    reference,
    sentence,
)
from catalogue.linked.text import Node

INQUIRY = "activity/inquiry"
PROVENANCE = "activity/provenance"
_PART_OF = "relation/part-of"


def happenings(record: Node, here: Node, sheet: Sheet) -> None:
    """Provenance events and exhibitions are records of their own that name the painting."""
    cited = _cited(here)
    for event in nodes(here, "present_at"):
        if concepts.first(event, "classified_as", "activity") == PROVENANCE:
            _provenance(event, record, cited, sheet)
        else:
            bare = {key: held for key, held in event.items() if key != "attributed_by"}
            happening(bare, titled(event, record), [itself(record)], sheet)
            _resting(event, cited, sheet)


def _provenance(event: Node, record: Node, cited: dict[str, str], sheet: Sheet) -> None:
    """One event: its changes of title and custody as parts, its evidence as assignments.

    `cited` is what the books and papers of the painting are called, by their ids.
    """
    parts, taking_part, said = [], [], []
    for part in nodes(event, "part"):
        made = embedded({key: it for key, it in part.items() if key != "referred_to_by"}, sheet)
        assert isinstance(made, dict)
        if is_a(part, "Payment"):
            if "value" in (one(part, "paid_amount") or {}):
                parts.append(made)
            else:
                said.append(label_of(one(part, "paid_amount") or {}))
            continue
        told = _told_of(part)
        if told:
            said.append(f"{first_label(part, 'capacity')}: {told}")
        if is_a(part, "Activity"):
            taking_part += [reference(it, sheet) for it in nodes(part, "carried_out_by")]
        elif any(key.endswith(("_to", "_from")) for key in made):
            parts.append(made)
    bare = {key: value for key, value in event.items() if key not in ("part", "attributed_by")}
    happening(bare, titled(event, record), [], sheet)
    made = sheet.records[-1]
    add(made, "carried_out_by", taking_part)
    add(made, "part", parts)
    if not parts:
        add(made, "used_specific_object", [itself(record)])
    for holding in nodes(event, "continued_by"):
        until = one(holding, "timespan")
        if until is not None:
            said.append(f"held until: {dated(until)}")
    add(made, "referred_to_by", [sentence("note/provenance", each) for each in said])
    _resting(event, cited, sheet)


def _told_of(part: Node) -> str:
    """What a source says of somebody, in its own words: the name, the years, the town, whose heir."""
    name = one(part, "identified_by")
    told = [str(it.get("content")) for it in nodes(part, "referred_to_by")]
    return "; ".join([*([str(name.get("content"))] if name else []), *told])


def _resting(event: Node, cited: dict[str, str], sheet: Sheet) -> None:
    """What the event whose record was entered last rests on."""
    made = sheet.records[-1]
    for evidence in nodes(event, "attributed_by"):
        add(made, "attributed_by", [_evidence(evidence, cited, sheet)])


def _evidence(evidence: Node, cited: dict[str, str], sheet: Sheet) -> Node:
    """What an event rests on: a text on the painting is what the claim was influenced by.

    Books and papers have no record to point at; a sentence names them.
    """
    found = embedded({key: it for key, it in evidence.items() if key != "motivated_by"}, sheet)
    assert isinstance(found, dict)
    found["_label"] = first_label(evidence, "evidence")
    known = {record["id"]: record for record in sheet.records}
    for source in nodes(evidence, "motivated_by"):
        address = str(source.get("id"))
        if address in known:
            add(found, "influenced_by", [itself(known[address])])
        elif address in cited:
            add(found, "referred_to_by", [sentence("note/provenance", cited[address])])
    return found


def inquiry(inquiry: Node, here: Node, sheet: Sheet) -> Node:
    """What was asked and answered; the papers seen are named in a sentence."""
    cited = _cited(here)
    bare = {key: held for key, held in inquiry.items() if key != "used_specific_object"}
    found = embedded(bare, sheet)
    assert isinstance(found, dict)
    kinds = of_group(inquiry, "inquiry")
    found["_label"] = f"{own_number(inquiry)}{label_of(kinds[0]) if kinds else 'inquiry'}"
    seen = [cited.get(str(each.get("id"))) for each in nodes(inquiry, "used_specific_object")]
    titles = "; ".join(each for each in seen if each)
    add(found, "referred_to_by", [sentence("note/source", titles)] if titles else [])
    return found


def _cited(here: Node) -> dict[str, str]:
    """What the books and papers of the painting are called, by their ids."""
    return {
        str(each.get("id")): text(each, "content") or _title_of(each)
        for each in nodes(here, "subject_of")
    }


def _title_of(paper: Node) -> str:
    """The title of a paper, which has numbers as well."""
    names = [each for each in nodes(paper, "identified_by") if is_a(each, "Name")]
    return str(names[0].get("content")) if names else label_of(paper)


def sources(record: Node, here: Node, sheet: Sheet) -> None:
    """What speaks of the painting: a book as a statement, a paper as the text that a file carries."""
    for source in nodes(here, "subject_of"):
        if is_a(source, "DigitalObject"):
            add(record, "subject_of", [_paper(source, sheet)])
        elif "content" in source:
            add(record, "referred_to_by", [_citation(source)])


def _citation(source: Node) -> Node:
    kinds = [{**each, "classified_as": [BRIEF_TEXT]} for each in nodes(source, "classified_as")]
    pages = [
        str(each["content"]) for each in nodes(source, "referred_to_by") if "content" in each
    ]
    said = ", ".join([str(source["content"]), *pages])
    return {"type": "LinguisticObject", "classified_as": kinds, "content": said}


def _paper(source: Node, sheet: Sheet) -> Node:
    file: Node = {"type": "DigitalObject", "_label": label_of(source)}
    add(file, "identified_by", embedded_all(source, "identified_by", sheet))
    add(file, "format", source.get("format"))
    paper: Node = {"type": "LinguisticObject", "_label": label_of(source)}
    for key in ("identified_by", "classified_as", "referred_to_by"):
        add(paper, key, embedded_all(source, key, sheet))
    return {**paper, "digitally_carried_by": [file]}


def moves(record: Node, here: Node, sheet: Sheet) -> None:
    """Coming to a place, or into somebody's keeping, is an event in the history of the painting."""
    for move in nodes(here, "moved_by"):
        known = {made["id"]: made for made in sheet.records}
        moved = [
            itself(known[it["id"]]) for it in nodes(move, "moved") if it.get("id") in known
        ]
        label = f"{moved[0]['_label'] if moved else record['_label']}, moved"
        event = {
            **{key: it for key, it in move.items() if key not in _MOVE_SAYS},
            "classified_as": [concepts.describe(PROVENANCE), *nodes(move, "classified_as")],
        }
        happening(event, label, [] if moved else [itself(record)], sheet)
        made = sheet.records[-1]
        keepers = [reference(it, sheet) for it in nodes(move, "participant")]
        place = one(move, "moved_to")
        if moved and place is not None:
            to = {"moved_to": reference(place, sheet)}
            add(made, "part", [{"type": "Move", "moved": moved, **to}])
        if moved and keepers:
            add(made, "part", [_handed_over(moved, keepers)])


_MOVE_SAYS = ("moved", "moved_to", "participant")


def _handed_over(moved: list[Node], keepers: list[Node]) -> Node:
    return {
        "type": "TransferOfCustody",
        "transferred_custody_of": moved,
        "transferred_custody_to": keepers,
    }


def relations(record: Node, here: Node, sheet: Sheet) -> None:
    """What a painting is a part of is its whole; any other tie is an assignment."""
    for relation in nodes(here, "attributed_by"):
        kind = concepts.first(relation, "classified_as", "relation")
        others = [reference(each, sheet) for each in nodes(relation, "assigned")]
        if kind is None or not others:
            continue
        if (
            kind == _PART_OF
            and others[0]["type"] == "HumanMadeObject"
            and "part_of" not in record
        ):
            record["part_of"] = others[0]
            continue
        made = embedded(relation, sheet)
        assert isinstance(made, dict)
        made["_label"] = f"{first_label(relation)} {others[0]['_label']}"
        add(record, "attributed_by", [made])
