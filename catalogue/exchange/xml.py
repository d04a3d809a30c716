"""XML from strangers, read so that it can do no harm: nothing is fetched, nothing is expanded.

A file with a document type is refused, for that is where entities come from. The bytes are fed to the
parser by us, so that a file of any length needs the memory of one record, and a compressed file is not
unpacked behind our back.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lxml import etree

from catalogue.errors import BadDocument

LARGEST = 8 * 1024 * 1024
"""The largest document, or record of a larger one, that is read, in bytes: its tree takes ten times that."""

_OPENING = 1024 * 1024
"""The first element must begin within so many bytes."""

_CHUNK = 64 * 1024

_ASIDE = re.compile(rb"<!--.*?-->|<\?.*?\?>", re.DOTALL)
_DECLARED = re.compile(rb"<!DOCTYPE|<[A-Za-z_:\x80-\xff]")
_IDS_ONLY = (etree.ErrorTypes.DTD_ID_REDEFINED, etree.ErrorTypes.DTD_XMLID_VALUE)

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
    for _, element in _events(source, ("start",)):
        return str(element.tag)
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
    root: Element | None = None
    inside: Element | None = None
    held = _Held(most)
    for event, element in _events(source, ("start", "end"), held):
        if root is None:
            root = element
        if tags is None:
            continue
        if event == "start" and inside is None and element.tag in tags:
            inside = element
        elif event == "end" and element is inside:
            yield element
            inside, held.bytes = None, 0
            _let_go(element)
    if root is None:
        raise _nothing_in(source)
    if tags is None:
        yield root


@dataclass(slots=True)
class _Held:
    """How many bytes were read since the last record ended, and how many that may be."""

    most: int
    bytes: int = 0


def _events(
    source: Path | bytes, wanted: tuple[str, ...], held: _Held | None = None
) -> Iterator[tuple[str, Element]]:
    """Where elements begin and end, as far as the file can be read; then what is wrong with it."""
    parser = _parser(wanted)
    fed, ended = 0, False
    root: Element | None = None
    for chunk in _chunks(source):
        if not fed and _declares_type(chunk):
            raise _has_document_type(source)
        fed += len(chunk)
        broken = _broken(parser, chunk, source)
        for event, element in parser.read_events():
            if root is None:
                root = element
                about = root.getroottree().docinfo
                if about.internalDTD is not None or about.doctype:
                    raise _has_document_type(source)
            ended = event == "end" and element is root
            yield event, element
        if broken:
            raise broken
        if root is None and fed > _OPENING:
            return
        if held:
            held.bytes += len(chunk)
            if held.bytes > held.most:
                raise _too_large(source, held.most)
    if fed and (broken := _broken(parser, None, source, whole=ended)):
        raise broken


def _broken(
    parser: Any, chunk: bytes | None, source: Path | bytes, *, whole: bool = False
) -> BadDocument | None:
    """What is wrong with the next bytes, or (None) with the end of the file.

    `whole` says that the outermost element has ended: then ids that were given twice are no mistake,
    for texts that were put together to one file share theirs, and nobody looks them up.
    """
    try:
        if chunk is None:
            parser.close()
        else:
            parser.feed(chunk)
    except etree.XMLSyntaxError as wrong:
        return None if whole and wrong.code in _IDS_ONLY else _in_words(wrong, source)
    return None


def _parser(events: tuple[str, ...]) -> Any:
    return etree.XMLPullParser(
        events=events,
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        huge_tree=False,
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


def _in_words(wrong: etree.XMLSyntaxError, source: Path | bytes) -> BadDocument:
    line, column = wrong.position
    said = wrong.msg
    if not line or wrong.code in _IDS_ONLY:
        # The parser names the first mistake, or none; the one that stopped it is last in its log.
        line, column, said = next(
            ((each.line, each.column, each.message) for each in reversed(wrong.error_log)),
            (0, 0, said),
        )
    return BadDocument(
        f"{name_of(source)} is not well-formed XML: {_plainly(said)}",
        where=f"line {line}, column {column}",
        remedy="ask whoever sent it for a whole file, or mend it at that place",
    )


def _plainly(said: str) -> str:
    """The parser's own words without places and without advice to programmers.

    >>> _plainly("Excessive depth in document: 256, use XML_PARSE_HUGE option, line 1, column 771")
    'Excessive depth in document: 256'
    """
    return re.sub(r",? (line \d+, column \d+|(use|try) XML_\w+( option)?)\s*", "", said).strip()


def _declares_type(start: bytes) -> bool:
    """Whether a file begins by declaring a document type, before any element.

    >>> _declares_type(b"<?xml version='1.0'?><!-- <!DOCTYPE a> --><a/>")
    False
    >>> _declares_type("<!DOCTYPE a><a/>".encode("utf-16"))
    True
    """
    bare = _ASIDE.sub(b"", start.replace(b"\0", b""))
    found = _DECLARED.search(bare)
    return found is not None and found[0].startswith(b"<!")


def _has_document_type(source: Path | bytes) -> BadDocument:
    return BadDocument(
        f"{name_of(source)} declares a document type (<!DOCTYPE ...>), which is never read here,"
        " for it can fetch files and swell without end",
        remedy="take that declaration out, with whatever entities stand in it",
    )


def _too_large(source: Path | bytes, most: int) -> BadDocument:
    return BadDocument(
        f"{name_of(source)} has {most // 1_000_000} MB and more in one piece, the most that is read at once",
        remedy="look whether it is the right file, and cut it into one document each",
    )


def _nothing_in(source: Path | bytes) -> BadDocument:
    return BadDocument(f"{name_of(source)} holds no XML element", remedy="check the file")
