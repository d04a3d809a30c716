"""Files that wait on the tray: handed over in the browser, looked at, not yet taken in.

They lie in a folder of the studio under a name that nobody can guess, and are gone once taken in,
thrown away, or a day old.
"""

from __future__ import annotations

import re
import secrets
import shutil
import time
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from werkzeug.datastructures import FileStorage
from werkzeug.utils import secure_filename

from catalogue.errors import BadData, NotOnFile

FOLDER: Final = "tray"
KEPT_SECONDS: Final = 24 * 3600
BOOKS: Final = (".csv", ".tsv", ".tab", ".txt", ".xlsx", ".xlsm")
MAPPING: Final = "mapping.toml"

_TOKEN = re.compile(r"[0-9a-f]{32}")


def put(studio: Path, files: Iterable[FileStorage]) -> str:
    """Lay files on the tray; the name under which they lie. Raises `BadData` where there are none."""
    chosen = [each for each in files if each.filename]
    if not chosen:
        raise BadData("no file was chosen", remedy="choose one, or several")
    _sweep(studio)
    token = secrets.token_hex(16)
    folder = studio / FOLDER / token / "files"
    folder.mkdir(parents=True)
    for number, each in enumerate(chosen, 1):
        name = secure_filename(each.filename or "") or f"file-{number}"
        if (folder / name).exists():
            name = f"{number}-{name}"
        each.save(folder / name)
    return token


def lying(studio: Path, token: str) -> list[Path]:
    """The files that lie under a name. Raises `NotOnFile`."""
    return sorted((_folder(studio, token) / "files").iterdir())


def book(studio: Path, token: str) -> Path | None:
    """The one spreadsheet that lies under a name, None where it is anything else."""
    files = lying(studio, token)
    return files[0] if len(files) == 1 and files[0].suffix.lower() in BOOKS else None


def mapping(studio: Path, token: str) -> Path:
    """Where the mapping of a job book that lies under a name is kept."""
    return _folder(studio, token) / MAPPING


def clear(studio: Path, token: str) -> None:
    """Take everything under a name off the tray."""
    shutil.rmtree(_folder(studio, token), ignore_errors=True)


def _folder(studio: Path, token: str) -> Path:
    folder = studio / FOLDER / token
    if not _TOKEN.fullmatch(token) or not folder.is_dir():
        raise NotOnFile(
            "these files do not lie on the tray any more", remedy="hand them over again"
        )
    return folder


def _sweep(studio: Path) -> None:
    """What was forgotten on the tray for a day goes: it may be confidential."""
    tray = studio / FOLDER
    for folder in tray.iterdir() if tray.is_dir() else ():
        if time.time() - folder.stat().st_mtime > KEPT_SECONDS:
            shutil.rmtree(folder, ignore_errors=True)
