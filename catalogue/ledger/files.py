"""Contents by their digest: files/ab/<sha256>, byte for byte, each once.

A file is whole on the disk before the change that names it is committed. What is to be
forgotten is marked first (`files/leaving/<sha256>`) and deleted after the commit; should the
power fail in between, `sweep` does the rest when the ledger is next opened.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from catalogue.errors import BadData, NotOnFile
from catalogue.ledger.folders import keep_names
from catalogue.ledger.refusals import explained

_SHA256 = re.compile(r"[0-9a-f]{64}")
_CHUNK_BYTES = 1 << 20
_TAKING = ".taking-"
_LEAVING = "leaving"


class Shelf:
    """The folder of contents of one ledger."""

    def __init__(self, folder: Path, *, lasting: bool = True) -> None:
        self.folder = folder
        self._lasting = lasting

    def place(self, sha256: str) -> Path:
        """Where the contents with this digest lie, if they do. Raises `BadData`."""
        if not _SHA256.fullmatch(sha256):
            raise BadData(f"{sha256[:80]!r} is not a SHA-256 digest in lower case")
        return self.folder / sha256[:2] / sha256

    def take(self, content: bytes | Path) -> Taken:
        """Copy contents into a file of their own, not under their name yet."""
        with explained(self.folder):
            self.folder.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(prefix=_TAKING, dir=self.folder)
        making = Path(name)
        try:
            with explained(self.folder), os.fdopen(handle, "wb") as file:
                sha256, size = _copy(content, file)
                file.flush()
                if self._lasting:
                    os.fsync(file.fileno())
        except BaseException:
            making.unlink(missing_ok=True)
            raise
        return Taken(self, making, sha256, size)

    def put(self, making: Path, sha256: str) -> None:
        """Give a taken file its name, so that it outlasts a power cut."""
        place = self.place(sha256)
        with explained(self.folder):
            place.parent.mkdir(exist_ok=True)
            self._keep_names(self.folder)
            making.replace(place)
            self._keep_names(place.parent)

    def digest(self, sha256: str) -> str | None:
        """The digest of what lies under the name `sha256` now; None when nothing does."""
        try:
            with self.place(sha256).open("rb") as file:
                return hashlib.file_digest(file, "sha256").hexdigest()
        except (OSError, BadData):
            return None

    def names(self) -> Iterator[Path]:
        """Every file that lies here, whether a change names it or not, by name."""
        for path in sorted(self.folder.rglob("*")):
            if path.is_file():
                yield path

    def mark_leaving(self, sha256: str) -> None:
        """Say that these contents go as soon as the change is committed."""
        with explained(self.folder):
            (self.folder / _LEAVING).mkdir(parents=True, exist_ok=True)
            (self.folder / _LEAVING / sha256).touch()
            self._keep_names(self.folder / _LEAVING)

    def leaving(self) -> tuple[str, ...]:
        """The digests that are marked as leaving."""
        folder = self.folder / _LEAVING
        return tuple(sorted(path.name for path in folder.iterdir())) if folder.is_dir() else ()

    def sweep(self, on_file: Callable[[str], bool]) -> None:
        """Delete what is marked as leaving, unless a change still names it; then the marks.

        Only for whoever has the turn to write: nobody can take the same contents in meanwhile.
        """
        with explained(self.folder):
            for sha256 in self.leaving():
                if _SHA256.fullmatch(sha256) and not on_file(sha256):
                    self.place(sha256).unlink(missing_ok=True)
                (self.folder / _LEAVING / sha256).unlink(missing_ok=True)

    def _keep_names(self, folder: Path) -> None:
        if self._lasting:
            keep_names(folder)


class Taken:
    """Contents that were copied in and wait for their name, or to be let go again."""

    def __init__(self, shelf: Shelf, making: Path, sha256: str, size: int) -> None:
        self._shelf = shelf
        self._making: Path | None = making
        self.sha256 = sha256
        self.size = size

    def keep(self) -> None:
        """Give the contents their name."""
        if self._making is not None:
            self._shelf.put(self._making, self.sha256)
            self._making = None

    def let_go(self) -> None:
        """Leave nothing of them, neither under a passing name nor under their own."""
        place = self._making or self._shelf.place(self.sha256)
        with suppress(OSError):  # it stays as a stray then, which verify notes
            place.unlink()


def copied(source: Path, target: Path) -> None:
    """Copy a file to a new place, so that it outlasts a power cut."""
    with explained(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)
        keep_bytes(target)


def keep_bytes(path: Path) -> None:
    """Make sure that the bytes of a file just written outlast a power cut."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _copy(content: bytes | Path, file: BinaryIO) -> tuple[str, int]:
    """Write `content` into `file`; its SHA-256 and its size in bytes."""
    if not isinstance(content, Path):
        file.write(content)
        return hashlib.sha256(content).hexdigest(), len(content)
    whole, size = hashlib.sha256(), 0
    for chunk in _chunks(content):
        file.write(chunk)
        whole.update(chunk)
        size += len(chunk)
    return whole.hexdigest(), size


def _chunks(path: Path) -> Iterator[bytes]:
    """The bytes of a file of the user's; that it cannot be read is no fault of our disk."""
    try:
        with path.open("rb") as file:
            while chunk := file.read(_CHUNK_BYTES):
                yield chunk
    except OSError as fault:
        raise NotOnFile(f"{path}: this file cannot be read ({fault.strerror})") from fault
