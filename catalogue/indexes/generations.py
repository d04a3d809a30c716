"""What every index is: generations in a folder, one of them read, each made whole and then swapped in.

    indexes/current      the name of the generation that is read, swapped in one rename
    indexes/words-3/     that generation
    indexes/words-4/     the next one, being made, or one that was never finished

Nothing is kept here alone: a generation that cannot be trusted is thrown away and made anew.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from catalogue.errors import Busy, CannotSave, CatalogueError, Damaged
from catalogue.indexes.lock import locked

CURRENT = "current"


class NeedsRebuild(Damaged):
    """The index cannot be trusted or read; nothing is lost, it is made anew from the ledger."""

    def __init__(self, where: Path, why: str) -> None:
        super().__init__(f"{where}: {why}", remedy="run `dorse rebuild`: nothing is lost by it")


@dataclass(frozen=True, slots=True)
class Generations:
    """The generations of one kind of index ("words") in its folder."""

    folder: Path
    kind: str

    def pointed(self) -> Path | None:
        """The folder of the generation to read; None when there is no index yet."""
        pointer = self.folder / CURRENT
        try:
            name = pointer.read_text("utf-8", "replace").strip()
        except FileNotFoundError:
            return None
        if self._number(name) is None or not (self.folder / name).is_dir():
            raise NeedsRebuild(pointer, "names no generation of the index")
        return self.folder / name

    def point(self, generation: Path) -> None:
        """Have this generation read from now on, by everybody."""
        write_whole(self.folder / CURRENT, generation.name + "\n")

    def fresh(self) -> Path:
        """A new folder for a generation; those never finished are cleared away."""
        current = None
        with suppress(NeedsRebuild):
            current = self.pointed()
        numbers = [self._number(each.name) or 0 for each in self.folder.iterdir()]
        self.clear(current)
        target = self.folder / f"{self.kind}-{max(numbers, default=0) + 1}"
        target.mkdir()
        return target

    def others(self, kept: Path | None) -> list[Path]:
        """Every generation but the one kept: given up, or never finished."""
        found = [each for each in self.folder.iterdir() if self._number(each.name) is not None]
        return [each for each in found if each != kept]

    def clear(self, kept: Path | None) -> None:
        """Take away every generation but the one kept, and those that somebody still reads."""
        for left in self.others(kept):
            with suppress(Busy):
                with locked(self.lock(left)):
                    shutil.rmtree(left, ignore_errors=True)
                with suppress(OSError):
                    self.lock(left).unlink()

    def lock(self, generation: Path) -> Path:
        """The file to lock while a generation is read where it must not change meanwhile."""
        return generation.with_name(generation.name + ".lock")

    def _number(self, name: str) -> int | None:
        found = re.fullmatch(rf"{self.kind}-([0-9]+)", name)
        return int(found[1]) if found else None


def write_whole(file: Path, text: str) -> None:
    """The text under this name, whole or not at all."""
    making = file.with_name(file.name + ".new")
    with making.open("w", encoding="utf-8") as opened:
        opened.write(text)
        opened.flush()
        os.fsync(opened.fileno())
    making.replace(file)
    sync(file.parent)


def sync(folder: Path) -> None:
    """Have the names in a folder on the disk, where the system can."""
    with suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


@contextmanager
def disk(folder: Path) -> Iterator[None]:
    """What the disk refuses, in our words; the index is then as it was."""
    try:
        yield
    except CatalogueError:
        raise
    except OSError as fault:
        raise CannotSave(
            f"{folder}: the index cannot be written ({fault.strerror or fault})",
            remedy="check who may write to this folder, and whether the disk is full",
        ) from fault
