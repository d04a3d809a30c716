"""Arguing: what the writing on a work and its old repairs prove of their own years.

It brings together what the record says, what people decided about the statements in it, and what
is known of firms on file: where they were, and when.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from catalogue.argument import Dating, KnownAddress, Reason, combine, date_label, date_repair
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.reading import Reading
from catalogue.record import Inscription, Party, PriorRepair, Work

_REJECTED = "standing/rejected"
# keys of a party's document without which it says nothing of years: a look spares reading thousands
_OF_YEARS = (b'"carried_out"', b'"formed_by"', b'"dissolved_by"')


@dataclass(frozen=True, slots=True)
class Argued:
    """One inscription or prior repair, and the argument about its years; a repair has no reading."""

    value: Inscription | PriorRepair
    reading: Reading | None
    dating: Dating


def argued(
    work: Work,
    firms: Iterable[KnownAddress] = (),
    families: Mapping[str, Reason] = MappingProxyType({}),
) -> Iterator[Argued]:
    """Each inscription that somebody has read, and each repair, with what it proves of its years.

    `families` is what others of its printed form say of an inscription, by its id.
    """
    known = tuple(firms)
    for inscription in work.inscriptions:
        transcript = inscription.preferred()
        if transcript is None:
            continue
        reading = transcript.reading()
        dating = date_label(reading, addresses=known, techniques=inscription.techniques)
        rejected = [
            (each.start, each.end)
            for each in inscription.statements
            if each.standing == _REJECTED and each.transcript == transcript.id
        ]
        dating = without(dating, rejected)
        told = families.get(inscription.id)
        yield Argued(inscription, reading, combine((*dating.reasons, told)) if told else dating)
    for repair in work.repairs:
        yield Argued(repair, None, date_repair(repair.made_of, kind=repair.kind))


def without(dating: Dating, rejected: Iterable[tuple[int, int]]) -> Dating:
    """The argument without what rests on letters that somebody said to be something else."""
    places = tuple(rejected)
    kept = [each for each in dating.reasons if not _rests_on(each, places)]
    return dating if len(kept) == len(dating.reasons) else combine(kept)


def _rests_on(reason: Reason, places: Iterable[tuple[int, int]]) -> bool:
    return any(start <= reason.start < reason.end <= end for start, end in places)


class FirmsOnFile:
    """Where firms on file were and when; nobody is read again until some party changed."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._last = 0
        self._known: tuple[KnownAddress, ...] = ()

    def known(self) -> tuple[KnownAddress, ...]:
        """Every address with its years, and every firm's name with those of the firm."""
        now = self._ledger.last()[0]
        touched = self._ledger.since(self._last) if 0 < self._last < now else []
        if self._last == 0 or any(each.startswith("party/") for each, _ in touched):
            parties = (
                as_read(revision).record
                for revision in self._ledger.bodies("party")
                if any(mark in revision.body for mark in _OF_YEARS)
            )
            self._known = tuple(known for party in parties for known in known_of(party))
        self._last = now
        return self._known


def known_of(party: Party) -> Iterator[KnownAddress]:
    """What a party's record says of where it was, and of when a firm traded under its names."""
    for address in party.addresses:
        if address.when:
            span = address.when
            yield KnownAddress(
                party.document, party.name(), address.text, span.earliest, span.latest
            )
    began = party.began.earliest if party.began else None
    ended = party.ended.latest if party.ended else None
    if party.kind == "group" and (began or ended):
        for name in party.names:
            yield KnownAddress(party.document, name.text, "", began, ended)
