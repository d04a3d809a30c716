"""A verified copy of a ledger while others use it, as a folder or one .tar, and back again.

A copy holds ledger.sqlite and the files that its changes name; indexes and derived pictures are
made anew from these. It is written beside its place, verified, and only then given its name.
"""

from __future__ import annotations

import hashlib
import shutil
import tarfile
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import IO, TypeVar, cast

from sqlalchemy import select

from catalogue.errors import BadData, BadSetting, Busy, CannotSave, Damaged, NoStudio
from catalogue.ledger.database import PATIENCE_SECONDS, Database, opened
from catalogue.ledger.files import Shelf, copied, keep_bytes
from catalogue.ledger.folders import DATABASE, FILES, keep_names, refuse_unsafe
from catalogue.ledger.refusals import explained
from catalogue.ledger.tables import files
from catalogue.ledger.values import BackupFacts, Progress, Verdict
from catalogue.ledger.verify import inspect

T = TypeVar("T")

TAR = ".tar"
"""What the name of a backup ends in that is to be one file."""


def write_backup(
    database: Database, shelf: Shelf, target: Path, progress: Progress | None = None
) -> BackupFacts:
    """Copy a ledger to `target`, and verify the copy. Nothing is left there unless it holds.

    `progress` is told of each file twice: when it is copied and when the copy is verified.
    """
    _refuse_taken(target)
    with explained(target):
        target.parent.mkdir(parents=True, exist_ok=True)
    with _beside(target) as making:
        database.copy_to(making / DATABASE)
        named = _named_files(making)
        present = _told(named, progress, 0, 2 * len(named))
        there = (shelf.place(sha256) for sha256 in present if shelf.place(sha256).is_file())
        if target.suffix == TAR:
            copy = making / "whole.tar"
            _write_tar(copy, making / DATABASE, there)
            lying = _told(_members(copy), progress, len(named), 2 * len(named))
            verdict, size = _verdict_on_tar(lying, making / DATABASE), copy.stat().st_size
        else:
            copy = making
            (making / FILES).mkdir()
            for path in there:
                copied(path, making / FILES / path.parent.name / path.name)
            verdict = _verdict_on_folder(making, progress)
            size = sum(path.stat().st_size for path in making.rglob("*") if path.is_file())
        if verdict.faults:
            _explain_faults(verdict, database, named, target)
        _refuse_taken(target)
        with explained(target):
            _settle(copy, target)
    return BackupFacts(
        target, size, verdict.head, verdict.changes, verdict.documents, verdict.files
    )


def restore(source: Path, folder: Path) -> None:
    """Bring a backup back into `folder`, which must be empty or new.

    The copy is verified before it is put in place; when it does not hold, `Damaged` says what
    is wrong and nothing is there. Raises `NoStudio` when `source` is no backup.
    """
    refuse_unsafe(folder)
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise BadSetting(
            f"{folder}: this is no empty folder; nothing was restored",
            remedy="choose an empty or new one",
        )
    with explained(folder):
        folder.parent.mkdir(parents=True, exist_ok=True)
    with _beside(folder) as making:
        if source.is_dir():
            _take_folder(source, making)
        else:
            _take_tar(source, making)
        if not (making / DATABASE).is_file():
            raise NoStudio(f"{source}: this is no backup of a studio")
        try:
            opened(making, patience_seconds=PATIENCE_SECONDS).close()
            damage = _listed(_verdict_on_folder(making))
        except Damaged as fault:
            damage = f"  {fault}"
        if damage:
            raise Damaged(
                f"{source}: this backup is damaged; nothing was restored\n{damage}",
                remedy="take an earlier backup",
            )
        with explained(folder):
            _settle(making, folder)


def _listed(verdict: Verdict) -> str:
    shown = [f"  {fault}" for fault in verdict.faults[:10]]
    more = len(verdict.faults) - len(shown)
    return "\n".join([*shown, f"  and {more} more"] if more else shown)


def _explain_faults(
    verdict: Verdict, database: Database, named: list[str], target: Path
) -> None:
    """Say why a copy does not hold: a file forgotten meanwhile is no damage."""
    with database.reading() as connection:
        now = set(connection.execute(select(files.c.sha256)).scalars())
    if set(named) - now:
        raise Busy(
            f"{target}: a file was forgotten while the copy was made; no copy was kept",
            remedy="back up again",
        )
    raise Damaged(
        f"{target}: the copy does not verify, and was deleted\n{_listed(verdict)}",
        remedy="run `dorse verify`: the studio itself may be damaged",
    )


# --- folders ----------------------------------------------------------------------------------


@contextmanager
def _beside(target: Path) -> Iterator[Path]:
    """A passing folder on the same disk as `target`, gone at the end unless it was renamed."""
    with explained(target):
        making = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.absolute().parent))
    try:
        yield making
    finally:
        shutil.rmtree(making, ignore_errors=True)


def _refuse_taken(target: Path) -> None:
    if target.exists() and (
        target.suffix == TAR or not target.is_dir() or any(target.iterdir())
    ):
        raise CannotSave(
            f"{target}: there is something here already; a backup never saves over anything",
            remedy="choose another name, with the day in it for instance",
        )


def _settle(made: Path, target: Path) -> None:
    """Give what was made its name, so that it outlasts a power cut."""
    for folder in (path for path in (made, *made.rglob("*")) if path.is_dir()):
        keep_names(folder)
    if target.is_dir():
        target.rmdir()
    made.chmod(0o755 if made.is_dir() else 0o644)
    made.rename(target)
    keep_names(target.absolute().parent)


def _named_files(folder: Path) -> list[str]:
    """The files that the database in `folder` names."""
    database = Database(folder / DATABASE, patience_seconds=PATIENCE_SECONDS)
    try:
        with database.reading() as connection:
            return sorted(connection.execute(select(files.c.sha256)).scalars())
    finally:
        database.close()


def _verdict_on_folder(folder: Path, progress: Progress | None = None) -> Verdict:
    def second_half(done: int, of_all: int) -> None:
        if progress is not None:
            progress(of_all + done, 2 * of_all)

    return inspect(folder / DATABASE, Shelf(folder / FILES).digest, progress=second_half)


def _told(each: Iterable[T], progress: Progress | None, done: int, of_all: int) -> Iterator[T]:
    """Each of these, telling `progress` when it was dealt with; never more than `of_all`."""
    for count, one in enumerate(each, done + 1):
        yield one
        if progress is not None:
            progress(min(count, of_all), of_all)


def _take_folder(source: Path, making: Path) -> None:
    """Copy a backup folder: the database and whatever lies in files/ under a digest."""
    if not (source / DATABASE).is_file():
        raise NoStudio(f"{source}: this folder is no backup of a studio")
    if Path(f"{source / DATABASE}-wal").exists():
        raise Busy(
            f"{source}: this is a studio in use, or one that was not closed",
            remedy="open it and make a backup of it: dorse --studio STUDIO backup FILE.tar",
        )
    for path in (source / DATABASE, *sorted((source / FILES).rglob("*"))):
        place = path.relative_to(source)
        if path.is_file() and _is_ours(PurePosixPath(place.as_posix())):
            copied(path, making / place)
    (making / FILES).mkdir(exist_ok=True)


# --- one file ---------------------------------------------------------------------------------


def _write_tar(copy: Path, database: Path, there: Iterable[Path]) -> None:
    with explained(copy):
        with tarfile.open(copy, "w", format=tarfile.PAX_FORMAT) as tar:
            tar.add(database, DATABASE, filter=_plain)
            for path in there:
                tar.add(path, f"{FILES}/{path.parent.name}/{path.name}", filter=_plain)
        keep_bytes(copy)


def _plain(member: tarfile.TarInfo) -> tarfile.TarInfo:
    """A member that says nothing of this machine and its users."""
    member.uid = member.gid = 0
    member.uname = member.gname = ""
    member.mode = 0o644
    return member


def _verdict_on_tar(lying: Iterable[tuple[str, IO[bytes]]], database: Path) -> Verdict:
    """The verdict on a .tar as it was written; its database must be the one beside it."""
    found = {name: _digest(content) for name, content in lying}
    with database.open("rb") as file:
        if found.get(DATABASE) != _digest(file):
            raise Damaged("the disk does not give back what was written to it")
    by_name = {name.rpartition("/")[2]: digest for name, digest in found.items()}
    return inspect(database, by_name.get)


def _take_tar(source: Path, making: Path) -> None:
    if not source.is_file():
        raise NoStudio(f"{source}: there is no such file")
    (making / FILES).mkdir()
    try:
        for name, content in _members(source):
            place = making / name
            with explained(making):
                place.parent.mkdir(exist_ok=True)
                with place.open("xb") as file:
                    shutil.copyfileobj(content, file, 1 << 20)
                keep_bytes(place)
    except tarfile.TarError as fault:
        raise NoStudio(
            f"{source}: this file is no backup of a studio, or was cut short ({fault})"
        ) from fault


def _members(source: Path) -> Iterator[tuple[str, IO[bytes]]]:
    """The files of a backup in one .tar. Raises `BadData` for any that a backup has not."""
    seen = set()
    with tarfile.open(source, "r:") as tar:
        for member in tar:
            ours = member.isreg() and _is_ours(PurePosixPath(member.name))
            if not ours or member.name in seen:
                raise BadData(
                    f"{source}: {member.name[:200]!r} does not belong into a backup;"
                    " nothing was restored",
                    remedy="take a .tar that dorse backup wrote",
                )
            seen.add(member.name)
            yield member.name, cast("IO[bytes]", tar.extractfile(member))


def _is_ours(place: PurePosixPath) -> bool:
    """Whether a file of this name belongs into a backup.

    >>> _is_ours(PurePosixPath("ledger.sqlite")), _is_ours(PurePosixPath("files/../../x"))
    (True, False)
    """
    if place.parts == (DATABASE,):
        return True
    if len(place.parts) != 3 or place.parts[0] != FILES:
        return False
    sha256 = place.name
    digits = set("0123456789abcdef")
    return len(sha256) == 64 and set(sha256) <= digits and place.parts[1] == sha256[:2]


def _digest(content: IO[bytes]) -> str:
    whole = hashlib.sha256()
    while chunk := content.read(1 << 20):
        whole.update(chunk)
    return whole.hexdigest()
