"""What people already write in a transcription, and the sign that says the same here.

Offered, never applied without being asked for: only who sees the label can say whether an
ellipsis stands for lost text or is printed there. The rows are in vocab/habits.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

from catalogue import places
from catalogue.errors import BadData
from catalogue.reading.nodes import Text, walk
from catalogue.reading.reading import Reading, read

_FILE: Final = "habits.toml"


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A place where something is written as people write it, and what to type for it.

    `start` and `end` are code-point offsets, `written` is what stands between them, `markup` what
    would stand there instead. `others` are further things that it may mean; `habit` is the key of
    the row.
    """

    start: int
    end: int
    written: str
    markup: str
    why: str
    others: tuple[str, ...] = ()
    habit: str = ""

    def meaning(self, markup: str) -> Suggestion:
        """The same place with another of the things that it may mean."""
        return replace(self, markup=markup)


@dataclass(frozen=True, slots=True)
class Habit:
    """One row of vocab/habits.toml."""

    key: str
    written: re.Pattern[str]
    becomes: str
    others: tuple[str, ...]
    why: str
    examples: tuple[tuple[str, str], ...]
    silent_on: tuple[str, ...]

    def suggested(self, found: re.Match[str]) -> Suggestion:
        """What this row offers for what it found."""
        return Suggestion(
            found.start(),
            found.end(),
            found[0],
            _filled_in(self.becomes, found),
            self.why,
            tuple(_filled_in(other, found) for other in self.others),
            self.key,
        )


def _filled_in(template: str, found: re.Match[str]) -> str:
    run = found.groupdict().get("run") or ""
    return found.expand(template).replace("{count}", str(len(run)))


@cache
def habits() -> tuple[Habit, ...]:
    """The rows, in their order: where two say something about the same place, the first speaks."""
    rows = places.table(_FILE)["habit"]
    return tuple(
        Habit(
            key=row["key"],
            written=re.compile(row["written"], re.IGNORECASE | re.MULTILINE),
            becomes=row["becomes"],
            others=tuple(row.get("others", ())),
            why=row["why"],
            examples=tuple((before, after) for before, after in row["examples"]),
            silent_on=tuple(row["silent_on"]),
        )
        for row in rows
    )


def suggest(text: str) -> tuple[Suggestion, ...]:
    """What could be typed as a sign in this label, by place, none over another.

    Nothing is offered for what is a sign already.

    >>> for each in suggest("Galery [sic] / Lot [illeg.]"):
    ...     print(repr(each.written), "->", repr(each.markup))
    ' [sic]' -> '[!]'
    ' / ' -> '|'
    '[illeg.]' -> '+(?)'
    """
    free = _free(read(text))
    found = [
        (match.start(), -match.end(), number, habit.suggested(match))
        for number, habit in enumerate(habits())
        for match in habit.written.finditer(text)
        if free.find(b"\0", match.start(), match.end()) < 0
    ]
    return tuple(_apart(each[-1] for each in sorted(found, key=lambda each: each[:3])))


def _apart(found: Iterable[Suggestion]) -> Iterator[Suggestion]:
    end = 0
    for each in found:
        if each.start >= end:
            yield each
            end = each.end


def _free(reading: Reading) -> bytearray:
    """For each letter whether it may be written anew: it is no sign, or one that we ask about."""
    free = bytearray(len(reading.markup))
    asked = {fault.at for fault in reading.faults if not fault.literal}
    for node in walk(reading.tree):
        if isinstance(node, Text) or node.start in asked:
            free[node.start : node.end] = b"\1" * (node.end - node.start)
    return free


def apply(text: str, chosen: Iterable[Suggestion]) -> str:
    """The label with the chosen suggestions typed into it; everything else stays to the letter.

    >>> label = "Lot … / Price: ____"
    >>> apply(label, [each for each in suggest(label) if each.habit != "ellipsis"])
    'Lot …|Price: (blank)'
    """
    parts: list[str] = []
    end = 0
    for each in sorted(chosen, key=lambda each: each.start):
        if each.start < end or text[each.start : each.end] != each.written:
            raise BadData(
                f"'{each.written}' does not stand at letter {each.start + 1} of the label",
                remedy="the label was changed since: look at the suggestions again",
            )
        parts += [text[end : each.start], each.markup]
        end = each.end
    return "".join([*parts, text[end:]])
