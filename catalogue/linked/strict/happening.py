"""What every reduction of an event needs: its record, what it is called, its words of one group."""

from __future__ import annotations

from catalogue.linked import concepts
from catalogue.linked.node import is_a, nodes, one
from catalogue.linked.strict.sheet import Sheet, add, enter, label_of, reference
from catalogue.linked.text import Node

SAID_OTHERWISE = ("took_place_at", "used_specific_object", "part", "motivated_by")
"""Keys of an event that its record cannot hold as they stand."""


def happening(
    event: Node, label: str, objects: list[Node], sheet: Sheet, *, kind: str | None = None
) -> None:
    """Enter the record of an event; the places it names become records."""
    bare = {key: value for key, value in event.items() if key not in SAID_OTHERWISE}
    classes = [*([concepts.describe(kind)] if kind else []), *nodes(event, "classified_as")]
    places = [it for it in nodes(event, "took_place_at") if not is_on_the_painting(it)]
    for place in places:
        if str(place.get("id", "")).startswith("#"):
            enter(place, label_of(place), sheet)
    enter({**bare, "type": "Activity", "classified_as": classes}, label, sheet)
    made = sheet.records[-1]
    add(made, "used_specific_object", objects)
    add(made, "took_place_at", [reference(each, sheet) for each in places])


def is_on_the_painting(place: Node) -> bool:
    """Whether a place belongs to the event: where on the painting it happened, not in which town."""
    return str(place.get("id", "")).endswith("/place")


def of_group(here: Node, group: str) -> list[Node]:
    """Its words of one group of vocab/terms."""
    return [it for it in nodes(here, "classified_as") if concepts.recognise(it, group)]


def titled(event: Node, record: Node) -> str:
    """What an event is called: its own title, else its number and kind and the painting's name."""
    for name in nodes(event, "identified_by"):
        if is_a(name, "Name") and name.get("content"):
            return str(name["content"])
    kinds = [*of_group(event, "provenance"), *nodes(event, "classified_as")]
    kind = label_of(kinds[0]) if kinds else "event"
    return f"{own_number(event)}{kind}, {record['_label']}"


def own_number(event: Node) -> str:
    """Its number and a space, such as "E1 "; nothing where it has none."""
    for each in nodes(event, "identified_by"):
        if is_a(each, "Identifier") and each.get("content"):
            return f"{each['content']} "
    return ""


def number_and_kind(event: Node, group: str, key: str = "classified_as") -> str:
    """What a value is called by its number and its kind: "F1 tear"."""
    kinds = [it for it in nodes(event, key) if concepts.recognise(it, group)]
    return f"{own_number(event)}{label_of(kinds[0]) if kinds else group}"


def dated(span: Node) -> str:
    """A time-span in words: as written, else its days."""
    name = one(span, "identified_by")
    days = [
        str(span[key])[:10] for key in ("begin_of_the_begin", "end_of_the_end") if span.get(key)
    ]
    return str(name["content"]) if name else " to ".join(days)


def itself(record: Node) -> Node:
    """A reference to a record."""
    return {key: record[key] for key in ("id", "type", "_label")}


def activity(event: Node, label: str) -> Node:
    """A reference to the record of an event, which is an activity whatever it was."""
    return {"id": event["id"], "type": "Activity", "_label": label}
