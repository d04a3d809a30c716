"""The ledger: everything a studio keeps, as changes that are only ever added.

A studio is a folder with `ledger.sqlite` and `files/ab/<sha256>`. The ledger does not read the
documents it keeps: each is some bytes under an id such as `work/<uuid>`.

    values.py     what the ledger tells: a change and its entries, a revision, a head, a verdict
    chain.py      the digests, and how to work them out by hand
    heads.py      how a document stands after an entry
    tables.py     the tables of ledger.sqlite
    database.py   one writer at a time, many readers
    refusals.py   what SQLite and the disk say, in words a person can act on
    folders.py    where a studio may lie, and where not
    files.py      contents by their digest
    change.py     a change being made
    numbers.py    numbers that are given out once
    aside.py      drafts and settings, outside the chain
    lookup.py     questions to what is kept
    verify.py     whether what is kept is what was saved
    backup.py     a verified copy, and back again
    ledger.py     the door to all of it
"""

from catalogue.ledger.backup import restore
from catalogue.ledger.change import OpenChange
from catalogue.ledger.folders import refuse_unsafe
from catalogue.ledger.ledger import Ledger
from catalogue.ledger.values import (
    BackupFacts,
    Change,
    Draft,
    Entry,
    Fault,
    FileFacts,
    Forgotten,
    Head,
    Progress,
    Revision,
    Verdict,
)

__all__ = [
    "BackupFacts",
    "Change",
    "Draft",
    "Entry",
    "Fault",
    "FileFacts",
    "Forgotten",
    "Head",
    "Ledger",
    "OpenChange",
    "Progress",
    "Revision",
    "Verdict",
    "refuse_unsafe",
    "restore",
]
