"""How an entry lies in the index: what is searched, what is compared, what is only kept."""

from __future__ import annotations

import re
from dataclasses import fields
from typing import Any

from whoosh.columns import NumericColumn
from whoosh.fields import COLUMN, STORED, Schema

from catalogue.indexes.entry import Entry
from catalogue.indexes.whoosh_blocks import Figures, Keys, Marks, Words

FORMAT = 4
"""Raised with every change to what lies in the index; one of another format is made anew."""

OPEN_BEFORE, OPEN_AFTER = -(2**31), 2**31 - 1
"""Days that stand for an open end; every known day lies between."""

TEXTS = ("seen", "text", "words", "title", "artist", "number", "place")
"""The fields that words are looked for in."""

OWN = ("seen", "text", "words", "damaged")
"""Those that say what stands in the statement itself, not in its work."""

DAYS = ("earliest", "latest", "own_earliest", "own_latest")

LONGEST_PATTERN = 300
MOST_GAPS = 5

_KEPT = tuple(field.name for field in fields(Entry))


def _schema() -> Schema:
    texts = {name: Words() for name in TEXTS}
    days = {
        name: COLUMN(NumericColumn("i", OPEN_AFTER if "latest" in name else OPEN_BEFORE))  # type: ignore[no-untyped-call]
        for name in DAYS
    }
    return Schema(
        document=Marks(),
        fact=Marks(),
        damaged=Marks(),
        figure=Figures(),
        sort=Keys(),
        order=COLUMN(NumericColumn("i", -1)),  # type: ignore[no-untyped-call]
        touched=COLUMN(NumericColumn("i", 0)),  # type: ignore[no-untyped-call]
        kept=STORED(),
        **texts,
        **days,
    )


SCHEMA = _schema()


def facts(entry: Entry) -> list[str]:
    """The facts of an entry as exact terms; its kind, and that it stands for the whole, are among them."""
    found = [f"{field}={key}" for field, key in entry.facts]
    if entry.whole:
        found.append("whole=yes")
    found.append(f"kind={entry.kind}")
    return list(dict.fromkeys(found))


def patterns(entry: Entry) -> list[str]:
    """The damaged words of an entry that say enough to be compared."""
    return [each for each in dict.fromkeys(entry.patterns) if is_useful(each)]


def days(entry: Entry) -> dict[str, int]:
    """First and last days, made and own."""
    return {
        name: _day(getattr(entry, name), OPEN_AFTER if "latest" in name else OPEN_BEFORE)
        for name in DAYS
    }


def to_index(entry: Entry, order: int) -> dict[str, Any]:
    """The fields of one entry; `order` is its place among those of its document."""
    held: dict[str, Any] = {name: getattr(entry, name) or None for name in TEXTS}
    return held | {
        "document": [entry.document],
        "fact": facts(entry),
        "damaged": patterns(entry) or None,
        "figure": entry.figures or None,
        "sort": sort_key(entry) if order == 0 else None,
        "order": order,
        "touched": min(entry.touched, OPEN_AFTER),
        "kept": (order, *(getattr(entry, name) for name in _KEPT)),
        **days(entry),
    }


def from_index(kept: tuple[Any, ...]) -> tuple[int, Entry]:
    """The entry again, with its place among those of its document."""
    return kept[0], Entry(**dict(zip(_KEPT, kept[1:], strict=True)))


def is_useful(pattern: str) -> bool:
    """Whether a damaged word kept two letters at least; else every word would find it."""
    # what stands for any letter (\w, [a-z], {1,3}) is no letter of the word
    letters = re.sub(r"\\.|\[[^\]]*\]|\{[^}]*\}|\(\?[^)]*\)?", "", pattern)
    return (
        sum(map(str.isalnum, letters)) >= 2
        and len(pattern) <= LONGEST_PATTERN
        # with many gaps of any length, comparing one word can take minutes
        and sum(map(pattern.count, "*+,")) <= MOST_GAPS
        # half a sign, which only a broken import brings, cannot be written
        and not any("\ud800" <= sign <= "\udfff" for sign in pattern)
    )


def sort_key(entry: Entry) -> bytes:
    """What puts documents in order: their number, and where that is the same, their id."""
    return natural(entry.number) + b" " + entry.document.encode("utf-8", "replace")


def natural(number: str) -> bytes:
    """A number as people count, to sort by: 2026-9 before 2026-10, and what has none at the end.

    >>> sorted(["2026-10", "", "2026-9"], key=natural)
    ['2026-9', '2026-10', '']
    """
    if not number:
        return b"\xff"
    pieces = re.split("([0-9]+)", number)
    return "".join(
        f"{len(each.lstrip('0')):02d}{each.lstrip('0')}" if at % 2 else each
        for at, each in enumerate(pieces)
    ).encode(errors="replace")


def _day(day: int | None, when_open: int) -> int:
    return when_open if day is None else max(OPEN_BEFORE + 1, min(day, OPEN_AFTER - 1))
