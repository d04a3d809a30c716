"""One writer at a time, or several readers: locks that the system lets go when their holder dies."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from catalogue.errors import Busy, CannotSave

LOCK = "words.lock"


@contextmanager
def one_writer(folder: Path, name: str = LOCK) -> Iterator[None]:
    """Hold a lock of this folder; raises `Busy` at once when somebody else holds it.

    Somebody else is another process, or another thread of this one. The file stays behind, with
    the pid of the last holder for people to read. A stale one needs no care: the lock is the
    system's on the open file, not the file itself, so it goes with its process, and a pid that
    was given to another program meanwhile cannot mislead us.
    """
    with locked(folder / name):
        with suppress(OSError):
            (folder / name).write_text(f"{os.getpid()}\n", "ascii")
        yield


@contextmanager
def locked(file: Path, *, shared: bool = False, patience_seconds: float = 0) -> Iterator[None]:
    """Hold the lock on a file, alone or (`shared`) together with others who share it.

    Raises `Busy` when somebody else still holds it after `patience_seconds`. Where the system
    knows no shared locks (Windows), those who share keep each other out.
    """
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        held = os.open(file, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as fault:
        raise CannotSave(
            f"{file.parent}: the index cannot be written ({fault.strerror})",
            remedy="check who may write to this folder, and whether the disk is full",
        ) from fault
    try:
        until = time.monotonic() + patience_seconds
        while not _lock(held, shared):
            if time.monotonic() >= until:
                raise Busy(f"{_holder(file)} the index", remedy="try again in a moment")
            time.sleep(0.01)
        try:
            yield
        finally:
            _unlock(held)
    finally:
        os.close(held)


def _holder(file: Path) -> str:
    """Who holds a lock and what for, as far as its file tells."""
    pid = ""
    with suppress(OSError):
        pid = file.read_text("ascii", "replace").strip()
    return f"process {pid} is taking saves into" if pid else "another process is reading"


if sys.platform == "win32":
    import msvcrt

    def _lock(held: int, shared: bool) -> bool:
        try:
            msvcrt.locking(held, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _unlock(held: int) -> None:
        os.lseek(held, 0, os.SEEK_SET)
        msvcrt.locking(held, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _lock(held: int, shared: bool) -> bool:
        wanted = fcntl.LOCK_SH if shared else fcntl.LOCK_EX
        try:
            fcntl.flock(held, wanted | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def _unlock(held: int) -> None:
        fcntl.flock(held, fcntl.LOCK_UN)
