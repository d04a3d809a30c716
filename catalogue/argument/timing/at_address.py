"""Firms at their addresses: what names an address is held to the firm's years there, as an event.

The reason that `date_label` gives for it has the same years; here the explanation leads on to the
record of the firm, and a change of its years to whatever names the address.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from catalogue.argument.evidence import Dating, Reason
from catalogue.argument.timing.claims import Claim, Instant
from catalogue.argument.timing.lives import address_event
from catalogue.argument.timing.proofs import groups
from catalogue.argument.timing.saying import YEAR_DAYS, after, claim, facts_of, settings
from catalogue.argument.timing.stages import event_of
from catalogue.record import Address, Inscription, Party, Work


def of_firms_on_file(
    datings: Mapping[str, Dating], people: Iterable[Party]
) -> frozenset[Reason]:
    """The reasons that are argued from here, with the years of the firm itself."""
    firms = list(people)
    return frozenset(
        group.reasons[0]
        for dating in datings.values()
        for group in groups(dating.reasons)
        if len(group.reasons) == 1 and any(_meant(group.reasons[0], firms))
    )


def at_addresses(
    work: Work, datings: Mapping[str, Dating], people: Iterable[Party]
) -> Iterator[Claim]:
    """That a mark which names an address was made while the firm was there, give or take a year."""
    firms = list(people)
    for mark in work.inscriptions:
        dating = datings.get(mark.id)
        for group in groups(dating.reasons) if dating else ():
            # where one address may be that of several, none of them is sure
            if len(group.reasons) == 1:
                (reason,) = group.reasons
                for party, address in _meant(reason, firms):
                    yield from _within_its_years(mark, reason, party, address)


def _meant(reason: Reason, firms: Iterable[Party]) -> Iterator[tuple[Party, Address]]:
    kind, _, document = reason.rule.partition(":")
    if kind != "address":
        return
    for party in firms:
        if party.document == document:
            for address in party.addresses:
                span = address.when
                if span and (span.earliest, span.latest) == (reason.earliest, reason.latest):
                    yield party, address


def _within_its_years(
    mark: Inscription, reason: Reason, party: Party, address: Address
) -> Iterator[Claim]:
    there = address_event(party, address)
    at = Instant(event_of(mark, reason.dates), "began")
    year = settings("address_years") * YEAR_DAYS
    for kind, slack in (("at-address", year), ("at-address-current", 0)):
        yield claim(
            kind, f"{mark.id}:{address.id}",
            (*after(there.began, at, slack), *after(at, there.ended, slack)),
            (mark.id, party.document, address.id),
            **facts_of(mark), name=party.name(), address=address.text,
        )  # fmt: skip
