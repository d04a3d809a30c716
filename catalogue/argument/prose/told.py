"""The provenance of a record told in one go: its events as entries, the entries as prose."""

from __future__ import annotations

from catalogue.argument.prose.kept import People, entries_of, last_searched
from catalogue.argument.prose.wording import Brackets, Form
from catalogue.argument.prose.writing import Written, write_provenance
from catalogue.measure import Day
from catalogue.record import Work


def provenance_told(
    work: Work,
    people: People,
    *,
    today: Day,
    brackets: Brackets = "life",
    form: Form = "public",
) -> Written:
    """The provenance of a work; words that need a document it does not have are left out and remarked."""
    chain = entries_of(work, people, today=today)
    return write_provenance(
        chain.entries,
        brackets,
        form,
        notes=chain.notes,
        searched=last_searched(work),
        today=today,
        undocumented="neutral",
    )
