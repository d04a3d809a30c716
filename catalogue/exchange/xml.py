"""XML from strangers, read so that it can do no harm: nothing is fetched, nothing is expanded.

A file with a document type is refused, for that is where entities come from. The bytes are fed to the
parser by us, so that a file of any length needs the memory of one record, and a compressed file is not
unpacked behind our back.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from lxml import etree

from catalogue.errors import BadDocument

LARGEST = 8 * 1024 * 1024
"""The largest document, or record of a larger one, that is read, in bytes: its tree takes ten times that."""

_OPENING = 1024 * 1024
"""The first element must begin within so many bytes."""

_CHUNK = 64 * 1024

Element = Any
"""An element of lxml, which comes without types."""


def parsed(source: Path | bytes, most_bytes: int = LARGEST) -> Element:
    """The outermost element of a document. Raises `BadDocument` saying what is wrong and where."""
    return next(_read(source, None, most_bytes))


def records(
    source: Path | bytes, tags: frozenset[str], most_bytes: int = LARGEST
) -> Iterator[Element]:
    """The elements of these names (`{namespace}name`) one by one, wherever they stand in the file.

    Each is emptied once the next is asked for, so that memory stays that of one. Raises
    `BadDocument`, after those that could be read, where the file is not well formed.
    """
    yield from _read(source, tags, most_bytes)


def root_of(source: Path | bytes) -> str:
    """The name of the outermost element, `{namespace}name`, having read no further than to it."""
    parser = _parser(("start",))
    fed = 0
    for chunk in _chunks(source):
        with _told_in_words(source):
            parser.feed(chunk)
            for _event, element in parser.read_events():
                _no_document_type(element, source)
                return str(element.tag)
        fed += len(chunk)
        if fed > _OPENING:
            break
    else:
        if fed:
            with _told_in_words(source):
                parser.close()
    raise _nothing_in(source)


def plain(tag: str) -> str:
    """A name without its namespace.

    >>> plain("{http://www.tei-c.org/ns/1.0}TEI")
    'TEI'
    """
    return tag.rpartition("}")[2]


def name_of(source: Path | bytes) -> str:
    """What to call a file in a message."""
    return source.name if isinstance(source, Path) else "the file"


def _read(source: Path | bytes, tags: frozenset[str] | None, most: int) -> Iterator[Element]:
    parser = _parser(("start", "end"))
    root: Element | None = None
    inside: Element | None = None
    held = fed = 0
    for chunk in _chunks(source):
        fed += len(chunk)
        held += len(chunk)
        with _told_in_words(source):
            parser.feed(chunk)
        for event, element in _events(parser, source):
            if root is None:
                _no_document_type(element, source)
                root = element
            if tags is None:
                continue
            if event == "start" and inside is None and element.tag in tags:
                inside = element
            elif event == "end" and element is inside:
                yield element
                inside, held = None, 0
                _let_go(element)
        if root is None and fed > _OPENING:
            break
        if held > most:
            raise _too_large(source, most, whole=tags is None)
    else:
        if fed:
            with _told_in_words(source):
                parser.close()
    if root is None:
        raise _nothing_in(source)
    if tags is None:
        yield root


def _events(parser: Any, source: Path | bytes) -> Iterator[tuple[str, Element]]:
    with _told_in_words(source):
        yield from parser.read_events()


def _parser(events: tuple[str, ...]) -> Any:
    return etree.XMLPullParser(
        events=events,
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        huge_tree=False,
        collect_ids=False,
    )


def _let_go(element: Element) -> None:
    """Empty an element and take away what stands before it."""
    element.clear(keep_tail=False)
    parent = element.getparent()
    if parent is not None:
        for before in list(element.itersiblings(preceding=True)):
            parent.remove(before)


def _chunks(source: Path | bytes) -> Iterator[bytes]:
    if isinstance(source, bytes):
        for start in range(0, len(source), _CHUNK):
            yield source[start : start + _CHUNK]
        return
    try:
        with source.open("rb") as file:
            while chunk := file.read(_CHUNK):
                yield chunk
    except OSError as refused:
        raise BadDocument(
            f"{source} cannot be read: {refused.strerror}", remedy="check who may read it"
        ) from None


@contextmanager
def _told_in_words(source: Path | bytes) -> Iterator[None]:
    try:
        yield
    except etree.XMLSyntaxError as wrong:
        line, column = wrong.position
        said = wrong.msg
        if not line:
            # The parser stopped at an earlier mistake, which it tells in its own log only.
            line, column, said = next(
                ((each.line, each.column, each.message) for each in reversed(wrong.error_log)),
                (0, 0, said),
            )
        raise BadDocument(
            f"{name_of(source)} is not well-formed XML: {_plainly(said)}",
            where=f"line {line}, column {column}",
            remedy="ask whoever sent it for a whole file, or mend it at that place",
        ) from None


def _plainly(said: str) -> str:
    """The parser's own words without places and without advice to programmers.

    >>> _plainly("Excessive depth in document: 256, use XML_PARSE_HUGE option, line 1, column 771")
    'Excessive depth in document: 256'
    """
    return re.sub(r",? (line \d+, column \d+|(use|try) XML_\w+( option)?)\s*", "", said).strip()


def _no_document_type(root: Element, source: Path | bytes) -> None:
    about = root.getroottree().docinfo
    if about.internalDTD is not None or about.doctype:
        raise BadDocument(
            f"{name_of(source)} declares a document type (<!DOCTYPE ...>), which is never read here,"
            " for it can fetch files and swell without end",
            remedy="take that declaration out, with whatever entities stand in it",
        )


def _too_large(source: Path | bytes, most: int, *, whole: bool) -> BadDocument:
    if whole:
        return BadDocument(
            f"{name_of(source)} is larger than {most // 1_000_000} MB, the most that is read at once",
            remedy="cut it into files of one document each",
        )
    return BadDocument(
        f"{name_of(source)} has more than {most // 1_000_000} MB with no end of a record in them",
        remedy="look whether it is the right file",
    )


def _nothing_in(source: Path | bytes) -> BadDocument:
    return BadDocument(f"{name_of(source)} holds no XML element", remedy="check the file")
