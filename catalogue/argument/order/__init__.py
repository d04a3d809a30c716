"""The order of work: rules O1 to O25 as data, held against what was done and what is planned."""

from __future__ import annotations

from catalogue.argument.order.held import (
    Breach,
    breaches,
    breaches_of_plan,
    suggested_order,
)
from catalogue.argument.order.rows import Rule, rule, rules

__all__ = ["Breach", "Rule", "breaches", "breaches_of_plan", "rule", "rules", "suggested_order"]
