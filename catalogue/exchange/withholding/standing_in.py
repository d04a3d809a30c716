"""What is left standing in a provenance for what may not leave, so that it is not taken for unknown.

A name becomes a private collection, evidence says that it is not shown, a whole event leaves its
place: a chain stays as long as it is, and what was joined directly stays joined.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from catalogue import places
from catalogue.argument.prose.blocks import country_of
from catalogue.measure import DateSpan, read_date
from catalogue.record import Evidence, PartyRole, ProvenanceEvent, Work


@dataclass(frozen=True, slots=True)
class StandIns:
    """The words of vocab/provenance_words.toml for what is withheld; `country` says where a place is."""

    country: Callable[[str | None], str | None] = country_of

    def for_whole(self, value: Any, letter: str = "") -> Any:
        """What stands for a value none of which may leave, None where nothing does.

        `letter` is the first letter of a name of which so much may be told.
        """
        match value:
            case PartyRole():
                return PartyRole(
                    id=value.id, role=value.role, written=letter or _said("withheld_name"),
                    place=self.country(value.place),
                )  # fmt: skip
            case ProvenanceEvent():
                return ProvenanceEvent(
                    id=value.id,
                    number=value.number,
                    order=value.order,
                    kind="provenance/unknown",
                    passage=value.passage,
                    parties=(_somebody(value),),
                    when=_in_figures(value.when),
                    until=_in_figures(value.until),
                    evidence=(_something(value.evidence[0]),),
                )
            case Evidence():
                return _something(value)
        return None

    def completed(self, value: Any, changed: dict[str, Any]) -> dict[str, Any]:
        """The changes to a value, with what must stand for what they leave out of it."""
        if isinstance(value, ProvenanceEvent):
            if changed.get("evidence") == ():
                changed["evidence"] = (_something(value.evidence[0]),)
            now = changed.get("parties", value.parties)
            if any(each not in value.parties for each in now):
                # where somebody lived, and the words that say how it passed, tell who it was
                at = changed.get("at", value.at)
                changed |= {"at": self.country(at), "place": None, "phrase": None}
        return changed


def without_stand_ins(arriving: Work, on_file: Work) -> Work:
    """A record that comes back, with what is on file in place of whatever stands for it.

    Nobody may learn from a "private collection" of our own that the person on file was called so.
    """
    known = {event.id: event for event in on_file.provenance}
    provenance = tuple(
        _as_known(event, known[event.id]) if event.id in known else event
        for event in arriving.provenance
    )
    return replace(arriving, provenance=provenance)


def _as_known(event: ProvenanceEvent, known: ProvenanceEvent) -> ProvenanceEvent:
    roles = {role.id: role for role in known.parties}
    parties = tuple(
        roles.get(role.id, role) if _stands_in(role, roles.get(role.id)) else role
        for role in event.parties
        if role.id in roles or role.written != _said("withheld_name")
    )
    sources = {each.id: each for each in known.evidence}
    evidence = tuple(
        sources.get(each.id, each) if each.text == _said("withheld_evidence") else each
        for each in event.evidence
    )
    return replace(event, parties=parties, evidence=evidence)


def _stands_in(role: PartyRole, known: PartyRole | None) -> bool:
    """Whether a role says less of who it was than is on file: words, an initial, for a party."""
    return (
        known is not None
        and role.party is None
        and (known.party is not None or role.written == _said("withheld_name"))
    )


def _said(which: str) -> str:
    said: str = places.table("provenance_words.toml")["notes"][which]
    return said


def _in_figures(when: DateSpan | None) -> DateSpan | None:
    """A date without words that somebody may have put beside it."""
    if when is None or read_date(when.written) == when:
        return when
    return replace(when, written=when.edtf)


def _something(evidence: Evidence) -> Evidence:
    """Evidence that is there, of which no more is told than its kind and its grade."""
    if evidence.kind == "evidence/none-cited":
        return replace(evidence, visibility="visibility/open")
    return Evidence(
        id=evidence.id,
        kind=evidence.kind,
        text=_said("withheld_evidence"),
        strength=evidence.strength,
    )


def _somebody(event: ProvenanceEvent) -> PartyRole:
    first = event.parties[0].id if event.parties else str(uuid5(NAMESPACE_URL, event.id))
    return PartyRole(id=first, role="capacity/unknown", written=_said("withheld_name"))
