"""What each file of a parcel is, for programs: RO-Crate 1.1 metadata in the terms of schema.org.

One entity for the parcel, one for each file; every file is named from the root (`hasPart`). It is written
piece by piece, for a parcel may hold a hundred thousand files.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

from catalogue.exchange.parcels.spool import Spool
from catalogue.linked.text import write

NAME = "ro-crate-metadata.json"

_CONTEXT = "https://w3id.org/ro/crate/1.1/context"
_VERSION = "https://w3id.org/ro/crate/1.1"
_MEDIA_TYPES = {
    ".html": "text/html",
    ".json": "application/ld+json",
    ".jsonld": "application/ld+json",
    ".xml": "application/xml",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".png": "image/png",
    ".webp": "image/webp",
    ".tif": "image/tiff",
    ".tiff": "image/tiff",
    ".heic": "image/heic",
    ".pdf": "application/pdf",
    ".txt": "text/plain",
    ".csv": "text/csv",
}


def describe(spool: Spool, root: dict[str, Any], says: dict[str, str], out: Path) -> Path:
    """The metadata of all files of the spool at `out`; `root` is said of the whole parcel.

    `says` has a sentence for each folder, or file at the top.
    """
    with out.open("wb") as file:
        for piece in _pieces(spool, root, says):
            file.write(piece)
    return out


def _pieces(spool: Spool, root: dict[str, Any], says: dict[str, str]) -> Iterator[bytes]:
    names = spool.names()
    yield b'{"@context":' + _json(_CONTEXT) + b',"@graph":[\n'
    yield _json(
        {
            "@id": NAME,
            "@type": "CreativeWork",
            "about": {"@id": "./"},
            "conformsTo": {"@id": _VERSION},
        }
    )
    yield b",\n" + _json({"@id": "./", "@type": "Dataset", **root})[:-1] + b',"hasPart":['
    for place, name in enumerate(names):
        yield (b"," if place else b"") + _json({"@id": address(name)})
    yield b"]}"
    for name in names:
        yield b",\n" + _json(_file(name, spool, says))
    yield b"\n]}\n"


def _file(name: str, spool: Spool, says: dict[str, str]) -> dict[str, Any]:
    held = spool.held[name]
    told = says.get(name.partition("/")[0])
    return {
        "@id": address(name),
        "@type": "File",
        "name": name.rpartition("/")[2],
        **({"description": told} if told else {}),
        "encodingFormat": media_type(name),
        "contentSize": str(held.size),
        "sha256": held.sha256,
    }


def address(name: str) -> str:
    """A file's name as a relative address.

    >>> address("papers/a b.pdf")
    'papers/a%20b.pdf'
    """
    return quote(name)


def media_type(name: str) -> str:
    """What kind of file it is, by its ending."""
    return _MEDIA_TYPES.get(Path(name).suffix.lower(), "application/octet-stream")


def _json(value: Any) -> bytes:
    return write(value)
