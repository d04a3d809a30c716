"""A name as it is written → its parts: words of attribution, family and given name, titles, years.

A name is taken apart by signs of what it is: a mark of a firm ("& Sons", "Galerie"), of an
institution ("Museum"), a comma that turns it round, particles, initials. What no sign explains is
left in `rest`; every letter of the text is in one part or in `rest`. The words are in
vocab/names.toml.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from catalogue.measure.address_words import is_place
from catalogue.measure.attributions import find_attribution
from catalogue.measure.name_kinds import commas, take_marked, take_nobody
from catalogue.measure.name_lives import take_lives, unwrap
from catalogue.measure.name_marks import Kind
from catalogue.measure.name_order import (
    given_and_family,
    name_in,
    segments,
    take_turned,
    turned_round,
)
from catalogue.measure.name_sheet import Sheet
from catalogue.measure.name_titles import take_added, take_titles
from catalogue.measure.name_words import listed

_LONGEST: Final = 400
"""So many characters of a text are looked at for a name; a longer one is prose, and stays `rest`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenName:
    """One name taken apart; each part as written, None where there is none.

    `family` is what the name is filed under: of a firm, an institution or somebody who is not named
    ("private collection") it is the whole name. `honorifics` are titles and what follows a name
    ("the Elder", "R.A."); `life` the years of somebody's life or work. `rest` holds what was not
    understood, in order, "" if nothing.
    """

    text: str
    qualifier: str | None = None
    family: str | None = None
    given: str | None = None
    honorifics: str | None = None
    life: str | None = None
    kind: Kind = "unknown"
    rest: str = ""


def read_name(text: str) -> WrittenName:
    """The parts of a name.

    >>> name = read_name("Attributed to Mrs. Ada van der Quill, R.A. (1840-1926)")
    >>> name.qualifier, name.honorifics, name.given, name.family, name.life
    ('Attributed to', 'Mrs. R.A.', 'Ada', 'van der Quill', '1840-1926')
    >>> firm = read_name("J. Trewin & Sons Ltd, Bath")
    >>> firm.kind, firm.family, firm.rest
    ('firm', 'J. Trewin & Sons Ltd', 'Bath')
    """
    sheet = Sheet(text, text)
    kind: Kind = "unknown"
    if len(text) <= _LONGEST:
        attribution = find_attribution(text)
        for place in attribution.words:
            sheet.take("qualifier", *place)
        unwrap(sheet)
        take_lives(sheet)
        kind = take_nobody(sheet) or take_marked(sheet) or _take_person(sheet) or "unknown"
        if attribution.kind == "school-of" and is_place(sheet.written("family") or ""):
            kind = "unknown"  # "School of Ferrara"
    return WrittenName(
        text=text,
        qualifier=sheet.written("qualifier"),
        family=sheet.written("family"),
        given=sheet.written("given"),
        honorifics=sheet.written("honorifics"),
        life=sheet.written("life"),
        kind=kind,
        rest=sheet.rest(),
    )


def _take_person(sheet: Sheet) -> Kind | None:
    """A person: titles, what follows the name, then family and given name."""
    if _known_by_works().match(sheet.left):
        sheet.take("family", 0, next(commas(sheet.left), len(sheet.left)))
        return "person"
    behalf = _on_behalf().match(sheet.left)
    if behalf:  # "Estate of Ada Penhale"
        sheet.take("rest", 0, behalf.end())
    titles = take_titles(sheet, behalf.end() if behalf else 0)
    take_added(sheet, titled=bool(titles))
    parts = [name_in(sheet.left, *part) for part in segments(sheet.left)]
    if not parts or parts[0] is None:
        return None
    first, second = parts[0], parts[1] if len(parts) > 1 else None
    if titles.endswith("of"):  # "the Duke of Trewin": the place is the name
        sheet.take("family", *first)
    elif second and not titles and turned_round(sheet.left, first, second):
        take_titles(sheet, second[0])
        take_turned(sheet, first, name_in(sheet.left, *second))
    else:
        given, family = given_and_family(sheet.left, *first)
        sheet.take("given", *given)
        sheet.take("family", *family)
    return "person"


@cache
def _known_by_works() -> re.Pattern[str]:
    return re.compile(rf"\s*{listed('notnames')}\s+\S")


@cache
def _on_behalf() -> re.Pattern[str]:
    return re.compile(rf"\s*{listed('on_behalf')}\s+(?=\S)")
