"""What a label proves: its date with reasons, where the reasons quarrel; and all that is on record at once."""

from __future__ import annotations

from catalogue.argument.combining import combine
from catalogue.argument.dating import date_label, date_repair
from catalogue.argument.dating_rules import Rule, Strength, What, rule, rules
from catalogue.argument.evidence import Conflict, Dated, Dating, Reason
from catalogue.argument.known_addresses import KnownAddress
from catalogue.argument.spans import ALWAYS, Interval, Spans, both, either
from catalogue.argument.timing.from_work import chronology
from catalogue.argument.timing.solving import Chronology

__all__ = [
    "ALWAYS",
    "Chronology",
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
