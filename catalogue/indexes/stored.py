"""How an entry lies in the index: what is searched, what is compared, what is only kept."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from whoosh.analysis.acore import Token
from whoosh.analysis.tokenizers import Tokenizer
from whoosh.columns import NumericColumn, VarBytesColumn
from whoosh.fields import COLUMN, ID, KEYWORD, STORED, TEXT, Schema

from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import tokens

FORMAT = 2
"""Raised with every change to what lies in the index; one of another format is made anew."""

OPEN_BEFORE, OPEN_AFTER = -(2**62), 2**62
"""Days that stand for an open end; every known day lies between."""

SEARCHED = ("text", "words", "title", "artist", "number", "place")
"""The fields that words are looked for in; the first two are a statement's own."""

OWN = ("text", "words", "damaged")

LONGEST_PATTERN = 300
MOST_GAPS = 5

_KEPT = tuple(field.name for field in fields(Entry))


class EveryWord(Tokenizer):
    """Our words for the engine; a word of several forms has them all at its one position."""

    def __call__(self, value: str, **wanted: Any) -> Iterator[Token]:
        """The words of a text as the engine wants them: one token, changed for each."""
        token = Token(
            positions=True, chars=bool(wanted.get("chars")), mode=str(wanted.get("mode", ""))
        )
        for word in tokens(value):
            token.pos = word.position
            token.startchar, token.endchar = word.start, word.end
            for form in (*word.forms, *word.parts):
                token.text = form
                token.boost = 1.0
                token.stopped = False
                yield token


def _schema() -> Schema:
    texts = {name: TEXT(analyzer=EveryWord(), stored=False) for name in SEARCHED}
    return Schema(
        document=ID(unique=True, sortable=True),
        whole=ID(),
        kind=ID(),
        numbered=COLUMN(VarBytesColumn()),  # type: ignore[no-untyped-call]
        damaged=KEYWORD(),
        earliest=COLUMN(NumericColumn("q", OPEN_BEFORE)),  # type: ignore[no-untyped-call]
        latest=COLUMN(NumericColumn("q", OPEN_AFTER)),  # type: ignore[no-untyped-call]
        kept=STORED(),
        **texts,
    )


SCHEMA = _schema()


def to_index(entry: Entry, order: int) -> dict[str, Any]:
    """The fields of one entry; `order` is its place among those of its document."""
    held: dict[str, Any] = {name: getattr(entry, name) or None for name in SEARCHED}
    return held | {
        "document": entry.document,
        "whole": "yes" if entry.whole else None,
        "kind": entry.kind or None,
        "numbered": entry.number.encode(errors="replace"),
        "damaged": [each for each in dict.fromkeys(entry.patterns) if _is_useful(each)] or None,
        "earliest": _day(entry.earliest, OPEN_BEFORE),
        "latest": _day(entry.latest, OPEN_AFTER),
        "kept": (order, *(getattr(entry, name) for name in _KEPT)),
    }


def from_index(kept: tuple[Any, ...]) -> tuple[int, Entry]:
    """The entry again, with its place among those of its document."""
    return kept[0], Entry(**dict(zip(_KEPT, kept[1:], strict=True)))


def _is_useful(pattern: str) -> bool:
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


def _day(day: int | None, when_open: int) -> int:
    return when_open if day is None else max(OPEN_BEFORE + 1, min(day, OPEN_AFTER - 1))
