"""Names that are no person's: of a firm, of an institution, and wordings that name nobody."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from catalogue.measure.address_words import is_place
from catalogue.measure.name_marks import Kind, Mark, marks
from catalogue.measure.name_sheet import SIGNS, Sheet
from catalogue.measure.name_words import given_names, listed, table, whole
from catalogue.measure.words import any_of


def take_nobody(sheet: Sheet) -> Kind | None:
    """A wording that names nobody: "private collection", "Dutch School", "Trewin Collection"."""
    found = _nobody().match(sheet.left)
    if found is None and "entury" in (sheet.written("life") or ""):  # "Dutch, 17th century"
        found = _nation().fullmatch(sheet.left)
    if found is None:
        return None
    behind = sheet.left[found.end() :].strip(SIGNS + " .")
    # "his wife, Ada Penhale" names her
    if found.lastgroup == "kin" and behind and not is_place(behind):
        sheet.take("rest", 0, found.end())
        return None
    sheet.take("family", 0, found.end())
    return "unknown"


@cache
def _nation() -> re.Pattern[str]:
    nations = any_of(table()["nations"])
    return re.compile(rf"\s*{nations}(?:[-/ ]{nations})?[\s,;.]*", re.IGNORECASE)


@cache
def _nobody() -> re.Pattern[str]:
    words, nations = table()["nobody_named"], any_of(table()["nations"])
    kin = [word for word in words if word.startswith(("his ", "her ", "the ", "a "))]
    others = [word for word in words if word not in kin]
    schools, collections = whole(table()["schools"]), whole(table()["collections"])
    return re.compile(
        rf"\s*(?:(?P<kin>(?i:{whole(kin)}))|(?i:{whole(others)})"
        rf"|(?i:{nations})(?:[-/ ](?i:{nations}))?\s+{schools}"
        rf"|(?!{listed('on_behalf')})[^\W\d_][^,;()\[\]]{{1,60}}?\s{collections})"
        r"(?=\s*(?:[,;.(\[]|$|in\b))"
    )


def take_marked(sheet: Sheet) -> Kind | None:
    """A firm or an institution: its name begins and ends with the commas around its marks."""
    found = list(marks(sheet.left))
    if not found:
        return _take_partners(sheet)
    ends = [0, *commas(sheet.left), len(sheet.left)]
    last = found[-1]
    end = next(at for at in ends if at >= last.end)
    start = _start_of_marked(sheet.left, found[0], ends)
    if title := _messrs().match(sheet.left, start, end):
        sheet.take("honorifics", start, title.end())
        start = title.end()
    place = _of_a_place().search(sheet.left, last.end, end)
    # "Trewin & Sons of Bath" are in Bath; the "Bank of Bath" and a museum are called so.
    if last.kind == "firm" and last.start > start and place and is_place(place["place"]):
        end = place.start()
    sheet.take("family", start, end)
    return last.kind


def _take_partners(sheet: Sheet) -> Kind | None:
    found = _partners().match(sheet.left)
    if found is None or (
        "&" not in found[0] and given_names() & set(found[0].casefold().split())
    ):
        return None  # "Ada and John" are no firm
    sheet.take("family", 0, found.end())
    return "firm"


def _start_of_marked(text: str, mark: Mark, ends: list[int]) -> int:
    """Where the name begins that this mark is of: at the comma before it, unless it joins."""
    before = max(at for at in ends if at <= mark.start)
    alone = not text[before : mark.start].strip(SIGNS + " ")
    start = 0 if mark.joins or alone else before
    prose = re.compile(r"[,;\s]*(?:[^\WA-ZÀ-Þ\d_][\w'’]*\s+)*").match(text, start, mark.start)
    return prose.end() if prose else start


def commas(text: str) -> Iterator[int]:
    """Where the commas and semicolons of a name stand."""
    return (at for at, sign in enumerate(text) if sign in ",;")


@cache
def _messrs() -> re.Pattern[str]:
    return re.compile(r"[,;\s]*(?:The\s+)?Messrs\.?\s+", re.IGNORECASE)


@cache
def _of_a_place() -> re.Pattern[str]:
    return re.compile(r"\s+(?:of|in|at|à|zu|te|a)\s+(?P<place>[^,;]+?)\s*$")


@cache
def _partners() -> re.Pattern[str]:
    """A house or its partners: "Trewin's", "Trewin, Penhale & Quill", "W. & J. Trewin"."""
    name = rf"(?:{listed('family_particles')}\s+){{0,3}}[^\W\d_a-z][\w-]{{1,40}}"
    initials = r"(?:[^\W\d_]\.\s?){1,3}"
    joins = any_of(table()["and_signs"])
    house = (
        rf"{name}['’]s|(?:{name},\s*){{0,4}}{name}(?:\s*&\s*|\s+(?:{joins})\s+){name}"
        rf"|{initials}&\s*{initials}{name}"
    )
    return re.compile(rf"[\s\[(]*(?:{house})(?=\s*(?:[,;]|$))")
