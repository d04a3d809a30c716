"""Which engine of words a studio uses: the one that is always there, or that of `dorse[large]`.

The choice is a setting of the studio. Without the extra the usual engine answers, and finds the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from importlib.util import find_spec
from pathlib import Path

from catalogue.indexes import words
from catalogue.indexes.recent import Document
from catalogue.indexes.words import Words

LARGE = "large"
"""The setting `engine` of a studio that asks for the second engine."""

NAMES = ("usual", LARGE)

NOT_INSTALLED = (
    "this studio asks for the engine for large catalogues, which is not installed here:"
    " the usual one answers, more slowly; `pip install 'dorse[large]'` brings it"
)


def is_installed() -> bool:
    """Whether the second engine is there."""
    return find_spec("tantivy") is not None


def notice(engine: str | None) -> str:
    """What to tell whoever asked for an engine that is not there; "" when all is well.

    >>> notice(None), notice("large") in ("", NOT_INSTALLED)
    ('', True)
    """
    return NOT_INSTALLED if engine == LARGE and not is_installed() else ""


def words_in(folder: Path, engine: str | None = None) -> Words:
    """The index of words in a folder, with the engine that the studio asks for."""
    if engine == LARGE and is_installed():
        from catalogue.indexes.large.words import LargeWords

        return LargeWords(folder)
    return Words(folder)


def write_part(folder: Path, documents: Iterable[Document]) -> None:
    """Write a share of a generation, for the engine whose generation it is."""
    if folder.parent.name.startswith(LARGE):
        from catalogue.indexes.large.writing import write_part as write_large

        write_large(folder, documents)
    else:
        words.write_part(folder, documents)
