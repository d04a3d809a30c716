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
    sha256: str
    at: int = 0
    path: Path | None = None


class Spool:
    """Contents by name; the first of a name stays, for many records share a concept or a place."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._path = folder / "spool"
        self._file = self._path.open("w+b")
        self._end = 0
        self.held: dict[str, Held] = {}

    def put(self, name: str, content: bytes | Path) -> None:
        """Take in one file; one that lies by itself already is left there, and must stay."""
        if name in self.held:
            return
        if isinstance(content, Path):
            self.held[name] = _lying(content)
            return
        try:
            self._file.write(content)
        except OSError as refused:
            raise CannotSave(
                f"{self._path}: {refused.strerror}", remedy="make room and repeat the export"
            ) from None
        digest = hashlib.sha256(content).hexdigest()
        self.held[name] = Held(len(content), digest, self._end)
        self._end += len(content)

    def names(self) -> list[str]:
        """Every name, in order."""
        return sorted(self.held)

    def read(self, name: str) -> Iterator[bytes]:
        """The content of one file, piece by piece."""
        held = self.held[name]
        if held.path is not None:
            with _readable(held.path) as file:
                while piece := file.read(_CHUNK):
                    yield piece
            return
        self._file.seek(held.at)
        left = held.size
        while left:
            piece = self._file.read(min(left, _CHUNK))
            left -= len(piece)
            yield piece
        self._file.seek(self._end)

    def close(self) -> None:
        """Let go of the spool; what lies by itself is left where it is."""
        self._file.close()


def _lying(path: Path) -> Held:
    with _readable(path) as file:
        digest = hashlib.file_digest(file, "sha256").hexdigest()
    return Held(path.stat().st_size, digest, path=path)


def _readable(path: Path) -> BufferedReader:
    try:
        return path.open("rb")
    except OSError as refused:
        raise NotOnFile(
            f"{path.name} cannot be read ({refused.strerror})",
            remedy="run `dorse verify`, and bring the file back from a backup",
        ) from None
