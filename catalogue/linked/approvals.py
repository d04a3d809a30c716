"""What was approved, letter by letter: the digest of a proposal, and whether an approval still holds."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from typing import Any

from catalogue.linked.proposals import PROPOSAL
from catalogue.record import Approval, Job, Proposal


def digest_of_proposal(proposal: Proposal) -> str:
    """The SHA-256 of a proposal's JSON-LD in one form: keys in order, UTF-8, no white space.

    What a client is not asked about stays out of it, so that it may change: the number, which the
    studio gives out later, the studio's own notes, and how a vocabulary labels its terms.
    """
    asked = _unlabelled(PROPOSAL.describe(replace(proposal, number=None, notes=())))
    text = json.dumps(asked, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def approval_holds(job: Job, approval: Approval) -> bool:
    """Whether the proposal still says what was approved, to the letter."""
    return approval.digest == digest_of_proposal(job.proposal(approval))


def as_approved(job: Job) -> Job:
    """The job with those approvals only that still hold: the others are to be asked for again."""
    return replace(
        job, approvals=tuple(each for each in job.approvals if approval_holds(job, each))
    )


def sealed(job: Job) -> tuple[Approval, ...]:
    """The approvals of a job, each with the digest of its proposal; one that has a digest keeps it."""
    return tuple(
        each if each.digest else replace(each, digest=digest_of_proposal(job.proposal(each)))
        for each in job.approvals
    )


def _unlabelled(held: Any) -> Any:
    if isinstance(held, dict):
        return {key: _unlabelled(inner) for key, inner in held.items() if key != "_label"}
    if isinstance(held, list):
        return [_unlabelled(each) for each in held]
    return held
