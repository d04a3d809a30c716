"""Rows of a job book that add up others: they are of no painting, and no work is made of them."""

from __future__ import annotations

from typing import Final

from catalogue.exchange.books.mapping import LEAVE, Habits, Mapping
from catalogue.exchange.books.rows import BookRow, Written
from catalogue.job_books.headings import words
from catalogue.job_books.sums import figure_of
from catalogue.measure import outside, read_money
from catalogue.places import table

_LONGEST: Final = 60
_OF_SUMS: Final = ("price", "asking-price", "insurance", LEAVE)


def adds_up(row: BookRow, key: str, mapping: Mapping) -> bool:
    """Whether a row is a total: the word for one beside sums, or sums without a key (`key` is "").

    >>> book = Mapping(name="m", key=("No.",), columns={"No.": "number", "Price": "price"})
    >>> cells = {"No.": Written("Total 1987", "Total 1987"), "Price": Written("£650", "£650")}
    >>> adds_up(BookRow(59, cells), "Total 1987", book)
    True
    >>> title = {"No.": Written("12", "12"), "Title": Written("Total", "Total")}
    >>> adds_up(BookRow(60, title), "12", book)
    False
    """
    cells = {head: each for head, each in row.cells.items() if _says(each, mapping.habits)}
    others = [each for each in cells.values() if not _names_a_total(each.text)]
    named = len(others) < len(cells)
    if row.beyond:
        others += [Written(each, each) for each in row.beyond.split("; ")]
    if not all(map(_is_a_sum, others)):
        return False
    if named:
        return not key or _names_a_total(key)
    # A figure alone may be the year that is written over the rows of a year.
    sums = all(mapping.columns.get(head, LEAVE) in _OF_SUMS for head in cells)
    return bool(cells) and not key and sums


def _says(cell: Written, habits: Habits) -> bool:
    text = cell.text.strip()
    return bool(text) and text.casefold() not in habits.nothing


def _is_a_sum(cell: Written) -> bool:
    if figure_of(cell) is not None:
        return True
    found = read_money(cell.text)
    left = "".join(outside(cell.text, [(each.start, each.end) for each in found]))
    return bool(found) and not left.strip(" .,;-–")


def _names_a_total(text: str) -> bool:
    """Whether a cell says that its row is a total, and no more than of what.

    >>> [_names_a_total(each) for each in ("Summe:", "Total 1987 (net)", "Total Eclipse", "1987")]
    [True, True, False, False]
    """
    if len(text) > _LONGEST:
        return False
    held = table("job_books.toml")["totals"]
    found = words(text.replace("(", " ").replace(")", " "))
    said = [each for each in found if each in held["words"]]
    return bool(said) and all(
        each in held["words"] or each in held["beside"] or each.isdecimal() for each in found
    )
