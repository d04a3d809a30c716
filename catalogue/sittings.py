"""A card of photographs sorted by time: into sittings, and each sitting towards a work, with the reason.

Plain values in, plain values out. What is not known stays unknown: a work is proposed only where one is
more firmly tied to a sitting than every other, and sides and lights are read off names alone.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from functools import cache
from typing import Any, Final, Literal, TypeAlias

from catalogue.places import table

FILE: Final = "sittings.toml"
Clock: TypeAlias = Literal["camera", "file", ""]
_NUMBER = re.compile(r"(?<!\d)(\d{4}-\d{3,})(?!\d)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """One photograph of a card: by which `key` its file is found, what it was called, where it lay.

    `at` is when it was taken, in the studio's own time, by the clock of the camera; `clock` says whether
    the picture tells it or only its file ("" with None: nobody knows).
    """

    key: str
    name: str
    folder: str = ""
    at: datetime | None = None
    clock: Clock = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """Something known to have been done to a work on a day: `kind` as in vocab/sittings.toml.

    `what` it was, in words; from when to when, where somebody wrote that down.
    """

    work: str
    number: str
    day: date
    kind: str
    what: str = ""
    begins: time | None = None
    ends: time | None = None


@dataclass(frozen=True, slots=True)
class Candidate:
    """A work that a sitting may be of: how firmly that is known, and why."""

    work: str
    number: str
    firm: int
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sitting:
    """Photographs taken without a long break between them; `candidates` firmest first.

    `proposed` is the work that is tied to them more firmly than any other, None where none is.
    """

    frames: tuple[Frame, ...]
    candidates: tuple[Candidate, ...] = ()

    @property
    def proposed(self) -> Candidate | None:
        """The one work that stands out; of those that are alike none does."""
        best = self.candidates[:2]
        if not best or (len(best) == 2 and best[0].firm == best[1].firm):
            return None
        return best[0]

    @property
    def begins(self) -> datetime | None:
        """When the first of them was taken, None where nobody knows."""
        return self.frames[0].at

    @property
    def ends(self) -> datetime | None:
        """When the last of them was taken, None where nobody knows."""
        return self.frames[-1].at

    @property
    def why(self) -> str:
        """In words: why this work, or why none."""
        words = table(FILE)["words"]
        if self.proposed:
            return "; ".join(self.proposed.reasons)
        if not self.candidates:
            return str(words["no_work"] if self.begins else words["no_time"])
        alike = [each for each in self.candidates if each.firm == self.candidates[0].firm]
        listed = ", ".join(f"{each.number} ({'; '.join(each.reasons)})" for each in alike[:4])
        return str(words["several"].format(works=listed))


def shifted(frames: Iterable[Frame], ahead_minutes: float) -> tuple[Frame, ...]:
    """The photographs by a clock put right, which had been so many minutes ahead (less than 0: behind).

    >>> early = Frame(key="a", name="a.jpg", at=datetime(2026, 3, 2, 10, 15), clock="camera")
    >>> shifted([early], 75)[0].at.isoformat()
    '2026-03-02T09:00:00'
    """
    ahead = timedelta(minutes=ahead_minutes)
    return tuple(replace(each, at=each.at - ahead) if each.at else each for each in frames)


def sittings(
    frames: Iterable[Frame], *, cuts: Collection[str] = (), joins: Collection[str] = ()
) -> tuple[Sitting, ...]:
    """Photographs parted where a long break lies between them, in the order in which they were taken.

    Those without a time come last, one sitting for each folder. At the keys in `cuts` a new sitting
    begins in any case, at those in `joins` in none.

    >>> day = [Frame(key=str(m), name=f"{m}.jpg", at=datetime(2026, 3, 2, 9, m)) for m in (0, 5, 40, 41)]
    >>> [[each.name for each in one.frames] for one in sittings(day)]
    [['0.jpg', '5.jpg'], ['40.jpg', '41.jpg']]
    >>> len(sittings(day, cuts={"5"})), len(sittings(day, joins={"40"}))
    (3, 1)
    """
    gap = timedelta(minutes=table(FILE)["gap_minutes"])
    found: list[list[Frame]] = []
    for frame in sorted(frames, key=_order):
        last = found[-1][-1] if found else None
        if last is None:
            begins = True
        elif frame.at is None or last.at is None:
            begins = (last.at is None) != (frame.at is None) or last.folder != frame.folder
        else:
            begins = frame.at - last.at > gap or _parted(last, frame)
        if frame.key in cuts or (begins and not (last and frame.key in joins)):
            found.append([])
        found[-1].append(frame)
    return tuple(Sitting(tuple(each)) for each in found)


def proposed(sitting: Sitting, doings: Iterable[Doing]) -> Sitting:
    """The sitting with every work that it may be of, by what is known to have been done that day."""
    reasons: dict[str, dict[str, int]] = defaultdict(dict)
    numbers: dict[str, str] = {}
    days = {each.at.date() for each in sitting.frames if each.at}
    called = names_said(sitting)
    for doing in doings:
        if doing.number in called if doing.kind == "named" else doing.day in days:
            firm, says = _weighed(doing, sitting)
            reasons[doing.work][says] = max(firm, reasons[doing.work].get(says, 0))
            numbers[doing.work] = doing.number
    candidates = [
        Candidate(work, numbers[work], max(found.values()), _firmest_first(found))
        for work, found in reasons.items()
    ]
    candidates.sort(key=lambda each: (-each.firm, -len(each.reasons), each.number))
    return Sitting(sitting.frames, _without_the_many(candidates))


def names_said(sitting: Sitting) -> dict[str, str]:
    """The studio's numbers that stand in the names of all its files or their folders: number -> where.

    >>> one = Frame(key="a", name="a.jpg", folder="2026-041 label")
    >>> names_said(Sitting((one,)))
    {'2026-041': 'the folder'}
    """
    found: dict[str, str] = {}
    for where, texts in (
        ("the folder", [each.folder for each in sitting.frames]),
        ("the file", [each.name for each in sitting.frames]),
    ):
        shared = set.intersection(*(set(_NUMBER.findall(text)) for text in texts))
        for number in sorted(shared):
            found.setdefault(number, where)
    return found


def read_off(frame: Frame) -> dict[str, str]:
    """What the name of a file, else of its folder, says of it: face, view, light, stage; nothing else.

    >>> read_off(Frame(key="a", name="weir_back-UV 2.jpg"))
    {'face': 'face/back', 'light': 'light/ultraviolet'}
    >>> read_off(Frame(key="a", name="IMG_0031.jpg", folder="DCIM/front"))
    {'face': 'face/front'}
    """
    said: dict[str, str] = {}
    for text in (frame.name.rpartition(".")[0] or frame.name, frame.folder):
        words = f" {' '.join(_words(text))} "
        told: dict[str, set[str]] = defaultdict(set)
        for row_field, term, pattern in _rows():
            if pattern in words:
                told[row_field].add(term)
        # A name that says both front and back says nothing.
        for row_field, terms in told.items():
            if len(terms) == 1:
                said.setdefault(row_field, next(iter(terms)))
    return said


@cache
def _rows() -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (row["field"], row["term"], f" {' '.join(_words(word))} ")
        for row in table(FILE)["name"]
        for word in row["words"]
    )


def _words(text: str) -> Iterator[str]:
    return (each.lower() for each in re.findall(r"[^\W\d_]+", text))


def _parted(last: Frame, frame: Frame) -> bool:
    """Whether the names of two photographs, or their folders, name different works."""
    before, now = names_said(Sitting((last,))), names_said(Sitting((frame,)))
    return bool(before and now and not before.keys() & now.keys())


def _order(frame: Frame) -> tuple[Any, ...]:
    untimed = frame.at is None
    return (
        untimed,
        frame.folder if untimed else "",
        frame.at or datetime.min,
        frame.name,
        frame.key,
    )


def _weighed(doing: Doing, sitting: Sitting) -> tuple[int, str]:
    rows = table(FILE)["doings"]
    kind = "step-then" if doing.kind == "step" and _going_on(doing, sitting) else doing.kind
    when = f"{doing.begins:%H:%M}" if doing.begins else ""
    if doing.ends:
        when = f"{when} to {doing.ends:%H:%M}".strip()
    are = "are" if " " in doing.what else "is"
    said = rows[kind]["says"].format(what=doing.what, number=doing.number, when=when, are=are)
    return int(rows[kind]["firm"]), said


def _going_on(doing: Doing, sitting: Sitting) -> bool:
    """Whether a step with its hours written down was going on at a sitting, or nearly so."""
    if doing.begins is None:
        return False
    near = timedelta(minutes=table(FILE)["near_minutes"])
    begins = datetime.combine(doing.day, doing.begins) - near
    ends = datetime.combine(doing.day, doing.ends or doing.begins) + near
    return any(each.at is not None and begins <= each.at <= ends for each in sitting.frames)


def _firmest_first(found: dict[str, int]) -> tuple[str, ...]:
    return tuple(sorted(found, key=lambda says: (-found[says], says)))


def _without_the_many(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """That a work was in the house says something only where it was the only one."""
    here = int(table(FILE)["doings"]["here"]["firm"])
    says = str(table(FILE)["doings"]["here"]["says"])
    if len(candidates) == 1:
        return tuple(candidates)
    told = (
        Candidate(
            each.work, each.number, each.firm,
            tuple(reason for reason in each.reasons if reason != says),
        )
        for each in candidates
        if each.firm > here
    )  # fmt: skip
    return tuple(told)
