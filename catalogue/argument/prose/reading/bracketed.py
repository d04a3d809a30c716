"""Brackets in a step: somebody's years, a dealer or a sale of its own, or more of whoever stands before."""

from __future__ import annotations

import re
from typing import Final

from catalogue.argument.prose.reading import words
from catalogue.argument.prose.reading.course import Course
from catalogue.argument.prose.reading.dated import date_at
from catalogue.argument.prose.reading.naming import (
    begins,
    else_called,
    known_place,
    relation,
    run,
)
from catalogue.argument.prose.reading.people import close_kin
from catalogue.argument.prose.reading.words import institution_mark, is_title, longest

LIFE: Final = re.compile(
    r"""\s*(?:(?:b|d|born|died|c|ca|circa|about|act|active|fl|flourished|after|before|probably|geb|gest)\b\.?\s*)*
        (?P<first>\d{4}s?)?\s*\??\s*(?:/\d{1,4})?\s*
        (?:(?P<dash>[-–—])\s*(?:(?:c|ca|circa|d|after|before|about|died|or)\b\.?\s*)*(?P<last>\d{4}|\d{2}|\?|present)?)?\s*(?:/\d{1,4})?\s*\??\s*
        (?:\(\?\))?\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_CENTURY: Final = re.compile(r".{0,20}\d{1,2}(?:st|nd|rd|th)[ -]century", re.IGNORECASE)
_SINCE_WHEN: Final = re.compile(r"\s*\?\s*[-–—]\s*")
"""Begun nobody knows when: "(?-1944)"."""
_CITED_BOOK: Final = re.compile(
    r"\s*(?P<who>[A-ZÀ-Þ][\w'’-]+(?:\s(?:and|&)\s[A-ZÀ-Þ][\w'’-]+)?),?\s(?:1[89]|20)\d\d[a-z]?\s*(?:[,:;]|$)"
)
_RESEARCHER: Final = re.compile(r"\s*[A-Z]{2,4}[,\s]+(?:\d{1,2}[/.-]){1,2}\d{2,4}\s*$")


def read_bracket(step: Course, opening: int, closing: int) -> int:
    """Read a bracket with its partner; the place behind it."""
    scan = step.scan
    inside = scan.text[scan.ends[opening] : scan.starts[closing]]
    sort = scan.words[opening]
    step.place(opening, opening + 1)
    step.place(closing, closing + 1)
    behind = closing + 1
    if not inside.strip(" ?"):
        if "?" in inside:
            step.told.sure = "possible"
            step.place(opening, behind)
        return behind
    told = step.told
    open_begin = _SINCE_WHEN.match(inside)
    if (
        open_begin
        and told.parties
        and (
            sort == "("
            or institution_mark(scan.lows[told.parties[-1].start : told.parties[-1].end])
        )
    ):
        dated = date_at(scan.text, scan.ends[opening] + open_begin.end(), scan.starts[closing])
        if dated and dated.when and not told.until:
            told.until = dated.when
            return step.place(opening, behind)
    if _is_literature(step, inside) or _RESEARCHER.match(inside):
        told.remarks.append(inside.strip())
        return step.place(opening, behind)
    if told.parties and _is_life(step, inside, sort):
        told.parties[-1].life = told.parties[-1].life or inside.strip()
        if told.parties[-1].role == "owner":
            told.habits.append(("life" if sort == "[" else "dealer", scan.starts[opening]))
        step.last = "life"
        return step.place(opening, behind)
    if step.fresh and not step.kin and _holds_somebody(step, opening + 1, closing):
        return _own_bracket(step, opening, closing, sort)
    if (
        told.parties
        and sort + inside[:3].casefold() in ("(née", "[née")
        and _years(step, inside)
    ):
        told.parties[-1].life = told.parties[-1].life or inside.strip()
        return step.place(opening, behind)
    if _is_remark(step, opening, closing):
        told.remarks.append(inside.strip())
        for at in range(opening, behind):  # but for notes that it cites
            mark = step.cited.get(scan.starts[at])
            if mark:
                step.note(at, behind, mark)
        return step.place(opening, behind)
    if _is_other_name(step, opening, closing):
        told.parties[-1].end = behind
        step.last = "party"
        return step.place(opening, behind)
    if (
        step.in_sale
        and not step.sale_named
        and begins(scan, opening + 1, closing)
        and not known_place(inside.strip())
    ):
        step.fresh, step.expect = True, "auctioneer"
        step.read_words(opening + 1, closing)
        step.fresh = False
        return behind
    was = (step.fresh, step.expect, step.then, step.comma, step.in_sale, step.sale_named)
    step.depth += 1
    step.comma = False
    step.fresh = False
    step.read_words(opening + 1, closing)
    close_kin(step)
    step.depth -= 1
    step.fresh, step.expect, step.then, step.comma, step.in_sale, step.sale_named = was
    if step.last in ("sale", "passing"):
        step.last = "bracket"
    return behind


def _own_bracket(step: Course, opening: int, closing: int, sort: str) -> int:
    """A bracket in which somebody is named: a dealer, an agent or a sale."""
    before = len(step.told.parties)
    outer = step.bracket
    if step.expect not in ("auctioneer", "agent", "custodian"):
        step.bracket = sort
        said = longest(step.scan.lows, opening + 1, closing, "passing")
        step.bracket_named = bool(said and said[1].rank > 1 and said[1].next == "holder")
    step.read_words(opening + 1, closing)
    close_kin(step)
    step.bracket = outer
    step.fresh = False
    step.comma = False
    step.last = "bracket"
    parties = step.told.parties[before:]
    if parties and not step.depth:
        step.told.habits.append(
            ("life" if sort == "(" else "dealer", step.scan.starts[opening])
        )
    return closing + 1


def _is_literature(step: Course, inside: str) -> bool:
    """Whether a bracket cites a book: "(Holm 1908, no. 12)"."""
    found = _CITED_BOOK.match(inside)
    return bool(
        found
        and step.told.parties
        and not known_place(found["who"])
        and not (step.in_sale and not step.sale_named)
    )


def _years(step: Course, inside: str) -> bool:
    """Whether the last words between commas are years of a life."""
    return LIFE.fullmatch(inside.rpartition(",")[2]) is not None


def _is_remark(step: Course, opening: int, closing: int) -> bool:
    """Whether a bracket is an editor's, by a word that stands in it."""
    scan = step.scan
    if step.fresh and not step.told.parties:
        return False
    if scan.lows[opening + 1] == "as":
        return True
    if longest(scan.lows, opening + 1, closing, "passing", "unknown", "number"):
        return False
    return any(each in words.beside_words() for each in scan.lows[opening + 1 : closing])


def _is_other_name(step: Course, opening: int, closing: int) -> bool:
    """Whether a bracket holds another name of whoever stands before it: "Mrs. J. Quill (Ada Wynne)"."""
    scan = step.scan
    if not step.told.parties or step.last_party_end != opening:
        return False
    somebody = step.told.parties[-1]
    first = opening + 1
    if else_called(scan.lows[first]):
        return begins(scan, first + 1, closing) or scan.words[first + 1 : first + 2] == ["."]
    end = run(scan, first, closing)
    married = is_title(scan.lows[first]) or scan.lows[somebody.start] in (
        "mrs",
        "mme",
        "lady",
        "madame",
        "frau",
        "mr",
        "sir",
        "princess",
        "countess",
    )
    return married and end == closing and not known_place(step.text(first, end))


def _holds_somebody(step: Course, at: int, behind: int) -> bool:
    scan = step.scan
    if date_at(scan.text, scan.starts[at], scan.ends[behind - 1]):
        return False
    if longest(scan.lows, at, behind, "unknown"):
        return False
    found = longest(scan.lows, at, behind, "passing", "sure", "nobody", "behalf", "leading")
    return found is not None or begins(scan, at, behind) or relation(scan, at, behind) > at


def _is_life(step: Course, inside: str, sort: str) -> bool:
    """Whether the letters between two brackets are somebody's years, not those of a holding."""
    if step.last not in ("party", "life", "place", "bracket"):
        return False
    nation, _, years = inside.rpartition(",")
    known = nation.strip() and nation.strip()[0].isalpha() and len(nation.split()) < 4
    inside = years if known and years.strip()[:1].isdigit() else inside
    found = LIFE.fullmatch(inside)
    if not found or not (found["first"] or found["last"]):
        return _CENTURY.match(inside) is not None and sort == "["
    somebody = step.told.parties[-1]
    if somebody.role in ("dealer", "auctioneer") and sort == "(":
        return False
    if institution_mark(step.scan.lows[somebody.start : somebody.end]):
        return False
    lead = inside.strip()[:1].isalpha()
    if not found["dash"]:
        return lead and inside.strip()[:4].lower().startswith(
            ("b", "d", "act", "fl", "gest", "geb")
        )
    if found["first"] and found["last"] and found["last"].isdigit():
        last = (
            int(found["last"])
            if len(found["last"]) == 4
            else int(found["first"][:2] + found["last"])
        )
        if sort == "(":
            died = re.search(r"^\s*\d.*[-–—]\s*d\b", inside) is not None
            return step.last == "party" and last - int(found["first"][:4]) >= 20 and not died
        return last - int(found["first"][:4]) >= 12
    return sort == "[" or step.last == "party"
