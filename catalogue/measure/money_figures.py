"""Every form of figures that money is written with, each with its unit → the ways to read it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, reduce
from typing import Final, NamedTuple, TypeAlias

from catalogue.measure.figures import FRACTION, GROUPED, figure
from catalogue.measure.money_words import (
    is_numbered,
    is_priced,
    unit_before,
    unit_behind,
)
from catalogue.measure.tariff import Unit, Use, currency_use, table, times, way_use
from catalogue.measure.words import LOST, any_of

_SHILLING, _PENNY, _NEW_PENNY = Fraction(1, 20), Fraction(1, 240), Fraction(1, 100)
_DASHES: Final = "-–—="
_COMMON_FRACTIONS: Final = ("1/2", "1/3", "2/3", "1/4", "3/4")


@dataclass(frozen=True, slots=True)
class MoneyReading:
    """One way to understand an amount: so much of the main unit of a currency.

    `currency` is the code of ISO 4217 or of its former codes, else a word of vocab/money.toml;
    `unit` is the unit that was written: a guinea is 21/20 of a pound.
    """

    currency: str
    value: Fraction
    unit: str
    use: Use

    @property
    def concept(self) -> str:
        """The concept of the currency in vocab/terms, as a price on file has it."""
        return f"currency/{table()['currency'][self.currency]['term']}"


class Part(NamedTuple):
    """A reading, how much of the main unit its smallest unit is, and the unit it must stand behind."""

    reading: MoneyReading
    size: Fraction
    only_with: str | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """Figures with their unit: an amount, or a part of one such as the 10s. of £31 10s.

    `doubt` says why it may be no price; `why_not` why it cannot be one, and then it has no parts.
    """

    start: int
    end: int
    parts: tuple[Part, ...]
    doubt: str = ""
    why_not: str = ""


def pieces(text: str) -> Iterator[Piece]:
    """The figures with a unit in a text, from left to right, none over another."""
    at, end = 0, 0
    while start := _start().search(text, at):
        found = _piece_at(text, start.start(), end)
        if found:
            yield from found
            end = at = found[-1].end
        else:
            # What is no price as a whole may hold one: in "lot 12 7/6" the 7/6.
            at = start.end()


def _piece_at(text: str, start: int, after: int) -> list[Piece]:
    """What the first form that fits here makes of it; [] where none does."""
    for pattern, reader in _forms():
        m = pattern.match(text, start)
        found = reader(text, m, after) if m else []
        if found:
            return found
    return []


_Reader: TypeAlias = Callable[[str, re.Match[str], int], list[Piece]]


@cache
def _start() -> re.Pattern[str]:
    """The first figures of anything, not within a number, nor where figures before may be lost."""
    return re.compile(
        rf"(?<![0-9{LOST}])(?<![0-9{LOST}][.,:/·])(?:[0-9]+|{FRACTION}|(?:(?<=£)|(?<=£ ))[-–—])"
    )


@cache
def _forms() -> tuple[tuple[re.Pattern[str], _Reader], ...]:
    """Every form, the more particular first, with what reads it."""
    whole = rf"(?:{GROUPED}|[0-9]{{1,15}})"
    number = rf"(?:{whole}(?:[.,:·][0-9]{{1,2}}(?![0-9]))?(?:[ -]?{FRACTION})?|{FRACTION})"
    dash, part = "[-–—]", "[0-9]{1,2}(?:[ ]?[¼½¾])?|[¼½¾]"
    pounds = rf"(?:(?<=[£₤L])|(?<=[£₤L][.\s])|(?<=[£₤L]\.\s))(?P<pounds>{whole}|{dash})"
    shillings = rf"(?P<shillings>1?[0-9]|{dash})"
    pence = rf"(?P<pence>{part}|{dash})"
    forms: tuple[tuple[str, _Reader], ...] = (
        # £31.10.0, £ 12 - -, £31..10..0, £31.10s.6d
        (
            rf"{pounds}\s?(?P<by>[.:/,;·„=]{{1,2}}|\s|{dash})\s?(?P<shillings>[0-9]{{1,2}}|{dash})"
            rf"s?\s?(?P=by)\s?{pence}(?:d(?!\w))?",
            _sterling,
        ),
        # £31/10, £3-10, £31:10s.
        (rf"{pounds}(?P<by>[:/]|{dash}){shillings}(?:s(?!\w)\.?|/-)?", _sterling),
        # £31.10s., £5.5/-
        (rf"{pounds}[.,]{shillings}(?:\s?s(?!\w)\.?|/-)", _sterling),
        # £5 7/6; but £5 3/4 is five pounds and three quarters
        (rf"{pounds}\s(?!(?:1/[234]|3/4)(?![0-9])){shillings}/{pence}", _sterling),
        # 6/6/-, the one form without a sign
        (rf"(?P<pounds>[0-9]{{1,6}})/{shillings}/(?P<pence>{dash})", _unsigned),
        # 12, 2 1/2, 1.250,-, 10-15, 5 million
        (
            rf"(?:(?P<low>{number})\s?{dash}\s?)?(?P<number>{number})"
            rf"(?:\s(?P<times>{any_of(times())})(?!\w))?"
            rf"(?P<nil>(?:[ ]?[.,:][ ]?)?[{_DASHES}]{{1,2}}(?![\w{LOST}]))?",
            _with_unit,
        ),
        # 7/6, 12/6d, 5/-
        (
            rf"(?P<shillings>[0-9]{{1,3}})/(?P<pence>{part}|[{_DASHES}])(?P<d>\s?d(?!\w)\.?)?",
            _slashed,
        ),
    )
    # Not where it goes on, nor where more of it may be lost.
    end = rf"(?![0-9])(?![.,:/·][0-9])(?![.,:/·–—-]*{LOST}|\s[0-9][0-9.,:/]*{LOST})"
    return tuple((re.compile(f"(?:{form}){end}"), reader) for form, reader in forms)


# --- pounds, shillings and pence ------------------------------------------------------------------


def _sterling(text: str, m: re.Match[str], after: int) -> list[Piece]:
    """£31.10.0, £3-10-0, £ 12 - -, £31/10, £5 7/6: all behind one sign."""
    start = unit_before(text, m.start(), after)[0]
    return [] if start is None else [_in_pounds(m, start)]


def _unsigned(text: str, m: re.Match[str], after: int) -> list[Piece]:
    """6/6/-: pounds, shillings and no pence."""
    is_price = not is_numbered(text, m.start()) and not _is_glued(text, m.start())
    return [_in_pounds(m, m.start())] if is_price else []


def _in_pounds(m: re.Match[str], start: int) -> Piece:
    """Pounds, shillings and perhaps pence as one amount."""
    found = m.groupdict()
    shillings, pence = _count(m["shillings"]), _count(found.get("pence") or "-")
    if shillings > 19 or pence >= 12:
        why = "there are 20 shillings in a pound and 12 pence in a shilling"
        return Piece(start, m.end(), (), why_not=why)
    value = _count(m["pounds"]) + shillings * _SHILLING + pence * _PENNY
    a_range = shillings and "pence" not in found and found.get("by", "/") in _DASHES
    doubt = table()["doubt"]["range"] if a_range else ""
    return Piece(start, m.end(), (_pounds(value, *_ways(pence)),), doubt)


def _slashed(text: str, m: re.Match[str], after: int) -> list[Piece]:
    """7/6, 12/6d, 5/-: shillings and pence, where it cannot be a date, an edition or a size."""
    if is_numbered(text, m.start()) or _is_glued(text, m.start()):
        return []
    shillings, pence = _count(m["shillings"]), _count(m["pence"])
    if pence >= 12 or re.fullmatch("0[0-9]", m["pence"]):
        return []
    bare = m["pence"].isdecimal() and not m["d"]
    if bare and (_is_part_of_an_inch(text, m) or _has_a_year(text, m) or not shillings + pence):
        return []
    doubt = _of_a_slash(m) if bare and not is_priced(text, m.start(), m.end()) else ""
    part = _pounds(shillings * _SHILLING + pence * _PENNY, *_ways(pence), unit="shilling")
    return [Piece(m.start(), m.end(), (part,), doubt)]


def _is_glued(text: str, start: int) -> bool:
    """Whether a letter stands right before a figure that has no unit there: B7/6, No12."""
    return text[start - 1 : start].isalpha()


def _count(written: str) -> Fraction:
    """How many; a dash is none."""
    found = None if written in _DASHES else figure(written, thousands=True)
    return found.value if found else Fraction(0)


def _ways(pence: Fraction) -> tuple[str, ...]:
    """The ways of writing sterling that so many old pence show."""
    parts = {4: ("farthing",), 2: ("halfpenny",)}
    return ("lsd", *parts.get(pence.denominator, ()))


def _pounds(
    value: Fraction, *ways: str, unit: str = "pound", smallest: Fraction = _PENNY
) -> Part:
    use = reduce(lambda so_far, way: so_far & way_use(way), ways, currency_use("GBP"))
    return Part(MoneyReading("GBP", value, unit, use), smallest)


def _is_part_of_an_inch(text: str, m: re.Match[str]) -> bool:
    """Whether 3/8 stands in a size: behind a figure or a sign for "by", or before a unit."""
    before = re.search(r"[0-9][ -]\Z|[x×]\s?\Z", text[max(m.start() - 2, 0) : m.start()])
    behind = re.match(r"\s?(?:in\b|ins\b|inch|[\"″”x×]|cm\b|mm\b)", text[m.end() : m.end() + 6])
    return bool(behind or (before and int(m["shillings"]) < int(m["pence"])))


def _has_a_year(text: str, m: re.Match[str]) -> bool:
    """Whether a year stands behind: 7/6 1903, 7/6 '03."""
    year = r"\s?(?:['’][0-9]{2}|(?:1[5-9]|20)[0-9]{2})(?![0-9])"
    return re.match(year, text[m.end() : m.end() + 6]) is not None


def _of_a_slash(m: re.Match[str]) -> str:
    """What figures with a slash may be that are no price."""
    over, under = int(m["shillings"]), int(m["pence"])
    if m[0] in _COMMON_FRACTIONS:
        kind = "fraction"
    elif 1 <= over <= 31 and under:
        kind = "day_or_edition" if over <= under else "day"
    else:
        kind = "number"
    said: str = table()["doubt"][kind]
    return said


# --- a figure with a word or sign for its money ---------------------------------------------------


def _with_unit(text: str, m: re.Match[str], after: int) -> list[Piece]:
    """A figure with its unit before it or behind it, in each way to read it; both ends of a range."""
    start, units = unit_before(text, m.start(), after)
    end, behind = unit_behind(text, m.end())
    if start is None:
        counted = not is_numbered(text, m.start()) and not _is_glued(text, m.start())
        start, units = m.start(), behind if counted else ()
    elif text[m.end() : m.end() + 1].isalpha() and not behind:
        return []  # £1m
    elif not any(_says_it_again(one, other) for one in units for other in behind):
        end = m.end()
    if not units or _is_no_count(text, m, end):
        return []
    if re.fullmatch("[0-9]+/[0-9]+", m[0]) and all(
        unit.doubtful or unit.value < 1 for unit in units
    ):
        return []  # 1/2 d. is a shilling and twopence
    if not m["low"]:
        return [_valued(text, m, m["number"], (start, end), units)]
    low = _valued(text, m, m["low"], (start, m.end("low")), units)
    high = _valued(text, m, m["number"], (m.start("number"), end), units)
    return [replace(low, doubt=high.doubt), high]


def _is_no_count(text: str, m: re.Match[str], end: int) -> bool:
    """Whether a figure with a unit is the number of something: 04d, or the end of NR3 1GN."""
    if re.fullmatch("0[0-9]+", m["number"]):
        return True
    post_code = re.fullmatch("[0-9][A-Z]{2}", text[m.start() : end])
    outward = re.search(
        r"(?<![^\W_])[A-Z]{1,2}[0-9][0-9A-Z]?\s\Z", text[max(m.start() - 6, 0) : m.start()]
    )
    return bool(post_code and outward)


def _says_it_again(one: Unit, other: Unit) -> bool:
    """Whether a second word only says again what money it is: £12 stg."""
    return one.value == other.value and bool({*one.means} & {*other.means})


def _valued(
    text: str, m: re.Match[str], number: str, place: tuple[int, int], units: tuple[Unit, ...]
) -> Piece:
    """The amount of a figure in each unit that it may be in."""
    start, end = place
    found = figure(re.sub("[·:]", ".", number), thousands=True)
    if found is None:
        return Piece(start, end, (), why_not=f"{number} is no number: write it again")
    count = found.value * (times()[m["times"]] if m["times"] else 1)
    if units[0].odd_hundredths and found.step == 1 and not m["nil"]:
        odd, end = _odd_hundredths(text, end)
        count += odd
    fitting = [unit for unit in units if unit.at_most is None or count <= unit.at_most]
    parts = [part for unit in fitting for part in _parts(unit, number, count)]
    if found.by_points:
        parts += [
            Part(MoneyReading(key, count, unit.name, currency_use(key)), unit.value)
            for unit in fitting
            for key in unit.by_points
        ]
    sure = m["nil"] or found.step < 1 or is_priced(text, start, end)
    return Piece(
        start, end, tuple(parts), "" if sure else _of_a_word(text[start:end], count, units)
    )


def _odd_hundredths(text: str, end: int) -> tuple[Fraction, int]:
    """The 50 of "12 fr. 50" and where it ends; nothing where a unit of its own stands behind it."""
    m = re.compile(rf"[ \u00a0]([0-9]{{2}})(?![\w.,:/%{LOST}-])").match(text, end)
    if m is None or unit_behind(text, m.end())[1]:
        return Fraction(0), end
    return Fraction(int(m[1]), 100), m.end()


def _parts(unit: Unit, number: str, count: Fraction) -> Iterator[Part]:
    """The readings of so many of one unit, in each currency that it may mean."""
    point = re.fullmatch(r"[0-9,]+[.·]([0-9]{1,2})", number)
    if point and unit.name == "pound" and unit.means == ("GBP",):
        yield from _pounds_with_point(point[1], count)
        return
    way = Use()
    if unit.value == _PENNY and count.denominator in (2, 4):
        way = way_use("halfpenny" if count.denominator == 2 else "farthing")
    elif unit.means == ("GBP",) and unit.value == _NEW_PENNY and count.denominator == 2:
        way = way_use("new_halfpenny")
    for key in unit.means:
        use = currency_use(key) & unit.use & way
        yield Part(
            MoneyReading(key, count * unit.value, unit.name, use), unit.value, unit.only_with
        )


def _pounds_with_point(behind: str, count: Fraction) -> Iterator[Part]:
    """£31.10 may be pounds and new pence, or pounds and shillings; 75 can only be pence."""
    decimal = _pounds(count, "decimal", smallest=_NEW_PENNY)
    if int(behind) > 19:
        yield decimal
        return
    shillings = _pounds(int(count) + int(behind) * _SHILLING, "lsd", smallest=_SHILLING)
    yield from (decimal, shillings) if len(behind) == 2 else (shillings, decimal)


def _of_a_word(written: str, count: Fraction, units: tuple[Unit, ...]) -> str:
    """Why a figure with these units may be no price, "" where nothing speaks against it."""
    kind = ""
    if all(unit.doubtful for unit in units) or re.fullmatch(
        "[0-9]+ [sd]|[A-Z]{2}[0-9]+", written
    ):
        kind = "letter"
    elif units[0].name == "shilling" and written[-1] == "s" and count >= 20 and count % 10 == 0:
        kind = "decade"
    elif units[0].name == "penny" and written[-1] == "d" and count % 10 in (2, 3):
        kind = "ordinal"
    return table()["doubt"][kind] if kind else ""
