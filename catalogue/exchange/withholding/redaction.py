"""What may leave, for whom: a record is held to a profile (`profiles.py`) on its way out.

`redacted` goes through a record field by field. What is in no list does not leave; a value whose own
mark is stricter than the profile does not leave; free text leaves once a person released that very
text; names, addresses and prices are held to rules of their own (`withheld_names.py`,
`withheld_letters.py`). What stands in a chain or in a reading leaves a sign that it was withheld.
Everything that stayed home is listed, so that nobody has to guess.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import MISSING, dataclass, fields, is_dataclass, replace
from operator import is_
from typing import Any, TypeVar

from catalogue.errors import BadData
from catalogue.exchange.withholding.letters import (
    Cut,
    Letters,
    Shortened,
    shortened,
    where_it_stands,
)
from catalogue.exchange.withholding.lives import NOTHING_KNOWN, Life, Lives, rules, years
from catalogue.exchange.withholding.names import (
    Withheld,
    consents,
    may_be_private,
    may_not_be_told,
    withheld_names,
)
from catalogue.exchange.withholding.pointing import forget_targets
from catalogue.exchange.withholding.profiles import Profile, listed_fields, profile, profiles
from catalogue.exchange.withholding.standing_in import StandIns
from catalogue.linked.documents import CONTEXTS, describe, from_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import Node
from catalogue.reading import without_notes
from catalogue.record import (
    VALUES,
    Inscription,
    Job,
    Note,
    Party,
    PartyRole,
    Reference,
    Region,
    Statement,
    Work,
)
from catalogue.record.rules import OPEN

__all__ = [
    "Profile",
    "Redacted",
    "StayedHome",
    "areas_to_cover",
    "leaving",
    "listed_fields",
    "profile",
    "profiles",
    "redacted",
]

Hidden = Callable[[str], bool]
R = TypeVar("R", bound=Work | Party | Job)


@dataclass(frozen=True, slots=True)
class StayedHome:
    """Something that did not leave: what it is, its id where it has one, and why.

    `regions` are where it is seen on photographs: a copy of one that leaves is covered there.
    """

    what: str
    value: str
    why: str
    regions: tuple[Region, ...] = ()


def areas_to_cover(
    home: Iterable[StayedHome],
) -> dict[str, tuple[tuple[tuple[float, float], ...], ...]]:
    """What of each photograph (its id) is to be painted over in copies, as corners in upright pixels."""
    found: dict[str, list[tuple[tuple[float, float], ...]]] = {}
    for each in home:
        for region in each.regions:
            found.setdefault(region.photo, []).append(region.corners)
    return {photo: tuple(sorted(set(areas))) for photo, areas in sorted(found.items())}


@dataclass(frozen=True, slots=True)
class Redacted:
    """What is left of a document: what makes its nodes (None where it may not leave), and what stayed home.

    `record` is its record, None where it left as it came or not at all.
    """

    node: Callable[[], Node] | None
    record: Work | Party | Job | None
    home: list[StayedHome]


def redacted(
    document: Node,
    document_id: str,
    allowed: Profile,
    hidden: Hidden,
    lives: Lives = NOTHING_KNOWN,
) -> Redacted:
    """What of a document may leave under a profile, and what stayed home.

    `hidden` tells which other documents may not even be named, `lives` who may be living. Its nodes are
    made only where somebody asks for them.
    """
    kind = document_id.partition("/")[0]
    if kind not in allowed.documents:
        return Redacted(None, None, [_no_document(kind, document_id, allowed)])
    if allowed.everything:
        return Redacted(lambda: document, None, [])
    record = from_jsonld(document, document_id=document_id)
    if isinstance(record, Reference):
        return Redacted(lambda: document, None, [])
    kept, home = leaving(record, allowed, hidden, StandIns(), lives)
    if kept is None:
        return Redacted(None, None, home)
    if allowed.unknown:
        return Redacted(lambda: merge(document, record, kept), kept, home)
    return Redacted(lambda: {"@context": CONTEXTS, **describe(kept)}, kept, home)


def leaving(
    record: R,
    allowed: Profile,
    hidden: Hidden,
    stand_ins: StandIns | None = None,
    lives: Lives = NOTHING_KNOWN,
) -> tuple[R | None, list[StayedHome]]:
    """The record as it may leave under a profile, None if it may not at all, and what stayed home.

    With `stand_ins` a provenance keeps a place for every hand and all evidence that may not leave.
    """
    kind = record.document.partition("/")[0]
    if kind not in allowed.documents:
        return None, [_no_document(kind, record.document, allowed)]
    if allowed.everything:
        return record, []
    redaction = _Redaction(allowed, hidden, stand_ins, lives)
    redaction.look_at(record)
    return redaction.value(record), redaction.home


def _no_document(kind: str, document_id: str, allowed: Profile) -> StayedHome:
    return StayedHome(
        kind, document_id, _because("no_document", kind=kind, profile=allowed.name)
    )


def _because(why: str, **said: object) -> str:
    return str(rules()["why"][why]).format(**said)


class _Redaction:
    """One record on its way out: what stayed home so far.

    `names` are the parts in events that may not be named, `unnamed` the events of those; `letters` what
    of a reading may not leave; `moved` the readings as typed of which letters went, so that places in
    them have moved.
    """

    def __init__(
        self, allowed: Profile, hidden: Hidden, stand_ins: StandIns | None, lives: Lives
    ) -> None:
        self.allowed = allowed
        self.hidden = hidden
        self.stand_ins = stand_ins
        self.lives = lives
        self.home: list[StayedHome] = []
        self.names: dict[str, Withheld] = {}
        self.letters: Letters | None = None
        self.cuts: dict[str, tuple[Cut, ...]] = {}
        self.moved: dict[str, Shortened] = {}
        self.private: frozenset[str] = frozenset()

    def look_at(self, record: Work | Party | Job) -> None:
        """See what the rules of vocab/withholding.toml say of a record as a whole."""
        if not self.allowed.rules:
            return
        if isinstance(record, Work):
            self.names = withheld_names(record.provenance, self.lives)
            self.letters = Letters.of(record, self.lives)
        elif isinstance(record, Party) and record.kind == "person":
            life = Life(
                record.began.latest if record.began else None,
                record.ended.latest if record.ended else None,
            )
            if self.lives.may_live(life):
                born = {"Party.began"} if may_be_private(record) else set()
                where = {"Party.addresses"} - (
                    {"Party.addresses"} if consents(record, self.lives, "address") else set()
                )
                self.private = frozenset(born | where)

    def value(self, value: Any) -> Any:
        """The value with only what the profile allows, or None when it may not leave."""
        kind = type(value).__name__
        own = getattr(value, "id", "")
        why = self._why_not(value)
        if why:
            seen = value.regions if isinstance(value, Inscription) else ()
            self.home.append(StayedHome(kind, own, why, seen))
            return self._stand_in(value)
        if isinstance(value, Inscription) and self.letters:
            self._look_at_letters(value, self.letters)
        if isinstance(value, Statement) and value.transcript in self.moved:
            moved = where_it_stands(value, self.moved[value.transcript])
            if moved is None:
                self.home.append(StayedHome(kind, own, _because("letters_gone")))
                return None
            value = moved
        changed: dict[str, Any] = {}
        for each in fields(value):
            held = getattr(value, each.name)
            if each.name == "id" or held == each.default or held == OPEN:
                continue
            # A mark that may not leave leaves nothing said, even where a new value gets another.
            empty = OPEN if each.name == "visibility" else each.default
            kept = self._field(f"{kind}.{each.name}", own, held, empty)
            if kept is MISSING:
                return None
            if kept is not held:
                changed[each.name] = kept
        if not changed:
            return value
        if self.stand_ins:
            changed = self.stand_ins.completed(value, changed)
        try:
            return self._whole(value, changed)
        except BadData:
            self.home.append(StayedHome(kind, own, _because("says_nothing")))
            return self._stand_in(value)

    def _stand_in(self, value: Any) -> Any:
        """What stands for a value that stays home, None where nothing does."""
        if self.stand_ins is None:
            return None
        known = self.names.get(value.id) if isinstance(value, PartyRole) else None
        return self.stand_ins.for_whole(value, known.letter if known else "")

    def _look_at_letters(self, inscription: Inscription, letters: Letters) -> None:
        """See which letters of an inscription stay home, and where they are seen."""
        for transcript in inscription.transcripts:
            cuts = letters.withheld(inscription, transcript)
            if not cuts:
                continue
            self.cuts[transcript.id] = cuts
            kinds = sorted({kind for _, _, kind in cuts})
            why = "; ".join(_because(each, years=years("price")) for each in kinds)
            self.home.append(
                StayedHome("Transcript.markup", transcript.id, why, inscription.regions)
            )

    def _why_not(self, value: Any) -> str:
        """Why a value may not leave at all, "" when it may."""
        visibility = getattr(value, "visibility", OPEN)
        if visibility not in self.allowed.visibility:
            return _because("marked", mark=visibility.partition("/")[2])
        if isinstance(value, Note) and not self.allowed.free_text and not value.may_leave:
            return _because("unreleased")
        if isinstance(value, PartyRole) and value.party and self._is_hidden(value.party):
            # what a source calls somebody who may not be named is a name as well
            return _because("unnamed")
        if isinstance(value, PartyRole) and value.id in self.names:
            return _because(self.names[value.id].why)
        return ""

    def _field(self, name: str, own: str, held: Any, empty: Any) -> Any:
        """What of a field may leave: itself, less, or its default; MISSING when it must not be empty."""
        if name not in self.allowed.fields:
            why = _because("not_listed", profile=self.allowed.name)
            self.home.append(StayedHome(name, own, why))
            return empty
        if name in self.private:
            self.home.append(StayedHome(name, own, _because("living")))
            return empty
        if isinstance(held, str) and self._is_hidden(held):
            self.home.append(StayedHome(name, own, _because("unnamed")))
            return empty
        if isinstance(held, str) and self._is_private_in(name, held):
            self.home.append(StayedHome(name, own, _because("living")))
            return empty
        if isinstance(held, tuple) and held and isinstance(held[0], str):
            named = tuple(each for each in held if not self._is_hidden(each))
            if len(named) < len(held):
                self.home.append(StayedHome(name, own, _because("unnamed")))
                return named
        if name == "Transcript.markup" and not self.allowed.free_text:
            return self._reading(own, held)
        if isinstance(held, tuple) and held and is_dataclass(held[0]):
            kept = tuple(found for each in held if (found := self.value(each)) is not None)
            same = len(kept) == len(held) and all(map(is_, kept, held))
            return held if same else kept
        return self.value(held) if type(held) in VALUES else held

    def _reading(self, own: str, markup: str) -> str:
        """A reading as typed without its notes and without the letters that may not leave."""
        cut = shortened(markup, self.cuts.get(own, ()))
        bare = without_notes(cut.markup)
        if bare != cut.markup and own not in self.cuts:
            self.home.append(StayedHome("Transcript.markup", own, _because("notes_in_reading")))
        if bare == markup:
            return markup
        self.moved[own] = cut
        return bare

    def _is_hidden(self, named: str) -> bool:
        return named.startswith("party/") and self.hidden(named)

    def _is_private_in(self, name: str, named: str) -> bool:
        """Whether a field outside a chain names somebody private who may be living."""
        if not self.allowed.rules or name not in rules()["names"]["other_fields"]:
            return False
        party = self.lives.party(named)
        return party is not None and may_not_be_told(party, self.lives)

    def _whole(self, value: Any, changed: dict[str, Any]) -> Any:
        """The value with these fields changed; a record points at nothing that stayed home."""
        if isinstance(value, Work | Job):
            for each in fields(value):
                changed.setdefault(each.name, getattr(value, each.name))
            forget_targets(changed, self._gone)
        return replace(value, **changed)

    def _gone(self, value: Any) -> Any:
        self.home.append(StayedHome(type(value).__name__, value.id, _because("belongs")))
        return self._stand_in(value)
