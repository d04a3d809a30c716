"""Read, Check, Treat, Argue, asked without a work in hand: which work?

Where one is open already, its own tabs lead to these places.
"""

from __future__ import annotations

from typing import Final

from flask import Blueprint, render_template

from catalogue.desk.asking import studio
from catalogue.places import table

pages = Blueprint("choosing", __name__)

LEADS_TO: Final = {
    "read": "slip.begin",
    "check": "leaves.check",
    "treat": "leaves.treat",
    "argue": "leaves.argue",
}
"""The place that each verb leads to in a work's folder."""

SHOWN: Final = 60
"""So many of the works in the house are offered; any other one is found by its words."""


@pages.get("/<any(read, check, treat, argue):verb>")
def which(verb: str) -> str:
    """Offer the works that are here, in the order of the bench, and those worked on last."""
    bench = studio().bench()
    here = [each.stay.shown for each in bench.here]
    known = {each.document for each in here}
    return render_template(
        "which.html",
        verb=verb,
        says=table("help.toml")["verbs"][verb],
        leads_to=LEADS_TO[verb],
        here=here[:SHOWN],
        lately=[each for each in bench.latest if each.document not in known],
    )
