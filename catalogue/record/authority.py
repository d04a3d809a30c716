"""Numbers of people and firms in public lists of names: what they look like and where they stand.

A number of another form than its list's is kept as typed and told in words; nothing is ever fetched.
"""

from __future__ import annotations

import re
from functools import cache

from catalogue.places import table
from catalogue.record.common import Number

__all__ = ["address_of", "doubt_about"]


def address_of(number: Number) -> str | None:
    """Where a number stands on the web, None for one of no such list or of another form.

    >>> address_of(Number(kind="number/wikidata", text="Q12"))
    'http://www.wikidata.org/entity/Q12'
    >>> address_of(Number(kind="number/ulan", text="12"))
    """
    row = _lists().get(number.kind)
    text = number.text.strip()
    if row is None or not re.fullmatch(row["form"], text, re.ASCII):
        return None
    return row["address"].format(text)


def doubt_about(number: Number) -> str:
    """What to tell about a number that doesn't look as its list's do, "" when there is nothing.

    >>> doubt_about(Number(kind="number/viaf", text="twelve"))
    'a VIAF number has figures only: look at it again'
    """
    row = _lists().get(number.kind)
    return "" if row is None or address_of(number) else row["says"]


@cache
def _lists() -> dict[str, dict[str, str]]:
    return {row["kind"]: row for row in table("authorities.toml")["list"]}
