"""What an inscription may lie over or run across: the choices of the reading page, and what was ticked."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.desk.calling import called
from catalogue.record import Inscription, Work

Choice = tuple[str, str]
"""The id of a value, and what to call it."""


def beneath(work: Work, inscription: Inscription | None) -> list[Choice]:
    """Everything that may lie beneath an inscription: the other inscriptions, the earlier repairs.

    >>> from catalogue.record import PriorRepair
    >>> tape = PriorRepair(number="R1", kind="repair/tape")
    >>> label = Inscription(number="I1", kind="inscription/label", face="face/back")
    >>> [name for _, name in beneath(Work(repairs=(tape,), inscriptions=(label,)), label)]
    ['R1 tape']
    """
    own = inscription.id if inscription else None
    written = [(each.id, called(each)) for each in work.inscriptions if each.id != own]
    return [*written, *((each.id, called(each)) for each in work.repairs)]


def joined(work: Work, inscription: Inscription | None) -> list[Choice]:
    """Everything whose join an inscription may run across: those, and the parts and layers."""
    parts = [(each.id, called(each)) for each in work.parts]
    layers = [(each.id, called(each)) for each in work.layers]
    return [*beneath(work, inscription), *parts, *layers]


def ticked(
    held: Iterable[str], typed: Iterable[str], offered: Iterable[Choice]
) -> tuple[str, ...]:
    """Those ticked, and those held that the page does not offer because they lead elsewhere."""
    shown = {own for own, _ in offered}
    return (*(each for each in held if each not in shown), *typed)
