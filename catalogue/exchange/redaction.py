"""What may leave, for whom: profiles are lists of what is allowed, kept in vocab/profiles.toml.

`redact` goes through a record field by field. What is in no list does not leave; a value whose own
mark is stricter than the profile does not leave; free text leaves once a person released that very
text. Everything that stayed home is listed, so that nobody has to guess.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Set
from dataclasses import MISSING, dataclass, fields, is_dataclass, replace
from functools import cache
from operator import is_
from typing import Any, TypeVar

from catalogue.errors import BadData, BadSetting
from catalogue.exchange.standing_in import StandIns
from catalogue.linked.documents import CONTEXTS, describe, from_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import Node
from catalogue.places import folder
from catalogue.reading import without_notes
from catalogue.record import VALUES, Job, Note, Party, PartyRole, Reference, Statement, Work
from catalogue.record.rules import KINDS, OPEN, pointers, values_within
from catalogue.terms import group

Hidden = Callable[[str], bool]
R = TypeVar("R", bound=Work | Party | Job)


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """One list of what may leave; `fields` are written `Value.field`.

    `note` is what the sender is told before it leaves, `needs_reason` that nothing leaves without a
    written one, `rules` that names, addresses and prices are held to vocab/withholding.toml as well.
    `everything` says that nothing at all stays home.
    """

    name: str
    says: str
    note: str
    needs_reason: bool
    documents: frozenset[str]
    visibility: frozenset[str]
    unknown: bool
    free_text: bool
    rules: bool
    fields: frozenset[str]
    everything: bool


@dataclass(frozen=True, slots=True)
class StayedHome:
    """Something that did not leave: what it is, its id where it has one, and why."""

    what: str
    value: str
    why: str


@cache
def profiles() -> dict[str, Profile]:
    """Every profile of vocab/profiles.toml by name."""
    source = folder("vocab") / "profiles.toml"
    raw = tomllib.loads(source.read_text("utf-8"))
    return {name: _profile(name, raw) for name in raw if name != "lists"}


def profile(name: str) -> Profile:
    """The profile of that name. Raises `BadSetting` naming those there are."""
    known = profiles()
    if name not in known:
        raise BadSetting(
            f"there is no profile {name!r}", remedy=f"choose one of: {', '.join(sorted(known))}"
        )
    return known[name]


def _profile(name: str, raw: dict[str, Any]) -> Profile:
    table = raw[name]
    listed = _listed(name, raw)
    if table["free_text"] not in ("released", "all"):
        raise BadSetting(f"profile {name}: free_text is 'released' or 'all'")
    visibility = frozenset(table["visibility"])
    everything = (
        table["unknown"]
        and table["free_text"] == "all"
        and set(KINDS) <= set(table["documents"])
        and listed_fields() <= listed
        and {each.key for each in group("visibility")} <= visibility
    )
    return Profile(
        name=name,
        says=table["says"],
        note=table.get("note", ""),
        needs_reason=table.get("reason", False),
        documents=frozenset(table["documents"]),
        visibility=visibility,
        unknown=table["unknown"],
        free_text=table["free_text"] == "all",
        rules=table.get("rules", False),
        fields=frozenset(listed),
        everything=everything,
    )


def _listed(name: str, raw: dict[str, Any]) -> set[str]:
    """Every field that a profile or a list ("lists.condition") allows, with those that it includes."""
    table = raw
    for part in name.split("."):
        table = table[part]
    included = (_listed(each, raw) for each in table.get("include", ()))
    allowed: set[str] = set().union(*included)
    return (allowed - set(table.get("without", ()))) | set(table["fields"])


def redact(
    document: Node, document_id: str, allowed: Profile, hidden: Hidden
) -> tuple[Node | None, list[StayedHome]]:
    """The document as it may leave under a profile, None if it may not at all, and what stayed home.

    `hidden` tells which other documents may not even be named.
    """
    kind = document_id.partition("/")[0]
    if kind not in allowed.documents:
        return None, [StayedHome(kind, document_id, f"no {kind} leaves under {allowed.name}")]
    if allowed.everything:
        return document, []
    record = from_jsonld(document, document_id=document_id)
    if isinstance(record, Reference):
        return document, []
    kept, home = leaving(record, allowed, hidden)
    if kept is None:
        return None, home
    if allowed.unknown:
        return merge(document, record, kept), home
    return {"@context": CONTEXTS, **describe(kept)}, home


def leaving(
    record: R, allowed: Profile, hidden: Hidden, stand_ins: StandIns | None = None
) -> tuple[R | None, list[StayedHome]]:
    """The record as it may leave under a profile, None if it may not at all, and what stayed home.

    With `stand_ins` a provenance keeps a place for every hand and all evidence that may not leave.
    """
    kind = record.document.partition("/")[0]
    if kind not in allowed.documents:
        return None, [
            StayedHome(kind, record.document, f"no {kind} leaves under {allowed.name}")
        ]
    if allowed.everything:
        return record, []
    redaction = _Redaction(allowed, hidden, stand_ins)
    return redaction.value(record), redaction.home


class _Redaction:
    """One record on its way out: what stayed home so far.

    `with_notes` are the readings as typed whose notes stayed home, by id: places in them have moved.
    """

    def __init__(
        self, allowed: Profile, hidden: Hidden, stand_ins: StandIns | None = None
    ) -> None:
        self.allowed = allowed
        self.hidden = hidden
        self.stand_ins = stand_ins
        self.home: list[StayedHome] = []
        self.with_notes: dict[str, str] = {}

    def value(self, value: Any) -> Any:
        """The value with only what the profile allows, or None when it may not leave."""
        kind = type(value).__name__
        own = getattr(value, "id", "")
        why = self._why_not(value)
        if why:
            self.home.append(StayedHome(kind, own, why))
            return self._stand_in(value)
        if isinstance(value, Statement) and value.transcript in self.with_notes:
            moved = _without_the_notes(value, self.with_notes[value.transcript])
            if moved is None:
                self.home.append(StayedHome(kind, own, "its letters stand in a note"))
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
            self.home.append(
                StayedHome(kind, own, "what may leave of it says nothing by itself")
            )
            return self._stand_in(value)

    def _stand_in(self, value: Any) -> Any:
        """What stands for a value that stays home, None where nothing does."""
        return self.stand_ins.for_whole(value) if self.stand_ins else None

    def _why_not(self, value: Any) -> str:
        """Why a value may not leave at all, "" when it may."""
        visibility = getattr(value, "visibility", OPEN)
        if visibility not in self.allowed.visibility:
            return f"it is marked {visibility.partition('/')[2]}"
        if isinstance(value, Note) and not self.allowed.free_text and not value.may_leave:
            return "nobody has released this text"
        if isinstance(value, PartyRole) and value.party and self._is_hidden(value.party):
            # what a source calls somebody who may not be named is a name as well
            return "that party may not be named"
        return ""

    def _field(self, name: str, own: str, held: Any, empty: Any) -> Any:
        """What of a field may leave: itself, less, or its default; MISSING when it must not be empty."""
        if name not in self.allowed.fields:
            self.home.append(
                StayedHome(name, own, f"it is not in the list of {self.allowed.name}")
            )
            return empty
        if isinstance(held, str) and self._is_hidden(held):
            self.home.append(StayedHome(name, own, "that party may not be named"))
            return empty
        if isinstance(held, tuple) and held and isinstance(held[0], str):
            named = tuple(each for each in held if not self._is_hidden(each))
            if len(named) < len(held):
                self.home.append(StayedHome(name, own, "a party that may not be named"))
                return named
        if name == "Transcript.markup" and not self.allowed.free_text:
            bare = without_notes(held)
            if bare != held:
                self.home.append(StayedHome(name, own, "notes within a reading are free text"))
                self.with_notes[own] = held
                return bare
        if isinstance(held, tuple) and held and is_dataclass(held[0]):
            kept = tuple(found for each in held if (found := self.value(each)) is not None)
            same = len(kept) == len(held) and all(map(is_, kept, held))
            return held if same else kept
        return self.value(held) if type(held) in VALUES else held

    def _is_hidden(self, named: str) -> bool:
        return named.startswith("party/") and self.hidden(named)

    def _whole(self, value: Any, changed: dict[str, Any]) -> Any:
        """The value with these fields changed; a record points at nothing that stayed home."""
        if isinstance(value, Work | Job):
            for each in fields(value):
                changed.setdefault(each.name, getattr(value, each.name))
            self._forget_targets(changed)
        return replace(value, **changed)

    def _forget_targets(self, record: dict[str, Any]) -> None:
        """Take out of the fields of a record every pointer to what is not in it any more.

        A value that cannot do without its target goes as well, and then whatever points at that.
        """
        while True:
            inner = [each for held in record.values() for each in _values_of(held)]
            present = {each.id for each in inner if hasattr(each, "id")}
            if not any(
                pointer.target not in present for each in inner for pointer in pointers(each)
            ):
                return
            for name, held in record.items():
                record[name] = self._without(held, present)

    def _without(self, held: Any, present: Set[str]) -> Any:
        """What a field holds, without pointers to what is not present; None for a value that must go."""
        if isinstance(held, tuple):
            kept = tuple(
                found for each in held if (found := self._without(each, present)) is not None
            )
            return held if len(kept) == len(held) and all(map(is_, kept, held)) else kept
        if type(held) not in VALUES:
            return held
        changed: dict[str, Any] = {}
        for each in fields(held):
            inner = getattr(held, each.name)
            kept = self._without(inner, present)
            if kept is not inner:
                changed[each.name] = kept
        for pointer in pointers(held):
            if pointer.target in present:
                continue
            now = changed.get(pointer.field, getattr(held, pointer.field))
            if isinstance(now, tuple):
                changed[pointer.field] = tuple(each for each in now if each != pointer.target)
            elif any(
                each.name == pointer.field and each.default is MISSING for each in fields(held)
            ):
                return self._gone(held)
            else:
                changed[pointer.field] = None
        if not changed:
            return held
        try:
            return replace(held, **changed)
        except BadData:
            return self._gone(held)

    def _gone(self, value: Any) -> Any:
        self.home.append(
            StayedHome(type(value).__name__, value.id, "what it belongs to stayed home")
        )
        return self._stand_in(value)


def _without_the_notes(statement: Statement, markup: str) -> Statement | None:
    """The statement where its letters stand once the notes are out of the markup, None if they went too."""
    start = len(without_notes(markup[: statement.start]))
    letters = without_notes(markup[statement.start : statement.end])
    end = start + len(letters)
    if not letters or without_notes(markup)[start:end] != letters:
        return None
    return replace(statement, start=start, end=end)


def _values_of(held: Any) -> Iterator[Any]:
    for each in held if isinstance(held, tuple) else (held,):
        if type(each) in VALUES:
            yield from values_within(each)


def listed_fields() -> frozenset[str]:
    """Every `Value.field` of every kind of value: what profiles choose from."""
    return frozenset(
        f"{kind.__name__}.{each.name}"
        for kind in VALUES
        for each in fields(kind)
        if each.name != "id"
    )
