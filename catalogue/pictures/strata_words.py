"""A stratigraphy in words: each thing in a sentence, from the bottom up, and the circles of the record.

What the picture shows, for whoever reads or hears it. Every word is in vocab/pictures.toml.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from catalogue.argument import Interval
from catalogue.argument.stratigraphy import PAINTING, Bed, Stratigraphy
from catalogue.pictures.spells import when
from catalogue.pictures.words import table
from catalogue.terms import label

WhenOf = Callable[[str], "Interval | None"]
"""Between which days something came, by its id; None or open where nobody knows."""


@dataclass(frozen=True, slots=True)
class Told:
    """One line of the list: the id of the bed, its words, whether it is part of a circle."""

    bed: str
    words: str
    in_circle: bool


def in_order(found: Stratigraphy) -> tuple[Bed, ...]:
    """The beds from the bottom up, those of one level in the record's order."""
    return tuple(sorted(found.beds, key=lambda bed: found.level[bed.id]))


def told(found: Stratigraphy, when_of: WhenOf) -> tuple[Told, ...]:
    """The same as sentences, from the bottom up: what each thing stands on, and lies over."""
    ringed = {bed for circle in found.circles for bed in circle}
    return tuple(
        Told(bed.id, sentence(bed, found, when_of), bed.id in ringed) for bed in in_order(found)
    )


def circles_told(found: Stratigraphy) -> tuple[str, ...]:
    """Each circle of the record in words: which things lie over each other, and what to do."""
    words = table("strata")
    return tuple(
        words["circle"].format(
            beds=_listed([named(found.bed(each)) for each in circle]),
            statements="; ".join(
                words["closing"].format(
                    upper=named(found.bed(each.upper)),
                    how=words["how"][each.how],
                    lower=named(found.bed(each.lower)),
                )
                for each in found.overs
                if each.upper in circle and each.lower in circle
            ),
        )
        for circle in found.circles
    )


def named(bed: Bed) -> str:
    """What it is called, and what it is: "I3 dealer's label"."""
    words = table("strata")["painting"] if bed.id == PAINTING else bed.words
    return f"{bed.called} {words}".strip()


def sentence(bed: Bed, found: Stratigraphy, when_of: WhenOf) -> str:
    """All that the picture says of one thing."""
    words = table("strata")
    told = [named(bed)]
    if bed.bearer:
        told.append(words["on"].format(bearer=named(found.bed(bed.bearer))))
    for how, says in words["how"].items():
        below = [
            named(found.bed(each.lower)) for each in found.below(bed.id) if each.how == how
        ]
        if below:
            told.append(f"{says} {_listed(below)}")
    above = [
        named(found.bed(each.upper)) for each in found.above(bed.id) if each.how != "removes"
    ]
    if above:
        told.append(words["beneath"].format(above=_listed(above)))
    off = [
        named(found.bed(each.upper)) for each in found.above(bed.id) if each.how == "removes"
    ]
    if off:
        told.append(words["taken_off"].format(step=_listed(off)))
    if bed.bearer and not found.above(bed.id) and not found.below(bed.id):
        told.append(words["alone"])
    told += filter(None, (_when(when_of(bed.id)), _state(bed)))
    return "; ".join(told)


def in_short(days: Interval | None) -> str:
    """The years in which something came, as short as they can be said; "" where none is known.

    >>> from catalogue.measure import Day
    >>> in_short(Interval(Day(1912, 1, 1), Day(1934, 6, 1))), in_short(Interval(None, Day(1912, 1, 1)))
    ('1912–1934', 'by 1912')
    """
    first, last = (days.earliest, days.latest) if days else (None, None)
    told = table("strata")["years"]
    if first and last:
        how = "one" if first.year == last.year else "between"
    else:
        how = "from" if first else "until" if last else "unknown"
    said: str = told[how]
    return said.format(first=first and first.year, last=last and last.year)


def _when(days: Interval | None) -> str:
    return when(days) if days and (days.earliest or days.latest) else ""


def _state(bed: Bed) -> str:
    """What became of it; nothing is said of what is simply there."""
    if bed.state is None or bed.state in table("strata")["untold_states"]:
        return ""
    return str(table("strata")["state"]).format(state=label(bed.state))


def _listed(names: list[str]) -> str:
    """Names in a row: "I1, I2 and R1"."""
    last = table("strata")["and"]
    return f" {last} ".join(filter(None, (", ".join(names[:-1]), names[-1])))
