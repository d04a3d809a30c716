"""What a label proves, with reasons and where they quarrel; and all that is on record, at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from catalogue.argument.combining import combine
from catalogue.argument.dating import date_label, date_repair
from catalogue.argument.dating_rules import Rule, Strength, What, rule, rules
from catalogue.argument.evidence import Conflict, Dated, Dating, Reason
from catalogue.argument.known_addresses import KnownAddress
from catalogue.argument.spans import ALWAYS, Interval, Spans, both, either

if TYPE_CHECKING:
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
    "rule",
    "rules",
]


def __getattr__(name: str) -> Any:
    """`chronology`, brought in when it is asked for: it needs the record, which labels do without."""
    if name == "chronology":
        from catalogue.argument.timing.from_work import chronology

        return chronology
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
