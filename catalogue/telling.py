"""The provenance of a work as prose, for the house or for strangers, and prose taken into a record."""

from __future__ import annotations

from dataclasses import dataclass, replace

from catalogue.argument.prose.entries import ReadProvenance
from catalogue.argument.prose.reading import read_provenance
from catalogue.argument.prose.taken import taken_from
from catalogue.argument.prose.told import provenance_told
from catalogue.argument.prose.wording import Brackets, Form
from catalogue.argument.prose.writing import Written
from catalogue.errors import BadData, NotOnFile
from catalogue.exchange.withholding.redaction import profile
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.naming_parties import Naming
from catalogue.record import PartyRole, ProvenanceEvent, Work

__all__ = ["Brackets", "Form", "Taken", "Written", "read_provenance", "taken", "told"]

PUBLIC, INTERNAL = "sale", "full"
"""The profiles of vocab/profiles.toml under which the two forms are written."""


def told(ledger: Ledger, work: Work, *, today: Day, brackets: Brackets, form: Form) -> Written:
    """A work's provenance in words; the public form is made from what strangers may know.

    Raises `NotOnFile` for a work that may not leave, `BadSetting` for brackets or a form there is not.
    """
    naming = Naming(ledger, profile(PUBLIC if form == "public" else INTERNAL))
    kept, _ = naming.leaving(work, today)
    if kept is None:
        raise NotOnFile(f"{work.number or 'this work'} may not be told of outside the house")
    return provenance_told(kept, naming.party, today=today, brackets=brackets, form=form)


@dataclass(frozen=True, slots=True)
class Taken:
    """Prose about to become part of a work: as it was `read`, the `events` it adds, the work `after`.

    `there` are the numbers of events of the work that say the same already: those are not added.
    """

    read: ReadProvenance
    events: tuple[ProvenanceEvent, ...]
    there: tuple[str, ...]
    after: Work


def taken(work: Work, text: str, cited: str | None = None) -> Taken:
    """A provenance as published, as events behind those that a work has. Nothing is saved.

    Raises `BadData` where no event can be read from it.
    """
    read = read_provenance(text)
    if not read.entries:
        raise BadData(
            "no step of a provenance stands there",
            remedy="dorse parse provenance shows how it is read",
        )
    last = max((each.order or 0 for each in work.provenance), default=0)
    found = taken_from(read, cited=cited)
    there = {each: known for each in found for known in work.provenance if _same(each, known)}
    new = tuple(
        replace(each, order=last + place)
        for place, each in enumerate((each for each in found if each not in there), 1)
    )
    numbers = tuple(known.number or known.id for known in there.values())
    return Taken(read, new, numbers, replace(work, provenance=(*work.provenance, *new)))


def _same(one: ProvenanceEvent, other: ProvenanceEvent) -> bool:
    """Whether two events say the same of the same people and days, in the same words."""
    return _gist(one) == _gist(other)


def _gist(event: ProvenanceEvent) -> tuple[object, ...]:
    dates = tuple(each.edtf if each else None for each in (event.when, event.until))
    return (event.kind, tuple(sorted(map(_who, event.parties))), event.at, *dates, event.lot)


def _who(role: PartyRole) -> tuple[str, str]:
    return (role.role, (role.written or "").casefold())
