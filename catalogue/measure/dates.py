"""Dates as people write them → a span of days, with the rule that made the bounds.

The words and widths are in vocab/dates.toml, points in time in points.py and settling.py, the phrases
around them in phrases.py, several dates in one text in texts.py. A text that is not understood gives
None, and `why_not` says why; nothing is guessed in silence, and no bound is narrower than the words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from catalogue.measure.days import DateSpan, NotADate
from catalogue.measure.edtf import LONGEST, parse
from catalogue.measure.edtf_days import bounds
from catalogue.measure.found import Found, date_span
from catalogue.measure.phrases import Phrases
from catalogue.measure.texts import NoDate, Said, one_date, read_whole
from catalogue.measure.words import Piece, pieces
from catalogue.measure.worlds import ANY_TIME, Window, World, read_in_every_world

_LIKE_EDTF = re.compile(r"[-0-9XYEST:Z/.,~?%\[\]{}+]*[0-9X][-0-9XYEST:Z/.,~?%\[\]{}+]*")
_ONLY_EDTF = re.compile(r"[XYE~%{]|[0-9]S[0-9]|\.\.|T[0-9]|^-|^/|/$|^\[.*,|-[0-9]{2}/[0-9]{4}")


class Understood(NamedTuple):
    """What came of a text: the span, or why there is none; the letters not understood; the rule."""

    span: DateSpan | None
    rest: str
    why: str = ""
    rule: str = ""


def read_date(text: str, circa: int = 5, within: Window = ANY_TIME) -> DateSpan | None:
    """The span that a phrase means, None when it is not understood.

    A year of two figures may stand for any century; `within` says between which days other evidence
    puts it, and where one century alone fits that one is taken. Words beside a date that is beyond
    doubt may stay not understood: the rule says so.

    >>> span = read_date("c. 1887")
    >>> span.edtf, span.earliest.iso, span.latest.iso, span.rule
    ('1887~', '1882-01-01', '1892-12-31', 'circa')
    >>> read_date("vor 1907").latest.iso
    '1906-12-31'
    >>> from catalogue.measure import Day
    >>> read_date("3.5.07", within=(Day(1890, 1, 1), Day(1930, 1, 1))).edtf
    '1907-05-03'
    """
    return understand(text, circa, within).span


def why_not(text: str, circa: int = 5) -> str:
    """Why a phrase gives no date, "" when it does give one.

    >>> why_not("31 February 1900")
    'there is no day 1900-02-31'
    """
    return understand(text, circa).why


def understand(text: str, circa: int = 5, within: Window = ANY_TIME) -> Understood:
    """A phrase as `read_date` reads it, with what was not understood and the reason for nothing.

    >>> understand("1887 (relined by somebody)").rest
    ' (relined by somebody)'
    """
    try:
        found, rest = _read(text, circa, within)
    except NoDate as undated:
        return Understood(None, "", str(undated), "no date")
    except NotADate as refused:
        return Understood(None, text, str(refused))
    if rest:
        found = found._replace(rule=f"{found.rule}; words beside it are not understood")
    span = date_span(found, text)
    return Understood(span, rest, rule=span.rule)


def _read(text: str, circa: int, within: Window) -> tuple[Found, str]:
    said = text.strip()
    if not said:
        raise NotADate("nothing is written there")
    if len(said) > LONGEST:
        raise NotADate("this is too long for a date")
    found = _edtf(said, circa)
    if found:
        return found, ""
    cut = pieces(text)
    whole: list[Said] = []

    def read(world: World) -> Found:
        whole.append(read_whole(Phrases(cut, circa, world)))
        return one_date(whole[-1], cut)

    found = read_in_every_world(read, within)
    return found, _rest(text, cut, whole[-1])


def _edtf(said: str, circa: int) -> Found | None:
    """A text that can be nothing but EDTF."""
    if not _LIKE_EDTF.fullmatch(said) or not _ONLY_EDTF.search(said):
        return None
    try:
        value = parse(said)
    except NotADate:
        return None
    return Found(said, *bounds(value, circa))


def _rest(text: str, cut: Sequence[Piece], said: Said) -> str:
    """The stretches of text between dates in which something is not understood."""
    if not said.unknown:
        return ""
    ends = [0, *(cut[each.behind - 1].end for each in said.dates)]
    starts = [*(cut[each.first].start for each in said.dates), len(text)]
    unknown = [cut[at].start for at in said.unknown]
    return "".join(
        text[end:start]
        for end, start in zip(ends, starts, strict=True)
        if any(end <= at < start for at in unknown)
    )
