"""Where vocab/, templates/ and sample_records/ lie: under the package in a wheel, beside it in a checkout."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from catalogue.errors import BadSetting, NotOnFile

_PACKAGE = Path(__file__).resolve().parent


@cache
def folder(name: str) -> Path:
    """The folder `name` ("vocab", "templates" or "sample_records") of this installation.

    Raises `NotOnFile` when it is neither under the package nor beside it.
    """
    for parent in (_PACKAGE, _PACKAGE.parent):
        if (parent / name).is_dir():
            return parent / name
    raise NotOnFile(
        f"the folder {name}/ is missing from this installation",
        remedy="install dorse again: pip install --force-reinstall dorse",
    )


class Rows(dict[str, Any]):
    """Rows of a table of vocab/; one that is missing is told to the curator, not to a programmer."""

    def __init__(self, rows: dict[str, Any], where: str) -> None:
        super().__init__({key: _told(each, f"{where} [{key}]") for key, each in rows.items()})
        self.where = where

    def __missing__(self, key: str) -> Any:
        raise BadSetting(
            f"vocab/{self.where} lacks “{key}”", remedy="put it in, or bring the file back"
        )


def _told(held: Any, where: str) -> Any:
    if isinstance(held, list):
        return [_told(each, where) for each in held]
    return Rows(held, where) if isinstance(held, dict) else held


@cache
def table(name: str) -> dict[str, Any]:
    """A table of vocab/ ("dates.toml"), as a curator left it; read once.

    Raises `BadSetting` with the place in the file when it cannot be read as TOML; and so does the
    table when a row is asked for that it lacks.
    """
    path = folder("vocab") / name
    try:
        return Rows(tomllib.loads(path.read_text("utf-8")), name)
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise BadSetting(
            f"vocab/{name} cannot be read: {wrong}",
            remedy="mend that line, or bring the file back",
        ) from None
