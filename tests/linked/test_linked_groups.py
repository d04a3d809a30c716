"""Terms that stand under one key are told apart: no address means two things there."""

from __future__ import annotations

import pytest

from catalogue.terms import group

TOGETHER = {
    "a check": ("occasion", "condition", "urgency", "handling"),
    "a finding": ("layer", "damage", "cause", "certainty"),
    "a state of a finding": ("extent", "severity", "stability", "change"),
    "a repair": ("activity", "basis", "effect", "decision"),
    "a test": ("activity", "result"),
    "a step": ("aim", "edge"),
    "a batch": ("object", "use", "concentration"),
    "an event": ("activity", "provenance", "passage", "certainty"),
    "an inquiry": ("activity", "inquiry", "inquiry-result"),
    "evidence": ("evidence", "strength"),
    "a place on the painting": ("face", "seen"),
    "what is assigned": ("response", "state"),
    "a photo": ("view", "face", "stage"),
    "a reading": ("note", "certainty"),
}
"""The groups that stand side by side under one key of one kind of node."""


@pytest.mark.parametrize("groups", TOGETHER.values(), ids=TOGETHER)
def test_no_address_means_two_things_side_by_side(groups):
    meant = {}
    for name in groups:
        for concept in group(name):
            for address in (concept.aat, concept.iri):
                if address:
                    assert meant.setdefault(address, concept.key) == concept.key
