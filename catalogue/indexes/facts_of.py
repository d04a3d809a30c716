"""What can be filtered and counted of a value: its facts and figures, read off its fields.

Which field gives which fact is a table (`FACTS`, `FIGURES`); a term gives its broader terms too, so
that a straight tear is also a tear. A fact's key is a term's key, a document's id, or a text folded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, cast

from catalogue.places import table
from catalogue.reading import fold
from catalogue.record import PartyRole
from catalogue.record.rules import Documents, FieldRule, Terms, fields_of
from catalogue.terms import concept, known

Fact = tuple[str, str]
Figure = tuple[str, float]

FACTS: Mapping[str, tuple[str, ...]] = {
    "Work.materials": ("material",),
    "Inscription.face": ("face",),
    "Inscription.techniques": ("technique",),
    "Inscription.languages": ("language",),
    "Inscription.hand": ("hand",),
    "Inscription.shape": ("shape",),
    "Inscription.colours": ("colour",),
    "Inscription.paper": ("paper",),
    "Inscription.adhesive": ("adhesive", "material"),
    "Inscription.edge": ("edge",),
    "Transcript.light": ("light",),
    "Location.face": ("face",),
    "Part.kind": ("part",),
    "Part.materials": ("material",),
    "Layer.kind": ("layer",),
    "Layer.materials": ("material",),
    "ConditionCheck.occasion": ("occasion",),
    "ConditionCheck.lights": ("light",),
    "Finding.layer": ("layer",),
    "Finding.cause": ("cause",),
    "Observation.severity": ("severity",),
    "Observation.change": ("change",),
    "PriorRepair.materials": ("material",),
    "PriorRepair.adhesive": ("adhesive", "material"),
    "PriorRepair.decision": ("decision",),
    "PriorRepair.effects": ("outcome",),
    "Test.result": ("outcome",),
    "Response.layer": ("layer",),
    "Response.seen": ("outcome",),
    "Step.kind": ("step",),
    "MaterialUse.material": ("material", "agent"),
    "MaterialUse.lot": ("lot",),
    "MaterialUse.product": ("product",),
    "ProvenanceEvent.lot": ("lot",),
    "ProvenanceEvent.certainty": ("certainty",),
    "Exhibition.organiser": ("firm",),
    "Exhibition.lender": ("owner",),
    "Inquiry.result": ("outcome",),
    "Movement.keeper": ("person",),
    "Movement.reason": ("movement",),
    "Photo.view": ("view",),
    "Photo.face": ("face",),
    "Photo.light": ("light",),
    "Photo.stage": ("stage",),
    "Paper.kind": ("paper-kind",),
    "Paper.sender": ("person",),
    "Party.roles": ("role",),
    "Job.client": ("client", "person"),
    "Job.client_kind": ("client-kind",),
    "Job.owner": ("owner", "person"),
    "Job.depositor": ("person",),
    "Job.reason": ("reason",),
    "Piece.state": ("state",),
    "Risk.kind": ("risk",),
}
"""Which fields give which facts."""

BY = ("by", "said_by")
"""Fields that name who did, read or said something, where they name a party."""

FIGURES: Mapping[str, str] = {
    "Observation.length_mm": "length",
    "Observation.gap_mm": "gap",
    "Observation.depth_mm": "depth",
    "Observation.area_mm2": "area",
    "Observation.count": "count",
    "Test.ph": "ph",
    "Test.dwell_s": "dwell",
    "Test.temperature_c": "temperature",
    "Step.surface_temperature_c": "temperature",
    "Step.set_temperature_c": "set-temperature",
    "Step.humidity_percent": "humidity",
    "Step.dwell_s": "dwell",
    "Step.ph": "ph",
    "MaterialUse.concentration_percent": "concentration",
    "ConditionCheck.temperature_c": "temperature",
    "ConditionCheck.humidity_percent": "humidity",
    "Inscription.orientation": "orientation",
    "Photo.light_from": "angle",
    "Departure.cost": "cost",
}
"""Which fields give which figures, in their own units."""

OWNERS = frozenset(f"capacity/{each}" for each in ("owner", "buyer", "heir", "donor", "seller", "lender", "commissioner"))  # fmt: skip  # noqa: E501
FIRMS = frozenset(f"capacity/{each}" for each in ("dealer", "agent", "auctioneer"))


@dataclass(frozen=True, slots=True)
class Worked:
    """What was worked out about a value or a whole work, beside what its own fields say.

    `own` are the first and the last day of the statement itself, None where nothing was worked out.
    """

    facts: tuple[Fact, ...] = ()
    figures: tuple[Figure, ...] = ()
    own: tuple[int | None, int | None] | None = None


NOTHING = Worked()

Known = Mapping[str, Worked]
"""What was worked out beside the record, by the id of a value or of the work."""


def facts_of(values: Iterable[Any]) -> Iterator[Fact]:
    """The facts that the fields of these values give.

    >>> from catalogue.record import Photo
    >>> sorted(facts_of([Photo(file_name="a.jpg", light="light/raking", face="face/stretcher-bar")]))
    ... # doctest: +NORMALIZE_WHITESPACE
    [('face', 'face/back'), ('face', 'face/stretcher-bar'), ('light', 'light/raking'),
     ('view', 'view/whole')]
    """
    for value in values:
        for name, fields, how in _plan(cast("Any", type(value))).facts:
            held = getattr(value, name)
            if held is None or held == ():
                continue
            for each in held if isinstance(held, tuple) else (held,):
                for key in how(each):
                    for field in fields:
                        yield field, key
        if isinstance(value, PartyRole):
            yield from _of_role(value)


def figures_of(values: Iterable[Any]) -> Iterator[Figure]:
    """The figures that the fields of these values give."""
    for value in values:
        for name, figure in _plan(cast("Any", type(value))).figures:
            held = getattr(value, name)
            if held is not None:
                yield figure, float(held)


def kinds(kind: str, *others: str) -> Iterator[Fact]:
    """The facts of what an entry is: its kind, the broader ones, and the group that they are in.

    >>> list(kinds("step/patch-heat-set"))[:2]
    [('kind', 'step'), ('kind', 'step/patch-heat-set')]
    """
    for each in (kind, *others):
        group, stroke, _ = each.partition("/")
        yield "kind", group
        if stroke:
            for key in chain(each):
                yield "kind", key


@cache
def chain(key: str) -> tuple[str, ...]:
    """A term and the broader ones, the narrowest first; a foreign term is itself alone."""
    found = [key]
    while known(found[-1]) and (broader := concept(found[-1]).broader):
        found.append(broader)
    return tuple(found)


def key_of(text: str) -> str:
    """A text as a fact's key: folded, with single spaces."""
    return " ".join(fold(text).split())


def sides(face: str) -> tuple[str, ...]:
    """A face, and the side that it lies on: a stretcher bar is on the back."""
    lying: dict[str, list[str]] = table("covering.toml")["sides"]
    side = next((f"face/{side}" for side, faces in lying.items() if face in faces), face)
    return tuple(dict.fromkeys((*chain(face), side)))


def _of_role(role: PartyRole) -> Iterator[Fact]:
    if role.party is None:
        yield "named", key_of(role.written or "")
        return
    yield "person", role.party
    if role.role in OWNERS:
        yield "owner", role.party
    if role.role in FIRMS:
        yield "firm", role.party


def _text(held: Any) -> tuple[str, ...]:
    return (key_of(str(held)),)


def _tongue(tag: str) -> tuple[str, ...]:
    """The term of a language, whatever its region; a tag without a term is itself."""
    term = f"language/{tag.partition('-')[0].lower()}"
    return (term,) if known(term) else _text(tag)


def _itself(held: Any) -> tuple[str, ...]:
    return (str(held),)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The fields of a type that give facts, with how to make keys of them, and those that give figures."""

    facts: tuple[tuple[str, tuple[str, ...], Callable[[Any], tuple[str, ...]]], ...]
    figures: tuple[tuple[str, str], ...]


@cache
def _plan(kind: Any) -> _Plan:
    """How to read the facts and the figures off a value of this type."""
    facts: list[tuple[str, tuple[str, ...], Callable[[Any], tuple[str, ...]]]] = []
    figures: list[tuple[str, str]] = []
    for rule in fields_of(kind):
        where = f"{kind.__name__}.{rule.name}"
        names = FACTS.get(where, ("person",) if _names_somebody(rule) else ())
        if names:
            facts.append((rule.name, names, _way(names, rule)))
        if where in FIGURES:
            figures.append((rule.name, FIGURES[where]))
    return _Plan(tuple(facts), tuple(figures))


def _names_somebody(rule: FieldRule) -> bool:
    return rule.name in BY and rule.rule(Documents) is not None


def _way(names: tuple[str, ...], rule: FieldRule) -> Callable[[Any], tuple[str, ...]]:
    if names == ("face",):
        return sides
    if names == ("language",):
        return _tongue
    if rule.rule(Terms):
        return chain
    return _itself if rule.rule(Documents) else _text
