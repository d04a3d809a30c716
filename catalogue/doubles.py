"""Who else a person or firm could be: those on file with names alike, and why; told apart by a person.

A likeness is a hint for a person. Whom somebody told apart is shown last and marked as decided.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from catalogue.indexes.names_known import keys_of, words_of
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.measure import Day, Likeness, compare
from catalogue.measure.names import ALIKE
from catalogue.record import Note, NotSame, Party
from catalogue.record.rules import refuse

MOST = 20
"""So many are shown."""

_YEARS_APART = 365 * 20
"""Lives that begin or end so many days apart are two people's: common practice, no source."""
_OTHER_LIFE = 0.4


@dataclass(frozen=True, slots=True)
class Double:
    """Somebody on file who may be the same: by which name, how alike and why; `decided` says they are not."""

    party: Party
    name: str
    alike: Likeness
    decided: NotSame | None = None


def doubles(ledger: Ledger, party: Party) -> tuple[Double, ...]:
    """Those on file who may be the same as a party, the most alike first, those told apart last."""
    keys = _keys(party)
    found = []
    for revision in ledger.bodies("party"):
        other = as_read(revision).record
        if not isinstance(other, Party) or other.id == party.id or not keys & _keys(other):
            continue
        name, alike = _most_alike(party, other)
        if alike.score >= ALIKE:
            found.append(Double(other, name, alike, _decided(party, other)))
    found.sort(
        key=lambda each: (
            each.decided is not None,
            -each.alike.score,
            each.party.name(),
            each.party.id,
        )
    )
    return tuple(found[:MOST])


def told_apart(
    party: Party, other: Party | str, *, by: str | None, on: Day, why: str = ""
) -> Party:
    """The party with somebody's word that it is not `other` (one on file, or a name as written)."""
    written = None if isinstance(other, Party) else other.strip()
    document = other.document if isinstance(other, Party) else None
    if document == party.document:
        raise refuse("NotSame.other", document, "nobody is told apart from themselves")
    if any((each.other, each.written) == (document, written) for each in party.not_same):
        return party
    said = NotSame(
        other=document, written=written, by=by, on=on, notes=(Note(text=why),) if why else ()
    )
    return replace(party, not_same=(*party.not_same, said))


def taken_for_one(party: Party, other: Party | str) -> Party:
    """The party without anybody's word that it is not `other`."""
    said = other.document if isinstance(other, Party) else other.strip()
    left = tuple(each for each in party.not_same if said not in (each.other, each.written))
    return replace(party, not_same=left)


def _keys(party: Party) -> set[str]:
    return {
        key for name in party.names for word in words_of(name.text) for key in keys_of(word)
    }


def _most_alike(party: Party, other: Party) -> tuple[str, Likeness]:
    pairs: Iterable[tuple[str, Likeness]] = (
        (theirs.text, compare(mine.text, theirs.text))
        for mine in party.names
        for theirs in other.names
    )
    name, alike = max(pairs, key=lambda each: each[1].score)
    if _lives_apart(party, other):
        return name, Likeness(alike.score * _OTHER_LIFE, ("apart",))
    return name, alike


def _lives_apart(party: Party, other: Party) -> bool:
    """Whether they were born, or died, in times that cannot be one."""
    for mine, theirs in ((party.began, other.began), (party.ended, other.ended)):
        if mine is None or theirs is None:
            continue
        for first, second in ((mine, theirs), (theirs, mine)):
            if (
                first.latest is not None
                and second.earliest is not None
                and second.earliest.ordinal - first.latest.ordinal > _YEARS_APART
            ):
                return True
    return False


def _decided(party: Party, other: Party) -> NotSame | None:
    return next(_said(party, other), None)


def _said(party: Party, other: Party) -> Iterator[NotSame]:
    for one, another in ((party, other), (other, party)):
        names = {each.text for each in another.names}
        for each in one.not_same:
            if each.other == another.document or each.written in names:
                yield each
