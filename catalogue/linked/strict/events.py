"""Reductions of what happened to a painting: checks and findings, repairs, treatments, provenance.

An event that others may speak of becomes a record of its own; one that has no identity elsewhere
(a test, a step of a treatment) stays within the painting's. Places on the painting, measures and
batches of materials have no place in the schemas: they are said in sentences.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from catalogue.linked import concepts
from catalogue.linked.node import BRIEF_TEXT, is_a, nodes, one, text
from catalogue.linked.strict.sheet import (
    Sheet,
    add,
    embedded,
    embedded_all,
    enter,
    first_label,
    label_of,
    place_words,
    reference,
    sentence,
)
from catalogue.linked.text import Node

EXAMINATION = "activity/condition-check"
PROVENANCE = "activity/provenance"
_PART_OF = "relation/part-of"
_ON_THE_PAINTING = "/place"


def checks(record: Node, here: Node, sheet: Sheet) -> None:
    """A check is an examination of the painting, a record of its own."""
    for check in nodes(here, "assessed_by"):
        _happening(check, _titled(check, record), [_itself(record)], sheet, kind=EXAMINATION)


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
        "_label": _number_and_kind(feature, "damage"),
        "assigned_property": "classified_as",
        "assigned": _of_group(feature, "damage"),
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
        found["part_of"] = _activity(check, _titled(check, record))
    return found


def tests(record: Node, here: Node, sheet: Sheet) -> None:
    """A test is an activity within the record of the painting."""
    for test in nodes(here, "used_for"):
        add(record, "used_for", [_embedded(test, "test", sheet)])


def modifications(record: Node, here: Node, sheet: Sheet) -> None:
    """Repairs and steps are modifications of the painting; a treatment is a record of its own."""
    for event in nodes(here, "modified_by"):
        if concepts.first(event, "classified_as", "activity") != "activity/treatment":
            add(record, "modified_by", [_embedded(event, "repair", sheet)])
            continue
        label = _titled(event, record)
        _happening({**event, "part": []}, label, [_itself(record)], sheet)
        for step in nodes(event, "part"):
            made = _embedded(step, "step", sheet)
            add(record, "modified_by", [{**made, "part_of": _activity(event, label)}])


def _embedded(event: Node, group: str, sheet: Sheet) -> Node:
    """An event within the painting's record, with sentences for what it cannot hold."""
    kept = {
        key: value
        for key, value in event.items()
        if key not in ("took_place_at", "used_specific_object", "motivated_by")
    }
    found = embedded(kept, sheet)
    assert isinstance(found, dict)
    found["_label"] = _number_and_kind(event, group, "technique")
    places = [each for each in nodes(event, "took_place_at") if _is_on_the_painting(each)]
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
    said += [str(each["_label"]) for each in _of_group(batch, "use")]
    said += [str(it["content"]) for it in nodes(batch, "identified_by") if it.get("content")]
    return ", ".join(said)


def happenings(record: Node, here: Node, sheet: Sheet) -> None:
    """Provenance events and exhibitions are records of their own that name the painting."""
    cited = {
        str(each.get("id")): text(each, "content") or label_of(each)
        for each in nodes(here, "subject_of")
    }
    for event in nodes(here, "present_at"):
        if concepts.first(event, "classified_as", "activity") == PROVENANCE:
            _provenance(event, record, cited, sheet)
        else:
            _happening(event, _titled(event, record), [_itself(record)], sheet)


def _provenance(event: Node, record: Node, cited: dict[str, str], sheet: Sheet) -> None:
    """One event: its changes of title and custody as parts, its evidence as assignments.

    `cited` is what the books and papers of the painting are called, by their ids.
    """
    parts, taking_part, said = [], [], []
    for part in nodes(event, "part"):
        made = embedded(part, sheet)
        assert isinstance(made, dict)
        if is_a(part, "Payment"):
            if "value" in (one(part, "paid_amount") or {}):
                parts.append(made)
            else:
                said.append(label_of(one(part, "paid_amount") or {}))
            continue
        name = one(part, "identified_by")
        if name is not None:
            said.append(f"{first_label(part, 'capacity')}: {name.get('content')}")
        if is_a(part, "Activity"):
            taking_part += [reference(it, sheet) for it in nodes(part, "carried_out_by")]
        elif any(key.endswith(("_to", "_from")) for key in made):
            parts.append(made)
    bare = {key: value for key, value in event.items() if key not in ("part", "attributed_by")}
    _happening(bare, _titled(event, record), [], sheet)
    made = sheet.records[-1]
    add(made, "carried_out_by", taking_part)
    add(made, "part", parts)
    add(made, "referred_to_by", [sentence("note/provenance", each) for each in said])
    if not parts:
        add(made, "used_specific_object", [_itself(record)])
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
            add(found, "influenced_by", [_itself(known[address])])
        elif address in cited:
            add(found, "referred_to_by", [sentence("note/provenance", cited[address])])
    return found


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
            _itself(known[it["id"]]) for it in nodes(move, "moved") if it.get("id") in known
        ]
        label = f"{moved[0]['_label'] if moved else record['_label']}, moved"
        event = {
            **{key: it for key, it in move.items() if key not in _MOVE_SAYS},
            "classified_as": [concepts.describe(PROVENANCE), *nodes(move, "classified_as")],
        }
        _happening(event, label, [] if moved else [_itself(record)], sheet)
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


def _happening(
    event: Node, label: str, objects: list[Node], sheet: Sheet, *, kind: str | None = None
) -> None:
    """Enter the record of an event; the places it names become records."""
    bare = {key: value for key, value in event.items() if key not in _SAID_OTHERWISE}
    classes = [*([concepts.describe(kind)] if kind else []), *nodes(event, "classified_as")]
    places = [it for it in nodes(event, "took_place_at") if not _is_on_the_painting(it)]
    for place in places:
        if str(place.get("id", "")).startswith("#"):
            enter(place, label_of(place), sheet)
    enter({**bare, "type": "Activity", "classified_as": classes}, label, sheet)
    made = sheet.records[-1]
    add(made, "used_specific_object", objects)
    add(made, "took_place_at", [reference(each, sheet) for each in places])


_SAID_OTHERWISE = ("took_place_at", "used_specific_object", "part", "motivated_by")


def _is_on_the_painting(place: Node) -> bool:
    return str(place.get("id", "")).endswith(_ON_THE_PAINTING)


def _belonging(here: Node, key: str, own: str) -> Iterator[Node]:
    return (each for each in nodes(here, key) if str(each.get("id", "")).startswith(f"{own}/"))


def _sizes(dimensions: Iterable[Node]) -> Iterator[str]:
    for each in dimensions:
        unit = one(each, "unit") or {}
        counted = concepts.recognise(unit, "unit") == "unit/count"
        measure = "" if counted else f" {unit.get('_label', '')}"
        yield f"{first_label(each)} {each.get('value')}{measure}"


def _of_group(here: Node, group: str) -> list[Node]:
    return [it for it in nodes(here, "classified_as") if concepts.recognise(it, group)]


def _titled(event: Node, record: Node) -> str:
    """What an event is called: its own title, else its number and kind and the painting's name."""
    for name in nodes(event, "identified_by"):
        if is_a(name, "Name") and name.get("content"):
            return str(name["content"])
    kinds = [*_of_group(event, "provenance"), *nodes(event, "classified_as")]
    kind = label_of(kinds[0]) if kinds else "event"
    return f"{_own_number(event)}{kind}, {record['_label']}"


def _own_number(event: Node) -> str:
    for each in nodes(event, "identified_by"):
        if is_a(each, "Identifier") and each.get("content"):
            return f"{each['content']} "
    return ""


def _number_and_kind(event: Node, group: str, key: str = "classified_as") -> str:
    kinds = [it for it in nodes(event, key) if concepts.recognise(it, group)]
    return f"{_own_number(event)}{label_of(kinds[0]) if kinds else group}"


def _itself(record: Node) -> Node:
    return {key: record[key] for key in ("id", "type", "_label")}


def _activity(event: Node, label: str) -> Node:
    return {"id": event["id"], "type": "Activity", "_label": label}
