"""Statements ⇄ the assignment of a type to a text: "these letters are a price", accepted or not.

The letters are named as the Web Annotation Data Model names them (W3C, 2017): a TextPositionSelector
on the content of the reading, in an annotation whose body is the assignment.
"""

from __future__ import annotations

from catalogue.linked import concepts, names, spans
from catalogue.linked.node import (
    Misplaced,
    actor,
    actor_of,
    each,
    node,
    nodes,
    number,
    one,
    own_id,
    text,
)
from catalogue.linked.text import Node
from catalogue.record import Statement


def describe(statement: Statement) -> Node:
    """The assignment that a text was `attributed_by`."""
    own = f"#{statement.id}"
    said = (("written", statement.written), ("value", statement.value))
    return node(
        id=own,
        type="AttributeAssignment",
        classified_as=concepts.describe_all((statement.standing,)),
        identified_by=[
            {"id": f"{own}/{what}", "type": "Name", "content": words}
            for what, words in said
            if words
        ],
        assigned_property="classified_as",
        assigned=concepts.describe_all((statement.kind,)),
        carried_out_by=actor(statement.by),
        timespan=spans.describe_day(statement.on, own),
        shown_in=[_describe_letters(statement, f"{own}/letters")],
        referred_to_by=[names.describe_note(note) for note in statement.notes],
        visibility=concepts.describe_visibility(statement.visibility),
    )


def _describe_letters(statement: Statement, at: str) -> Node:
    return {
        "id": at,
        "type": "Annotation",
        "motivation": "identifying",
        "target": {
            "id": f"{at}/target",
            "type": "SpecificResource",
            "source": {"id": f"#{statement.transcript}", "type": "LinguisticObject"},
            "selector": {
                "id": f"{at}/selector",
                "type": "TextPositionSelector",
                "start": statement.start,
                "end": statement.end,
            },
        },
    }


def recognise(here: Node) -> Statement:
    """The statement that an assignment makes."""
    target = one(one(here, "shown_in") or {}, "target") or {}
    selector = one(target, "selector") or {}
    return Statement(
        id=own_id(here),
        kind=concepts.first(here, "assigned", "statement") or "",
        written=_name(here, "written") or "",
        transcript=own_id(one(target, "source") or {}),
        start=_place(selector, "start"),
        end=_place(selector, "end"),
        standing=concepts.first(here, "classified_as", "standing") or "",
        value=_name(here, "value"),
        by=actor_of(here, "carried_out_by"),
        on=spans.recognise_day(one(here, "timespan")),
        notes=each(here, "referred_to_by", names.recognise_note, names.is_note),
        visibility=concepts.recognise_visibility(here),
    )


def is_statement(here: Node) -> bool:
    """Whether an assignment says what some letters are."""
    return concepts.first(here, "assigned", "statement") is not None and "shown_in" in here


def _name(here: Node, what: str) -> str | None:
    for found in nodes(here, "identified_by"):
        if str(found.get("id", "")).endswith(f"/{what}"):
            return text(found, "content")
    return None


def _place(selector: Node, key: str) -> int:
    said = number(selector, key)
    if not isinstance(said, int):
        raise Misplaced(selector, f"{key!r} holds {said!r} where a whole number is expected")
    return said
