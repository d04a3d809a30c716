"""Every format that records leave in. A new one is a module with `SAYS` and `write`, and one line here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from catalogue.errors import BadSetting
from catalogue.exchange import full_graph, linked_art, tei
from catalogue.exchange.outgoing import Files, Leaving, Sender


@dataclass(frozen=True, slots=True)
class Format:
    """One format: the sentence shown beside it, and what writes it."""

    says: str
    write: Callable[[Leaving, Sender], Files]


FORMATS: dict[str, Format] = {
    "linked-art": Format(linked_art.SAYS, linked_art.write),
    "full-graph": Format(full_graph.SAYS, full_graph.write),
    "tei": Format(tei.SAYS, tei.write),
}


def format_named(name: str) -> Format:
    """The format of that name. Raises `BadSetting` naming those there are."""
    if name not in FORMATS:
        raise BadSetting(
            f"there is no format {name!r}",
            remedy=f"choose one of: {', '.join(sorted(FORMATS))}",
        )
    return FORMATS[name]
