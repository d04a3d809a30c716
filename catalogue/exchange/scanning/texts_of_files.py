"""The texts of a finished file: its own, those packed in it, the words within the head of a picture.

Long files come piece by piece, each beginning a little before the last one ended, so that nothing is
cut in two.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import IO

from catalogue.exchange.outgoing import Content

PIECE = 1 << 20
OVERLAP = 2_000
MOST_NESTED = 3

_PACKED = (".zip", ".xlsx", ".docx")
_PICTURES = (".jpg", ".jpeg")
_STREAM = re.compile(rb"stream\r?\n(.*?)\r?\nendstream", re.DOTALL)


def texts_of(name: str, content: Content, nested: int = 0) -> Iterator[tuple[str, str, bytes]]:
    """Name, ending and text of each piece of a file; what is packed in it is named after it."""
    kind = PurePosixPath(name).suffix.lower()
    if kind in _PACKED and nested < MOST_NESTED:
        yield from _packed(name, content, nested)
    elif kind in _PICTURES:
        yield name, kind, _head_of_picture(_bytes(content))
    elif kind == ".pdf":
        yield name, kind, _of_pdf(_bytes(content))
    elif isinstance(content, bytes) and len(content) <= 4 * PIECE:
        yield name, kind, content
    else:
        with _opened(content) as file:
            for piece in _pieces(file):
                # A piece of JSON is no JSON: it is told by its line.
                yield name, ".txt" if kind.startswith(".json") else kind, piece


def _packed(name: str, content: Content, nested: int) -> Iterator[tuple[str, str, bytes]]:
    with _opened(content) as file, zipfile.ZipFile(file) as pack:
        for member in pack.infolist():
            inner = f"{name} › {member.filename}"
            kind = PurePosixPath(member.filename).suffix.lower()
            yield inner, ".txt", member.filename.encode() + b"\n" + member.comment
            if member.file_size <= PIECE or kind in (*_PACKED, *_PICTURES, ".pdf"):
                yield from texts_of(inner, pack.read(member), nested + 1)
                continue
            with pack.open(member) as packed:
                for piece in _pieces(packed):
                    yield inner, ".txt" if kind.startswith(".json") else kind, piece


def _head_of_picture(content: bytes) -> bytes:
    """What a JPEG says beside its picture: its comments and blocks of camera data."""
    found, at = [], 2
    while at + 4 <= len(content) and content[at] == 0xFF and content[at + 1] != 0xDA:
        length = int.from_bytes(content[at + 2 : at + 4], "big")
        if content[at + 1] == 0xFE or 0xE1 <= content[at + 1] <= 0xEF:
            found.append(content[at + 4 : at + 2 + length].replace(b"\0", b""))
        at += 2 + length
    return b"\n".join(found)


def _of_pdf(content: bytes) -> bytes:
    """A PDF with its packed streams opened: its facts and outline; text is set in glyphs and not read."""
    found = [_STREAM.sub(b"", content)]
    for stream in _STREAM.finditer(content):
        try:
            found.append(zlib.decompressobj().decompress(stream[1], 16 * PIECE))
        except zlib.error:
            continue
    return b"\n".join(found)


def _opened(content: Content) -> IO[bytes]:
    return BytesIO(content) if isinstance(content, bytes) else content.open("rb")


def _bytes(content: Content) -> bytes:
    return content if isinstance(content, bytes) else Path(content).read_bytes()


def _pieces(file: IO[bytes]) -> Iterator[bytes]:
    before = b""
    while piece := file.read(PIECE):
        yield before + piece
        before = piece[-OVERLAP:]
