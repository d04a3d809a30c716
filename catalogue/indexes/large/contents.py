"""Which parts a generation of the second engine consists of, sealed: one file, swapped in one rename.

    large-3/contents.json    a checksum of its own, then cursor, parts, and the sums of their files

Every file of a part lies on the disk before the list that names it appears; so a batch and its cursor
are there both or neither, however the process dies. Nothing is opened whose checksum is not the
sealed one, for the engine follows offsets in its files without a check.
"""

from __future__ import annotations

import json
import os
import shutil
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from catalogue.indexes.generations import Generations, NeedsRebuild, sync, write_whole
from catalogue.indexes.large.fields import FORMAT

CONTENTS = "contents.json"

Sum = tuple[int, int]
"""The size of a file and its CRC-32."""

Stamp = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Contents:
    """The parts of a generation, oldest first, and the last change that is in them."""

    folder: Path
    cursor: int
    parts: tuple[str, ...]
    sums: dict[str, Sum]
    stamp: Stamp

    def is_whole(self) -> bool:
        """Whether every file is there with its size."""
        try:
            return all(
                (self.folder / name).stat().st_size == size
                for name, (size, _) in self.sums.items()
            )
        except OSError:
            return False


def stamp_of(generation: Path) -> Stamp | None:
    """What changes whenever the list of parts does; None when there is none."""
    try:
        found = (generation / CONTENTS).stat()
    except OSError:
        return None
    return found.st_ino, found.st_mtime_ns, found.st_size


def seal(generation: Path, parts: Sequence[str], cursor: int, known: dict[str, Sum]) -> None:
    """Have these parts read from now on; sums of files that are `known` are taken over."""
    sums: dict[str, Sum] = {}
    for part in parts:
        for file in sorted((generation / part).iterdir()):
            if not file.name.endswith(".lock"):
                name = f"{part}/{file.name}"
                sums[name] = known.get(name) or _summed(file, to_disk=True)
        sync(generation / part)
    body = json.dumps(
        {
            "format": FORMAT,
            "engine": version("tantivy"),
            "cursor": cursor,
            "parts": list(parts),
            "files": sums,
        },
        sort_keys=True,
    )
    write_whole(generation / CONTENTS, f"{zlib.crc32(body.encode()):08x}\n{body}")


def current(generations: Generations, checked: dict[Path, Sum]) -> Contents | None:
    """What is to be read now; None when there is no index yet.

    `checked` remembers the files whose sums were compared, which are never written again. Raises
    `NeedsRebuild` when something is missing, cut off or not as it was sealed.
    """
    while True:
        generation = generations.pointed()
        if generation is None:
            return None
        stamp = stamp_of(generation)
        try:
            return _read(generation, stamp, checked)
        except (NeedsRebuild, OSError) as fault:
            # a writer may have swapped meanwhile, and taken away what we wanted
            if (generations.pointed(), stamp_of(generation)) == (generation, stamp):
                if isinstance(fault, NeedsRebuild):
                    raise
                raise NeedsRebuild(generation, f"cannot be read ({fault.strerror})") from fault


def _read(generation: Path, stamp: Stamp | None, checked: dict[Path, Sum]) -> Contents:
    if stamp is None:
        raise NeedsRebuild(generation, "holds no index")
    file = generation / CONTENTS
    own_sum, _, body = file.read_bytes().partition(b"\n")
    if own_sum != f"{zlib.crc32(body):08x}".encode():
        raise NeedsRebuild(file, "is not the file that was written")
    sealed = json.loads(body)
    if (sealed["format"], sealed["engine"]) != (FORMAT, version("tantivy")):
        raise NeedsRebuild(generation, "was made by another version")
    sums = {name: (size, crc) for name, (size, crc) in sealed["files"].items()}
    for name, sum_ in sums.items():
        _check(generation / name, sum_, checked)
    return Contents(generation, sealed["cursor"], tuple(sealed["parts"]), sums, stamp)


def tidy(generation: Path, parts: Sequence[str]) -> None:
    """Take away parts that no list names."""
    for left in generation.glob("part-*"):
        if left.name not in parts:
            shutil.rmtree(left, ignore_errors=True)


def _check(file: Path, sealed: Sum, checked: dict[Path, Sum]) -> None:
    if file.stat().st_size != sealed[0]:
        raise NeedsRebuild(file, "is not the file that was written")
    if checked.get(file) != sealed:
        if _summed(file) != sealed:
            raise NeedsRebuild(file, "is not the file that was written")
        checked[file] = sealed


def _summed(file: Path, *, to_disk: bool = False) -> Sum:
    size = crc = 0
    with file.open("r+b" if to_disk else "rb") as opened:
        if to_disk:
            os.fsync(opened.fileno())
        while block := opened.read(1 << 20):
            size += len(block)
            crc = zlib.crc32(block, crc)
    return size, crc
