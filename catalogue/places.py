"""Where vocab/, templates/ and sample_records/ lie: under the package in a wheel, beside it in a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from catalogue.errors import NotOnFile

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
