"""Papers ⇄ the digital object that speaks of a painting or a commission, with its digest."""

from __future__ import annotations

from typing import Any

from catalogue.linked import spans
from catalogue.linked.fields import (
    Field,
    form,
    named,
    notes,
    own_number,
    pointers,
    statement,
    term,
    visibility,
    words,
)
from catalogue.linked.node import actor, actor_of, node, one
from catalogue.linked.text import Node
from catalogue.record import Paper


def _made(own: str, **said: Any) -> Node:
    """How a paper came to be: who sent it, when."""
    return {"created_by": node(id=f"{own}/made", type="Creation", **said)}


PAPER = form(
    Paper,
    "DigitalObject",
    None,
    {
        "number": own_number("paper"),
        "kind": term("paper"),
        "title": named("title"),
        "sha256": own_number("digest"),
        "file_name": own_number("file-name"),
        "media_type": words("format"),
        "on": Field(
            lambda held, own: _made(own, timespan=spans.describe_day(held, f"{own}/made")),
            lambda here: spans.recognise_day(one(one(here, "created_by") or {}, "timespan")),
        ),
        "sender": Field(
            lambda held, own: _made(own, carried_out_by=actor(held)),
            lambda here: actor_of(one(here, "created_by") or {}, "carried_out_by"),
        ),
        "proves": statement("proves", "note/proves"),
        "about": pointers("about"),
        "notes": notes(),
        "visibility": visibility(),
    },
)
