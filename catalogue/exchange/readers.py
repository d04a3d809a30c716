"""Which reader a file gets: one table, by the ending of its name, then by how it begins.

A new reader is a module with a function `(source, receiver) -> documents` and one line here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from catalogue.errors import BadDocument, CatalogueError
from catalogue.exchange import intake, xml
from catalogue.exchange.books.from_csv import looks_like_a_table
from catalogue.exchange.incoming import Arrival, Reads, Receiver, Refusal
from catalogue.exchange.lido import reading as lido_reading
from catalogue.exchange.parcels import taking as parcel_in
from catalogue.exchange.tei import reading as tei_in
from catalogue.places import table


@dataclass(frozen=True, slots=True)
class Reader:
    """One reader and the files that are its own.

    `endings` are those of file names, in small letters; `begins` the first bytes (after a mark of
    the encoding and white space) that tell it where the ending is a strange one; `roots` the outermost
    elements that it reads among XML files, as `{namespace}name`: without any it is not asked for XML.
    """

    reads: str
    read: Reads
    endings: tuple[str, ...]
    begins: tuple[bytes, ...] = ()
    roots: tuple[str, ...] = ()


def _in_a_zip(source: Path, receiver: Receiver) -> Iterator[Arrival | Refusal]:
    yield from parcel_in.documents(source, receiver, files_to_read, documents_of)


READERS: tuple[Reader, ...] = (
    Reader("records as JSON-LD", intake.arrivals, (".json", ".jsonld"), begins=(b"{", b"[")),
    Reader("LIDO", lido_reading.arrivals, (".xml",), roots=lido_reading.ROOTS),
    Reader(tei_in.READS, tei_in.arrivals, (".xml", ".tei"), roots=tei_in.ROOTS),
    Reader("parcels, zips of records", _in_a_zip, (".zip",), begins=(b"PK\x03\x04",)),
)

ENDINGS = frozenset(ending for reader in READERS for ending in reader.endings)
"""The endings of the files that are read when a folder is named."""

_MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
_XML = ".xml"
_TEXT = ".txt"


def files_to_read(path: Path) -> Iterator[Path]:
    """The files of a folder and its folders that a reader takes, in order; or the file itself."""
    if path.is_dir():
        yield from sorted(
            found
            for found in path.rglob("*")
            if found.suffix.lower() in ENDINGS and found.is_file()
        )
    else:
        yield path


def documents_of(source: Path, receiver: Receiver) -> Iterator[Arrival | Refusal]:
    """The documents of one file by the reader that it gets, or why it gets none."""
    try:
        reader = reader_of(source)
    except CatalogueError as error:
        yield Refusal(source, error)
        return
    yield from reader.read(source, receiver)


def reader_of(source: Path) -> Reader:
    """The reader of a file. Raises `BadDocument` where there is no such file, or none reads it."""
    if not source.is_file():
        raise BadDocument(f"{source} is not there", remedy="check the path")
    ending = source.suffix.lower()
    of_ending = [each for each in READERS if ending in each.endings and not each.roots]
    if of_ending:
        return of_ending[0]
    start = _start(source)
    if ending == _XML or start.startswith(b"<"):
        root = xml.root_of(source)
        for reader in READERS:
            if root in reader.roots:
                return reader
        raise BadDocument(
            f"{source.name} is XML of a kind that is not read here: it begins with <{xml.plain(root)}>",
            remedy=f"read are: {_all_read()}",
        )
    for reader in READERS:
        if start.startswith(reader.begins or b"\0\0"):
            return reader
    if ending == _TEXT and not looks_like_a_table(source):
        words = table("job_books.toml")["told"]
        raise BadDocument(
            words["no_table"].format(name=source.name),
            remedy=f"{words['no_table_remedy']}; read are: {_all_read()}",
        )
    raise BadDocument(
        f"{source.name} is of no kind that is read here",
        remedy=f"read are: {_all_read()}",
    )


def _start(source: Path) -> bytes:
    try:
        with source.open("rb") as file:
            start = file.read(512)
    except OSError as refused:
        raise BadDocument(
            f"{source} cannot be read: {refused.strerror}", remedy="check who may read it"
        ) from None
    for mark in _MARKS:
        start = start.removeprefix(mark)
    return start.replace(b"\0", b"").lstrip() or start


def _all_read() -> str:
    return "; ".join(f"{each.reads} ({', '.join(each.endings)})" for each in READERS)
