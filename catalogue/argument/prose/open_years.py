"""Stretches of a chain in which nothing is established, as far as they touch years that matter.

Of days that are uncertain the wider stretch counts: what may be open is open. A gap is not an accusation.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from catalogue.argument.chain.grades import DIRECT, GAP
from catalogue.argument.chain.windows import default_windows
from catalogue.argument.prose.entries import Entry
from catalogue.argument.prose.wording import words
from catalogue.argument.spans import Interval
from catalogue.measure import Day


@dataclass(frozen=True, slots=True)
class Open:
    """Between entry `before` and the next nothing is established from `first` to `last`.

    Both are the last and first days that are; one is None where nothing on that side is dated.
    """

    before: int
    first: Day | None
    last: Day | None
    window: Interval

    @property
    def years(self) -> str:
        """The years in which it is open, as they are printed."""
        told = words("dates")
        if self.first is None or self.last is None:
            known, which = (
                (self.last, "before") if self.first is None else (self.first, "after")
            )
            return str(told[which].format(date=known.year)) if known else ""
        return f"{self.first.year}{told['to']}{self.last.year}"

    @property
    def window_years(self) -> str:
        """The years of the window."""
        ends = (self.window.earliest, self.window.latest)
        return "-".join(str(each.year) for each in ends if each)

    def note(self) -> str:
        """The footnote that the public form must carry."""
        told = words("gap")
        which = "note_before" if self.first is None else "note" if self.last else "note_after"
        years = {
            "first": self.first.year if self.first else "",
            "last": self.last.year if self.last else "",
        }
        return str(told[which].format(**years))

    def line(self, searched: Day | None) -> str:
        """The line of the internal form, with the day of the last search."""
        told = words("gap")
        said = told["searched"].format(day=searched.iso) if searched else ""
        line: str = told["line"].format(
            years=self.years, window=self.window_years, searched=said
        )
        return line


def windows_that_matter() -> tuple[Interval, ...]:
    """The windows of vocab/windows.toml that are looked at unasked and last longer than a day.

    >>> [(each.earliest.iso, each.latest.iso) for each in windows_that_matter()]
    [('1933-01-30', '1945-05-08')]
    """
    return tuple(
        Interval(each.first, each.last) for each in default_windows() if each.first < each.last
    )


def without_lines(entries: Iterable[Entry]) -> tuple[list[Entry], dict[int, str]]:
    """The entries of a chain, and the lines about open years that were read between them, as they stood.

    A line is told by the place of the entry before it.
    """
    begins = words("gap")["line"].partition("{")[0]
    kept: list[Entry] = []
    lines: dict[int, str] = {}
    for each in entries:
        # a line that was read together with what follows it stays an entry: no letter is lost
        alone = not any(map(str.isalpha, each.text[each.text.rfind("]") :]))
        if each.text.startswith(begins) and alone and kept:
            lines[len(kept) - 1] = each.text[: each.text.rfind("]") + 1]
            kept[-1] = replace(kept[-1], passage=GAP)
        else:
            kept.append(each)
    return kept, lines


def open_years(entries: Sequence[Entry], windows: Iterable[Interval]) -> tuple[Open, ...]:
    """Every place of a chain where a stretch that touches a window is not established.

    Of stretches that begin alike, because whoever comes between is not dated, the longest is told.
    """
    found = tuple(_stretches(entries, windows))
    later = {each.first: each for each in found}
    return tuple(each for each in found if later[each.first] is each)


def _stretches(entries: Sequence[Entry], windows: Iterable[Interval]) -> Iterator[Open]:
    asked = tuple(windows)
    # whoever comes later in the chain bounds whoever comes before
    since = _running((_known_until(each) for each in entries), max)
    until = _running((_known_from(each) for each in reversed(entries)), min)[::-1]
    for place, (entry, after) in enumerate(pairwise(entries)):
        first, last = since[place], until[place + 1]
        if entry.passage == DIRECT and not _let_go(entry, after, asked):
            continue
        if (first is None and last is None) or (first and last and first.year >= last.year):
            continue
        for window in asked:
            if _touches(first, last, window):
                yield Open(place, first, last, window)
                break


def _let_go(entry: Entry, after: Entry, windows: Iterable[Interval]) -> bool:
    """Whether the days say that somebody had let it go before years that matter, whatever else is said."""
    held = entry.until or (entry.when if _is_held_throughout(entry) else None)
    ends, begins = held.latest if held else None, after.when.earliest if after.when else None
    if ends is None or begins is None:
        return False
    return any(_touches(ends, begins, window) for window in windows)


def _running(days: Iterable[Day | None], choose: Callable[[Day, Day], Day]) -> list[Day | None]:
    """Each day as far as it goes beyond those before it, none standing for what is known so far."""
    found: list[Day | None] = []
    for day in days:
        known = found[-1] if found else None
        found.append(choose(known, day) if known and day else day or known)
    return found


def _touches(known: Day | None, begins: Day | None, window: Interval) -> bool:
    """Whether a day strictly between lies in the window."""
    first = known.beside(1) if known else None
    last = begins.beside(-1) if begins else None
    if first and last and first > last:
        return False
    return Interval(first, last).within(window) is not None


def _is_held_throughout(entry: Entry) -> bool:
    """Whether its years are those of a holding: prose as found, "1925-1938", not a label's date."""
    # a sale or an agent of 1925-1938 is of a day between the two
    through = any(each.role in words("roles")["inside"] for each in entry.parties)
    worded = entry.phrase or words("kinds").get(entry.kind) or through
    alone = entry.event is None and entry.until is None and not worded
    return alone and entry.when is not None and "/" in entry.when.edtf


def _known_until(entry: Entry) -> Day | None:
    """The last day on which an entry says for certain that it was there."""
    if entry.until:
        return entry.until.earliest or entry.until.latest
    if entry.when is None or entry.when.rule == "before":
        return None
    if _is_held_throughout(entry):
        return entry.when.latest or entry.when.earliest
    return entry.when.earliest or entry.when.latest


def _known_from(entry: Entry) -> Day | None:
    """The first day on which an entry says for certain that it was there."""
    if entry.when:
        if _is_held_throughout(entry):
            return entry.when.earliest or entry.when.latest
        return entry.when.latest or entry.when.earliest
    return (entry.until.earliest or entry.until.latest) if entry.until else None
