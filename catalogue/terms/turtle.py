"""The subset of Turtle that vocab/terms is written in, read line by line.

A file opens with its prefixes; a subject opens a block on a line of its own; every further line
holds one property and one value, and ends in `;`, the last of a block in `.`. A value is a text in
English, an address of ours in full, or an AAT number. A curator can copy the block above and change
the words, and a mistake is reported with its line. rdflib reads the same files for anybody else: it
would take half a second to load at every command, so it is used only by the test which holds that
both read the same triples.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from catalogue.errors import BadSetting

NAMESPACE = "https://dorse.example/ns/1#"
AAT = "http://vocab.getty.edu/aat/"
SKOS = "http://www.w3.org/2004/02/skos/core#"

PREFIXES = (f"@prefix skos: <{SKOS}> .", f"@prefix aat: <{AAT}> .")
"""The only prefixes; every file begins with them."""

_SUBJECT = re.compile(r"<(https?:[^<>\"\\\s]+)> a skos:(Concept|ConceptScheme) ;")
_PROPERTY = re.compile(
    r'    skos:([a-zA-Z]+) (?:"((?:[^"\\]|\\["\\])+)"@en|<(https?:[^<>"\\\s]+)>|aat:(\d{9})) ([;.])'
)
_ESCAPED = re.compile(r"\\(.)")


@dataclass(frozen=True, slots=True)
class Block:
    """One subject of a file: its address, what it is, the line it opens on, and its properties."""

    subject: str
    kind: str
    line: int
    properties: dict[str, list[str]] = field(default_factory=dict)


def refuse(source: Path, line: int, what: str) -> BadSetting:
    """The error for a mistake in a vocabulary file, with its file and line."""
    return BadSetting(
        f"vocab/terms/{source.name}, line {line}: {what}",
        remedy="copy the shape of the concept above it: one property a line, ';' after each, "
        "'.' after the last",
    )


def blocks(source: Path) -> Iterator[Block]:
    """The subjects of one file in its order. Raises `BadSetting` naming file and line."""
    block: Block | None = None
    place = 0
    for place, line in enumerate(source.read_text("utf-8").split("\n"), 1):
        if block is None:
            opened = _SUBJECT.fullmatch(line)
            if opened:
                block = Block(opened[1], opened[2], place)
            elif line and not line.startswith("#") and line not in PREFIXES:
                raise refuse(source, place, f"this opens no concept: {line!r}")
            continue
        if not line:
            raise refuse(
                source, place - 1, f"the last line of <{block.subject}> must end in '.'"
            )
        held = _PROPERTY.fullmatch(line)
        if not held:
            raise refuse(source, place, f"this is not one property with one value: {line!r}")
        name, text, address, number, mark = held.groups()
        value = _ESCAPED.sub(r"\1", text) if text else address or AAT + number
        block.properties.setdefault(name, []).append(value)
        if mark == ".":
            yield block
            block = None
    if block is not None:
        raise refuse(source, place, f"the last line of <{block.subject}> must end in '.'")
