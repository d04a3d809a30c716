"""Zip files from strangers (parcels, workbooks), looked at before anything in them is unpacked.

What a zip says of itself is held to limits first, and reading an entry holds it to what it said: a bomb
is refused before it swells. Names that lead out of a folder, links, encrypted entries and doubled names
are refused whole.
"""

from __future__ import annotations

import stat
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO
from zipfile import BadZipFile, ZipFile, ZipInfo, is_zipfile

from catalogue.errors import BadDocument


@dataclass(frozen=True, slots=True)
class Limits:
    """The most that a zip may hold: entries, unpacked bytes of all and of one, and how far one may swell.

    `swells` is unpacked to packed, for entries larger than a megabyte; ordinary text packs to a
    twentieth, white space to a thousandth.
    """

    entries: int = 20_000
    all_bytes: int = 4_000_000_000
    one_bytes: int = 500_000_000
    swells: int = 200


@contextmanager
def opened(source: Path, limits: Limits = Limits()) -> Iterator[ZipFile]:
    """A zip whose list of contents keeps to the limits. Raises `BadDocument` saying what is wrong."""
    if not source.is_file():
        raise BadDocument(f"{source} is not there", remedy="check the path")
    try:
        if not is_zipfile(source):
            raise BadDocument(f"{source.name} is no zip file, or its end is missing")
        file = ZipFile(source)
    except (BadZipFile, OSError, ValueError, NotImplementedError) as wrong:
        raise BadDocument(f"{source.name} cannot be opened as a zip: {wrong}") from None
    with file:
        _check(source.name, file.infolist(), limits)
        yield file


def _check(name: str, entries: list[ZipInfo], limits: Limits) -> None:
    if len(entries) > limits.entries:
        raise BadDocument(
            f"{name} holds {len(entries)} files; at most {limits.entries} are looked at"
        )
    seen: set[str] = set()
    total = 0
    for entry in entries:
        why = _why_not(entry, limits)
        if entry.filename.casefold() in seen:
            why = "there are two files of that name"
        seen.add(entry.filename.casefold())
        total += entry.file_size
        if why:
            raise BadDocument(
                f"{name}: {entry.filename[:200]!r}: {why}", remedy="nothing was unpacked"
            )
    if total > limits.all_bytes:
        raise BadDocument(
            f"{name} would be {total // 1_000_000} MB unpacked; at most"
            f" {limits.all_bytes // 1_000_000} MB are taken",
            remedy="nothing was unpacked",
        )


def _why_not(entry: ZipInfo, limits: Limits) -> str:
    """Why an entry is not touched, "" where it may be."""
    path = PurePosixPath(entry.filename)
    if (
        path.is_absolute()
        or ".." in path.parts
        or "\\" in entry.filename
        or entry.filename[1:2] == ":"
        or any(ord(letter) < 32 for letter in entry.filename)
    ):
        return "its name leads out of the folder, or is no name for a file"
    kind = stat.S_IFMT(entry.external_attr >> 16)
    if kind == stat.S_IFLNK:
        return "it is a link to another file"
    if kind not in (0, stat.S_IFREG, stat.S_IFDIR):
        return "it is no ordinary file"
    if entry.flag_bits & 0x1:
        return "it is encrypted"
    if entry.file_size > limits.one_bytes:
        return f"it would be {entry.file_size // 1_000_000} MB unpacked"
    if entry.file_size > 1_000_000 and entry.file_size > limits.swells * max(
        entry.compress_size, 1
    ):
        return "it swells more than any honest file when it is unpacked"
    return ""


@contextmanager
def reading(file: ZipFile, name: str) -> Iterator[IO[bytes]]:
    """One entry, open for reading; damage is told in words. Raises `BadDocument`."""
    try:
        with file.open(name) as entry:
            yield entry
    except KeyError:
        raise BadDocument(f"there is no {name} in it") from None
    except (
        BadZipFile,
        EOFError,
        NotImplementedError,
        RuntimeError,
        OSError,
        zlib.error,
    ) as wrong:
        raise BadDocument(f"{name} cannot be unpacked: {wrong}") from None


def content(file: ZipFile, name: str, most: int) -> bytes:
    """The content of one entry of at most so many bytes. Raises `BadDocument`."""
    with reading(file, name) as entry:
        held = entry.read(most + 1)
    if len(held) > most:
        raise BadDocument(f"{name} is larger than {most // 1_000_000} MB")
    return held
