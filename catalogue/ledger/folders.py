"""Where a studio may lie, and where not.

SQLite relies on locks and on memory shared between processes; network file systems and programs
that copy a folder behind its back break both (SQLite's own pages "How To Corrupt An SQLite
Database File", section 2, and "Write-Ahead Logging"). So a new studio is refused there, where
it can be told; the lists are from memory.
"""

from __future__ import annotations

import os
from pathlib import Path

from catalogue.errors import BadSetting

DATABASE = "ledger.sqlite"
FILES = "files"

NETWORK_FILE_SYSTEMS = (
    "9p", "afpfs", "afs", "ceph", "cifs", "coda", "davfs", "fuse.ceph", "fuse.davfs",
    "fuse.davfs2", "fuse.glusterfs", "fuse.gvfsd-fuse", "fuse.rclone", "fuse.s3fs",
    "fuse.sshfs", "fuse.vmhgfs-fuse", "glusterfs", "lustre", "ncpfs", "nfs", "nfs4", "prl_fs",
    "smb", "smb2", "smb3", "smbfs", "vboxsf", "vmhgfs",
)  # fmt: skip
"""Types in the mount table that mean another machine (or the host of a virtual one)."""

SYNC_MARKERS = (
    ".dropbox", ".dropbox.cache", ".nextcloudsync.log", ".owncloudsync.log", ".stfolder",
    ".sync_*.db", "._sync_*.db", ".sync/ID", ".SynologyWorkingDirectory", ".tmp.drivedownload",
    ".tmp.driveupload", ".849C9593-D756-4E56-8D6E-42412F2A707B",
)  # fmt: skip
"""What syncing programs put into the folder that they copy (patterns, in it or above it)."""

SYNC_FOLDERS = ("com~apple~CloudDocs", "Mobile Documents", "CloudStorage", "OneDrive*")
"""Names of folders that a syncing program copies (patterns, it or one above it)."""

MOUNT_TABLE = Path("/proc/self/mounts")
"""Where Linux tells what is mounted; elsewhere only markers are looked at."""


def refuse_unsafe(folder: Path, mounts: str | None = None) -> None:
    """Raise `BadSetting` when `folder` is on a network or synced, where that can be told.

    `mounts` is the text of a mount table, by default the system's own.
    """
    place = folder.absolute()
    if place.exists():
        place = place.resolve()
    remedy = (
        "keep the studio on this machine's own disk, and let that folder take backups instead:"
        " dorse --studio STUDIO backup FOLDER/studio.tar"
    )
    if mounts is None and MOUNT_TABLE.exists():
        mounts = MOUNT_TABLE.read_text("utf-8", "surrogateescape")
    kind = _file_system(place, mounts or "")
    if kind in NETWORK_FILE_SYSTEMS:
        raise BadSetting(
            f"{folder}: this folder is on a network or shared drive ({kind}), where a database"
            " can be damaged",
            remedy=remedy,
        )
    for above in (place, *place.parents):
        marker = _marker(above)
        if marker is not None:
            raise BadSetting(
                f"{folder}: this folder is copied by a syncing program ({marker}), which can"
                " damage a database",
                remedy=remedy,
            )


def _file_system(place: Path, mounts: str) -> str | None:
    """The type of the file system that `place` lies on: that of the deepest mount above it."""
    found: tuple[int, str] | None = None
    for line in mounts.splitlines():
        fields = line.split(" ")
        if len(fields) < 3:
            continue
        point = Path(_unescaped(fields[1]))
        # of two mounts on one point the later lies on top
        if place.is_relative_to(point) and (found is None or len(point.parts) >= found[0]):
            found = (len(point.parts), fields[2])
    return found[1] if found else None


def _unescaped(field: str) -> str:
    """A mount point as it is called: the table writes white space and backslashes in octal."""
    for octal, character in (("\\040", " "), ("\\011", "\t"), ("\\012", "\n"), ("\\134", "\\")):
        field = field.replace(octal, character)
    return field


def _marker(folder: Path) -> str | None:
    """What shows that a syncing program copies `folder`, None when nothing does."""
    if any(folder.match(pattern) for pattern in SYNC_FOLDERS):
        return folder.name
    try:
        for pattern in SYNC_MARKERS:
            for found in folder.glob(pattern):
                return str(found)
    except OSError:  # a folder above that may not be looked into tells nothing
        return None
    return None


def keep_names(folder: Path) -> None:
    """Make sure that names just given or taken away in `folder` outlast a power cut."""
    if os.name != "posix":  # elsewhere a folder cannot be opened, and renames are journalled
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
