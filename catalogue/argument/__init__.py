"""What a label proves: what is said of it, its date with reasons, and where the reasons quarrel."""

from __future__ import annotations

from catalogue.argument.combining import combine
from catalogue.argument.dating import date_label, date_repair
from catalogue.argument.dating_rules import Rule, Strength, What, rule, rules
from catalogue.argument.evidence import Conflict, Dated, Dating, Reason
from catalogue.argument.known_addresses import KnownAddress
from catalogue.argument.spans import ALWAYS, Interval, Spans, both, either

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
    "combine",
    "date_label",
    "date_repair",
    "either",
    "rule",
    "rules",
]
