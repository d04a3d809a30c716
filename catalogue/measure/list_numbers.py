"""Numbers in somebody's list, as labels bear them: "Lot 38", "Inv.-Nr. 47 a", "Exhibition No. 412".

A number is known by the words before it (vocab/statements.toml); a figure that stands alone is
never taken for one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from catalogue import places
from catalogue.measure.words import any_of


@dataclass(frozen=True, slots=True)
class ListNumber:
    """A number with the words that lead it, from `start` to `end`; `value` is the number alone."""

    written: str
    start: int
    end: int
    value: str


def find_list_numbers(text: str) -> tuple[ListNumber, ...]:
    """The numbers in a text that its own words show to be such, in its order.

    >>> [each.value for each in find_list_numbers("Exhibition No. 412, Lot 38, Inv.-Nr. 1907/12a")]
    ['412', '38', '1907/12a']
    >>> find_list_numbers("Exhibition 1912, 84")
    ()
    """
    return tuple(
        ListNumber(m[0], m.start(), m.end(), " ".join(m["value"].split()))
        for m in _number().finditer(text)
    )


@cache
def _number() -> re.Pattern[str]:
    words = places.table("statements.toml")["number"]
    lead, in_list = any_of(words["lead"]), any_of(words["list"])
    of = any_of([*words["list"], *words["list_of"]])
    figures = r"(?:[A-Z]{1,4}[ ./-]?)?[0-9]{1,7}(?:[./-][0-9A-Z]{1,6}){0,4}(?: ?[a-z])?"
    return re.compile(
        rf"(?<!\w)(?i:(?:{of}\s{{0,2}}-?\s{{0,2}})?{lead}|{in_list})"
        rf"\s{{0,2}}:?\s{{0,2}}(?P<value>{figures})(?!\w|[.,][0-9])"
    )
