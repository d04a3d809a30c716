"""Years, decades, centuries and years of other calendars as people write them."""

from __future__ import annotations

from catalogue.measure.days import NotADate
from catalogue.measure.place import Places
from catalogue.measure.point import At, Point, decade

_LAST_REPUBLICAN_YEAR = 14
_COMPLEMENTARY_DAYS = 13
_CLOSING = ("", ",", ";", ")", "-", "/", "?")


def apostrophe(places: Places, at: int) -> At | None:
    """'87, '80s."""
    figures = places.figures(at + 1)
    if len(figures) == 2 and places.glued(at + 1, at + 1):
        return Point("year", int(figures), short=True), at + 2
    tens = places.pieces[at + 1].senses.get("tens", "")
    return (decade(tens), at + 2) if len(tens) == 2 else None


def bare_number(places: Places, at: int) -> At | None:
    """A year; or a figure that waits for another point."""
    figures = places.figures(at)
    if len(figures) == 4:
        doubted = bool(places.pieces[at].senses.get("doubted"))
        return Point("year", int(figures), doubted=doubted), at + 1
    number, behind = int(figures), at + 1
    thousands = places.figures(at + 2)
    if places.key(at + 1) == "," and len(thousands) == 3 and places.has(at + 3, "bc"):
        number, behind = number * 1000 + int(thousands), at + 3
    if places.has(behind, "bc", "ad", "hijri"):
        return Point("year", number), behind
    if len(figures) > 3:
        return None
    if places.key(behind) == "." and _joins(places, behind + 1):
        behind += 1
    return Point("number", number, figures=len(figures)), behind


def _joins(places: Places, at: int) -> bool:
    """Whether a word or sign stands there that joins two dates: 12.-14. April."""
    return places.key(at) in ("-", "/") or places.has(at, "to", "and", "either")


def hidden(places: Places, at: int) -> At:
    """188-, 18--: figures that are not said."""
    senses = places.pieces[at].senses
    figures = senses["hidden"]
    unit, size = ("decade", 10) if len(figures) == 3 else ("hundred", 100)
    point = Point(unit, int(figures) * size, doubted=senses["doubted"], form="hidden")
    return point, at + 1


def tens(places: Places, at: int) -> At:
    """1880s; 80s; 80er Jahre des 19. Jahrhunderts; anni Ottanta, the eighties."""
    senses = places.pieces[at].senses
    figures = senses["tens"] if "tens" in senses else str(senses["tens_word"])
    return _of_a_century(places, decade(figures), at + 1)


def decade_lead(places: Places, at: int) -> At | None:
    """années 1880, les années 80, gli anni '80."""
    behind = at + 1 + (places.key(at + 1) == "'")
    senses = places.pieces[behind].senses
    if "tens_word" in senses:
        return tens(places, behind)
    figures = senses.get("number", senses.get("tens", ""))
    if len(figures) not in (2, 3, 4) or figures[-1] != "0":
        return None
    point, behind = _of_a_century(places, decade(figures), behind + 1)
    return point._replace(form="decades"), behind


def _of_a_century(places: Places, point: Point, at: int) -> At:
    """A decade of two figures with the century that is named behind it."""
    behind = places.behind(at, "of")
    if not point.short or behind == at:
        return point, at
    found: At | None = None
    if places.has(behind, "century"):
        found = century_first(places, behind)
    elif places.has(behind, "nth", "ordinal", "roman", "number"):
        found = ordinal_first(places, behind)
    if not found or found[0].unit != "century" or not found[0].number:
        return point, at
    century = found[0]
    first = (century.number - 1) * 100
    return Point("decade", first + point.number, era=century.era), found[1]


def named_century(places: Places, at: int) -> At:
    """Settecento."""
    return Point("century", places.pieces[at].senses["named_century"]), at + 1


def century_first(places: Places, at: int) -> At | None:
    """siècle XIX, sec. XIX, s. XIX, C18th; siècle 19, where the word can mean nothing else."""
    number = places.counted(at + 1)
    unclear = len(places.key(at)) == 1 and not is_a_century(places, at)
    if number is None or (unclear and places.figures(at + 1)):
        return None
    return Point("century", number), at + 2


def is_a_century(places: Places, at: int) -> bool:
    """Whether "c" there is no circa: C18, c19th, which nothing follows that they could belong to."""
    if not places.has(at, "century") or not places.glued(at + 1, at + 1):
        return False
    number = places.counted(at + 1)
    return number is not None and 10 <= number <= 21 and places.key(at + 2) in _CLOSING


def ordinal_first(places: Places, at: int) -> At | None:
    """19th century, XIXe siècle, nineteenth-century, 19. Jh., 2nd millennium; an ordinal alone."""
    senses = places.pieces[at].senses
    number = senses.get("ordinal", places.counted(at))
    if number is None:
        return None
    behind = at + 1
    while places.key(behind) in (".", "-", "°", "º") and behind < at + 3:
        behind += 1
    shillings = "number" in senses and places.key(behind) == "s"
    for unit in ("century", "millennium"):
        if places.has(behind, unit) and not shillings:
            return Point(unit, number), behind + 1
    return None if "number" in senses or not number else (Point("nth", number), at + 1)


# --- other calendars --------------------------------------------------------------------------------------


def republican(places: Places, at: int, day: int = 0) -> At:
    """vendémiaire an VI, with the day before it; the 3rd complementary day."""
    month = places.pieces[at].senses.get("revolutionary_month", _COMPLEMENTARY_DAYS)
    behind = at + 1 + (places.key(at + 1) == ",")
    while places.has(behind, "revolutionary_year", "lead"):
        behind += 1
    year = places.counted(behind)
    if year is None:
        raise NotADate("the year of the Republic is not said")
    return Point("republican", year, month, day), behind + 1


def republican_year(places: Places, at: int) -> At | None:
    """an VII, an 7, l'an VII."""
    number = places.counted(at + 1)
    said = places.key(at) in ("an", "l'an")
    if not said or number is None or number > _LAST_REPUBLICAN_YEAR:
        return None
    return Point("republican", number), at + 2


def regnal(places: Places, at: int, first: int, last: int) -> At | None:
    """Geo. III, Vict., behind the numbers of the years; the first of a name has no number: 8 Eliz."""
    reigns = places.pieces[at].senses["sovereign"]
    number = places.counted(at + 1)
    reign = reigns.get(str(number)) if number else reigns.get("0", reigns.get("1"))
    if reign is None:
        raise NotADate("which sovereign of that name is not said, or there is none")
    behind = places.pieces[at + 1]
    if not number and behind.key[:1].isalpha() and not behind.senses:
        return None  # 5 Victoria Street
    return Point("regnal", first, last=last, entry=reign), at + 1 + bool(number)
