"""The phrases around points in time: about, before, between, from - to, or, and.

One grammar, which composes: a term is a point with the words around it, a span two terms, a date one
or several spans. It reads in one `World`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeAlias

from catalogue.measure import found as spans
from catalogue.measure.days import NotADate
from catalogue.measure.found import Found
from catalogue.measure.point import Point
from catalogue.measure.points import Points
from catalogue.measure.settling import lean, settle
from catalogue.measure.words import Piece, division
from catalogue.measure.worlds import World
from catalogue.measure.years_written import is_a_century

_BOUNDS: dict[str, Callable[[Found], Found]] = {
    "before": spans.before,
    "after": spans.after,
    "until": spans.until,
    "since": spans.since,
}
_FROM_BELOW, _FROM_ABOVE = ("after", "since"), ("before", "until")
_DEPTH = 3
_MOST_WORDS = 8
_MOST_ALTERNATIVES = 8
"""So many words may stand before a point, so many dates beside each other: the rest is no date."""


class Term(NamedTuple):
    """A point with the words around it; `found` where a bracket or a life says it already."""

    point: Point
    circa: bool = False
    doubted: bool = False
    bound: str = ""
    width: int = 0
    found: Found | None = None

    @property
    def whole(self) -> bool:
        """Whether it can be read without one beside it."""
        return self.found is not None or self.point.whole


Read: TypeAlias = tuple[Found, int]
"""What was found, and the place of the first piece behind it."""
_NOTHING = Point("")


class Phrases:
    """Reads the phrases of one text in one world; a place is an index of its pieces."""

    def __init__(self, pieces: Sequence[Piece], circa: int, world: World) -> None:
        self.pieces = pieces
        self.points = Points(pieces)
        self.places = self.points.places
        self.circa = circa
        self.world = world
        self.depth = 0

    # --- one date: ranges, alternatives -----------------------------------------------------------------

    def date(self, at: int) -> Read | None:
        """The date that begins there: a range, or several with "or". Raises `NotADate`, `Undecided`.

        The other date may be in brackets: 1880 (or 1881).
        """
        read = self._span(at)
        for _ in range(_MOST_ALTERNATIVES):
            if read is None:
                break
            found, at = read
            bracket = self.places.key(at) == "("
            if not self.places.has(at + bracket, "either"):
                break
            other = self._span(at + bracket + 1)
            if other is None or (bracket and self.places.key(other[1]) != ")"):
                break
            read = spans.one_of((found, other[0]), "either"), other[1] + bracket
        return read

    def _span(self, at: int) -> Read | None:
        if self.depth > _DEPTH:
            return None
        for sense, reader in _OPENINGS:
            if self.places.has(at, sense):
                read = reader(self, at)
                if read:
                    return read
        if self.places.has(at, "circa", "probably") and self.places.has(
            at + 1, "between", "from"
        ):
            return self._about_a_span(at)
        if self.places.key(at) == "-":
            return self._open_start(at)
        if self.places.key(at) == "?" and self.places.key(at + 1) == "-":
            return self._open_start(at + 1)
        first = self.term(at)
        return self._from_term(*first) if first else None

    def _about_a_span(self, at: int) -> Read | None:
        """probably between 1876 and 1880: the doubt is told, the span has its own ends."""
        read = self._span(at + 1)
        if read is None:
            return None
        found, behind = read
        if self.places.has(at, "probably"):
            return spans.probable(found), behind
        return found._replace(rule=f"circa {found.rule}"), behind

    def _between(self, at: int) -> Read | None:
        """between 1880 and 1885: one date somewhere from one to the other."""
        return self._two_ends(at + 1, ("and", "to", "either"), "between")

    def _from(self, at: int) -> Read | None:
        """from 1880 to 1885; where nothing follows "from" alone is "since"."""
        return self._two_ends(at + 1, ("to",), "from - to")

    def _two_ends(self, at: int, joining: tuple[str, ...], how: str) -> Read | None:
        first = self.term(at)
        if first is None:
            return None
        behind = first[1]
        if self.places.key(behind) != "-" and not self.places.has(behind, *joining):
            return None
        last = self.term(behind + 1)
        return (self._pair(first[0], last[0], how), last[1]) if last else None

    def _born(self, at: int) -> Read | None:
        """b. 1870; born 1870, died 1953; 1870-1953 after it is a life as well."""
        first = self.term(at + 1)
        if first is None:
            return None
        behind = first[1]
        while self.places.key(behind) in (",", ";", "-", "/"):
            behind += 1
        if self.places.has(behind, "died"):
            last = self.term(behind + 1)
            if last:
                return self._pair(first[0], last[0], "life"), last[1]
        found = spans.open_after(self._meant(first[0]))
        return found._replace(rule="born then; the end of the life is not said"), first[1]

    def _died(self, at: int) -> Read | None:
        """d. 1953."""
        last = self.term(at + 1)
        if last is None:
            return None
        found = spans.open_before(self._meant(last[0]))
        return found._replace(rule="died then; the beginning of the life is not said"), last[1]

    def _active(self, at: int) -> Read | None:
        """active 1850-1880, fl. c. 1620."""
        read = self._span(at + 1)
        return (read[0]._replace(rule=f"active: {read[0].rule}"), read[1]) if read else None

    def _open_start(self, at: int) -> Read | None:
        """-1972: the beginning is not said."""
        last = self.term(at + 1)
        if last is None or not last[0].whole or last[0].bound:
            return None
        return spans.open_before(self._meant(last[0])), last[1]

    def _from_term(self, first: Term, at: int) -> Read | None:
        """What begins with this term: a range, a pair with a word between, or it alone."""
        if first.bound:
            both = self._from_both_sides(first, at)
            if both:
                return both
        bracketed = self._bracketed_end(first, at)
        if bracketed:
            return bracketed
        joined = self._joined(first, at)
        if joined:
            return joined
        return (self._meant(first), at) if first.whole else None

    def _joined(self, first: Term, at: int) -> Read | None:
        """What follows a hyphen, a stroke or a word between two dates."""
        how, behind = self._separator(at)
        if not how:
            return None
        if how == "/" and first.point.era == "hijri":
            # AH 950/AD 1543-44: the same time said again, in our years
            return self._span(behind)
        if how in ("-", "to") and self._ends_open(behind):
            return spans.open_after(self._meant(first)), self._behind_present(behind)
        last = self.term(behind)
        if last and self._makes_a_pair(first, last[0]):
            glued = self.places.glued(at, behind)
            found = self._pair(first, last[0], how, glued=glued)
            if how in ("-", "/") and self.places.key(last[1]) in ("-", "/"):
                end = self._completed(first, last[0], how, glued=glued)[1]
                return self._continued(found, end, last[1])
            return found, last[1]
        if how == "-" and first.whole and not self.places.key(behind):
            return spans.open_after(self._meant(first)), behind
        return None

    def _continued(self, found: Found, end: Term, at: int) -> Read:
        """1470/75-80, 1883-90/95: a span that goes on from one of its ends."""
        more = self.term(at + 1)
        if more is None:
            return found, at
        later = more[0]._replace(point=lean(more[0].point, end.point, backwards=True))
        if not later.whole or later.bound:
            return found, at
        return spans.from_to(found, self._as_an_end(later), "span"), more[1]

    def _bracketed_end(self, first: Term, at: int) -> Read | None:
        """1883(-84), 1883 (-1884)."""
        if self.places.key(at) != "(" or self.places.key(at + 1) != "-":
            return None
        last = self.term(at + 2)
        if (
            last is None
            or self.places.key(last[1]) != ")"
            or not self._makes_a_pair(first, last[0])
        ):
            return None
        return self._pair(first, last[0], "-"), last[1] + 1

    def _makes_a_pair(self, first: Term, last: Term) -> bool:
        if first.whole and last.whole:
            return True
        if not first.whole and not last.whole:
            return first.point.unit == last.point.unit == "number" and last.point.figures == 3
        return True

    def _separator(self, at: int) -> tuple[str, int]:
        """What stands between two terms: "-", "/", "to", "either", "and"; "" for none."""
        hyphen = self.places.key(at) == "-"
        while self.places.key(at) == "-":
            at += 1
        # the hyphens of "mid-to-late" belong to the words
        if hyphen and not (self.places.has(at, "to") and self.places.key(at + 1) == "-"):
            return "-", at
        if self.places.key(at) == "/":
            return "/", at + 1
        for sense in ("to", "either", "and"):
            if self.places.has(at, sense):
                return sense, at + 1 + (hyphen and self.places.key(at + 1) == "-")
        return "", at

    def _ends_open(self, at: int) -> bool:
        """1907-present, 1870-?, [1870-]."""
        return (
            self.places.has(at, "present", "undated")
            or (self.places.key(at) == "?" and not self.term(at))
            or self.places.key(at) in (")", "]")
        )

    def _behind_present(self, at: int) -> int:
        return at + (self.places.has(at, "present", "undated") or self.places.key(at) == "?")

    def _from_both_sides(self, first: Term, at: int) -> Read | None:
        """after 1887, before 1890; not before 1887 and not after 1890."""
        behind = at
        while self.places.key(behind) in (",", "/") or self.places.has(behind, "and"):
            behind += 1
        last = self.term(behind)
        if last is None or not last[0].bound or not (first.whole and last[0].whole):
            return None
        if first.bound in _FROM_BELOW and last[0].bound in _FROM_ABOVE:
            low, high = first, last[0]
        elif first.bound in _FROM_ABOVE and last[0].bound in _FROM_BELOW:
            low, high = last[0], first
        else:
            return None
        return spans.one_between(self._meant(low), self._meant(high), "between"), last[1]

    # --- one point with the words around it -------------------------------------------------------------

    def term(self, at: int) -> tuple[Term, int] | None:
        """A point with what stands around it: circa, probably, before, or later, (?), +- 3."""
        circa = doubted = False
        bound = ""
        for _ in range(_MOST_WORDS):
            senses = self.pieces[at].senses
            its_bound = next((each for each in _BOUNDS if each in senses), "")
            if "lead" in senses:
                if "revolutionary_year" in senses and self.points.point(at):
                    break
            elif "circa" in senses and not is_a_century(self.places, at):
                circa = True
            elif "probably" in senses:
                doubted = True
            elif self._in_brackets(at, "circa"):
                circa, at = True, at + 2
            elif its_bound and not bound:
                bound = its_bound
            elif "act" not in senses or not (circa or doubted):
                break
            at += 1
        core = self._bracketed(at) or self._point(at)
        if core is None:
            return None
        term, at = core
        term = term._replace(
            circa=circa or term.circa, doubted=doubted or term.doubted, bound=bound
        )
        term, at = self._words_behind(term, at)
        return _of_three_figures(term), at

    def _point(self, at: int) -> tuple[Term, int] | None:
        found = self.points.point(at)
        return (Term(found[0]), found[1]) if found else None

    def _bracketed(self, at: int) -> tuple[Term, int] | None:
        """[1887], (c. 1880-85)."""
        closing = {"(": ")", "[": "]"}.get(self.places.key(at))
        if closing is None:
            return None
        self.depth += 1
        read = self.date(at + 1)
        self.depth -= 1
        if read is None or self.places.key(read[1]) != closing:
            return None
        return Term(_NOTHING, found=read[0]), read[1] + 1

    def _words_behind(self, term: Term, at: int) -> tuple[Term, int]:
        while True:
            senses = self.pieces[at].senses
            if "doubted" in senses:
                term = term._replace(doubted=True)
            elif self._stands_behind(at):
                term = self._with_words(term, at)
            elif (
                self.places.key(at) == ","
                and self.places.has(at + 1, "or_later")
                and self._stands_behind(at + 1)
            ):
                term, at = self._with_words(term, at + 1), at + 1
            elif self._in_brackets(at, "or_later", "or_earlier", "thereabouts"):
                term, at = self._with_words(term, at + 1), at + 2
            elif width := self._width(at):
                term, at = term._replace(width=width[0]), width[1] - 1
            else:
                return term, at
            at += 1

    def _stands_behind(self, at: int) -> bool:
        """Words that belong to the date before them: or later, or thereabouts."""
        if not self.places.has(at, "or_later", "or_earlier", "thereabouts"):
            return False
        return not self.points.point(at + 1)

    def _in_brackets(self, at: int, *senses: str) -> bool:
        """Whether one piece of these senses stands there in brackets: [ca.], (or later)."""
        signs = (self.places.key(at), self.places.key(at + 2))
        return signs in (("(", ")"), ("[", "]")) and self.places.has(at + 1, *senses)

    def _with_words(self, term: Term, at: int) -> Term:
        if self.places.has(at, "thereabouts") and not self.places.has(at, "or_later"):
            return term._replace(circa=True)
        bound = "since" if self.places.has(at, "or_later") else "until"
        return term._replace(bound=term.bound or bound)

    def _width(self, at: int) -> tuple[int, int] | None:
        """± 3, +/- 3 years."""
        figures = self.places.figures(at + 1)
        if not self.places.has(at, "plus_minus") or not 1 <= len(figures) <= 2:
            return None
        return int(figures), at + 2 + self.places.has(at + 2, "lead")

    # --- meaning ----------------------------------------------------------------------------------------

    def _meant(self, term: Term) -> Found:
        """A whole term's days. Raises `NotADate`, `Undecided`."""
        found = self._without_bound(term)
        if term.width:
            found = spans.so_many_years_either_way(found, term.width)
        elif term.circa:
            found = spans.about(found, self.circa)
        if term.doubted:
            found = spans.probable(found)
        return _BOUNDS[term.bound](found) if term.bound else found

    def _without_bound(self, term: Term) -> Found:
        if term.found is not None:
            return term.found
        point = term.point
        if point.lacks or not point.whole:
            raise NotADate(_lacking(point))
        return settle(point, self.world)

    def _pair(self, first: Term, last: Term, how: str, *, glued: bool = True) -> Found:
        """Two terms as one span, or as one of two, or as both."""
        start, end = self._completed(first, last, how, glued=glued)
        if how in ("either", "and"):
            join = spans.one_of if how == "either" else spans.all_of
            both = how if how == "either" else "both"
            return join((self._meant(start), self._meant(end)), both)
        if end is start:
            return self._meant(start)
        if first.bound in _FROM_BELOW and how in ("-", "/") and not last.bound:
            # after 1650-52: after one of them, and nothing is said of how long
            return self._meant(start)
        circa = first.circa and not first.bound and not last.bound
        end = end._replace(circa=end.circa or circa)
        begins, ends = self._as_an_end(start), self._as_an_end(end)
        if begins.earliest and ends.latest and begins.earliest > ends.latest:
            start = _a_year_earlier(first, start)
            begins = self._as_an_end(start)
        if how == "/" and not circa:
            return _one_or_the_other(start, end, last, begins, ends)
        if how == "between" or first.bound in _FROM_BELOW or last.bound in _FROM_ABOVE:
            return spans.one_between(begins, ends, "between")
        return spans.from_to(begins, ends, _rule_of_span(start, end, how, circa=circa))

    def _as_an_end(self, term: Term) -> Found:
        """A term as an end of a span, which is about but not widened: it keeps its own bounds."""
        if term.bound:
            return self._meant(term)
        plain = self._meant(term._replace(circa=False))
        signed = self._meant(term) if term.circa else plain
        return plain._replace(edtf=signed.edtf)

    def _completed(
        self, first: Term, last: Term, how: str, *, glued: bool
    ) -> tuple[Term, Term]:
        """Both terms, each completed by the other where it says less."""
        one, other = first.point, _decade_after(first.point, last.point)
        if other.unit == "number" and one.unit == "year" and first.whole and not one.era:
            month = _month_instead(one, other, how, glued=glued)
            if month:
                whole = first._replace(point=month)
                return whole, whole
        if not other.whole or other.short:
            other = lean(other, one, backwards=True)
        one = lean(one, other, backwards=False)
        other = lean(other, one, backwards=True)
        return first._replace(point=one), last._replace(point=other)


_OPENINGS: tuple[tuple[str, Callable[[Phrases, int], Read | None]], ...] = (
    ("between", Phrases._between),
    ("from", Phrases._from),
    ("active", Phrases._active),
    ("born", Phrases._born),
    ("died", Phrases._died),
)


def _of_three_figures(term: Term) -> Term:
    """c. 950: three figures are a year only where a word beside them says so."""
    point = term.point
    if point.unit == "number" and point.figures == 3 and (term.circa or term.bound):
        return term._replace(point=Point("year", point.number, parts=point.parts))
    return term


def _lacking(point: Point) -> str:
    if point.unit == "part":
        return "it does not say of what it is a part"
    if point.lacks:
        return "the year is not said"
    return "a figure alone is no date"


def _decade_after(first: Point, last: Point) -> Point:
    """The 1900s in 1890s-1900s are a decade."""
    near = first.unit in ("year", "decade") and 0 < last.number - first.number <= 20
    if last.unit == "hundred" and near and not last.parts:
        return last._replace(unit="decade")
    return last


def _month_instead(year: Point, number: Point, how: str, *, glued: bool) -> Point | None:
    """1907-04 is April where it cannot be 1907 to 1904. Raises `NotADate` where it is neither."""
    if how not in ("-", "/") or number.figures > 2 or number.parts:
        return None
    full = year.number - year.number % 10**number.figures + number.number
    if full > year.number or number.figures != 2 or not glued:
        return None
    if division(number.number):
        return Point("division", year.number, number.number)
    if not 1 <= number.number <= 12:
        raise NotADate(
            f"there is no month {number.number}, and no year {full} after {year.number}"
        )
    return Point("month", year.number, number.number)


def _a_year_earlier(written: Term, completed: Term) -> Term:
    """December-January 1904 began in 1903."""
    if written.point.lacks and not completed.point.lacks:
        point = completed.point
        return completed._replace(point=point._replace(number=point.number - 1))
    return completed


def _one_or_the_other(start: Term, end: Term, last: Term, begins: Found, ends: Found) -> Found:
    """1880/81 is one of two years, 1880/90 some year between; 1880/1885 a span."""
    years = start.point.unit == end.point.unit == "year"
    whole = years and not (start.point.parts or end.point.parts)
    if whole and last.point.unit == "year" and not last.point.short:
        return spans.from_to(begins, ends, "span of years")
    if whole and end.point.number - start.point.number > 1:
        return spans.one_between(begins, ends, "either year")._replace(vague=True)
    return spans.one_of((begins, ends), "either year" if whole else "one or the other")


def _rule_of_span(start: Term, end: Term, how: str, *, circa: bool) -> str:
    if circa:
        return "circa span, its own ends"
    if how in ("from - to", "life"):
        return how
    plain = start.point.unit == end.point.unit == "year" and how == "-"
    return "span of years" if plain else "span"
