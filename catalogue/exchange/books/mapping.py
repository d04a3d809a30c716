"""How a job book is to be read, as a person says in a mapping file: the file, its columns, its habits."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping as Held
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any, Final

from catalogue.errors import BadSetting
from catalogue.places import table
from catalogue.terms import known

_SHEET_OF_FIELDS: Final = "job_books.toml"
LEAVE: Final = "leave"
"""What a column is mapped to that is not taken in."""

FILL: Final = "fill"
"""What stands in merged cells stands in each row that they reach over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The file itself: which sheet, which row has the headings (0: none), its encoding and separator.

    "" has them found out. `apostrophes` says that an apostrophe before a sign such as = is not part
    of the text, as in tables that dorse wrote; `merged` = "fill", that what stands in merged cells of a
    workbook goes for every row that they reach over.
    """

    sheet: str = ""
    header_row: int = 1
    encoding: str = ""
    separator: str = ""
    apostrophes: bool = False
    merged: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """What whoever kept the book meant: order of day and month, of height and width, unit, currency.

    `two_figures_from` is the first year that a year of two figures may stand for (1950: "49" is 2049),
    0 where it is left open. `number_days` says what counts days that stand as bare numbers: "1900",
    "1904", or "" for what the workbook says (and none in a text file). `nothing` are the words that
    stand for an empty cell.
    """

    dates: str = "day first"
    two_figures_from: int = 0
    number_days: str = ""
    sizes: str = "height first"
    unit: str = ""
    currency: str = ""
    nothing: tuple[str, ...] = ("-", "–", "—", "?", "n/a", "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mapping:
    """A mapping: what the book's rows are known by (`name`, and the columns in `key`), and all the rest.

    `columns` are headings and the field each goes to; `fixed` are fields that every row has.
    """

    name: str
    key: tuple[str, ...]
    columns: dict[str, str]
    fixed: dict[str, str] = field(default_factory=dict)
    layout: Layout = field(default_factory=Layout)
    habits: Habits = field(default_factory=Habits)


_CHOICES: Final = {
    "dates": ("day first", "month first"),
    "sizes": ("height first", "width first"),
    "unit": ("", "mm", "cm", "in"),
    "number_days": ("", "1900", "1904"),
    "separator": ("", ";", ",", "\t", "|"),
    "merged": ("", FILL),
}


def known_fields() -> dict[str, Any]:
    """Every field that a column may go to, with its rows of vocab/job_books.toml."""
    held: dict[str, Any] = table(_SHEET_OF_FIELDS)["field"]
    return held


def mapping_from(path: Path) -> Mapping:
    """The mapping in a file. Raises `BadSetting` saying what is wrong with it and where."""
    try:
        held = tomllib.loads(path.read_text("utf-8-sig"))
    except OSError as refused:
        raise BadSetting(f"{path} cannot be read: {refused.strerror}") from None
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise BadSetting(
            f"{path.name} is no mapping: {wrong}",
            remedy="--draft-mapping writes one to begin with; keep it in UTF-8",
        ) from None
    return mapping_of(held, path.name)


def mapping_of(held: dict[str, Any], where: str = "the mapping") -> Mapping:
    """The mapping that tables of TOML say. Raises `BadSetting`."""
    for name in held:
        if name not in ("book", "columns", "fixed"):
            raise _wrong(
                where, f"[{name}] is not known", "there are [book], [columns] and [fixed]"
            )
    book = dict(_table(held, "book", where))
    columns = _table(held, "columns", where)
    fixed = _table(held, "fixed", where)
    for part, given in (("columns", columns), ("fixed", fixed)):
        for head, name in given.items():
            if part == "columns":
                _check_field(where, head, name)
            else:
                _check_field(where, head, head)
                if not isinstance(name, str):
                    raise _wrong(where, f"[fixed] {head}: {name!r} is no text")
    name = book.pop("name", "")
    if not isinstance(name, str) or not name.strip():
        raise _wrong(
            where,
            "[book] name is missing",
            "give the book a name that never changes: its rows are known by it again",
        )
    key = book.pop("key", [])
    key = [key] if isinstance(key, str) else key
    if not isinstance(key, list) or not key or not all(isinstance(e, str) for e in key):
        raise _wrong(
            where,
            "[book] key is missing",
            'name the column that tells rows apart, such as key = ["No."]',
        )
    form = {each.name: book.pop(each.name) for each in fields(Layout) if each.name in book}
    habits = {each.name: book.pop(each.name) for each in fields(Habits) if each.name in book}
    if book:
        raise _wrong(where, f"[book] {next(iter(book))} is not known")
    for name_of, value in {**form, **habits}.items():
        _check_setting(where, name_of, value)
    if "nothing" in habits:
        habits["nothing"] = tuple(habits["nothing"])
    if not columns:
        raise _wrong(where, "no column is mapped", "say under [columns] where each goes")
    _check_singles(where, columns)
    return Mapping(
        name=name.strip(),
        key=tuple(key),
        columns=dict(columns),
        fixed=dict(fixed),
        layout=Layout(**form),
        habits=Habits(**habits),
    )


def _table(held: dict[str, Any], name: str, where: str) -> dict[str, Any]:
    found = held.get(name, {})
    if not isinstance(found, dict):
        raise _wrong(where, f"{name} is a table: write [{name}]")
    return found


def _check_field(where: str, head: str, name: object) -> None:
    if name == LEAVE or (isinstance(name, str) and name in known_fields()):
        return
    raise _wrong(
        where,
        f"column {head!r}: there is no field {name!r}",
        f"choose one of: {', '.join(known_fields())}; or {LEAVE!r}",
    )


def _check_singles(where: str, columns: Held[str, str]) -> None:
    """Refuse two columns for what a work can have but once."""
    taken: dict[str, str] = {}
    for head, name in columns.items():
        if name == LEAVE or known_fields()[name].get("many", False):
            continue
        if name in taken:
            raise _wrong(
                where,
                f"columns {taken[name]!r} and {head!r} both go to {name!r}",
                f"map one of them to a kind of notes, or to {LEAVE!r}",
            )
        taken[name] = head


def _check_setting(where: str, name: str, value: object) -> None:
    defaults: dict[str, Any] = {
        each.name: each.default for kind in (Layout, Habits) for each in fields(kind)
    }
    if name == "nothing":
        right = isinstance(value, list) and all(isinstance(each, str) for each in value)
    else:
        right = type(value) is type(defaults[name])
    if not right or (type(value) is int and not 0 <= value <= 1_048_576):
        raise _wrong(where, f"[book] {name} = {value!r} is not possible")
    if name in _CHOICES and value not in _CHOICES[name]:
        choices = ", ".join(repr(each) for each in _CHOICES[name])
        raise _wrong(
            where, f"[book] {name} = {value!r} is not known", f"choose one of: {choices}"
        )
    if name == "currency" and value and not known(f"currency/{value}"):
        raise _wrong(
            where,
            f"[book] currency = {value!r} is not known",
            "such as euro or pound-sterling (vocab/terms/currency.ttl)",
        )


def _wrong(where: str, what: str, remedy: str = "") -> BadSetting:
    return BadSetting(f"{where}: {what}", remedy=remedy)
