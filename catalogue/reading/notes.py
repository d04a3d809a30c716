"""Taking the editor's notes out of a label before it leaves the house."""

from __future__ import annotations

import re
from typing import Final

from catalogue.reading.scan import SIGNS_TO_ESCAPE

_PART: Final = re.compile(rf"\\[{re.escape(SIGNS_TO_ESCAPE)}]|[*/\\]|[^*/\\]+")
_LINE: Final = re.compile(r"[^\r\n]*")
_WOULD_JOIN: Final = set("[]<>(){}+|-.@_")


def without_notes(markup: str) -> str:
    r"""The same markup with its notes taken out, whether they are well typed or not.

    Stricter than reading: a note that runs over several lines goes too, and one that is never
    closed goes to the end of its line. Better a letter too few than a private word too many.

    >>> without_notes("Lot 12 /* ask the owner */ sold")
    'Lot 12  sold'
    >>> without_notes("Lot 12 /* ask the owner")
    'Lot 12 '
    """
    kept: list[str] = []
    at = 0
    unclosed = len(markup)  # from here on no note is closed
    while part := _PART.match(markup, at):
        at = part.end()
        # what is kept decides: taking out one note may lay bare the beginning of another
        if part[0] != "*" or not kept or kept[-1] != "/":
            kept.append(part[0])
            continue
        kept.pop()
        close = markup.find("*/", at) if at < unclosed else -1
        if close >= 0:
            at = close + 2
        else:
            unclosed = min(unclosed, at)
            line = _LINE.match(markup, at)
            at = line.end() if line else at
        if kept and at < len(markup) and _joins(kept[-1][-1], markup[at]):
            kept.append(" ")
    return "".join(kept)


def _joins(before: str, after: str) -> bool:
    """Whether two signs would become another sign if nothing stood between them."""
    return before in _WOULD_JOIN and after in _WOULD_JOIN
