"""The lists of people and of commissions, kept up with the ledger: searched, in order, a page at a time."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final, Generic, TypeVar

from catalogue.following import Following
from catalogue.keeping import as_read
from catalogue.ledger import Ledger, Revision
from catalogue.linked import concepts
from catalogue.linked.names import recognise_own
from catalogue.linked.node import written_out
from catalogue.linked.text import Node, parse
from catalogue.measure import fold
from catalogue.record import Party
from catalogue.terms import label

PAGE: Final = 60
"""So many lines a page shows."""

L = TypeVar("L")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyLine:
    """What a list says of a person or firm: `name` in full, `roles` as terms, `years` of life or business.

    `folded` are all names as they are searched.
    """

    document: str
    name: str
    sort: str
    folded: str
    kind: str
    roles: tuple[str, ...]
    years: str

    @property
    def id(self) -> str:
        """Its UUID, as addresses have it."""
        return self.document.partition("/")[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLine:
    """What a list says of a commission: for whom, why, how many works came, how many are still here.

    `came` and `due` are ISO days, of the first that came and of the next that is to go back; `folded`
    is what of it is searched.
    """

    document: str
    number: str
    client: str
    reason: str
    works: int
    here: int
    came: str
    due: str
    folded: str
    client_name: str = ""

    @property
    def id(self) -> str:
        """Its UUID, as addresses have it."""
        return self.document.partition("/")[2]


@dataclass(frozen=True, slots=True)
class Leaf(Generic[L]):
    """One page of a list: its lines, which page of how many it is, how many lines there are in all."""

    lines: tuple[L, ...]
    page: int
    pages: int
    total: int


class Lists:
    """The lists of a studio. Any thread may ask."""

    def __init__(self, ledger: Ledger) -> None:
        self._parties = Following(ledger, "party", party_line)
        self._jobs = Following(ledger, "job", job_line)
        self._ordered: tuple[Mapping[str, PartyLine], tuple[PartyLine, ...]] = ({}, ())

    def people(self, named: str = "", role: str = "", page: int = 1) -> Leaf[PartyLine]:
        """People and firms by name; `named` is part of a name, or several."""
        words = fold(named).split()
        return leaf(
            (
                each
                for each in self._in_order()
                if (not role or role in each.roles)
                and all(word in each.folded for word in words)
            ),
            page,
        )

    def commissions(
        self, asked: str = "", *, here: bool = False, page: int = 1
    ) -> Leaf[JobLine]:
        """Commissions, the latest number first; `asked` is part of a number or of the client's name."""
        words = fold(asked).split()
        people = self._parties.now()

        def names(line: JobLine) -> str:
            client = people.get(line.client)
            return f"{line.folded} {client.folded}" if client else line.folded

        found = (
            each
            for each in self._jobs.now().values()
            if (each.here or not here)
            and (not words or all(word in names(each) for word in words))
        )
        told = leaf(sorted(found, key=_latest_first, reverse=True), page)
        named = tuple(
            replace(each, client_name=people[each.client].name if each.client in people else "")
            for each in told.lines
        )
        return replace(told, lines=named)

    def _in_order(self) -> tuple[PartyLine, ...]:
        known = self._parties.now()
        before, ordered = self._ordered
        if before is not known:
            ordered = tuple(sorted(known.values(), key=lambda each: (each.sort, each.document)))
            self._ordered = (known, ordered)
        return ordered


def party_line(revision: Revision) -> PartyLine:
    """What a list says of a person or firm."""
    party: Party = as_read(revision).record
    began, ended = party.began, party.ended
    years = f"{began.written if began else ''}–{ended.written if ended else ''}"
    return PartyLine(
        document=revision.document,
        name=party.name(),
        sort=fold((party.names[0].sort if party.names else None) or party.name()),
        folded="\n".join(fold(each.text) for each in party.names),
        kind=party.kind,
        roles=party.roles,
        years="" if years == "–" else years,
    )


def job_line(revision: Revision) -> JobLine:
    """What a list says of a commission: taken from its text, for reading a long one takes too long here."""
    document = parse(revision.body)
    stays = [
        each
        for each in written_out(document, "part")
        if concepts.first(each, "classified_as", "activity") == "activity/stay"
    ]
    here = [each for each in stays if "left_on" not in each]
    clients = [str(each.get("id", "")) for each in written_out(document, "client")]
    number = recognise_own(document, "job") or ""
    reason = concepts.first(document, "classified_as", "reason") or ""
    return JobLine(
        document=revision.document,
        number=number,
        client=clients[0] if clients else "",
        reason=reason,
        folded=fold(f"{number} {label(reason) if reason else ''}"),
        works=len(stays),
        here=len(here),
        came=min(_days(stays, "came_on"), default=""),
        due=min(_days(here, "due_on"), default=""),
    )


def leaf(lines: Iterable[L], page: int, size: int = PAGE) -> Leaf[L]:
    """One page of some lines, so many of them; a page that there is not is the nearest one.

    >>> leaf(range(150), 3).lines[:2], leaf(range(150), 9).page, leaf([], 1).pages
    ((120, 121), 3, 1)
    """
    found = tuple(lines)
    pages = max(-(-len(found) // size), 1)
    page = min(max(page, 1), pages)
    return Leaf(found[(page - 1) * size : page * size], page, pages, len(found))


def _latest_first(line: JobLine) -> tuple[list[int], str]:
    figures = [int(each) for each in re.findall(r"[0-9]{1,9}", line.number)]
    return figures, line.document


def _days(stays: Iterable[Node], key: str) -> Iterator[str]:
    return (each[key] for each in stays if isinstance(each.get(key), str))
