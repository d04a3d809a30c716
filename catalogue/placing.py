"""Placing in time: everything that is known of a work's days at once, with the people and firms on file."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from catalogue.arguing import argued
from catalogue.argument import KnownAddress
from catalogue.argument.timing.from_work import chronology, named_in
from catalogue.argument.timing.solving import Chronology
from catalogue.record import Party, Record, Work


def placed(
    work: Work, firms: Iterable[KnownAddress], read: Callable[[str], Record | None]
) -> Chronology:
    """The chronology of a work; `read` gives the record of an id, None for a stranger's.

    What people rejected of a reading is not argued from, as in `argued`.
    """
    datings = {each.value.id: each.dating for each in argued(work, firms)}
    named = {each: read(each) for each in dict.fromkeys(named_in(work, datings))}
    parties = {each: party for each, party in named.items() if isinstance(party, Party)}
    return chronology(work, datings=datings, parties=parties)
