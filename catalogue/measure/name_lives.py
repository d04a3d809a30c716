"""The years of a life beside a name: "[1860-1934]", "(b. 1870)", "(French, active 1650-80)"."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from catalogue.measure.attributions import Place
from catalogue.measure.name_sheet import Sheet
from catalogue.measure.name_titles import added_pattern
from catalogue.measure.name_words import initials, table, whole
from catalogue.measure.words import any_of

_YEAR: Final = r"(?<!\d)(?:1[0-9]|20)\d\d(?!\d)s?\??"


def unwrap(sheet: Sheet) -> None:
    """Take off brackets that stand around all that is left."""
    around = re.fullmatch(r"\s*[(\[]([^()\[\]]*)[)\]][\s.;]*", sheet.left)
    if around:
        sheet.blank(0, around.start(1))
        sheet.blank(around.end(1), len(sheet.left))


def take_lives(sheet: Sheet) -> None:
    """The years of a life, in brackets or behind the name; other brackets are set aside."""
    for group in re.finditer(r"[(\[]([^()\[\]]*)[)\]]", sheet.left):
        life = _life_in(group[1])
        at = group.start(1)
        if life and sheet.written("life") is None:
            sheet.take("life", at + life[0], at + life[1])
            sheet.take("rest", at, at + life[0])
            sheet.take("rest", at + life[1], group.end(1))
        elif added := added_pattern().fullmatch(group[1]):
            sheet.take("honorifics", at, at + added.end())
        elif group[1].strip() and not initials().fullmatch(group[1].strip()):
            sheet.take("rest", at, group.end(1))
        else:
            continue
        sheet.blank(group.start(), group.end())
    named = len(sheet.left) - len(sheet.left.lstrip())
    behind = _life_behind().search(sheet.left.rstrip(" .;"), named)
    if behind and sheet.written("life") is None and behind.start() > named:
        sheet.take("life", behind.start("life"), behind.end("life"))
        sheet.blank(behind.start(), behind.end("life"))


def _life_in(text: str) -> Place | None:
    """Where in a bracket the years of a life stand, None where it tells of something else."""
    parts = list(_part_of_a_life().finditer(text))
    if not any(part.lastgroup == "year" for part in parts):
        return None
    start = parts[0].start()
    end = max(part.end() for part in parts if part.lastgroup != "word")
    words = re.findall(r"[^\W\d_]+", _part_of_a_life().sub(" ", text))
    told = all(word[0].isupper() or word in ("of", "near", "bei", "près") for word in words)
    return (start, end) if told else None


@cache
def _part_of_a_life() -> re.Pattern[str]:
    words = whole(table()["born_and_died"])
    year = rf"[-–—]?\s?{_YEAR}(?:\s?[-–—/]\s?(?:{_YEAR}|\d\d?(?!\d))?)?|{_century()}"
    return re.compile(rf"(?P<word>(?<!\w){words})|(?P<year>{year})|[-–—]")


def _century() -> str:
    return (
        r"(?:(?:early|mid|late|first half|second half)[ -](?:of the )?)?"
        r"(?<!\w)\d{1,2}(?:st|nd|rd|th)(?:[-–/]\d{1,2}(?:st|nd|rd|th))?[ -](?:[Cc]entury|c\.)"
        r"|(?<!\w)[XVI]{1,5}e siècle|(?<!\w)\d{1,2}\. Jh(?:dt)?\."
    )


@cache
def _life_behind() -> re.Pattern[str]:
    """Years of a life that close a text: "Ada Penhale, 1840-1926", "Ada Penhale b. 1870"."""
    words = any_of(table()["born_and_died"])
    years = rf"{_YEAR}\s?[-–—]\s?(?:{_YEAR}|\d\d(?!\d))?"
    said = rf"{words}\s?(?:{words}\s?)?{_YEAR}(?:\s?[-–—]\s?(?:{_YEAR}|\d\d))?"
    return re.compile(rf"[,\s]\s*(?P<life>(?<!\w){said}|(?<!\w){years}|{_century()})$")
