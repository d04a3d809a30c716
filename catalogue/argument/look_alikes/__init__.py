"""Look-alike labels: whether two were printed from the same form, with the reasons for a person."""

from __future__ import annotations

from catalogue.argument.look_alikes.comparing import Likeness, Seen, compare, seen_of
from catalogue.argument.look_alikes.families import Family, families, verdicts_of
from catalogue.argument.look_alikes.first_pass import Shelf
from catalogue.argument.look_alikes.stamps import stamp_verdict

__all__ = [
    "Family",
    "Likeness",
    "Seen",
    "Shelf",
    "compare",
    "families",
    "seen_of",
    "stamp_verdict",
    "verdicts_of",
]
