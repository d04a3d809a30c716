"""What is kept: frozen, typed values in which wrong values are impossible."""

from __future__ import annotations

from catalogue.record.common import Note, Number, Photo, Release, Size, Title, digest_of
from catalogue.record.inscription import Inscription, Region, Sighting, Transcript
from catalogue.record.job import Item, Job
from catalogue.record.party import Address, Contact, Party, PartyName, Reach
from catalogue.record.reference import Reference
from catalogue.record.rules import is_address, is_id, new_id
from catalogue.record.work import Attribution, Part, Work

Record = Work | Party | Job | Reference

VALUES: tuple[type, ...] = (
    Work, Title, Attribution, Size, Part, Inscription, Region, Transcript, Sighting, Photo, Note,
    Release, Number, Party, PartyName, Address, Contact, Reach, Job, Item, Reference,
)  # fmt: skip
"""Every kind of value that a record is made of."""

__all__ = [
    "VALUES",
    "Address",
    "Attribution",
    "Contact",
    "Inscription",
    "Item",
    "Job",
    "Note",
    "Number",
    "Part",
    "Party",
    "PartyName",
    "Photo",
    "Reach",
    "Record",
    "Reference",
    "Region",
    "Release",
    "Sighting",
    "Size",
    "Title",
    "Transcript",
    "Work",
    "digest_of",
    "is_address",
    "is_id",
    "new_id",
]
