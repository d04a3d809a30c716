"""Every question of the borders and of the rights in a work, asked of one record."""

from __future__ import annotations

from catalogue.argument.borders.asked import Advice, Journey
from catalogue.argument.borders.licences import coming_in, leaving
from catalogue.argument.borders.rights import image_rights, resale
from catalogue.argument.borders.species import materials, protected
from catalogue.measure import DateSpan
from catalogue.record import Work


def before_it_travels(
    work: Work, journey: Journey, *, maker: str = "", died: DateSpan | None = None
) -> tuple[Advice, ...]:
    """What is to be asked before a work goes from somewhere to somewhere, or is sold.

    `maker` is the name of who is said to have made it, "" where nobody knows; `died` when, None
    where no death is on file. Answers rest on the record alone: what it doesn't say is asked for.
    """
    made_of = {key for key, _ in materials(work)}
    return (
        *leaving(work.made, made_of, journey),
        *coming_in(work.made, journey),
        protected(work),
        image_rights(maker, died, journey),
        resale(maker, died, journey),
    )
