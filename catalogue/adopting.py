"""Making a record that came from elsewhere one of our own: a work, a person, a firm.

The document is kept as it came, under an id of ours with the same UUID, so that its values have the
ids that linked/adoption gives them. The record from elsewhere answers as ours from then on: what is
imported again is known, and whatever names the old address finds it.
"""

from __future__ import annotations

from typing import Any

from catalogue.errors import BadData
from catalogue.keeping import Kept, as_read, claimed
from catalogue.ledger import Ledger, OpenChange
from catalogue.linked.documents import from_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import parse, write
from catalogue.measure import Day
from catalogue.record import Reference

BECOMES = {"HumanMadeObject": "work", "Person": "party", "Group": "party"}
"""What a document from elsewhere can become here, by its type."""


def may_become(reference: Reference) -> str | None:
    """What a record from elsewhere can be made: "work", "party", or None.

    >>> may_become(Reference(types=("HumanMadeObject",))), may_become(Reference(types=("Place",)))
    ('work', None)
    """
    found = [BECOMES[each] for each in reference.types if each in BECOMES]
    return found[0] if found else None


def adopt(change: OpenChange, ledger: Ledger, read: Kept[Reference], today: Day) -> Kept[Any]:
    """The record of ours that a document from elsewhere becomes, saved within the change.

    Raises `BadData` for one that is neither an object nor a person or group.
    """
    kind = may_become(read.record)
    if kind is None:
        raise BadData(
            f"{', '.join(read.record.types) or 'a record without a type'}: this can be no record"
            " of our own",
            remedy=f"only {', '.join(BECOMES)} can",
        )
    stored = ledger.read(read.document_id)
    own = f"{kind}/{read.record.id}"
    if ledger.has(own):
        return _again(change, ledger, read, own)
    document = parse(stored.body)
    as_came = from_jsonld(document, document_id=own, written_in=stored.format)
    record, _ = claimed(as_came, change, today)
    document = merge(document, as_came, record)
    if from_jsonld(document, document_id=own, written_in=stored.format) != record:
        raise BadData(
            "this record came in a form into which our number cannot be written",
            remedy="nothing was saved; open a new work and name the address there",
        )
    revision = change.save(own, write(document), expected=None, source=stored.source)
    change.merge(read.document_id, own)
    return Kept(record, revision, own)


def _again(change: OpenChange, ledger: Ledger, read: Kept[Reference], own: str) -> Kept[Any]:
    """The record of ours that this one had been made before, when that was undone."""
    if ledger.head(own).withdrawn:
        change.reinstate(own)
    change.merge(read.document_id, own)
    return as_read(ledger.read(own))
