"""What a label proves, with reasons and where they quarrel; and all that is on record, at once."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

from catalogue.argument.combining import combine
from catalogue.argument.dating import date_label, date_repair
from catalogue.argument.dating_rules import Rule, Strength, What, rule, rules
from catalogue.argument.evidence import Conflict, Dated, Dating, Reason
from catalogue.argument.known_addresses import KnownAddress
from catalogue.argument.spans import ALWAYS, Interval, Spans, both, either

if TYPE_CHECKING:
    from catalogue.argument.prose.reading import read_provenance
    from catalogue.argument.prose.writing import write_provenance
    from catalogue.argument.timing.from_work import chronology

__all__ = [
    "ALWAYS",
    "Conflict",
    "Dated",
    "Dating",
    "Interval",
    "KnownAddress",
    "Reason",
    "Rule",
    "Spans",
    "Strength",
    "What",
    "both",
    "chronology",
    "combine",
    "date_label",
    "date_repair",
    "either",
    "read_provenance",
    "rule",
    "rules",
    "write_provenance",
]


_BROUGHT_IN: Final = {
    "chronology": "catalogue.argument.timing.from_work",
    "read_provenance": "catalogue.argument.prose.reading",
    "write_provenance": "catalogue.argument.prose.writing",
}


def __getattr__(name: str) -> Any:
    """What needs more of the house than labels do, brought in when somebody first asks for it."""
    if name in _BROUGHT_IN:
        return getattr(import_module(_BROUGHT_IN[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
