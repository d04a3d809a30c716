"""Whose names in a provenance stay home, though the profile lists names: vocab/withholding.toml.

A private person who may be living is not named without consent; whoever had the painting after it
was last seen in public is not named, person or family; somebody who died lately is named in full only
where the name was published, else by its first letter. Firms, museums and trades are named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from catalogue.exchange.withholding.lives import Life, Lives, life_of, rules, years
from catalogue.measure import Day, read_name
from catalogue.record import Party, PartyRole, ProvenanceEvent

CITED = "evidence/citation"
LIVING, LAST_OWNER, LATELY_DEAD = "living", "last_owner", "lately_dead"


@dataclass(frozen=True, slots=True)
class Withheld:
    """Why a name stays home (a key of `[why]`), and the first letter that may stand for it ("" for none)."""

    why: str
    letter: str = ""


def withheld_names(events: tuple[ProvenanceEvent, ...], lives: Lives) -> dict[str, Withheld]:
    """Which parts in the events of a chain may not be named, by the id of the part."""
    names = rules()["names"]
    in_public = [at for at, each in enumerate(events) if each.kind in names["public_events"]]
    last_seen = in_public[-1] if in_public else len(events) - 2
    found: dict[str, Withheld] = {}
    for at, event in enumerate(events):
        for role in event.parties:
            why = _why(role, event, lives, after_the_public=at > last_seen)
            if why:
                found[role.id] = why
    return found


def may_be_private(party: Party) -> bool:
    """Whether somebody on file is nobody that the public knows by their trade."""
    return not set(party.roles) & set(rules()["names"]["public_roles"])


def may_not_be_told(party: Party, lives: Lives) -> bool:
    """Whether somebody whom a field outside a chain names stays unnamed: private, perhaps living, unasked."""
    return (
        bool(set(party.roles) & set(rules()["names"]["private_roles"]))
        and may_be_private(party)
        and not consents(party, lives)
        and lives.may_live(lives.of(party.document))
    )


def consents(party: Party, lives: Lives, to: str = "name") -> bool:
    """Whether somebody agreed that their name (or `to`: address) is told, and has not taken it back."""
    wanted = rules()["consents"][to]
    return any(each.to == wanted and each.holds_on(lives.today) for each in party.consents)


def _why(
    role: PartyRole, event: ProvenanceEvent, lives: Lives, *, after_the_public: bool
) -> Withheld | None:
    if role.role in rules()["names"]["trade_capacities"]:
        return None
    on_file = lives.party(role.party) if role.party else None
    if on_file is not None and (not may_be_private(on_file) or consents(on_file, lives)):
        return None
    if not _is_a_person(role, on_file):
        return Withheld(LAST_OWNER) if after_the_public else None
    life = lives.of(role.party) if on_file else life_of(role.life)
    if not after_the_public and life == Life():
        # Whoever held it so long ago was born before.
        life = Life(born=_last_day(event))
    if lives.may_live(life):
        return Withheld(LAST_OWNER if after_the_public else LIVING)
    if life.died and not lives.is_past(life.died, years("lately_dead")):
        published = event.kind in rules()["names"]["public_events"] or any(
            each.kind == CITED for each in event.evidence
        )
        return None if published else Withheld(LATELY_DEAD, _first_letter(role, on_file))
    return None


def _is_a_person(role: PartyRole, on_file: Party | None) -> bool:
    """Whether a part is a person's; a name that says nothing is taken for one."""
    if on_file is not None:
        return on_file.kind == "person"
    return read_name(role.written or "").kind in ("person", "unknown")


def _last_day(event: ProvenanceEvent) -> Day | None:
    return event.when.latest if event.when else None


def _first_letter(role: PartyRole, on_file: Party | None) -> str:
    """The first letter of a family name, with its stop."""
    family = next(_families(role, on_file), "")
    return f"{family[0].upper()}." if family else ""


def _families(role: PartyRole, on_file: Party | None) -> Iterator[str]:
    for name in (on_file.name() if on_file else None, role.written):
        if name:
            yield read_name(name).family or name
