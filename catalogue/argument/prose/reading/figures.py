"""Dates, prices and numbers of a step, each put where it belongs."""

from __future__ import annotations

import re
from typing import Final

from catalogue.argument.prose.reading.course import Course, Told
from catalogue.argument.prose.reading.dated import Dated
from catalogue.argument.prose.reading.naming import begins
from catalogue.argument.prose.reading.people import somewhere
from catalogue.argument.prose.reading.words import longest
from catalogue.measure import DateSpan

_NUMBER: Final = re.compile(
    r"(?:[A-Za-z]{1,3}[ .-]?)?\d[\w./-]*(?:\s?(?:-|–|and|&|to)\s?\d{1,5}[a-z]?(?![\w.]))*(?:\s?\([a-z]\))?"
)
_ACCESSION: Final = re.compile(r"\(?[A-Z]{0,4}\.?\s?\d{1,4}[.-]\d[\w.-]*(?<![.-])")


def read_date_in(step: Course, at: int, behind: int, dated: Dated) -> int:
    """Put a date where it belongs: the beginning or the end of a holding, else it is left."""
    told = step.told
    end = step.scan.first_from(at, dated.end, behind)
    if dated.doubt:
        told.sure = "possible"
    taken = False
    if dated.until and not told.until:
        told.until, taken = dated.until, True
    if dated.when:
        if told.when is None:
            told.when, taken = dated.when, True
        elif _ends_holding(step, told, dated):
            told.until, taken = dated.when, True
        elif told.when.earliest and dated.when.lies_within(told.when):
            told.when, taken = dated.when, True
        elif dated.when.edtf in (told.when.edtf, told.until.edtf if told.until else ""):
            taken = True
    if taken:
        step.place(at, end)
    step.last = "date"
    return end


def _ends_holding(step: Course, told: Told, dated: Dated) -> bool:
    """Whether a further date is the end of a holding, or says more exactly when it ended."""
    if told.when is None or dated.when is None or dated.until:
        return False
    if told.until is None:
        return _follows(told.when, dated.when)
    return dated.when.lies_within(told.until)


def read_price(step: Course, at: int, end: int) -> int:
    """Take up the first price; any other is left."""
    text = step.scan.text[step.scan.starts[at] : step.scan.ends[end - 1]]
    if step.told.price is None:
        step.told.price = text
        step.last = "number"
        return step.place(at, end)
    return end


def read_number(step: Course, at: int, behind: int) -> int:
    """A lot, stock or inventory number with its lead; `at` where there is none."""
    found = longest(step.scan.lows, at, behind, "number")
    if not found:
        return at
    number_at, word = found
    for _ in range(3):  # "Stock book no. 4"
        while number_at < behind and step.scan.words[number_at] in (".", ":", "#"):
            number_at += 1
        again = (
            longest(step.scan.lows, number_at, behind, "number") if number_at < behind else None
        )
        if not again:
            break
        number_at = again[0]
    if number_at >= behind:
        return at
    start = step.scan.starts[number_at]
    match = _NUMBER.match(step.scan.text, start, step.scan.ends[behind - 1])
    if not match:
        return at
    stop = match.end() - (match[0][-1] in ".-/")
    end = step.scan.first_from(number_at, stop, behind)
    written = step.scan.text[start:stop]
    key = word.key
    if key == "plain":
        key = "lot" if step.in_sale and not step.told.lot else "stock"
        if key == "stock" and not any(each.role == "dealer" for each in step.told.parties):
            key = "own"
    if key == "lot" and step.told.lot is None:
        step.told.lot = written
        step.in_sale = True
    elif step.told.stock_number is None:
        lead = step.scan.text[step.scan.starts[at] : start] if key == "own" else ""
        step.told.stock_number = lead + written
    else:
        return end
    step.last = "number"
    return step.place(at, end)


def read_figure(step: Course, at: int, behind: int) -> int:
    """A number without a lead: of an accession, a house in a street, a lot behind a sale's date."""
    scan = step.scan
    if not scan.words[at][0].isdigit():
        return at
    text = scan.text
    end = at + 1
    if (
        "." in scan.words[at]
        and _ACCESSION.match(text, scan.starts[at])
        and not step.told.stock_number
    ):
        match = _ACCESSION.match(text, scan.starts[at], scan.ends[behind - 1])
        if match:
            end = scan.first_from(end, match.end(), behind)
            step.told.stock_number = match[0]
            return step.place(at, end)
    if (
        step.comma
        and step.told.parties
        and end < behind
        and (begins(scan, end, behind) or scan.lows[end] in ("rue", "via", "bis"))
    ):
        stop = end
        while (
            stop < behind
            and scan.words[stop] not in ",;()[]"
            and stop < at + 7
            and not (stop > end and scan.words[stop][0].isdigit())
        ):
            stop += 1
        return somewhere(step, at, stop)
    if (
        step.in_sale
        and step.told.lot is None
        and step.last == "date"
        and len(scan.words[at]) < 4
    ):
        step.told.lot = scan.words[at]
        return step.place(at, end)
    return at


def _follows(first: DateSpan, second: DateSpan) -> bool:
    """Whether a second date lies after a first."""
    one, two = first.earliest or first.latest, second.latest or second.earliest
    return one is not None and two is not None and one <= two
