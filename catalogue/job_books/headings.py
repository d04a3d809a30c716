"""The words of a heading, and which side of a painting a column is about."""

from __future__ import annotations

import re
from typing import Final

from catalogue.exchange.books.mapping import known_fields
from catalogue.places import table

OF_THE_BACK: Final = "inscriptions-back"
_IN_BRACKETS: Final = re.compile(r"[(\[]([^)\]]*)[)\]]")
_JOINS: Final = re.compile(r"[,/&+;]")


def words(text: str) -> list[str]:
    """The words of a heading without stops, without what stands in brackets behind them.

    >>> words("Job No."), words("H × W (cm)")
    (['job', 'no'], ['h', '×', 'w'])
    """
    plain = _IN_BRACKETS.sub(" ", text) if _IN_BRACKETS.sub("", text).strip() else text
    return re.sub(r"[^\w×]+", " ", plain.casefold()).split()


def stand_in(phrase: list[str], among: list[str]) -> bool:
    """Whether a phrase stands word for word among others.

    >>> stand_in(["date", "in"], ["the", "date", "in"]), stand_in(["date", "in"], ["date", "of", "in"])
    (True, False)
    """
    size = len(phrase)
    return any(among[at : at + size] == phrase for at in range(len(among) - size + 1))


def of_the_back(heading: str) -> bool:
    """Whether a column is about the back of the painting, and about nothing besides.

    >>> [of_the_back(each) for each in ("Rückseite", "Stamps on verso", "Signature, back", "recto verso")]
    [True, True, False, False]
    """
    among = words(heading)
    besides = table("job_books.toml")["back"]
    if _JOINS.search(heading) or any(each in among for each in besides["not_with"]):
        return False
    return any(stand_in(words(each), among) for each in known_fields()[OF_THE_BACK]["headings"])
