"""The files of a parcel while it is being filled: their contents back to back in one file, with digests.

A parcel is written in the order of its names, and its list of digests before its contents; so nothing
can be written before the last file is known, and ten thousand small files would be slow to lay down.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path

from catalogue.errors import CannotSave, NotOnFile

_CHUNK = 1 << 20


@dataclass(frozen=True, slots=True)
class Held:
    """One file: its size, its SHA-256, and where it lies: `at` in the spool, or a `path` of its own."""

    size: int
    digest: bytes
    at: int = 0
    path: Path | None = None

    @property
    def sha256(self) -> str:
        """The digest as it is written."""
        return self.digest.hex()


class Spool:
    """Contents by name; the first of a name stays, for many records share a concept or a place.

    The file is open only while it is written to or read, so an export that breaks off leaves none open.
    """

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._path = folder / "spool"
        self._path.touch()
        self._pending = bytearray()
        self._end = 0
        self.held: dict[str, Held] = {}

    def put(self, name: str, content: bytes | Path) -> None:
        """Take in one file; one that lies by itself already is left there, and must stay."""
        if name in self.held:
            return
        if isinstance(content, Path):
            self.held[name] = _lying(content)
            return
        digest = hashlib.sha256(content).digest()
        self.held[name] = Held(len(content), digest, self._end)
        self._end += len(content)
        self._pending += content
        if len(self._pending) > _CHUNK:
            self._flush()

    def names(self) -> list[str]:
        """Every name, in order."""
        return sorted(self.held)

    def read(self, name: str) -> Iterator[bytes]:
        """The content of one file, piece by piece."""
        self._flush()
        held = self.held[name]
        with _readable(held.path or self._path) as file:
            file.seek(held.at)
            left = held.size
            while left and (piece := file.read(min(left, _CHUNK))):
                left -= len(piece)
                yield piece

    def _flush(self) -> None:
        if not self._pending:
            return
        try:
            with self._path.open("ab") as file:
                file.write(self._pending)
        except OSError as refused:
            raise CannotSave(
                f"{self._path}: {refused.strerror}", remedy="make room and repeat the export"
            ) from None
        self._pending.clear()


def _lying(path: Path) -> Held:
    with _readable(path) as file:
        digest = hashlib.file_digest(file, "sha256").digest()
    return Held(path.stat().st_size, digest, path=path)


def _readable(path: Path) -> BufferedReader:
    try:
        return path.open("rb")
    except OSError as refused:
        raise NotOnFile(
            f"{path.name} cannot be read ({refused.strerror})",
            remedy="run `dorse verify`, and bring the file back from a backup",
        ) from None
