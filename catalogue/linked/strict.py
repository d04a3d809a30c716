"""Strict Linked Art 1.0 documents, made from full-graph nodes by one visible table of reductions.

A strict document holds only keys that the published schemas allow, and every entity is a record of
its own that others refer to by id, type and label. What the schemas have no place for is either
brought to a form that they have (`REDUCTIONS`) or left out.

The allowed keys are facts of the Linked Art API 1.0 schemas (linked.art, CC BY 4.0).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from catalogue.linked import concepts
from catalogue.linked.concepts import NAMESPACE
from catalogue.linked.contexts import LINKED_ART
from catalogue.linked.node import BRIEF_TEXT, is_a, many, nodes, one, text
from catalogue.linked.text import Node, nodes_within
from catalogue.reading import read
from catalogue.terms import Concept, concept, of_iri

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
}  # fmt: skip
"""The keys that a structure within a record may have; it has no id of its own."""

CONCEPTS = ("Type", "Material", "Language", "MeasurementUnit", "Currency")
INSCRIPTIONS: Node = {
    "id": "http://vocab.getty.edu/aat/300028702",
    "type": "Type",
    "_label": "inscriptions",
}


@dataclass(slots=True)
class _Sheet:
    """The records made so far from one document."""

    labels: Labels
    records: list[Node] = field(default_factory=list)


def reduce(document: Node, labels: Labels) -> list[Node]:
    """The strict records of a document, ids still relative to it, the document's own first.

    A commission makes none: there is nothing in it for anybody else.
    """
    if not is_a(document, "HumanMadeObject", "Person", "Group"):
        return []
    sheet = _Sheet(labels)
    own = str(document.get("id"))
    _record(document, labels(own)[1], sheet)
    return sheet.records


def _record(here: Node, label: str, sheet: _Sheet, **more: object) -> None:
    """Add the record of a node, and through its reductions those of the nodes within it."""
    kind = str(many(here, "type")[0])
    record: Node = {
        "@context": LINKED_ART, "id": here["id"], "type": kind, "_label": label, **more,
    }  # fmt: skip
    sheet.records.append(record)
    for key in here:
        if key in ("id", "type", "_label", "@context"):
            continue
        reduction = REDUCTIONS.get((kind, key))
        if reduction:
            reduction.apply(record, here, sheet)
        elif key in RECORDS[kind]:
            _set(record, key, _embedded_all(here, key, sheet))


def _set(record: Node, key: str, value: object) -> None:
    """Add to a key: what it holds already stays."""
    if value in (None, [], {}):
        return
    held = record.get(key)
    record[key] = (
        [*held, *value] if isinstance(held, list) and isinstance(value, list) else value
    )


def _embedded_all(here: Node, key: str, sheet: _Sheet) -> object:
    held = here[key]
    if isinstance(held, list):
        return [found for each in held if (found := _embedded(each, sheet)) is not None]
    return _embedded(held, sheet)


def _embedded(value: object, sheet: _Sheet) -> object:
    """A structure as a record may hold it: without an id, a concept with one, or a reference."""
    if not isinstance(value, dict):
        return value
    kind = str(next(iter(many(value, "type")), ""))
    if kind in CONCEPTS:
        return {
            key: value[key] if key != "classified_as" else _embedded_all(value, key, sheet)
            for key in ("id", "type", "_label", "classified_as")
            if key in value
        }
    if kind not in EMBEDDED:
        return _reference(value, sheet) if value.get("id") else None
    return {key: _embedded_all(value, key, sheet) for key in value if key in EMBEDDED[kind]}


def _reference(value: Node, sheet: _Sheet) -> Node:
    """Another entity by id, type and label; a party's come from its own document."""
    address = str(value.get("id", ""))
    if address.startswith(("party/", "work/")):
        kind, label = sheet.labels(address)
    else:
        kind = "Person" if is_a(value, "Actor") else str(many(value, "type")[0])
        label = _label_of(value)
    return {"id": address, "type": kind, "_label": label}


def _label_of(value: Node) -> str:
    name = one(value, "identified_by")
    return str(value.get("_label") or (name and name.get("content")) or "unnamed")


# --- the reductions ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Reduction:
    """What becomes of a key that the schemas don't allow as it stands, and why."""

    why: str
    apply: Callable[[Node, Node, _Sheet], None]


def _parts(record: Node, here: Node, sheet: _Sheet) -> None:
    whole = {key: record[key] for key in ("id", "type", "_label")}
    for part in nodes(here, "part"):
        if str(part.get("id")).endswith("/bearer"):
            _label_object(part, whole, sheet)
        else:
            _record(part, f"{_first_label(part)} of {record['_label']}", sheet, part_of=whole)


def _label_object(bearer: Node, whole: Node, sheet: _Sheet) -> None:
    """A label as an object of its own, part of what it sticks to."""
    texts = list(nodes(bearer, "carries"))
    kinds = [kind for each in texts for kind in nodes(each, "classified_as")]
    label = f"{_first_label(texts[0])} on {whole['_label']}" if texts else "label"
    node = {
        "id": bearer["id"],
        "type": "HumanMadeObject",
        "classified_as": kinds,
        "referred_to_by": list(_position(bearer)),
        "carries": texts,
    }
    _record(node, label, sheet, part_of=whole)


def _carried(record: Node, here: Node, sheet: _Sheet) -> None:
    """Texts become records; what bears them refers to them."""
    for each in nodes(here, "carries"):
        label = f"{_first_label(each)} {_own_number(each)}of {_whole_label(record)}"
        _set(
            record, "carries", [{"id": each["id"], "type": "LinguisticObject", "_label": label}]
        )
        _record(each, label, sheet)


def _borne(record: Node, here: Node, sheet: _Sheet) -> None:
    """Writing on the surface: the part itself carries the text, which says where it stands."""
    for feature in nodes(here, "bears"):
        placed = {
            "carries": [
                {
                    **each,
                    "referred_to_by": [*nodes(each, "referred_to_by"), *_position(feature)],
                }
                for each in nodes(feature, "carries")
            ]
        }
        _carried(record, placed, sheet)


def _position(bearer: Node) -> Iterator[Node]:
    place = one(bearer, "occupies")
    if place is None:
        return
    words = [_first_label(place)]
    outline = re.findall(r"(-?[\d.]+) (-?[\d.]+)", text(place, "defined_by") or "")
    if outline:
        xs, ys = zip(*((float(x), float(y)) for x, y in outline), strict=True)
        words.append(
            f"{min(xs):g} mm from the left edge and {min(ys):g} mm from the top as seen on that "
            f"side, {max(xs) - min(xs):g} mm wide, {max(ys) - min(ys):g} mm high"
        )
    yield {
        "type": "LinguisticObject",
        "classified_as": [
            {**concepts.describe("note/position"), "classified_as": [BRIEF_TEXT]}
        ],
        "content": "; ".join(words),
    }


def _readings(record: Node, here: Node, sheet: _Sheet) -> None:
    """The preferred reading is the content of the text; every reading stays, as typed."""
    readings = [
        each
        for each in nodes(here, "referred_to_by")
        if "/vnd.dorse" in str(each.get("format"))
    ]
    if readings:
        shown = max(readings, key=_how_preferred)
        record["content"] = read(text(shown, "content") or "").diplomatic()
        record["format"] = "text/plain"
    _set(record, "referred_to_by", _embedded_all(here, "referred_to_by", sheet))


def _how_preferred(reading: Node) -> tuple[bool, str, str]:
    """What the reading to show is chosen by, as `Inscription.preferred` does: said so, else the latest."""
    read_on = one(one(reading, "created_by") or {}, "timespan") or {}
    day = text(read_on, "begin_of_the_begin") or ""
    return bool(reading.get("preferred")), day, str(reading.get("id"))


def _kinds_of_text(record: Node, here: Node, sheet: _Sheet) -> None:
    """Every text here is an inscription, whatever else it is called."""
    others = (_embedded(each, sheet) for each in nodes(here, "classified_as"))
    record["classified_as"] = [INSCRIPTIONS, *(each for each in others if each != INSCRIPTIONS)]


def _made(record: Node, here: Node, sheet: _Sheet) -> None:
    """A plain attribution is who carried it out; a doubtful one stays an assignment."""
    production = one(here, "produced_by") or {}
    made: Node = {"type": "Production"}
    for key, value in production.items():
        if key in EMBEDDED["Production"] and key not in ("type", "attributed_by"):
            made[key] = _embedded_all({key: value}, key, sheet)
    for attribution in nodes(production, "attributed_by"):
        _attribution(made, attribution, record, sheet)
    if len(made) > 1:
        record["produced_by"] = made


def _attribution(made: Node, attribution: Node, record: Node, sheet: _Sheet) -> None:
    assigned = one(attribution, "assigned") or {}
    qualifier = concepts.first(attribution, "classified_as", "qualifier")
    makers = [
        _group(maker, sheet)
        if str(maker.get("id")).endswith("/group")
        else _reference(maker, sheet)
        for maker in nodes(assigned, "carried_out_by")
    ]
    models = [_reference(model, sheet) for model in nodes(assigned, "influenced_by")]
    if models:
        _set(made, "influenced_by", models)
    elif makers and (qualifier == "qualifier/by" or makers[0]["type"] == "Group"):
        _set(made, "carried_out_by", makers)
    elif makers:
        _set(made, "attributed_by", [_embedded(attribution, sheet)])
    _set(record, "referred_to_by", _creator_statement(attribution, qualifier, makers or models))


def _group(group: Node, sheet: _Sheet) -> Node:
    """A group around a master becomes a record; the reference to it."""
    master = one(one(group, "formed_by") or {}, "influenced_by") or {}
    _, name = sheet.labels(str(master.get("id")))
    label = f"{_first_label(group)} {name}"
    _record(group, label, sheet)
    return {"id": group["id"], "type": "Group", "_label": label}


def _creator_statement(
    attribution: Node, qualifier: str | None, makers: list[Node]
) -> list[Node]:
    """The wording of an attribution that says more than a name."""
    written = one(attribution, "identified_by")
    said = text(written, "content") if written else None
    if said is None and qualifier not in (None, "qualifier/by") and makers:
        said = f"{concept(str(qualifier)).label} {makers[0]['_label']}"
    if said is None:
        return []
    kind = {**concepts.describe("note/creator"), "classified_as": [BRIEF_TEXT]}
    return [{"type": "LinguisticObject", "classified_as": [kind], "content": said}]


def _shown(record: Node, here: Node, sheet: _Sheet) -> None:
    """Photographs become records; the painting is represented by what they show."""
    for image in nodes(here, "representation"):
        for photo in nodes(image, "digitally_shown_by"):
            label = f"photograph of {record['_label']}, {_first_label(photo, 'view')}"
            _record(photo, label, sheet)
            shown = {"id": photo["id"], "type": "DigitalObject", "_label": label}
            _set(
                record,
                "representation",
                [{"type": "VisualItem", "digitally_shown_by": [shown]}],
            )


def _addresses(record: Node, here: Node, sheet: _Sheet) -> None:
    """Living or trading somewhere is an activity within the record; the place is a record of its own."""
    for activity in nodes(here, "carried_out"):
        for place in nodes(activity, "took_place_at"):
            _record(place, _label_of(place), sheet)
        _set(record, "carried_out", [_embedded(activity, sheet)])


def _first_label(here: Node, group: str | None = None) -> str:
    for kind in nodes(here, "classified_as"):
        if group is None or concepts.recognise(kind, group):
            return str(kind.get("_label", "inscription"))
    return "inscription"


def _whole_label(record: Node) -> str:
    """What the whole is called that a label or a part belongs to."""
    whole = record.get("part_of", record)
    return (
        str(whole["_label"]).rpartition(" of ")[2]
        if "part_of" in record
        else str(whole["_label"])
    )


def _own_number(here: Node) -> str:
    found = one(here, "identified_by")
    return f"{found['content']} " if found else ""


REDUCTIONS: dict[tuple[str, str], Reduction] = {
    ("HumanMadeObject", "part"): Reduction(
        "a part names its whole (`part_of`), never the whole its parts", _parts
    ),
    ("HumanMadeObject", "bears"): Reduction(
        "there are no features: the part itself carries the text", _borne
    ),
    ("HumanMadeObject", "carries"): Reduction("texts are records of their own", _carried),
    ("HumanMadeObject", "produced_by"): Reduction(
        "a plain attribution is the maker; groups around a master are records", _made
    ),
    ("HumanMadeObject", "representation"): Reduction(
        "digital objects are records of their own", _shown
    ),
    ("LinguisticObject", "referred_to_by"): Reduction(
        "the preferred reading is the content; who read it when has no place", _readings
    ),
    ("LinguisticObject", "classified_as"): Reduction(
        "every text is classed as an inscription as well", _kinds_of_text
    ),
    ("Person", "carried_out"): Reduction("places are records of their own", _addresses),
    ("Group", "carried_out"): Reduction("places are records of their own", _addresses),
}
"""Every key that is not carried over as it stands."""


def concept_records(records: list[Node]) -> list[Node]:
    """A record for each concept of our own that these records use, so that nobody has to ask us."""
    used: dict[str, Concept] = {}
    for here in nodes_within({"records": records}):
        address = str(here.get("id", ""))
        if address.startswith(NAMESPACE):
            known = of_iri(address, address.removeprefix(NAMESPACE).partition("/")[0])
            if known:
                used[address] = known
    return [_concept_record(known) for _, known in sorted(used.items())]


def _concept_record(known: Concept) -> Node:
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
