"""The words that provenance is written in: vocab/provenance_words.toml, and what they decide."""

from __future__ import annotations

import re
from functools import cache
from typing import Any, Final, Literal

from catalogue import places

Brackets = Literal["life", "dealer"]
Form = Literal["public", "internal"]
BRACKETS: Final[tuple[Brackets, ...]] = ("life", "dealer")
FORMS: Final[tuple[Form, ...]] = ("public", "internal")

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def words(part: str) -> dict[str, Any]:
    """One table of the file."""
    found: dict[str, Any] = places.table("provenance_words.toml")[part]
    return found


def raised(mark: str) -> str:
    """A footnote's number as raised figures; brackets of either kind already mean something else.

    >>> raised("12")
    '¹²'
    """
    return mark.translate(_RAISED)


def capital(text: str) -> str:
    """A block that begins a sentence; one in brackets begins with its bracket.

    >>> capital("private collection"), capital("(sale, Rotterdam)")
    ('Private collection', '(sale, Rotterdam)')
    """
    return text[:1].upper() + text[1:]


def leads(phrase: str) -> bool:
    """Whether a phrase stands before the name.

    >>> leads("by inheritance to"), leads("purchased"), leads("purchased at that sale")
    (True, False, False)
    """
    last = phrase.split()[-1:] or [""]
    return last[0].casefold() in words("phrases")["lead_ends"]


def small(name: str) -> str:
    """A common name as it stands within a chain, any other as it is.

    >>> small("Private collection"), small("Hull Museum")
    ('private collection', 'Hull Museum')
    """
    common = any(name.casefold().startswith(each) for each in words("phrases")["common"])
    return name[:1].lower() + name[1:] if common else name


def is_unknown(name: str) -> bool:
    """Whether a record's word for a holder says that nobody knows them."""
    said = name.strip().casefold()
    return any(
        said == each or said.startswith(f"{each} ") for each in words("phrases")["unknown"]
    )


def is_withheld(name: str | None) -> bool:
    """Whether a record's word for a holder stands for a name that stayed in the house."""
    return bool(name == words("notes")["withheld_name"])


def holds_heavy_words(text: str) -> str | None:
    """The first word in a text that needs a document, None without one.

    >>> holds_heavy_words("said to have been Stolen in 1938"), holds_heavy_words("sold in 1938")
    ('stolen', None)
    """
    found = _heavy().search(text.casefold())
    return found[0] if found else None


@cache
def _heavy() -> re.Pattern[str]:
    return re.compile("|".join(rf"\b{re.escape(each)}\b" for each in words("needs")["words"]))
