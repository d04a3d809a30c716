"""What is kept: frozen, typed values in which wrong values are impossible."""

from __future__ import annotations

from catalogue.record.common import Note, Number, Paper, Photo, Release, Size, Title, digest_of
from catalogue.record.condition import ConditionCheck, Finding, Observation
from catalogue.record.inscription import Comparison, Inscription, Region, Sighting, Transcript
from catalogue.record.job import (
    Content,
    Departure,
    Hours,
    Item,
    Job,
    Outlay,
    Piece,
    Risk,
)
from catalogue.record.loan import Facility, Loan
from catalogue.record.location import Location
from catalogue.record.offer import Offer
from catalogue.record.party import Address, Consent, Contact, NotSame, Party, PartyName, Reach
from catalogue.record.proposal import Approval, Option, PlannedStep, Proposal
from catalogue.record.provenance import (
    Citation,
    Evidence,
    Exhibition,
    Inquiry,
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
    Override,
    PriorRepair,
    Response,
    Step,
    Test,
    Treatment,
)
from catalogue.record.valuation import Cover, Valuation
from catalogue.record.work import NUMBERED, Attribution, Layer, Part, Work, dangling

Record = Work | Party | Job | Reference

VALUES: tuple[type, ...] = (
    Work, Title, Attribution, Size, Part, Layer, Inscription, Region, Transcript, Statement,
    Sighting, Comparison, ConditionCheck, Finding, Observation, PriorRepair, Test, Response, Treatment, Step,
    Override, MaterialUse, Location, ProvenanceEvent, PartyRole, Price, Evidence, Exhibition, Citation,
    Inquiry, Relation, Movement, Photo, Paper, Note, Release, Number, Party, PartyName, NotSame, Consent,
    Address, Contact, Reach, Job, Item, Content, Risk, Proposal, Option, PlannedStep, Approval, Hours, Outlay,
    Departure, Offer, Piece, Loan, Facility, Valuation, Cover, Reference,
)  # fmt: skip
"""Every kind of value that a record is made of."""

__all__ = [
    "NUMBERED",
    "VALUES",
    "Address",
    "Approval",
    "Attribution",
    "Citation",
    "Comparison",
    "ConditionCheck",
    "Consent",
    "Contact",
    "Content",
    "Cover",
    "Departure",
    "Evidence",
    "Exhibition",
    "Facility",
    "Finding",
    "Hours",
    "Inquiry",
    "Inscription",
    "Item",
    "Job",
    "Layer",
    "Loan",
    "Location",
    "MaterialUse",
    "Movement",
    "NotSame",
    "Note",
    "Number",
    "Observation",
    "Offer",
    "Option",
    "Outlay",
    "Override",
    "Paper",
    "Part",
    "Party",
    "PartyName",
    "PartyRole",
    "Photo",
    "Piece",
    "PlannedStep",
    "Price",
    "PriorRepair",
    "Proposal",
    "ProvenanceEvent",
    "Reach",
    "Record",
    "Reference",
    "Region",
    "Relation",
    "Release",
    "Response",
    "Risk",
    "Sighting",
    "Size",
    "Statement",
    "Step",
    "Test",
    "Title",
    "Transcript",
    "Treatment",
    "Valuation",
    "Work",
    "dangling",
    "digest_of",
    "is_address",
    "is_id",
    "new_id",
]
