"""Titles, names of parties, numbers and notes ⇄ Name, Identifier and statement nodes."""

from __future__ import annotations

from catalogue.linked import concepts, spans
from catalogue.linked.node import (
    BRIEF_TEXT,
    PREFERRED,
    actor,
    actor_of,
    is_a,
    node,
    nodes,
    one,
    own_id,
    text,
)
from catalogue.linked.text import Node
from catalogue.record import Note, Number, PartyName, Release, Title


def describe_title(title: Title) -> Node:
    """The Name that a painting `identified_by`."""
    return node(
        id=f"#{title.id}",
        type="Name",
        classified_as=[
            *([PREFERRED] if title.preferred else []),
            concepts.describe(title.kind),
        ],
        content=title.text,
        language=concepts.describe_language(title.language),
        visibility=concepts.describe_visibility(title.visibility),
    )


def recognise_title(here: Node) -> Title:
    """The title of a Name; one that doesn't say whose word it is was `given`."""
    languages = concepts.recognise_languages(here)
    return Title(
        id=own_id(here),
        text=text(here, "content") or "",
        kind=concepts.first(here, "classified_as", "title") or "title/given",
        language=languages[0] if languages else None,
        preferred=_is_preferred(here),
        visibility=concepts.recognise_visibility(here),
    )


def describe_party_name(name: PartyName) -> Node:
    """The Name that a party `identified_by`."""
    return node(
        id=f"#{name.id}",
        type="Name",
        classified_as=[PREFERRED] if name.preferred else [],
        content=name.text,
        sort_name=name.sort,
        visibility=concepts.describe_visibility(name.visibility),
    )


def recognise_party_name(here: Node) -> PartyName:
    """The name of a party in a Name."""
    return PartyName(
        id=own_id(here),
        text=text(here, "content") or "",
        sort=text(here, "sort_name"),
        preferred=_is_preferred(here),
        visibility=concepts.recognise_visibility(here),
    )


def is_name(here: Node) -> bool:
    """Whether a node is a Name that says something."""
    return is_a(here, "Name") and "content" in here


def _is_preferred(here: Node) -> bool:
    return any(each.get("id") == PREFERRED["id"] for each in nodes(here, "classified_as"))


def describe_number(number: Number) -> Node:
    """The Identifier of a number that came from elsewhere."""
    return node(
        id=f"#{number.id}",
        type="Identifier",
        classified_as=[concepts.describe(number.kind)],
        content=number.text,
        visibility=concepts.describe_visibility(number.visibility),
    )


def recognise_number(here: Node) -> Number:
    """The number of an Identifier; one of no kind of ours is an inventory's."""
    return Number(
        id=own_id(here),
        kind=concepts.first(here, "classified_as", "number") or "number/inventory",
        text=text(here, "content") or "",
        visibility=concepts.recognise_visibility(here),
    )


def is_number(here: Node) -> bool:
    """Whether a node is an Identifier that stands for itself (not the studio's own number)."""
    return is_a(here, "Identifier") and "content" in here and "/" not in str(here.get("id"))


def describe_own(owner: str, what: str, content: str | None) -> list[Node]:
    """The Identifier that belongs to a node: its studio number, its file's name or digest."""
    if content is None:
        return []
    return [
        {
            "id": f"{owner}/{what}",
            "type": "Identifier",
            "classified_as": [concepts.describe(f"number/{what}")],
            "content": content,
        }
    ]


def recognise_own(here: Node, what: str) -> str | None:
    """The content of the Identifier that belongs to a node, found by its kind; None if it has none."""
    owner = str(here.get("id"))
    own = [
        each
        for each in nodes(here, "identified_by")
        if (str(each.get("id", "")).endswith(f"/{what}") or str(each.get("id")) == owner)
        and is_a(each, "Identifier")
    ]
    # One that we gave it goes before one that it came with.
    own.sort(key=lambda each: str(each["id"])[1:37] not in owner)
    return text(own[0], "content") if own else None


def describe_note(note: Note) -> Node:
    """The statement that something `referred_to_by`."""
    released = note.released
    return node(
        id=f"#{note.id}",
        type="LinguisticObject",
        classified_as=[{**concepts.describe(note.kind), "classified_as": [BRIEF_TEXT]}],
        content=note.text,
        language=concepts.describe_language(note.language),
        created_by=describe_creation(
            note.id, by=note.by, on=spans.describe_day(note.on, f"#{note.id}/made")
        ),
        released_by=released.by if released else None,
        released_at=released.at if released else None,
        released_text=released.digest if released else None,
        visibility=concepts.describe_visibility(note.visibility),
    )


def recognise_note(here: Node) -> Note:
    """The note of a statement."""
    languages = concepts.recognise_languages(here)
    made = one(here, "created_by") or {}
    by, at, digest = (text(here, f"released_{word}") for word in ("by", "at", "text"))
    return Note(
        id=own_id(here),
        kind=concepts.first(here, "classified_as", "note") or "note/description",
        text=text(here, "content") or "",
        language=languages[0] if languages else None,
        by=actor_of(made, "carried_out_by"),
        on=spans.recognise_day(one(made, "timespan")),
        released=Release(by=by, at=at, digest=digest) if by and at and digest else None,
        visibility=concepts.recognise_visibility(here),
    )


def is_note(here: Node) -> bool:
    """Whether a node is a statement of a kind that vocab/ knows, with an id of its own."""
    return (
        is_a(here, "LinguisticObject")
        and "content" in here
        and "/" not in str(here.get("id"))
        and concepts.first(here, "classified_as", "note") is not None
    )


def describe_statement(owner: str, what: str, kind: str, content: str | None) -> list[Node]:
    """A statement that belongs to a node and is no note: its medium line, what covers it."""
    if content is None:
        return []
    return [
        {
            "id": f"{owner}/{what}",
            "type": "LinguisticObject",
            "classified_as": [{**concepts.describe(kind), "classified_as": [BRIEF_TEXT]}],
            "content": content,
        }
    ]


def recognise_statement(here: Node, what: str) -> str | None:
    """The content of the statement that belongs to a node, or None."""
    for each in nodes(here, "referred_to_by"):
        if str(each.get("id", "")).endswith(f"/{what}"):
            return text(each, "content")
    return None


def describe_creation(
    owner: str, *, by: str | None, on: Node | None, technique: list[Node] | None = None
) -> Node | None:
    """Who made something, when and how, as the Creation of the value `owner`; None if nobody says."""
    if not (by or on or technique):
        return None
    return node(
        id=f"#{owner}/made",
        type="Creation",
        carried_out_by=actor(by),
        timespan=on,
        technique=technique,
    )
