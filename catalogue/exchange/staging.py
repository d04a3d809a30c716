"""A folder beside the one that is written to: files are finished there, and moved when all of them are.

So a folder holds a whole export or nothing of it, whatever stops it: a refusal, a full disk, a key.
"""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from uuid import uuid4

from catalogue.errors import BadSetting, CannotSave
from catalogue.exchange.outgoing import Content

_PIECE = 1 << 20
_MENDED = "nothing was exported; make room and repeat it"


class Staging:
    """The files of one export on their way into `out`, which may hold other files already.

    What has the name of a file of the export is replaced; everything else stays, and is counted.
    """

    def __init__(self, out: Path) -> None:
        self.out = out
        self._new = not out.exists()
        self._digests: dict[str, bytes] = {}
        self._folders: set[str] = set()
        if not self._new and not out.is_dir():
            raise BadSetting(f"{out} is a file", remedy="name a folder to write into")
        beside = out.absolute().parent if self._new else out
        self._folder = beside / f".dorse-sending-{uuid4().hex[:12]}"
        with _explained(out, "choose another folder"):
            beside.mkdir(parents=True, exist_ok=True)
            self._folder.mkdir()

    def __enter__(self) -> Staging:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        shutil.rmtree(self._folder, ignore_errors=True)

    def __contains__(self, name: str) -> bool:
        return name in self._digests

    def __len__(self) -> int:
        return len(self._digests)

    def put(self, name: str, content: Content) -> None:
        """Finish one file."""
        path = f"{self._folder}/{name}"
        with _explained(self.out, _MENDED, name):
            if "/" in name and (above := name.rpartition("/")[0]) not in self._folders:
                Path(path).parent.mkdir(parents=True, exist_ok=True)
                self._folders.add(above)
            if isinstance(content, Path):
                with content.open("rb") as file:
                    self._digests[name] = hashlib.file_digest(file, "sha256").digest()
                shutil.move(content, path)
                return
            self._digests[name] = hashlib.sha256(content).digest()
            with open(path, "wb") as file:  # noqa: PTH123 (a Path for each of 100,000 files costs a third)
                file.write(content)

    def digest(self) -> str:
        """The SHA-256 of a line for each file, by name: the name, a tab, the SHA-256 of what is in it."""
        whole = hashlib.sha256()
        for name in sorted(self._digests):
            whole.update(f"{name}\t{self._digests[name].hex()}\n".encode())
        return whole.hexdigest()

    def others(self) -> int:
        """How many files the folder holds that are not of this export."""
        if self._new:
            return 0
        count = 0
        for above, folders, names in os.walk(self.out):
            if self._folder.name in folders:
                folders.remove(self._folder.name)
            within = Path(above).relative_to(self.out)
            count += sum((within / name).as_posix() not in self._digests for name in names)
        return count

    def arrive(self) -> None:
        """Move the whole export to where it belongs."""
        if self._new:
            with _explained(self.out, _MENDED):
                self._folder.rename(self.out)
            return
        taken = self._folders_in_the_way()
        if taken:
            raise CannotSave(
                f"{self.out / min(taken)}: a folder is in the way",
                remedy="nothing was exported; move it away, or choose another folder",
            )
        with _explained(self.out, _MENDED):
            for above in sorted(self._folders):
                (self.out / above).mkdir(parents=True, exist_ok=True)
            for name in sorted(self._digests):
                os.replace(f"{self._folder}/{name}", f"{self.out}/{name}")  # noqa: PTH105

    def _folders_in_the_way(self) -> list[str]:
        """The names of files of the export that folders have already where it is to go."""
        found: list[str] = []
        for above in ("", *self._folders):
            folder = self.out / above
            if folder.is_dir():
                with os.scandir(folder) as entries:
                    here = [entry.name for entry in entries if entry.is_dir()]
                found += [f"{above}/{name}" if above else name for name in here]
        return [name for name in found if name in self._digests]


@contextmanager
def _explained(path: Path, remedy: str, name: str = "") -> Iterator[None]:
    """Say in words what the disk refused; `name` is of a file in the folder `path`."""
    try:
        yield
    except CannotSave:
        raise
    except OSError as refused:
        said = refused.strerror or str(refused)
        raise CannotSave(f"{path / name}: {said}", remedy=remedy) from None
