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


@cache
def table(name: str) -> dict[str, Any]:
    """A table of vocab/ ("dates.toml"), as a curator left it; read once.

    Raises `BadSetting` with the place in the file when it cannot be read as TOML.
    """
    path = folder("vocab") / name
    try:
        return tomllib.loads(path.read_text("utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise BadSetting(
            f"vocab/{name} cannot be read: {wrong}",
            remedy="mend that line, or bring the file back",
        ) from None
