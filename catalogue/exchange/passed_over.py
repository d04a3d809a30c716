"""What lies in folders that are taken in and is no record: told once, so that nobody looks for it later."""

from __future__ import annotations

import mimetypes
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from catalogue.exchange.books.from_csv import looks_like_a_table
from catalogue.exchange.readers import ENDINGS

BOOKS: Final = (".csv", ".tsv", ".tab", ".txt", ".xlsx", ".xlsm", ".xls")
_TEXT: Final = ".txt"


@dataclass(frozen=True, slots=True)
class PassedOver:
    """Spreadsheets, files of no kind that is read, and how many pictures and papers lie there.

    Pictures and papers come along where a record names them.
    """

    books: tuple[Path, ...] = ()
    others: tuple[Path, ...] = ()
    beside: int = 0


def passed_over(paths: Iterable[Path]) -> PassedOver:
    """What of the folders among `paths` no reader takes; hidden files are nobody's business."""
    books, others, beside = [], [], 0
    for folder in paths:
        for each in sorted(folder.rglob("*")) if folder.is_dir() else ():
            within = each.relative_to(folder).parts
            if each.suffix.lower() in ENDINGS or any(part[0] in ".~" for part in within):
                continue
            if not each.is_file():
                continue
            if is_book(each):
                books.append(each)
            elif _comes_along(each):
                beside += 1
            else:
                others.append(each)
    return PassedOver(tuple(books), tuple(others), beside)


def is_book(path: Path) -> bool:
    """Whether a file is a spreadsheet by its name; one called .txt only where a table stands in it."""
    ending = path.suffix.lower()
    return ending in BOOKS and (ending != _TEXT or looks_like_a_table(path))


def is_plain_text(path: Path) -> bool:
    """Whether a file is a text in which no table stands."""
    return path.suffix.lower() == _TEXT and not is_book(path)


def _comes_along(path: Path) -> bool:
    kind = mimetypes.guess_type(path.name)[0] or ""
    return kind.startswith("image/") or kind == "application/pdf"
