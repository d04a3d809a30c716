"""What is kept: frozen, typed values in which wrong values are impossible."""

from __future__ import annotations

from catalogue.record.common import Note, Number, Paper, Photo, Release, Size, Title, digest_of
from catalogue.record.condition import ConditionCheck, Finding, Observation
from catalogue.record.inscription import Inscription, Region, Sighting, Transcript
from catalogue.record.job import Item, Job
from catalogue.record.location import Location
from catalogue.record.party import Address, Contact, Party, PartyName, Reach
from catalogue.record.provenance import (
    Citation,
    Evidence,
    Exhibition,
    Movement,
    PartyRole,
    Price,
    ProvenanceEvent,
    Relation,
)
from catalogue.record.reference import Reference
from catalogue.record.rules import is_address, is_id, new_id
from catalogue.record.statement import Statement
from catalogue.record.treatment import (
    MaterialUse,
    PriorRepair,
    Response,
    Step,
    Test,
    Treatment,
)
from catalogue.record.work import NUMBERED, Attribution, Layer, Part, Work, dangling

Record = Work | Party | Job | Reference

VALUES: tuple[type, ...] = (
    Work, Title, Attribution, Size, Part, Layer, Inscription, Region, Transcript, Statement,
    Sighting, ConditionCheck, Finding, Observation, PriorRepair, Test, Response, Treatment, Step,
    MaterialUse, Location, ProvenanceEvent, PartyRole, Price, Evidence, Exhibition, Citation,
    Relation, Movement, Photo, Paper, Note, Release, Number, Party, PartyName, Address, Contact,
    Reach, Job, Item, Reference,
)  # fmt: skip
"""Every kind of value that a record is made of."""

__all__ = [
    "NUMBERED",
    "VALUES",
    "Address",
    "Attribution",
    "Citation",
    "ConditionCheck",
    "Contact",
    "Evidence",
    "Exhibition",
    "Finding",
    "Inscription",
    "Item",
    "Job",
    "Layer",
    "Location",
    "MaterialUse",
    "Movement",
    "Note",
    "Number",
    "Observation",
    "Paper",
    "Part",
    "Party",
    "PartyName",
    "PartyRole",
    "Photo",
    "Price",
    "PriorRepair",
    "ProvenanceEvent",
    "Reach",
    "Record",
    "Reference",
    "Region",
    "Relation",
    "Release",
    "Response",
    "Sighting",
    "Size",
    "Statement",
    "Step",
    "Test",
    "Title",
    "Transcript",
    "Treatment",
    "Work",
    "dangling",
    "digest_of",
    "is_address",
    "is_id",
    "new_id",
]
