"""Reductions of paintings, texts, photographs and people."""

from __future__ import annotations

from catalogue.linked import concepts
from catalogue.linked.node import nodes, one, text
from catalogue.linked.strict.sheet import (
    EMBEDDED,
    Sheet,
    add,
    embedded,
    embedded_all,
    enter,
    first_label,
    label_of,
    position,
    reference,
    sentence,
)
from catalogue.linked.text import Node
from catalogue.reading import read
from catalogue.terms import concept

INSCRIPTIONS: Node = {
    "id": "http://vocab.getty.edu/aat/300028702",
    "type": "Type",
    "_label": "inscriptions",
}


def parts(record: Node, here: Node, sheet: Sheet) -> None:
    """Parts and labels become records; each names the whole that it is part of."""
    whole = {key: record[key] for key in ("id", "type", "_label")}
    for part in nodes(here, "part"):
        if str(part.get("id")).endswith("/bearer"):
            _label_object(part, whole, sheet)
        else:
            enter(part, f"{first_label(part)} of {record['_label']}", sheet, part_of=whole)


def _label_object(bearer: Node, whole: Node, sheet: Sheet) -> None:
    """A label as an object of its own, part of what it sticks to."""
    texts = list(nodes(bearer, "carries"))
    kinds = [kind for each in texts for kind in nodes(each, "classified_as")]
    label = f"{first_label(texts[0])} on {whole['_label']}" if texts else "label"
    node = {
        "id": bearer["id"],
        "type": "HumanMadeObject",
        "classified_as": kinds,
        "referred_to_by": list(position(bearer)),
        "carries": texts,
    }
    enter(node, label, sheet, part_of=whole)


def carried(record: Node, here: Node, sheet: Sheet) -> None:
    """Texts become records; what bears them refers to them."""
    for each in nodes(here, "carries"):
        label = f"{first_label(each)} {_own_number(each)}of {_whole_label(record)}"
        add(
            record, "carries", [{"id": each["id"], "type": "LinguisticObject", "_label": label}]
        )
        enter(each, label, sheet)


def borne(record: Node, here: Node, sheet: Sheet) -> None:
    """Writing on the surface: the part itself carries the text, which says where it stands."""
    for feature in nodes(here, "bears"):
        placed = {
            "carries": [
                {
                    **each,
                    "referred_to_by": [*nodes(each, "referred_to_by"), *position(feature)],
                }
                for each in nodes(feature, "carries")
            ]
        }
        carried(record, placed, sheet)


def readings(record: Node, here: Node, sheet: Sheet) -> None:
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
    add(record, "referred_to_by", embedded_all(here, "referred_to_by", sheet))


def _how_preferred(reading: Node) -> tuple[bool, str, str]:
    """What the reading to show is chosen by, as `Inscription.preferred` does: said so, else the latest."""
    read_on = one(one(reading, "created_by") or {}, "timespan") or {}
    day = text(read_on, "begin_of_the_begin") or ""
    return bool(reading.get("preferred")), day, str(reading.get("id"))


def kinds_of_text(record: Node, here: Node, sheet: Sheet) -> None:
    """Every text that something bears is an inscription, whatever else it is called."""
    kinds = [embedded(each, sheet) for each in nodes(here, "classified_as")]
    if concepts.first(here, "classified_as", "inscription"):
        kinds = [INSCRIPTIONS, *(each for each in kinds if each != INSCRIPTIONS)]
    record["classified_as"] = kinds


def made(record: Node, here: Node, sheet: Sheet) -> None:
    """A plain attribution is who carried it out; a doubtful one stays an assignment."""
    production = one(here, "produced_by") or {}
    made: Node = {"type": "Production"}
    for key, value in production.items():
        if key in EMBEDDED["Production"] and key not in ("type", "attributed_by"):
            made[key] = embedded_all({key: value}, key, sheet)
    for attribution in nodes(production, "attributed_by"):
        _attribution(made, attribution, record, sheet)
    if len(made) > 1:
        record["produced_by"] = made


def _attribution(made: Node, attribution: Node, record: Node, sheet: Sheet) -> None:
    assigned = one(attribution, "assigned") or {}
    qualifier = concepts.first(attribution, "classified_as", "qualifier")
    makers = [
        _group(maker, sheet)
        if str(maker.get("id")).endswith("/group")
        else reference(maker, sheet)
        for maker in nodes(assigned, "carried_out_by")
    ]
    models = [reference(model, sheet) for model in nodes(assigned, "influenced_by")]
    if models:
        add(made, "influenced_by", models)
    elif makers and (qualifier == "qualifier/by" or makers[0]["type"] == "Group"):
        add(made, "carried_out_by", makers)
    elif makers:
        add(made, "attributed_by", [embedded(attribution, sheet)])
    add(record, "referred_to_by", _creator_statement(attribution, qualifier, makers or models))


def _group(group: Node, sheet: Sheet) -> Node:
    """A group around a master becomes a record; the reference to it."""
    master = one(one(group, "formed_by") or {}, "influenced_by") or {}
    _, name = sheet.labels(str(master.get("id")))
    label = f"{first_label(group)} {name}"
    enter(group, label, sheet)
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
    return [sentence("note/creator", said)]


def shown(record: Node, here: Node, sheet: Sheet) -> None:
    """Photographs become records; the painting is represented by what they show."""
    for image in nodes(here, "representation"):
        for photo in nodes(image, "digitally_shown_by"):
            label = f"photograph of {record['_label']}, {first_label(photo, 'view')}"
            enter(photo, label, sheet)
            shown = {"id": photo["id"], "type": "DigitalObject", "_label": label}
            add(
                record,
                "representation",
                [{"type": "VisualItem", "digitally_shown_by": [shown]}],
            )


def addresses(record: Node, here: Node, sheet: Sheet) -> None:
    """Living or trading somewhere is an activity within the record; the place is a record of its own."""
    for activity in nodes(here, "carried_out"):
        for place in nodes(activity, "took_place_at"):
            enter(place, label_of(place), sheet)
        add(record, "carried_out", [embedded(activity, sheet)])


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
