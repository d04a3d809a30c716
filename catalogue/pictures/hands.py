"""What the chain of hands puts into a timeline: windows that matter, and gaps between holdings."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.argument.chain.passages import Passage
from catalogue.argument.chain.windows import Window
from catalogue.argument.chain.words import days, span, together
from catalogue.pictures.rows import Band, Gap
from catalogue.pictures.words import table


def bands_of(windows: Iterable[Window]) -> tuple[Band, ...]:
    """The windows as they stand behind a timeline."""
    return tuple(Band(each.name, each.first, each.last) for each in windows)


def gaps_of(passages: Iterable[Passage], href: str | None = None) -> tuple[Gap, ...]:
    """Each certain gap, below the holding that it follows; `href` is where the chain is shown."""
    told = table("chronology")
    found = []
    for each in passages:
        if each.gap is None or each.gap.earliest is None or each.gap.latest is None:
            continue
        before, after = (together(it.name for it in held) for held in (each.before, each.after))
        figures = {"span": span(each.gap), "days": days(each.gap_days)}
        found.append(
            Gap(
                after=each.before[-1].event,
                words=told["gap"].format(**figures),
                said=told["gap_said"].format(before=before, after=after, **figures),
                earliest=each.gap.earliest,
                latest=each.gap.latest,
                href=href,
            )
        )
    return tuple(found)
