"""The chain of hands of a work, put together: holdings with names, passages, windows, questions asked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from catalogue.argument.chain import words
from catalogue.argument.chain.coverage import Coverage, coverage
from catalogue.argument.chain.diligence import Asked, diligence
from catalogue.argument.chain.grades import downgraded, is_supported
from catalogue.argument.chain.held import Held, held
from catalogue.argument.chain.holders import Names, tenures
from catalogue.argument.chain.passages import Passage, passages
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.tightened import tightened
from catalogue.argument.chain.windows import Window, default_windows, window
from catalogue.argument.spans import Interval
from catalogue.argument.timing.solving import Chronology
from catalogue.errors import BadData
from catalogue.measure import Day, read_date, why_not
from catalogue.record import ProvenanceEvent, Work

__all__ = ["Asked", "Covered", "Hands", "Held", "asked", "asked_span", "hands", "held_by"]


@dataclass(frozen=True, slots=True)
class Covered:
    """One window: how much of it is known in anybody's hands, and how much in an owner's."""

    window: Window
    known: Coverage
    owned: Coverage

    def says(self) -> tuple[str, ...]:
        """Both in words; the last sentence says what a gap is not."""
        *figures, closing = self.known.says()
        if self.known.level == "not-concerned":
            return self.known.says()
        owner = words.say(
            "coverage",
            "owner",
            proven_days=words.days(self.owned.proven_days),
            proven=self.owned.proven_percent,
            possible_days=words.days(self.owned.possible_days),
            possible=self.owned.possible_percent,
        )
        return (*figures, owner, closing)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """The chain of one work. `unsupported` are events for which nothing is cited.

    `downgraded` are neighbours recorded as joined directly without evidence of grade A or B.
    """

    tenures: tuple[Tenure, ...]
    passages: tuple[Passage, ...]
    windows: tuple[Covered, ...]
    unsupported: tuple[ProvenanceEvent, ...]
    downgraded: tuple[tuple[ProvenanceEvent, ProvenanceEvent], ...]


def hands(
    work: Work,
    names: Names = str,
    keys: Iterable[str] = (),
    solved: Chronology | None = None,
) -> Hands:
    """The chain of hands of a work; `keys` are the windows to look at, none: those that always are.

    With its chronology `solved` the holdings have the days that all evidence together leaves them.
    Raises `NotOnFile` for a window that vocab/windows.toml does not have.
    """
    found = tenures(work, names)
    if solved is not None:
        found = tightened(found, solved)
    wanted = tuple(map(window, keys)) or default_windows()
    owners = tuple(each for each in found if each.owns)
    return Hands(
        tenures=found,
        passages=passages(found),
        windows=tuple(
            Covered(each, coverage(found, each, work.made), coverage(owners, each, work.made))
            for each in wanted
        ),
        unsupported=tuple(each for each in work.provenance if not is_supported(each)),
        downgraded=tuple(downgraded(work)),
    )


def held_by(work: Work, when: str | Day, names: Names = str) -> Held:
    """Who had a work on a day, or over some. Raises `BadData` for what is no day."""
    return held(tenures(work, names), asked_span(when))


def asked(work: Work, names: Names = str) -> tuple[Asked, ...]:
    """The questions of due diligence about a work, with what is on file."""
    return diligence(work, tenures(work, names), names)


def asked_span(said: str | Day) -> Interval:
    """The days that a question is about: "1929", "3 March 1936", "1933-1945". Raises `BadData`.

    >>> asked_span("1929").latest.iso
    '1929-12-31'
    """
    if isinstance(said, Day):
        return Interval(said, said)
    span = read_date(said, circa=0)
    if span is None:
        raise BadData(
            f"{said!r} is no day: {why_not(said)}", remedy="write it as 1936-03-03 or 1929"
        )
    if span.earliest is None or span.latest is None:
        raise BadData(f"{said!r} has no two ends", remedy="say from which day to which")
    return Interval(span.earliest, span.latest)
