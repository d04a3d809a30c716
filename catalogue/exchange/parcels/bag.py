"""A bag (BagIt, RFC 8493): files under `data/`, beside them lists of their digests; here as one zip.

The same files give the same zip, byte for byte: names are in order, times are fixed, what is packed is
packed by one recipe. So two parcels can be told alike by their digest.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from catalogue.errors import CannotSave
from catalogue.exchange.parcels.spool import Spool

DECLARATION = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"

_PACKED_ALREADY = frozenset(
    (".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".zip", ".xlsx", ".docx", ".mp4")
)
_FIRST_DAY_OF_ZIP = (1980, 1, 1, 0, 0, 0)
_ORDINARY_FILE = 0o100644 << 16
_UNIX = 3
_LEVEL = 6

Facts = Iterable[tuple[str, str]]
"""What `bag-info.txt` says, line by line."""


def write(spool: Spool, facts: Facts, folder: str, out: Path) -> Path:
    """The zip at `out`: one folder that is a bag with the files of the spool in it.

    The spool is empty afterwards: what a zip keeps of each file takes the memory that its list took.
    """
    names = spool.names()
    octets = sum(spool.held[name].size for name in names)
    info = [*facts, ("Payload-Oxum", f"{octets}.{len(names)}")]
    said = "".join(f"{label}: {_one_line(told)}\n" for label, told in info)
    tags: dict[str, Callable[[], Iterable[bytes]]] = {
        "bag-info.txt": lambda: [said.encode()],
        "bagit.txt": lambda: [DECLARATION],
        # written anew each time it is asked for: it may be longer than everything else in memory
        "manifest-sha256.txt": lambda: _manifest(spool, names),
    }
    listed = "".join(f"{_digest(tags[name]())}  {name}\n" for name in tags)
    tags["tagmanifest-sha256.txt"] = lambda: [listed.encode()]
    try:
        with ZipFile(out, "w", compresslevel=_LEVEL) as packed:
            for name, content in tags.items():
                size = sum(map(len, content()))
                _pack(packed, f"{folder}/{name}", size, content())
            for name in names:
                size = spool.held[name].size
                _pack(packed, f"{folder}/data/{name}", size, spool.read(name))
                spool.held.pop(name)
    except OSError as refused:
        raise CannotSave(
            f"{out.name}: {refused.strerror}", remedy="make room and repeat the export"
        ) from None
    return out


def _manifest(spool: Spool, names: list[str]) -> Iterator[bytes]:
    for name in names:
        yield f"{spool.held[name].sha256}  data/{escaped(name)}\n".encode()


def _digest(pieces: Iterable[bytes]) -> str:
    taken = hashlib.sha256()
    for piece in pieces:
        taken.update(piece)
    return taken.hexdigest()


def _pack(packed: ZipFile, name: str, size: int, pieces: Iterable[bytes]) -> None:
    entry = ZipInfo(name, _FIRST_DAY_OF_ZIP)
    entry.create_system = _UNIX
    entry.external_attr = _ORDINARY_FILE
    entry.file_size = size
    stored = Path(name).suffix.lower() in _PACKED_ALREADY
    entry.compress_type = ZIP_STORED if stored else ZIP_DEFLATED
    with packed.open(entry, "w") as file:
        for piece in pieces:
            file.write(piece)


def escaped(name: str) -> str:
    """A name as a manifest has it (RFC 8493, 2.1.3): line ends and `%` by their numbers.

    >>> escaped("records/work.json"), escaped("50% off.txt")
    ('records/work.json', '50%25 off.txt')
    """
    return name.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def unescaped(name: str) -> str:
    """The name that a manifest's line means.

    >>> unescaped("50%25 off.txt")
    '50% off.txt'
    """
    for sign, number in (("\r", "0D"), ("\n", "0A"), ("%", "25")):
        name = name.replace(f"%{number}", sign).replace(f"%{number.lower()}", sign)
    return name


def _one_line(said: str) -> str:
    return " ".join(said.split())
