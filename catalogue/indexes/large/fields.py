"""How an entry lies in the second engine: our own words at their places, exact facts, figures, days."""

from __future__ import annotations

import json
import re
import struct
from collections.abc import Iterable
from dataclasses import fields
from typing import Any

import tantivy

from catalogue.indexes.entry import Entry
from catalogue.indexes.stored import OPEN_AFTER, OPEN_BEFORE, TEXTS, days, facts, patterns
from catalogue.indexes.whoosh_blocks import places_of

FORMAT = 2
"""Raised with every change to what lies in the index; one of another format is made anew."""

SPANS = {"made": "", "own": "own_"}
"""What stands before the names of the days of a span."""

ORDERS = ("newest", "made", "own")
"""What works can be put in order by, least first, beside how well they fit and their numbers."""

_KEPT = tuple(field.name for field in fields(Entry))
_AS_TUPLES = ("patterns", "facts", "figures", "corners")


def _schema() -> tantivy.Schema:
    built = tantivy.SchemaBuilder()
    for name in TEXTS:
        built.add_text_field(name, tokenizer_name="raw", index_option="position")
    for name in ("document", "fact", "damaged", "figure"):
        built.add_text_field(name, tokenizer_name="raw", index_option="basic")
    for name in ("facets", "figures"):
        built.add_json_field(name, fast=True, tokenizer_name="raw", index_option="basic")
    for begins in SPANS.values():
        for end in ("earliest", "latest"):
            built.add_integer_field(begins + end, fast=True)
    built.add_unsigned_field("serial", indexed=True, fast=True)
    built.add_unsigned_field("work", indexed=True, fast=True)
    for name in ORDERS:
        built.add_integer_field(name, fast=True)
    built.add_bytes_field("kept", stored=True)
    return built.build()


SCHEMA = _schema()


def to_index(
    entry: Entry, order: int, serial: int, work: int, touched: int
) -> tantivy.Document:
    """What the engine is given of an entry, the `serial`th of its part, of its `work`th document."""
    made = tantivy.Document()
    for name in TEXTS:
        if text := getattr(entry, name):
            made.add_pre_tokenized_text(name, _words(text))
    made.add_text("document", clean(entry.document))
    for fact in facts(entry):
        made.add_text("fact", clean(fact))
    for pattern in patterns(entry):
        made.add_text("damaged", clean(pattern))
    for name in dict.fromkeys(name for name, _ in entry.figures):
        made.add_text("figure", clean(name))
    made.add_json("facets", _by_name(fact.partition("=")[::2] for fact in facts(entry)))
    made.add_json(
        "figures", _by_name((name, sortable(figure)) for name, figure in entry.figures)
    )
    held = days(entry)
    for begins in SPANS.values():
        earliest, latest = held[f"{begins}earliest"], held[f"{begins}latest"]
        # without any date there is nothing to be in time with
        if (earliest, latest) != (OPEN_BEFORE, OPEN_AFTER):
            made.add_integer(f"{begins}earliest", earliest)
            made.add_integer(f"{begins}latest", latest)
    made.add_unsigned("serial", serial)
    made.add_unsigned("work", work)
    made.add_integer("newest", -touched)
    for name, begins in SPANS.items():
        made.add_integer(name, _begun(held, begins))
    made.add_bytes("kept", kept(entry, order))
    return made


def _begun(held: dict[str, int], begins: str) -> int:
    """The day a span is put in order by: its first, else its last, else after all others."""
    earliest, latest = held[f"{begins}earliest"], held[f"{begins}latest"]
    return latest if earliest == OPEN_BEFORE else earliest


def _words(text: str) -> tantivy.PreTokenizedString:
    found = [
        (place, clean(term)) for term, places in places_of(text).items() for place in places
    ]
    # the engine wants the words in the order of their places
    return tantivy.PreTokenizedString(
        "", [tantivy.Token(term, place, 0, 0) for place, term in sorted(found)]
    )


def _by_name(pairs: Iterable[tuple[str, Any]]) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for name, value in pairs:
        found.setdefault(safe(name), []).append(
            clean(value) if isinstance(value, str) else value
        )
    return found


def kept(entry: Entry, order: int) -> bytes:
    """The whole entry as text, with its place among those of its document."""
    return json.dumps([order, *(getattr(entry, name) for name in _KEPT)]).encode()


def from_kept(held: bytes) -> tuple[int, Entry]:
    """The entry again."""
    order, *values = json.loads(held)
    named = dict(zip(_KEPT, values, strict=True))
    for name in _AS_TUPLES:
        named[name] = tuple(tuple(e) if isinstance(e, list) else e for e in named[name])
    return order, Entry(**named)


def safe(name: str) -> str:
    """A name of facts or figures as the engine's own language allows it.

    >>> safe("street-number")
    'street_2d_number'
    """
    return re.sub(r"[^a-z0-9]", lambda sign: f"_{ord(sign.group()):x}_", name)


def sortable(figure: float) -> int:
    """A whole number that lies among others as the figure does; whole numbers alone compare safely there.

    >>> sorted([2.5, -1e9, 0.0, 2.25, -3.0], key=sortable)
    [-1000000000.0, -3.0, 0.0, 2.25, 2.5]
    """
    bits = int.from_bytes(struct.pack(">d", figure + 0.0), "big", signed=True)
    return bits if bits >= 0 else bits ^ (2**63 - 1)


def clean(text: str) -> str:
    """Text that can be written: half a sign, which only a broken import brings, becomes a `?`."""
    return text if text.isascii() else text.encode("utf-8", "replace").decode()
