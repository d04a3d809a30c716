"""The parts of a workbook beside its rows: which sheets there are, shared texts, which formats are days.

A part with a document type is refused, and nothing is fetched or expanded (ECMA-376 has no use for either).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final
from zipfile import ZipFile

from lxml import etree

from catalogue.errors import BadDocument
from catalogue.exchange import zips

_WORKBOOK: Final = "xl/workbook.xml"
_SHARED: Final = "xl/sharedStrings.xml"
_STYLES: Final = "xl/styles.xml"
_RELATIONS: Final = "xl/_rels/workbook.xml.rels"
_SMALL: Final = 8_000_000
_SHARED_MOST: Final = 64_000_000
_PLACE: Final = re.compile(r"([A-Z]{1,3})(\d{1,7})")
_ESCAPED: Final = re.compile(r"_x([0-9A-Fa-f]{4})_")
_FAR_EASTERN_DAYS: Final = (*range(27, 37), *range(50, 59))
"""Formats that stand for days where a book was made in East Asia (ECMA-376 part 1, 18.8.30)."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its name, the part that holds it, whether it is hidden in the book."""

    name: str
    part: str
    hidden: bool


@dataclass(frozen=True, slots=True)
class Parts:
    """What a workbook says of itself."""

    sheets: tuple[Sheet, ...]
    day_styles: frozenset[int]
    from_1904: bool
    macros: bool
    links: bool

    @classmethod
    def of(cls, file: ZipFile) -> Parts:
        """The parts of an open workbook. Raises `BadDocument` where it is none."""
        names = set(file.namelist())
        if _WORKBOOK not in names:
            raise BadDocument(
                f"{file.filename} is no workbook: it holds no {_WORKBOOK}",
                remedy="save it as .xlsx or .csv",
            )
        targets = dict(_targets(file)) if _RELATIONS in names else {}
        sheets = []
        from_1904 = False
        for element in elements(file, _WORKBOOK, ("sheet", "workbookPr")):
            if element.tag.endswith("}workbookPr"):
                from_1904 = element.get("date1904") in ("1", "true")
                continue
            own = next((v for k, v in element.attrib.items() if k.endswith("}id")), "")
            part = targets.get(own, "")
            if part in names and "worksheet" in part:
                hidden = element.get("state", "visible") != "visible"
                sheets.append(Sheet(element.get("name", ""), part, hidden))
        return cls(
            sheets=tuple(sheets),
            day_styles=_day_styles(file) if _STYLES in names else frozenset(),
            from_1904=from_1904,
            macros=any(name.endswith("vbaProject.bin") for name in names),
            links=any(name.startswith("xl/externalLinks/") for name in names),
        )

    def sheet(self, wanted: str) -> Sheet:
        """The sheet of that name, or the first one that is not hidden. Raises `BadDocument`."""
        if not wanted:
            for each in self.sheets:
                if not each.hidden:
                    return each
        for each in self.sheets:
            if each.name.casefold() == wanted.casefold():
                return each
        raise BadDocument(
            f"the book has no sheet {wanted!r}",
            remedy=f"it has: {', '.join(each.name for each in self.sheets) or 'none'}",
        )

    @staticmethod
    def shared_strings(file: ZipFile) -> list[str]:
        """The texts that cells share, in their order."""
        if _SHARED not in file.namelist():
            return []
        if file.getinfo(_SHARED).file_size > _SHARED_MOST:
            raise BadDocument(
                f"the texts of the book are larger than {_SHARED_MOST // 1_000_000} MB",
                remedy="save the sheet that matters as .csv",
            )
        return [inline_text(element) for element in elements(file, _SHARED, ("si",))]


def _targets(file: ZipFile) -> Iterator[tuple[str, str]]:
    for element in elements(file, _RELATIONS, ("Relationship",)):
        target = str(element.get("Target", ""))
        yield (
            str(element.get("Id")),
            target.lstrip("/") if target.startswith("/") else f"xl/{target}",
        )


def _day_styles(file: ZipFile) -> frozenset[int]:
    """The numbers of the styles under which a number is a day."""
    # Slow to load, and wanted for a workbook only.
    from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format

    held = zips.content(file, _STYLES, _SMALL)
    root = _root(held)
    own = {
        int(each.get("numFmtId", "0")): str(each.get("formatCode", ""))
        for each in root.iter("{*}numFmt")
    }
    styles = root.find("{*}cellXfs")
    found = []
    for number, style in enumerate(styles if styles is not None else ()):
        form = int(style.get("numFmtId", "0"))
        code = own.get(form) or BUILTIN_FORMATS.get(form, "")
        if (form in _FAR_EASTERN_DAYS and form not in own) or is_date_format(code):
            found.append(number)
    return frozenset(found)


def _root(held: bytes) -> Any:
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False
    )
    try:
        root = etree.fromstring(held, parser)
    except etree.XMLSyntaxError as wrong:
        raise _damaged(_STYLES, wrong) from None
    _no_document_type(root, _STYLES)
    return root


def elements(file: ZipFile, part: str, names: tuple[str, ...]) -> Iterator[Any]:
    """The elements of these names in a part, one by one; each is emptied once the next is asked for."""
    tags = [f"{{*}}{name}" for name in names]
    first = True
    with zips.reading(file, part) as entry:
        try:
            for _event, element in etree.iterparse(
                entry,
                tag=tags,
                resolve_entities=False,
                no_network=True,
                load_dtd=False,
                huge_tree=False,
            ):
                if first:
                    _no_document_type(element, part)
                    first = False
                yield element
                element.clear()
                while element.getprevious() is not None:
                    del element.getparent()[0]
        except etree.XMLSyntaxError as wrong:
            raise _damaged(part, wrong) from None


def _no_document_type(element: Any, part: str) -> None:
    about = element.getroottree().docinfo
    if about.internalDTD is not None or about.doctype:
        raise BadDocument(
            f"{part} declares a document type (<!DOCTYPE ...>), which no workbook needs",
            remedy="it is not read, for such a file can fetch others and swell without end",
        )


def _damaged(part: str, wrong: Exception) -> BadDocument:
    return BadDocument(
        f"{part} is damaged: {wrong}", remedy="open the book, and save it under another name"
    )


def inline_text(element: Any) -> str:
    """The text of a cell or a shared text, without the reading aids of Japanese ones."""
    told = [
        each.text or ""
        for each in element.iter("{*}t")
        if not each.getparent().tag.endswith("}rPh")
    ]
    return _ESCAPED.sub(lambda found: _letter(found[1]), "".join(told))


def _letter(code: str) -> str:
    letter = chr(int(code, 16))
    # What is half a letter, or nought, is no text.
    return (
        "\N{REPLACEMENT CHARACTER}"
        if letter == "\0" or "\ud800" <= letter <= "\udfff"
        else letter
    )


def column_of(cell: Any, otherwise: int) -> int:
    """The place of a cell in its row, the first being 0; `otherwise` where it does not say.

    >>> column_of({"r": "AA7"}, 0), column_of({}, 3)
    (26, 3)
    """
    found = _PLACE.fullmatch(cell.get("r") or "")
    if not found:
        return otherwise
    at = 0
    for letter in found[1]:
        at = at * 26 + ord(letter) - ord("A") + 1
    return at - 1
