"""Who else a person or firm could be: those on file with names alike, and why; told apart by a person.

A likeness is a hint for a person. Whom somebody told apart is shown last and marked as decided.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from catalogue.following import Following
from catalogue.indexes.names_known import keys_of, words_of
from catalogue.keeping import as_read, as_read_lately
from catalogue.ledger import Ledger, Revision
from catalogue.measure import DateSpan, Day, Likeness, compare
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


@dataclass(frozen=True, slots=True)
class _Known:
    """What tells of somebody on file whether they may be another: names, life, whom they are not."""

    document: str
    name: str
    names: tuple[str, ...]
    keys: frozenset[str]
    began: DateSpan | None
    ended: DateSpan | None
    not_same: tuple[NotSame, ...]


class Doubles:
    """Who on file may be one and the same, kept up with the ledger. Any thread may ask."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._known = Following(ledger, "party", _looked_at)

    def of(self, party: Party) -> tuple[Double, ...]:
        """Those on file who may be the same as a party, the most alike first, those told apart last."""
        mine = _known(party)
        found: list[tuple[_Known, str, Likeness, NotSame | None]] = []
        for other in self._known.now().values():
            if other is None or other.document == mine.document:
                continue
            if mine.keys.isdisjoint(other.keys):
                continue
            name, alike = _most_alike(mine, other)
            if alike.score >= ALIKE:
                found.append((other, name, alike, _decided(mine, other)))
        found.sort(
            key=lambda each: (
                each[3] is not None, -each[2].score, each[0].name, each[0].document,
            )
        )  # fmt: skip
        return tuple(
            Double(self._party(other), name, alike, decided)
            for other, name, alike, decided in found[:MOST]
        )

    def _party(self, known: _Known) -> Party:
        party: Party = as_read_lately(self._ledger.read(known.document)).record
        return party

    def get_ready(self) -> None:
        """Look at whom nobody looked at yet, so that nobody waits for it."""
        self._known.now()


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


def _looked_at(revision: Revision) -> _Known | None:
    record = as_read(revision).record
    return _known(record) if isinstance(record, Party) else None


def _known(party: Party) -> _Known:
    names = tuple(each.text for each in party.names)
    keys = (key for name in names for word in words_of(name) for key in keys_of(word))
    # The same words are in many names: each key is held once.
    held = frozenset(map(sys.intern, keys))
    return _Known(
        party.document, party.name(), names, held, party.began, party.ended, party.not_same
    )


def _most_alike(party: _Known, other: _Known) -> tuple[str, Likeness]:
    pairs: Iterable[tuple[str, Likeness]] = (
        (theirs, compare(mine, theirs)) for mine in party.names for theirs in other.names
    )
    name, alike = max(pairs, key=lambda each: each[1].score)
    if _lives_apart(party, other):
        return name, Likeness(alike.score * _OTHER_LIFE, ("apart",))
    return name, alike


def _lives_apart(party: _Known, other: _Known) -> bool:
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


def _decided(party: _Known, other: _Known) -> NotSame | None:
    return next(_said(party, other), None)


def _said(party: _Known, other: _Known) -> Iterator[NotSame]:
    for one, another in ((party, other), (other, party)):
        for each in one.not_same:
            if each.other == another.document or each.written in another.names:
                yield each
