"""The sample records in a studio: known by their ids, set aside and brought back as one change.

They are never known by a title or a number: whoever has a painting of the same name keeps it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from catalogue.ledger import Ledger, OpenChange
from catalogue.record.rules import DOCUMENT_ID
from catalogue.setting_aside import reinstate, withdraw

SETTING: Final = "sample"
_NAMED: Final = re.compile(DOCUMENT_ID.encode())


@dataclass(frozen=True, slots=True)
class Sample:
    """The sample records of a studio: their ids, and whether they stand in the lists."""

    documents: frozenset[str]
    is_here: bool

    @property
    def works(self) -> int:
        """How many works are among them."""
        return sum(each.startswith("work/") for each in self.documents)


def sample(ledger: Ledger) -> Sample | None:
    """The sample records of a studio, None where none were ever brought in."""
    kept = ledger.setting(SETTING)
    if not kept:
        return None
    facts = json.loads(kept)
    return Sample(frozenset(facts["documents"]), bool(facts["is_here"]))


def know(ledger: Ledger, documents: Iterable[str]) -> Sample:
    """Remember which records are the sample, beside those known already."""
    before = sample(ledger)
    known = frozenset(documents) | (before.documents if before else frozenset())
    return _keep(ledger, Sample(known, True))


def aside(ledger: Ledger, change: OpenChange) -> frozenset[str]:
    """Take the sample out of the lists; which records went. What a record of one's own names stays."""
    known = sample(ledger)
    if known is None:
        return frozenset()
    listed = {each.document for each in ledger.heads() if each.document in known.documents}
    going = frozenset(listed - _named_by_others(ledger, known.documents))
    for document in sorted(going):
        withdraw(change, ledger, document)
    return going


def back(ledger: Ledger, change: OpenChange) -> frozenset[str]:
    """Put the sample back into the lists; which records came."""
    known = sample(ledger)
    if known is None:
        return frozenset()
    heads = (
        each for each in ledger.heads(listed_only=False) if each.document in known.documents
    )
    coming = frozenset(each.document for each in heads if each.withdrawn)
    for document in sorted(coming):
        reinstate(change, ledger, document)
    return coming


def note(ledger: Ledger, *, is_here: bool) -> None:
    """Remember whether the sample stands in the lists."""
    known = sample(ledger)
    if known is not None:
        _keep(ledger, Sample(known.documents, is_here))


def _keep(ledger: Ledger, known: Sample) -> Sample:
    facts = {"documents": sorted(known.documents), "is_here": known.is_here}
    ledger.set_setting(SETTING, json.dumps(facts))
    return known


def _named_by_others(ledger: Ledger, documents: frozenset[str]) -> set[str]:
    """Those of the documents that a record which is not among them names."""
    named: set[str] = set()
    for each in ledger.bodies():
        if each.document not in documents:
            named |= {found[0].decode() for found in _NAMED.finditer(each.body)} & documents
    return named
