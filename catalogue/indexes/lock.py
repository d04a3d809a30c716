"""One writer at a time: a lock that the operating system lets go when its holder dies."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from whoosh.util.filelock import FileLock

from catalogue.errors import Busy, CannotSave

LOCK = "words.lock"


@contextmanager
def one_writer(folder: Path) -> Iterator[None]:
    """Hold the lock of this folder; raises `Busy` at once when somebody else holds it.

    Somebody else is another process, or another thread of this one. The file stays behind, with
    the pid of the last holder for people to read. A stale one needs no care: the lock is the
    system's on the open file, not the file itself, so it goes with its process, and a pid that
    was given to another program meanwhile cannot mislead us.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        lock = FileLock(str(folder / LOCK))
        held = lock.acquire()
    except OSError as fault:
        raise CannotSave(
            f"{folder}: the index cannot be written ({fault.strerror})",
            remedy="check who may write to this folder, and whether the disk is full",
        ) from fault
    if not held:
        raise Busy(
            f"process {_holder(folder)} is taking saves into the index",
            remedy="try again in a moment",
        )
    try:
        with suppress(OSError):
            (folder / LOCK).write_text(f"{os.getpid()}\n", "ascii")
        yield
    finally:
        lock.release()


def _holder(folder: Path) -> str:
    try:
        return (folder / LOCK).read_text("ascii", "replace").strip() or "unknown"
    except OSError:
        return "unknown"
