"""What lies over what on a painting: things on their bearers, in levels, the oldest at the bottom.

Whatever lies over, covers or runs across something came after it; a step that took something off
came after it too. Where the record goes round in a circle (A over B over A) the circle is told, and
levels are counted without the statements that close it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from catalogue.record import Inscription, Layer, Part, PriorRepair, Step, Treatment, Work
from catalogue.terms import label

How = Literal["over", "covers", "across", "removes"]
"""How one thing came after another: it lies over it, covers it, runs across it, took it off."""

PAINTING: Final = "painting"
"""The bearer of what sits on the painting itself, and on none of its parts."""

_Bearing = Inscription | PriorRepair | Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """One thing: what people call it ("I3"), what it is, and the id of what bears it.

    `bearer` is a part, a layer or PAINTING; None for a bearer itself. `state` is the last state on
    record (a term).
    """

    id: str
    called: str
    words: str
    bearer: str | None
    state: str | None = None


@dataclass(frozen=True, slots=True, order=True)
class Over:
    """That one thing came after another, and how."""

    upper: str
    lower: str
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class Stratigraphy:
    """Beds in the record's order, what lies over what, and the level of each (bearers: 0).

    `circles` are sets of beds that lie over each other in a ring; `against` are the statements
    that close the rings, left out of the counting of levels.
    """

    beds: tuple[Bed, ...]
    overs: tuple[Over, ...]
    level: Mapping[str, int]
    circles: tuple[tuple[str, ...], ...] = ()
    against: frozenset[Over] = frozenset()

    def bed(self, wanted: str) -> Bed:
        """The bed of this id."""
        return next(each for each in self.beds if each.id == wanted)

    def below(self, bed: str) -> tuple[Over, ...]:
        """What it lies over."""
        return tuple(each for each in self.overs if each.upper == bed)

    def above(self, bed: str) -> tuple[Over, ...]:
        """What lies over it."""
        return tuple(each for each in self.overs if each.lower == bed)


def stratigraphy(work: Work) -> Stratigraphy:
    """What lies over what, as the record says it.

    >>> from catalogue.record import Inscription
    >>> label = Inscription(number="I1", kind="inscription/label", face="face/back")
    >>> chalk = Inscription(
    ...     number="I2", kind="inscription/chalk-mark", face="face/back", lies_over=(label.id,)
    ... )
    >>> found = stratigraphy(Work(inscriptions=(label, chalk)))
    >>> [(bed.called, found.level[bed.id]) for bed in found.beds]
    [('', 0), ('I1', 1), ('I2', 2)]
    """
    parts: dict[str, Part | Layer] = {part.id: part for part in work.parts}
    parts |= {layer.id: layer for layer in work.layers}
    steps = {step.id: (treatment, step) for treatment, step in _steps(work)}
    things: dict[str, _Bearing] = {mark.id: mark for mark in work.inscriptions}
    things |= {repair.id: repair for repair in work.repairs}
    things |= {own: step for own, (_, step) in steps.items()}
    overs = tuple(
        dict.fromkeys(each for each in _overs(things) if each.lower in things | parts)
    )
    busy = {each.upper for each in overs}
    things = {own: thing for own, thing in things.items() if own not in steps or own in busy}
    bearers = _bearers(things, parts)
    touched = {bearers[each] for each in things} | {
        each.lower for each in overs if each.lower in parts
    }
    beds = [
        Bed(id=own, called="", words="", bearer=None) for own in (PAINTING,) if own in touched
    ]
    beds += [_of_part(each) for each in parts.values() if each.id in touched]
    for own, thing in things.items():
        treatment = steps[own][0] if own in steps else None
        beds.append(_of_thing(thing, treatment, bearers[own]))
    circles = _circles([bed.id for bed in beds], overs)
    against = frozenset(_closing(overs, circles))
    kept = [each for each in overs if each not in against]
    return Stratigraphy(
        beds=tuple(beds),
        overs=overs,
        level=_levels(beds, kept),
        circles=circles,
        against=against,
    )


def _steps(work: Work) -> Iterator[tuple[Treatment, Step]]:
    """The steps that cover something or took something off."""
    for treatment in work.treatments:
        for step in treatment.steps:
            if step.covers or step.removes:
                yield treatment, step


def _overs(things: Mapping[str, _Bearing]) -> Iterator[Over]:
    for own, thing in things.items():
        if isinstance(thing, Inscription):
            yield from (Over(own, each, "over") for each in thing.lies_over)
            yield from (Over(own, each, "across") for each in thing.across)
        else:
            yield from (Over(own, each, "covers") for each in thing.covers)
        if isinstance(thing, Step):
            yield from (Over(own, each, "removes") for each in thing.removes)


def _bearers(
    things: Mapping[str, _Bearing], parts: Mapping[str, Part | Layer]
) -> dict[str, str]:
    """What bears each thing; a step stands where the things stand that it touched."""
    found: dict[str, str] = {}
    for own, thing in things.items():
        if isinstance(thing, Inscription):
            part = thing.part
        else:
            part = thing.location.part if thing.location else None
        found[own] = part if part and part in parts else PAINTING
    for own, thing in things.items():
        if isinstance(thing, Step) and thing.location is None:
            touched = [*thing.covers, *thing.removes]
            where = {
                found.get(each, each) for each in touched if each in found or each in parts
            }
            if len(where) == 1:
                found[own] = where.pop()
    return found


def _of_part(part: Part | Layer) -> Bed:
    return Bed(id=part.id, called="", words=label(part.kind), bearer=None)


def _of_thing(thing: _Bearing, treatment: Treatment | None, bearer: str) -> Bed:
    if isinstance(thing, Step):
        called = treatment.label(thing) if treatment else ""
        return Bed(id=thing.id, called=called, words=label(thing.kind), bearer=bearer)
    last = thing.latest()
    return Bed(
        id=thing.id,
        called=thing.number or "",
        words=label(thing.kind),
        bearer=bearer,
        state=last.state if last else None,
    )


# --- order ------------------------------------------------------------------------------------------


def _circles(beds: Iterable[str], overs: Iterable[Over]) -> tuple[tuple[str, ...], ...]:
    """The sets of beds each of which can be reached from every other of its set, in order."""
    order = list(beds)
    down: dict[str, list[str]] = {each: [] for each in order}
    up: dict[str, list[str]] = {each: [] for each in order}
    alone = set()
    for each in overs:
        down[each.upper].append(each.lower)
        up[each.lower].append(each.upper)
        if each.upper == each.lower:
            alone.add(each.upper)
    done: list[str] = []
    seen: set[str] = set()
    for start in order:
        _walk(start, down, seen, done)
    found = []
    seen = set()
    place = {each: number for number, each in enumerate(order)}
    for start in reversed(done):
        members: list[str] = []
        _walk(start, up, seen, members)
        if len(members) > 1 or (members and start in alone):
            found.append(tuple(sorted(members, key=place.__getitem__)))
    return tuple(sorted(found, key=lambda each: place[each[0]]))


def _walk(
    start: str, ways: Mapping[str, Iterable[str]], seen: set[str], done: list[str]
) -> None:
    """Everything to be reached from `start` and not yet seen, each after what it leads to."""
    if start in seen:
        return
    seen.add(start)
    path = [(start, iter(ways[start]))]
    while path:
        here, onward = path[-1]
        following = next((each for each in onward if each not in seen), None)
        if following is None:
            done.append(here)
            path.pop()
        else:
            seen.add(following)
            path.append((following, iter(ways[following])))


def _closing(overs: Iterable[Over], circles: Iterable[tuple[str, ...]]) -> Iterator[Over]:
    """In each circle the statements that would close a ring of those before them."""
    ring = {bed: number for number, circle in enumerate(circles) for bed in circle}
    down: dict[str, list[str]] = {bed: [] for bed in ring}
    for each in overs:
        if each.upper not in ring or ring[each.upper] != ring.get(each.lower):
            continue
        reached: list[str] = []
        _walk(each.lower, down, set(), reached)
        if each.upper in reached:
            yield each
        else:
            down[each.upper].append(each.lower)


def _levels(beds: Iterable[Bed], overs: Iterable[Over]) -> dict[str, int]:
    """Bearers at 0, each thing one above the highest that it came after."""
    down: dict[str, list[str]] = {bed.id: [bed.bearer] if bed.bearer else [] for bed in beds}
    for each in overs:
        down[each.upper].append(each.lower)
    done: list[str] = []
    seen: set[str] = set()
    for bed in down:
        _walk(bed, down, seen, done)
    level: dict[str, int] = {}
    for bed in done:
        level[bed] = max((level[each] + 1 for each in down[bed]), default=0)
    return level
