"""One generation of the index of words: a folder, sealed at every commit, and made anew when in doubt.

    indexes/words-3/_MAIN_7.toc    the engine's list of segments after its 7th commit
    indexes/words-3/seal-7.json    cursor, sizes and checksums, written before that list appears
    indexes/words-3/MAIN_*.seg     segments, never written again

The list of segments appears by a rename, and its seal lies on the disk by then: so a commit and
its cursor are there both or neither, however the process dies. The engine reads pickles and
follows offsets in its files without a check; so nothing is opened whose checksum is not the
sealed one.
"""

from __future__ import annotations

import json
import os
import re
import zlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

import whoosh
from whoosh.filedb.filestore import FileStorage
from whoosh.index import TOC
from whoosh.reading import SegmentReader

from catalogue.indexes.generations import Generations, NeedsRebuild, sync, write_whole
from catalogue.indexes.stored import FORMAT, SCHEMA

_TOC = re.compile(r"_MAIN_([0-9]+)\.toc")
_ENGINE = ".".join(map(str, whoosh.__version__))

Sum = tuple[int, int]
"""The size of a file and its CRC-32."""


@dataclass(slots=True)
class Generation:
    """A commit of the index, open to be read; what is deleted meanwhile stays readable.

    `sums` are the files it is read from; as long as they keep their sizes it may be read.
    """

    folder: Path
    commit: int
    cursor: int
    leaves: list[SegmentReader] = field(default_factory=list)
    sums: Mapping[str, Sum] = field(default_factory=dict)

    def is_whole(self) -> bool:
        """Whether no file it is read from was cut off; one taken away is still held open."""
        for name, (size, _) in self.sums.items():
            with suppress(FileNotFoundError):
                if (self.folder / name).stat().st_size != size:
                    return False
        return True

    def close(self) -> None:
        """Let go of the files."""
        for leaf in self.leaves:
            leaf.close()
        self.leaves = []


class SealedStorage(FileStorage):
    """The engine's folder; a commit counts once its seal, with `cursor`, is on the disk."""

    def __init__(self, folder: Path, cursor: int = 0) -> None:
        super().__init__(str(folder))  # type: ignore[no-untyped-call]
        self.cursor = cursor

    def rename_file(self, oldname: str, newname: str, safe: bool = False) -> None:
        """Rename a file; a list of segments only after its seal is written."""
        folder = Path(self.folder)
        if listed := _TOC.fullmatch(newname):
            write_seal(folder, int(listed[1]), self.cursor, folder / oldname)
        super().rename_file(oldname, newname, safe=safe)  # type: ignore[no-untyped-call]
        sync(folder)


def newest(generation: Path) -> int:
    """The number of its last commit, -1 for none."""
    try:
        names = [each.name for each in generation.iterdir()]
    except FileNotFoundError:
        return -1
    return max((int(found[1]) for name in names if (found := _TOC.fullmatch(name))), default=-1)


def open_generation(generations: Generations, checked: dict[Path, Sum]) -> Generation | None:
    """The current generation at its last commit; None when there is no index yet.

    `checked` remembers the files whose checksums were compared, which are never written again.
    Raises `NeedsRebuild` when something is missing, cut off or not as it was sealed.
    """
    while True:
        generation = generations.pointed()
        if generation is None:
            return None
        commit = newest(generation)
        try:
            return _open(generation, commit, checked)
        except (NeedsRebuild, OSError) as fault:
            # a writer may have committed or swapped meanwhile, and taken away what we wanted
            if (generations.pointed(), newest(generation)) == (generation, commit):
                if isinstance(fault, NeedsRebuild):
                    raise
                raise NeedsRebuild(generation, f"cannot be read ({fault.strerror})") from fault


def _open(folder: Path, commit: int, checked: dict[Path, Sum]) -> Generation:
    if commit < 0:
        raise NeedsRebuild(folder, "holds no index")
    cursor, sums = read_seal(folder, commit)
    listed = f"_MAIN_{commit}.toc"
    # always summed: it is small, and every wrong byte in it would be unpickled
    _check(folder / listed, sums, {})
    # Mapped, the engine would copy every part whole into memory: 180 MB more at 10,000 works,
    # and no faster.
    storage = FileStorage(str(folder), supports_mmap=False)  # type: ignore[no-untyped-call]
    contents = TOC.read(storage, "MAIN", commit, SCHEMA)  # type: ignore[no-untyped-call]
    names = [segment.make_filename(segment.COMPOUND_EXT) for segment in contents.segments]
    for name in names:
        _check(folder / name, sums, checked)
    generation = Generation(folder, commit, cursor, [], {name: sums[name] for name in names})
    try:
        for segment in contents.segments:
            generation.leaves.append(SegmentReader(storage, SCHEMA, segment, generation=commit))
    except OSError:
        generation.close()
        raise
    return generation


def _check(file: Path, sums: Mapping[str, Sum], checked: dict[Path, Sum]) -> None:
    """Refuse a file that is not as it was sealed."""
    sealed = sums.get(file.name)
    if sealed is None or file.stat().st_size != sealed[0]:
        raise NeedsRebuild(file, "is not the file that was written")
    if checked.get(file) != sealed:
        if _sum(file) != sealed:
            raise NeedsRebuild(file, "is not the file that was written")
        checked[file] = sealed


def read_seal(folder: Path, commit: int) -> tuple[int, dict[str, Sum]]:
    """The cursor of a commit, and the sums of its files."""
    seal = folder / f"seal-{commit}.json"
    try:
        own_sum, _, body = seal.read_bytes().partition(b"\n")
    except FileNotFoundError:
        raise NeedsRebuild(seal, "is missing") from None
    if own_sum != _crc(body):
        raise NeedsRebuild(seal, "is not the file that was written")
    sealed = json.loads(body)
    if (sealed["format"], sealed["engine"]) != (FORMAT, _ENGINE):
        raise NeedsRebuild(folder, "was made by another version")
    return sealed["cursor"], {
        name: (size, crc) for name, (size, crc) in sealed["files"].items()
    }


def write_seal(folder: Path, commit: int, cursor: int, contents: Path) -> None:
    """Seal the commit whose list of segments, `contents`, is about to get its name.

    What an earlier seal holds of a segment is taken over: segments are never written again.
    """
    known: dict[str, Sum] = {}
    with suppress(NeedsRebuild):
        known = read_seal(folder, commit - 1)[1]
    sums = {f"_MAIN_{commit}.toc": _sum(contents, sync=True)}
    for segment in sorted(folder.glob("MAIN_*.seg")):
        sums[segment.name] = known.get(segment.name) or _sum(segment, sync=True)
    body = json.dumps(
        {"format": FORMAT, "engine": _ENGINE, "cursor": cursor, "files": sums}, sort_keys=True
    ).encode()
    write_whole(folder / f"seal-{commit}.json", (_crc(body) + b"\n" + body).decode())


def tidy(folder: Path) -> None:
    """Take away the seals of earlier commits, and lists of segments that were never named."""
    last = newest(folder)
    for left in [*folder.glob("seal-*"), *folder.glob("_MAIN_*.toc.*")]:
        if left.name != f"seal-{last}.json":
            left.unlink(missing_ok=True)


def _crc(body: bytes) -> bytes:
    return f"{zlib.crc32(body):08x}".encode()


def _sum(file: Path, *, sync: bool = False) -> Sum:
    size = crc = 0
    with file.open("r+b" if sync else "rb") as opened:
        if sync:
            os.fsync(opened.fileno())
        while block := opened.read(1 << 20):
            size += len(block)
            crc = zlib.crc32(block, crc)
    return size, crc
