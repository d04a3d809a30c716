"""Prices as people write them → exact amounts, each with the years in which it was written so.

Words, signs and years are in vocab/money.toml. What may be read in two ways is read in both, the
likelier first; what may be no price at all is kept and says so. Nothing is read across "…" (a lost
part of a label), and no figure that touches one: its other figures may be lost.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cache, reduce
from operator import or_
from typing import Final

from catalogue.measure.figures import FRACTION, GROUPED, Refusal, figure
from catalogue.measure.tariff import (
    Unit,
    Use,
    currency_use,
    longest_word,
    per_euro,
    table,
    times,
    units_of,
    way_use,
    words,
)
from catalogue.measure.words import any_of

_LOST: Final = "…"
_GAP: Final = re.compile(r"[ \t\u00a0]*(?:(?:and|und|et|en|e|&)[ \t\u00a0]+)?")
_SHILLINGS, _PENCE = Fraction(1, 20), Fraction(1, 240)


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


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount of money found in a text, from `start` to `end`, and every way to read it.

    `doubt` says why it may be no price, "" where nothing speaks against it.
    """

    written: str
    start: int
    end: int
    readings: tuple[MoneyReading, ...]
    doubt: str = ""

    @property
    def currency(self) -> str:
        """The likeliest currency."""
        return self.readings[0].currency

    @property
    def value(self) -> Fraction:
        """How much of it, exactly."""
        return self.readings[0].value

    @property
    def use(self) -> Use:
        """The days in which it was written so, in whichever way it is read."""
        return reduce(or_, (reading.use for reading in self.readings))


@dataclass(frozen=True, slots=True)
class _Piece:
    """One figure with its unit: an amount, or a part of one such as the 10s. of £31 10s."""

    start: int
    end: int
    readings: tuple[tuple[MoneyReading, Unit | None, Fraction], ...]
    doubt: str = ""
    why_not: str = ""


def read_money(text: str) -> tuple[Amount, ...]:
    """The amounts of money in a text, in its order; an empty tuple when there is none.

    >>> [(each.currency, str(each.value)) for each in read_money("12 gns, now £31 10s.")]
    [('GBP', '63/5'), ('GBP', '63/2')]
    >>> [str(each.value) for each in read_money("£31.10")[0].readings]
    ['311/10', '63/2']
    >>> read_money("£31.10…")
    ()
    """
    return tuple(_amount(text, piece) for piece in _read(text) if not piece.why_not)


def money_refused(text: str) -> tuple[Refusal, ...]:
    """What looks like money in a text and cannot be: £3 20s. 0d., half of 1/0 guineas.

    >>> money_refused("£3 20s 0d")[0].why
    '20s is no part of a pound: write it as pounds'
    """
    return tuple(
        Refusal(text[piece.start : piece.end], piece.start, piece.end, piece.why_not)
        for piece in _read(text)
        if piece.why_not
    )


def in_euros(reading: MoneyReading) -> Decimal | None:
    """A reading in euros at the rate that was fixed for its currency, to a cent, half up.

    None where none ever was. It is arithmetic, and says nothing of what the money could buy.

    >>> [in_euros(each) for each in read_money("850 guilders")[0].readings[:1]]
    [Decimal('385.71')]
    """
    rate = per_euro(reading.currency)
    if rate is None:
        return None
    cents = reading.value / Fraction(rate) * 100
    return Decimal(int(cents + Fraction(1, 2))).scaleb(-2)


def _amount(text: str, piece: _Piece) -> Amount:
    readings = tuple(dict.fromkeys(reading for reading, _, _ in piece.readings))
    return Amount(text[piece.start : piece.end], piece.start, piece.end, readings, piece.doubt)


def _read(text: str) -> list[_Piece]:
    """The pieces of a text, those that belong together joined; parts that stand alone left out."""
    joined: list[_Piece] = []
    for piece in _pieces(text):
        last = joined[-1] if joined else None
        both = _together(text, last, piece) if last else None
        if both:
            joined[-1] = both
        else:
            joined.append(piece)
    return [piece for piece in map(_alone, joined) if piece.readings or piece.why_not]


def _alone(piece: _Piece) -> _Piece:
    """A piece without what its unit may mean only behind another."""
    kept = tuple(each for each in piece.readings if not (each[1] and each[1].only_with))
    return replace(piece, readings=kept)


def _together(text: str, first: _Piece, second: _Piece) -> _Piece | None:
    """Two pieces as one amount: pounds with shillings, marks with pfennigs; None where they are two."""
    if second.why_not or not _GAP.fullmatch(text, first.end, second.start):
        return None
    if first.why_not:
        smaller = all(size < 1 for _, _, size in second.readings)
        return replace(first, end=second.end) if smaller else None
    pairs = [
        (one, other)
        for one in first.readings
        for other in second.readings
        if one[0].currency == other[0].currency
        and one[2] > other[2]
        and (other[1] is None or other[1].only_with in (None, one[0].unit))
    ]
    if not pairs:
        return None
    fitting = tuple(_sum(one, other) for one, other in pairs if other[0].value < one[2])
    if fitting:
        return _Piece(first.start, second.end, fitting)
    said = f"{text[second.start : second.end]} is no part of a {pairs[0][0][0].unit}"
    why = f"{said}: write it as {pairs[0][0][0].unit}s"
    return _Piece(first.start, second.end, (), why_not=why)


_Part = tuple[MoneyReading, Unit | None, Fraction]


def _sum(one: _Part, other: _Part) -> _Part:
    reading = MoneyReading(
        one[0].currency,
        one[0].value + other[0].value,
        one[0].unit,
        one[0].use & other[0].use,
    )
    return reading, None, other[2]


@cache
def _figures() -> re.Pattern[str]:
    """Every form of a figure that money is written with; the units are looked for around it."""
    whole = rf"(?:{GROUPED}|[0-9]{{1,15}})"
    number = rf"(?:{whole}(?:[.,·][0-9]{{1,2}}(?![0-9]))?(?:[ -]?{FRACTION})?|{FRACTION})"
    dash, pence = "[-–—]", "[0-9]{1,2}(?: ?[¼½¾])?|[¼½¾]"
    behind_sign = r"(?:(?<=[£₤L])|(?<=[£₤L][.\s])|(?<=[£₤L]\.\s))"
    mixed = rf"[0-9]{{1,15}}[ -]{FRACTION}"
    return re.compile(
        # Not within another number or a word, and not where figures before it may be lost.
        rf"(?<![\w{_LOST}])(?<![0-9{_LOST}][.,:/·])(?:"
        rf"{behind_sign}(?P<pounds>{whole}|{dash})\s?(?P<sign>[.:/,;·\s]|{dash})\s?"
        rf"(?P<shillings>[0-9]{{1,2}}|{dash})\s?(?P=sign)\s?(?P<pence>{pence}|{dash})"
        rf"|{behind_sign}(?P<l>{whole})(?P<by>[:/]|{dash})(?P<s>1?[0-9]|{dash})"
        # £5 7/6; but £5 3/4 is a part of a pound
        rf"|{behind_sign}(?P<full>{whole})\s(?!(?:1/[234]|3/4)(?![0-9]))"
        rf"(?P<odd>1?[0-9])/(?P<last>{pence}|{dash})"
        rf"|(?!{mixed})(?P<sh>[0-9]{{1,3}})/(?P<d>{pence}|[-–—=])(?P<old>\s?d(?!\w)\.?)?"
        rf"|(?:(?P<low>{number})\s?{dash}\s?)?(?P<number>{number})"
        rf"(?:\s(?P<times>{any_of(times())})(?!\w))?(?P<nil>[.,:]?\s?[-–—=]{{1,2}}(?![0-9]))?"
        # Not where it goes on, nor where more of it may be lost.
        rf")(?![0-9])(?![.,:/·][0-9])(?![.,:/·–—-]*{_LOST}|\s[0-9][0-9.,:/]*{_LOST})"
    )


def _pieces(text: str) -> Iterator[_Piece]:
    """Figures with their units, from left to right, none over another."""
    at, end = 0, 0
    while m := _figures().search(text, at):
        found = _sterling(text, m) or _with_unit(text, m, end) or _slashed(text, m)
        if found:
            yield from found
            end = at = found[-1].end
        else:
            # What is no price as a whole may hold one: in "lot 12 7/6" the 7/6.
            first = re.compile(r"[0-9]+|.", re.DOTALL).match(text, m.start())
            at = first.end() if first else m.end()


def _way(*keys: str) -> Use:
    return reduce(lambda one, key: one & way_use(key), keys, currency_use("GBP"))


def _pound(
    value: Fraction, *ways: str, unit: str = "pound", smallest: Fraction = _PENCE
) -> _Part:
    return MoneyReading("GBP", value, unit, _way(*ways)), None, smallest


def _old_pence(written: str) -> tuple[Fraction, tuple[str, ...]]:
    """Pence before 1971 in pounds, and the ways of writing that they show."""
    found = figure(written, thousands=False) if written not in "-–—=" else None
    if found is None:
        return Fraction(0), ("lsd",)
    ways = {4: ("lsd", "farthing"), 2: ("lsd", "halfpenny")}
    return found.value * _PENCE, ways.get(found.value.denominator, ("lsd",))


def _sterling(text: str, m: re.Match[str]) -> list[_Piece]:
    """£31.10.0, £3-10-0, £ 12 - -, £31/10: pounds, shillings and pence behind one sign."""
    pounds = m["pounds"] or m["l"] or m["full"]
    start = _before(text, m.start(), 0)[0] if pounds else None
    if start is None:
        return []
    shillings, pence = m["shillings"] or m["s"] or m["odd"], m["pence"] or m["last"]
    whole = figure(pounds, thousands=True) if pounds not in "-–—" else None
    shillings_value = 0 if shillings in "-–—" else int(shillings)
    pence_value, ways = _old_pence(pence or "-")
    if shillings_value > 19 or pence_value >= _SHILLINGS:
        why = "there are 20 shillings in a pound and 12 pence in a shilling"
        return [_Piece(start, m.end(), (), why_not=why)]
    value = (whole.value if whole else 0) + shillings_value * _SHILLINGS + pence_value
    doubt = (
        table()["doubt"]["range"] if m["by"] and m["by"] in "-–—" and shillings_value else ""
    )
    return [_Piece(start, m.end(), (_pound(Fraction(value), *ways),), doubt)]


def _slashed(text: str, m: re.Match[str]) -> list[_Piece]:
    """7/6, 12/6d, 5/-: shillings and pence, where it cannot be a date, an edition or a size."""
    if not m["sh"] or _numbered(text, m.start()):
        return []
    shillings, (pence, ways) = int(m["sh"]), _old_pence(m["d"])
    value = shillings * _SHILLINGS + pence
    plain = m["d"].isdecimal() and not m["old"]
    if pence >= _SHILLINGS or (len(m["d"]) > 1 and m["d"].startswith("0")):
        return []
    if plain and (_of_a_size(text, m) or (not pence and m["sh"] == "0")):
        return []
    doubt = _slash_doubt(shillings, int(m["d"])) if plain and not _priced(text, m) else ""
    return [_Piece(m.start(), m.end(), (_pound(value, *ways, unit="shilling"),), doubt)]


def _of_a_size(text: str, m: re.Match[str]) -> bool:
    """Whether 3/8 is a part of an inch: a figure stands before it, or a sign for inches or "by" behind."""
    before = re.search(r"[0-9][ -]\Z|[x×]\s?\Z", text[max(m.start() - 2, 0) : m.start()])
    behind = re.match(r"\s?(?:in\b|ins\b|inch|[\"″”x×]|cm\b|mm\b)", text[m.end() : m.end() + 6])
    return bool(behind or (before and int(m["sh"]) < int(m["d"])))


def _slash_doubt(shillings: int, pence: int) -> str:
    if 0 < shillings <= 31 and pence > 0:
        kind = (
            "fraction"
            if (shillings, pence) in {(1, 2), (1, 3), (2, 3), (1, 4), (3, 4)}
            else "day"
        )
    else:
        kind = "edition"
    said: str = table()["doubt"][kind]
    return said


def _priced(text: str, m: re.Match[str]) -> bool:
    """Whether a word beside the figure says that it is a price."""
    behind = re.match(r"\s?([^\W\d_]+\.?)", text[m.end() : m.end() + 16])
    return _ends_in(text, m.start(), words("price_words")) or bool(
        behind and behind[1].lower() in words("price_words")
    )


def _numbered(text: str, start: int) -> bool:
    """Whether a word before the figure says that it is the number of something."""
    return _ends_in(text, start, words("number_words"))


def _ends_in(text: str, start: int, known: frozenset[str]) -> bool:
    tail = text[max(start - 20, 0) : start].rstrip(" \t\u00a0:").lower()
    return any(
        tail[-length:] in known and not tail[:-length][-1:].isalnum()
        for length in range(1, len(tail) + 1)
    )


def _before(text: str, start: int, end: int) -> tuple[int | None, tuple[Unit, ...]]:
    """Where the unit before a figure begins and what it may be; None and () without one."""
    stop = start - 1 if start and text[start - 1] in " \t\u00a0" else start
    for length in range(min(longest_word(), stop - end), 0, -1):
        word, left = text[stop - length : stop], text[stop - length - 1 : stop - length]
        if word[0].isalnum() and (left.isalnum() or left == _LOST):
            continue
        if len(word) == 1 and word.isascii() and word.isalpha() and stop == start:
            continue  # F12 is the number of something
        found = tuple(unit for unit in units_of(word) if unit.before)
        if found:
            return stop - length, found
    return None, ()


def _behind(text: str, end: int) -> tuple[int, tuple[Unit, ...]]:
    """Where the unit behind a figure ends and what it may be; `end` and () without one."""
    begin = end + 1 if text[end : end + 1] in (" ", "\t", "\u00a0") else end
    for length in range(longest_word(), 0, -1):
        word, right = text[begin : begin + length], text[begin + length : begin + length + 1]
        if len(word) < length or (word[-1].isalnum() and (right.isalnum() or right == _LOST)):
            continue
        found = tuple(
            unit for unit in units_of(word) if unit.behind and not (unit.glued and begin > end)
        )
        if found:
            return begin + length, found
    return end, ()


def _with_unit(text: str, m: re.Match[str], after: int) -> list[_Piece]:
    """A figure with a word or sign for its money before it or behind it; both ends of a range."""
    fraction = m["sh"] and m["d"].isdecimal() and not m["old"]
    number = f"{m['sh']}/{m['d']}" if fraction else m["number"]
    if not number:
        return []
    first = "low" if m["low"] else "number" if m["number"] else "sh"
    start, units = _before(text, m.start(first), after)
    end, behind = _behind(text, m.end())
    if start is None:
        if _numbered(text, m.start()):
            return []
        start, units = m.start(), behind
    elif not any(_same(one, other) for one in units for other in behind):
        end = m.end()
    if not units or (m["sh"] and all(unit.doubtful or unit.value < 1 for unit in units)):
        return []
    if not m["low"]:
        return [_valued(text, m, number, (start, end), units)]
    low = _valued(text, m, m["low"], (start, m.end("low")), units)
    return [low, _valued(text, m, number, (m.start("number"), end), units)]


def _same(one: Unit, other: Unit) -> bool:
    """Whether a second word only says again what money it is: £12 stg."""
    return one.value == other.value and bool({*one.means} & {*other.means})


def _valued(
    text: str, m: re.Match[str], number: str, place: tuple[int, int], units: tuple[Unit, ...]
) -> _Piece:
    """The amount of a figure in each unit that it may be in."""
    start, end = place
    found = figure(number.replace("·", "."), thousands=True)
    if found is None:
        return _Piece(start, end, (), why_not=f"{number} is no number: write it again")
    count = found.value * (times()[m["times"]] if m["times"] else 1)
    odd = _odd_hundredths(text, end, m["nil"], found.step) if units[0].odd_hundredths else None
    if odd:
        count += Fraction(int(odd[1]), 100)
        end = odd.end()
    parts = [
        part
        for unit in units
        if unit.at_most is None or count <= unit.at_most
        for part in _parts(unit, number, count)
    ]
    if found.by_points:
        parts += [
            (MoneyReading(key, count, unit.name, currency_use(key)), unit, unit.value)
            for unit in units
            for key in unit.by_points
        ]
    said = (
        ""
        if m["nil"] or "." in number or "," in number
        else _doubt(units, count, text[start:end])
    )
    return _Piece(start, end, tuple(parts), "" if said and _priced(text, m) else said)


def _parts(unit: Unit, number: str, count: Fraction) -> Iterator[_Part]:
    """The readings of so many of one unit, in each currency that it may mean."""
    if unit.name == "pound" and unit.means == ("GBP",) and _point(number):
        yield from _pounds_with_point(number, count)
        return
    way = Use()
    if unit.value == _PENCE and count.denominator in (2, 4):
        way = way_use("halfpenny" if count.denominator == 2 else "farthing")
    elif unit.name == "new penny" and count.denominator == 2:
        way = way_use("new_halfpenny")
    for key in unit.means:
        use = currency_use(key) & unit.use & way
        yield MoneyReading(key, count * unit.value, unit.name, use), unit, unit.value


def _point(number: str) -> str | None:
    """The one or two figures behind a single point, as in £31.10 and £4.5."""
    m = re.fullmatch(r"[0-9,]+[.·]([0-9]{1,2})", number)
    return m[1] if m else None


def _pounds_with_point(number: str, count: Fraction) -> Iterator[_Part]:
    """£31.10 may be pounds and new pence or pounds and shillings; 75 can only be pence."""
    part = _point(number) or ""
    decimal = _pound(count, "decimal", smallest=Fraction(1, 100))
    if int(part) > 19:
        yield decimal
        return
    shillings = _pound(
        Fraction(int(count)) + int(part) * _SHILLINGS, "lsd", smallest=_SHILLINGS
    )
    yield from (decimal, shillings) if len(part) == 2 else (shillings, decimal)


def _odd_hundredths(
    text: str, end: int, nil: str | None, step: Fraction
) -> re.Match[str] | None:
    """The 50 of "12 fr. 50", where no unit of its own stands behind it."""
    m = re.compile(rf"[ \u00a0]([0-9]{{2}})(?![\w.,:/%{_LOST}-])").match(text, end)
    free = m and not nil and step == 1 and not _behind(text, m.end())[1]
    return m if free else None


def _doubt(units: tuple[Unit, ...], count: Fraction, written: str) -> str:
    """Why a figure with these units may be no price, "" where nothing speaks against it."""
    kind = ""
    if all(unit.doubtful for unit in units):
        kind = "letter"
    elif (
        written.endswith("s")
        and units[0].name == "shilling"
        and count >= 20
        and count % 10 == 0
    ):
        kind = "decade"
    elif written.endswith("d") and units[0].name == "penny" and count % 10 in (2, 3):
        kind = "ordinal"
    return table()["doubt"][kind] if kind else ""
