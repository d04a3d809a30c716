"""Offers for sale on their way out: of a commission that stays home, what a buyer may be told.

What the owner is to have and the least that is taken never come along, whatever the list says: they
leave within the commission itself or not at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from catalogue.exchange.withholding.redaction import Profile
from catalogue.record import Job, Offer

_WITHOUT_A_PRICE = {"asked": None, "currency": None, "net": None, "reserve": None}


def newest(jobs: Iterable[Job]) -> dict[str, Offer]:
    """The offer of each work that stands, by the work's document: of several the one made last."""
    found: dict[str, Offer] = {}
    for offer in sorted((each for job in jobs for each in job.offers), key=lambda it: it.rank):
        if offer.stands:
            found[offer.work] = offer
        elif offer.work in found:
            # What was offered, and withdrawn later, is not offered any more.
            del found[offer.work]
    return found


def told(offer: Offer, allowed: Profile) -> Offer | None:
    """The offer as it leaves under a profile, None where nothing of it may."""
    needed = ("Offer.work", "Offer.status")
    if not all(each in allowed.fields for each in needed):
        return None
    if offer.visibility not in allowed.visibility or not offer.stands:
        return None
    less: dict[str, Any] = {"net": None, "reserve": None}
    if not offer.told or not {"Offer.asked", "Offer.currency"} <= allowed.fields:
        less |= _WITHOUT_A_PRICE
    for name in ("terms", "since", "until"):
        if f"Offer.{name}" not in allowed.fields:
            less[name] = None
    return replace(offer, **less)
