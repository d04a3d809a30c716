"""Artists, clients and owners of a job book: on file by this very name, or new. Nobody is merged in silence.

A name counts as on file only letter for letter, and only for somebody the studio meets in that role.
Whoever is new gets an id made of the book, the role and the name, so that the next row and the next
import find the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final
from uuid import UUID, uuid5

from catalogue.job_books.told import said
from catalogue.measure import (
    WrittenName,
    attribution_term,
    read_attribution,
    read_date,
    read_name,
)
from catalogue.places import table
from catalogue.record import Contact, Party, PartyName, Reach
from catalogue.terms import within

ARTIST, CLIENT, OWNER = "role/artist", "role/client", "role/owner"
_OF_A_ROLE: Final = {
    ARTIST: (ARTIST, "role/painter", "role/photographer"),
    CLIENT: (CLIENT, OWNER, "role/dealer", "role/collector", "role/museum"),
    OWNER: (OWNER, CLIENT, "role/collector", "role/museum", "role/dealer"),
}
"""In which roles somebody on file may be the one who is meant."""

_GROUPS: Final = ("firm", "institution")


@dataclass(frozen=True, slots=True)
class Meant:
    """Who a name means: the id, a sentence for whoever looks, and the record where it is a new one."""

    document_id: str
    sentence: str
    new: Party | None = None


@dataclass(slots=True)
class PeopleOnFile:
    """Who is on file by name, and who has become new in this book.

    `parties` are those on file; `shelf` is the space in which the ids of new ones are made.
    """

    shelf: UUID
    _named: dict[str, list[Party]] = field(default_factory=dict)
    _ours: set[str] = field(default_factory=set)
    _made: dict[str, Party] = field(default_factory=dict)
    _fresh: list[Party] = field(default_factory=list)

    @classmethod
    def of(cls, parties: Iterable[Party], shelf: UUID) -> PeopleOnFile:
        """The people on file, by each of their names."""
        found = cls(shelf)
        for party in parties:
            found._ours.add(party.document)
            for name in {_plainly(each.text) for each in party.names}:
                found._named.setdefault(name, []).append(party)
        return found

    def meant(
        self, written: str, role: str, reaches: Iterable[tuple[str, str]] = ()
    ) -> tuple[Meant, tuple[tuple[str, str], ...]]:
        """Who a name means in a role, and which of the ways to reach them did not find a place."""
        words = said("row")
        name = read_name(written)
        plain = plain_name(written, name)
        own_id = str(uuid5(self.shelf, f"{role} {plain}"))
        given = tuple(reaches)
        if own_id in self._made:
            left = tuple(each for each in given if each not in _reaches_of(self._made[own_id]))
            return Meant(f"party/{own_id}", words["party_in_book"].format(name=plain)), left
        fitting = [
            each
            for each in self._named.get(_plainly(plain), ())
            if each.id != own_id and _may_be(each, role)
        ]
        if len(fitting) == 1 and f"party/{own_id}" not in self._ours:
            return Meant(fitting[0].document, words["party_on_file"].format(name=plain)), given
        party = self._new(own_id, plain, name, role, given)
        self._made[own_id] = party
        self._fresh.append(party)
        kind = words["person" if party.kind == "person" else "group"]
        others = [each for each in self._named.get(_plainly(plain), ()) if each.id != own_id]
        which = "party_several" if fitting else "party_elsewhere" if others else "new_party"
        told = words[which].format(name=plain, kind=kind, count=len(fitting))
        if party.document in self._ours:
            told = words["party_on_file"].format(name=plain)
        return Meant(party.document, told, party), ()

    def fresh(self) -> tuple[Party, ...]:
        """Who became new since this was last asked."""
        found, self._fresh = tuple(self._fresh), []
        return found

    def forget_fresh(self) -> None:
        """Take back who became new since then: their row is refused, the next may name them."""
        for each in self.fresh():
            del self._made[each.id]

    def _new(
        self,
        own_id: str,
        plain: str,
        name: WrittenName,
        role: str,
        reaches: tuple[tuple[str, str], ...],
    ) -> Party:
        group = name.kind in _GROUPS or (name.kind == "unknown" and not name.given)
        began, _, ended = (name.life or "").replace("–", "-").partition("-")
        own = UUID(own_id)
        contact = Contact(
            id=str(uuid5(own, "contact")),
            reaches=tuple(
                Reach(id=str(uuid5(own, f"{medium} {text}")), medium=medium, text=text)
                for medium, text in reaches
            ),
        )
        return Party(
            id=own_id,
            kind="group" if group else "person",
            names=(PartyName(id=str(uuid5(own, "name")), text=plain, preferred=True),),
            roles=(role,),
            began=read_date(began.strip()) if began.strip().isdigit() else None,
            ended=read_date(ended.strip()) if ended.strip().isdigit() else None,
            contact=contact if reaches else None,
            visibility="visibility/open" if role == ARTIST else "visibility/studio",
        )


def attributed(written: str) -> tuple[str, str]:
    """The term of the words of attribution, and the name; no name where the maker is unknown.

    >>> attributed("attributed to A. Penhale (1840-1926)"), attributed("unknown")
    (('qualifier/attributed-to', 'A. Penhale (1840-1926)'), ('qualifier/unknown', ''))
    """
    _, name = read_attribution(written)
    if name.strip(" ?.").casefold() in _nobody():
        return "qualifier/unknown", ""
    return attribution_term(written) or "qualifier/by", name


def several(name: str) -> tuple[str, ...]:
    """The painters that a name joins: one or more, none where nobody can say whether they are several.

    >>> several("A. Penhale and T. Marsh"), several("J. Marsh & Sons")
    (('A. Penhale', 'T. Marsh'), ('J. Marsh & Sons',))
    >>> several("Penhale and Marsh"), several("A. Penhale and another hand")
    ((), ())
    """
    words = table("job_books.toml")["together"]
    joined = "|".join(map(re.escape, words["words"]))
    parts = tuple(re.split(rf"\s+(?:{joined})\s+", name))
    firm = any(part.strip(" .").casefold() in words["firm"] for part in name.split())
    if len(parts) == 1 or firm or read_name(name).kind == "institution":
        return (name,)
    return parts if all(map(_is_whole_person, parts)) else ()


def _is_whole_person(part: str) -> bool:
    name = read_name(part)
    return bool(
        name.kind == "person"
        and name.given
        and name.family
        and part[:1].isupper()
        and not name.rest.strip()
    )


def _nobody() -> frozenset[str]:
    return frozenset(table("job_books.toml")["nobody"]["words"])


def plain_name(written: str, name: WrittenName) -> str:
    """The name as written, without words of attribution and years of life.

    >>> plain_name("Penhale, Ada (1840-1926)", read_name("Penhale, Ada (1840-1926)"))
    'Penhale, Ada'
    """
    _, text = read_attribution(written)
    if name.life:
        before, found, behind = text.partition(name.life)
        if found:
            text = f"{before.rstrip(' ([,')}{behind.lstrip(' )]')}"
    return " ".join(text.split()) or written.strip()


def _plainly(name: str) -> str:
    return " ".join(name.split())


def _may_be(party: Party, role: str) -> bool:
    return not party.roles or any(within(each, *_OF_A_ROLE[role]) for each in party.roles)


def _reaches_of(party: Party) -> Iterator[tuple[str, str]]:
    for each in party.contact.reaches if party.contact else ():
        yield each.medium, each.text
