"""Events and claims in the words of vocab/chronology.toml, and the few shapes that bounds have."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness, Instant
from catalogue.measure import Day
from catalogue.places import table
from catalogue.terms import label, within

Bounds = tuple[AtLeast, ...]
Said = Event | Claim
"""What the modules beside this one find in a record, one after the other."""

FIRM: Final = {"hard": Firmness.HARD, "likely": Firmness.LIKELY, "weak": Firmness.WEAK}
YEAR_DAYS: Final = 366


def settings(name: str) -> int:
    """A figure of the table."""
    return int(table("chronology.toml")["settings"][name])


def terms(name: str) -> tuple[str, ...]:
    """Terms that the rules go by.

    >>> terms("created")
    ('provenance/creation',)
    """
    return tuple(table("chronology.toml")["terms"][name])


def is_one(term: str | None, name: str) -> bool:
    """Whether a term is one of these terms of the table, or narrower.

    >>> is_one("inscription/dealer-label", "label"), is_one("inscription/stamp", "label")
    (True, False)
    """
    return term is not None and within(term, *terms(name))


def called(value: Any) -> str:
    """What people call a value: its number, the place of a layer, else what it is.

    >>> from catalogue.record import Layer, Part
    >>> called(Part(kind="part/stretcher")), called(Layer(kind="layer/ground", position=3))
    ('the stretcher', 'layer 3')
    """
    number = _number(value)
    return number or table("chronology.toml")["names"]["without"].format(kind=label(value.kind))


def named(value: Any) -> str:
    """A value by its number and what it is: "I3 (dealer's label)", "layer 3 (ground)", "the stretcher"."""
    number = _number(value)
    if number is None:
        return called(value)
    said: str = table("chronology.toml")["names"]["with"]
    return said.format(number=number, kind=label(value.kind))


def facts_of(value: Any) -> dict[str, str]:
    """A value as the sentences about it want it: what it is (`what`), and how people call it."""
    return {"what": named(value), "called": called(value)}


def _number(value: Any) -> str | None:
    position = getattr(value, "position", None)
    if position is not None:
        said: str = table("chronology.toml")["names"]["layer"]
        return said.format(position=position)
    number: str | None = getattr(value, "number", None)
    return number


def event(kind: str, event_id: str, called: str, what: str, *, moment: bool = False) -> Event:
    """An event of a kind of the table, with what it is in words."""
    words = table("chronology.toml")["events"][kind]["words"].format(what=what)
    return Event(id=event_id, kind=kind, called=called, words=words, moment=moment)


def claim(
    kind: str,
    whose: str,
    bounds: Iterable[AtLeast],
    rests_on: Iterable[str],
    firmness: Firmness | None = None,
    source: str | None = None,
    /,
    **facts: str,
) -> Claim:
    """A claim of a kind of the table, its braces filled in; `whose` makes its key the only one.

    `firmness` and `source` stand where the table cannot know them.
    """
    row = table("chronology.toml")["claims"][kind]
    return Claim(
        key=f"{kind}:{whose}",
        words=row["words"].format(**facts),
        bounds=tuple(bounds),
        firmness=FIRM[row["firm"]] if firmness is None else firmness,
        rests_on=tuple(dict.fromkeys(rests_on)),
        source=row["source"] if source is None else source,
        resolve=row["resolve"].format(**facts),
    )


# --- bounds ---------------------------------------------------------------------------------------


def not_before(instant: Instant, day: Day | None, slack: int = 0) -> Bounds:
    """That an instant is on the day or later, or up to `slack` days earlier; nothing for no day."""
    return (AtLeast(None, instant, day.ordinal - slack),) if day else ()


def not_after(instant: Instant, day: Day | None, slack: int = 0) -> Bounds:
    """That an instant is on the day or earlier, or up to `slack` days later; nothing for no day."""
    return (AtLeast(instant, None, -day.ordinal - slack),) if day else ()


def between(began: Instant, earliest: Day | None, ended: Instant, latest: Day | None) -> Bounds:
    """That all of something lies between two days."""
    return (*not_before(began, earliest), *not_after(ended, latest))


def after(earlier: Instant, later: Instant, slack: int = 0) -> Bounds:
    """That one instant is not before another, or up to `slack` days before it."""
    return (AtLeast(earlier, later, -slack),)


def together(first: Instant, second: Instant) -> Bounds:
    """That two instants are one day."""
    return (AtLeast(first, second, 0), AtLeast(second, first, 0))


def softer(*several: Firmness) -> Firmness:
    """The softest of some."""
    return min(several)
