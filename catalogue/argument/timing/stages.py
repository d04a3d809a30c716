"""The stages of a mark: a label is printed, filled in and stuck on; anything else is written in one go."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from catalogue.argument.timing.claims import Event
from catalogue.argument.timing.saying import called, event, is_one, named
from catalogue.record import Inscription

STAGES: Final[Mapping[str, str]] = {"printing": "printed", "use": "filled", "presence": "there"}
"""What a reason can be about (`Reason.dates`), and the kind of event that it is."""


def written_event(mark: Inscription) -> Event:
    """The writing of a mark, or the fixing of a label."""
    return event("writing", mark.id, called(mark), named(mark), moment=True)


def is_label(mark: Inscription) -> bool:
    """Whether it was printed, filled in and stuck on, one after the other."""
    return is_one(mark.kind, "label")


def event_of(mark: Inscription, which: str) -> str:
    """The id of the event that a reason about `which` (printing, use, presence ...) is about."""
    stage = STAGES.get(which)
    if stage is None or (stage != "there" and not is_label(mark)):
        return mark.id
    return f"{mark.id}/{stage}"
