"""Names of people and firms: how alike two of them are, and why.

A likeness is a hint for a person, never a finding: van der Meulen and Vermeulen are very alike and
two families. `compare` therefore says why two names are called alike. What is the same in a name,
what may be misread and which given names are one in several languages is in vocab/names_alike.toml.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from catalogue.measure.attributions import read_attribution
from catalogue.measure.folding import fold
from catalogue.measure.name_forms import Side, side, spelt
from catalogue.measure.name_letters import table
from catalogue.measure.name_matching import forms_alike

__all__ = ["ALIKE", "Likeness", "compare", "key", "likeness", "rank", "read_attribution"]

ALIKE = 0.7
"""From here on two names are worth a look (set by the banks of tests/measure; common practice, no source)."""

# What is taken off, or left, for what stands beside the names themselves: common practice, no source.
_UMLAUT, _OTHER_ORDER, _OTHER_NAME = 0.99, 0.985, 0.95
_OTHER_BEARER, _BEARER_UNSAID = 0.5, 0.965
_OTHER_YEARS, _YEARS_APART, _SAME_YEARS = 0.45, 2, 0.5
_OTHER_TITLE, _OTHER_PARTNERS = 0.6, 0.75
_OTHER_FIRM, _FIRM_UNSAID, _FIRM_WORDS = 0.75, 0.88, 0.97


@dataclass(frozen=True, slots=True)
class Likeness:
    """How alike two names are, from 0 to 1, and in which ways: keys of `[why]` in vocab/names_alike.toml."""

    score: float
    ways: tuple[str, ...]

    @property
    def why(self) -> str:
        """The ways in words."""
        return ", ".join(table()["why"][way] for way in self.ways)


def key(name: str) -> str:
    """A name as it is compared: no case, accents, points or honorifics; "Last, First" turned round.

    >>> key("Vöss, Dr. A.")
    'a voss'
    """
    return " ".join(side(name).ordered)


def likeness(a: str, b: str) -> float:
    """How alike two names are, from 0 to 1.

    >>> likeness("Vöss, Anna", "A. Voss") > 0.9, likeness("Anna Vöss", "Ada Penhale") < 0.5
    (True, True)
    """
    return _compared(*sorted((a, b)))[0]


def compare(a: str, b: str) -> Likeness:
    """How alike two names are and why: letters, order of words, spelling, initials, particles.

    >>> compare("A. Voss", "Voss, Anna").why
    'initials'
    >>> compare("Jan Quillan the Elder", "Jan Quillan d. J.").why
    'elder and younger are told apart'
    """
    return Likeness(*_compared(*sorted((a, b))))


def rank(query: str, candidates: Iterable[str]) -> list[tuple[str, float]]:
    """The candidates with their likeness to a query, the most alike first."""
    found = [(candidate, likeness(query, candidate)) for candidate in candidates]
    return sorted(found, key=lambda each: (-each[1], each[0]))


@lru_cache(maxsize=65536)
def _compared(a: str, b: str) -> tuple[float, tuple[str, ...]]:
    first, second = side(a), side(b)
    if not first.forms or not second.forms:
        if fold(a).strip() and fold(a).strip() == fold(b).strip():
            return 1.0, ("same",)
        return 0.0, ("nothing",)
    score, ways = _by_forms(first, second)
    if 0.8 < score < _UMLAUT and "particles" not in ways and spelt(a) & spelt(b):
        score, ways = _UMLAUT, ("umlaut",)
    return _beside(first, second, score, ways)


def _by_forms(first: Side, second: Side) -> tuple[float, tuple[str, ...]]:
    """The best that any form of the one has in common with any form of the other."""
    if first.ordered == second.ordered:
        return 1.0, ("same",)
    if first.words == second.words:
        mine, theirs = first.forms[0], second.forms[0]
        if mine.sure and theirs.sure and mine.family != theirs.family:
            return 0.8, ("order",)  # "Frans, Jan" and "Jan, Frans"
        if sorted(mine.particles) != sorted(theirs.particles):
            return _OTHER_ORDER, ("particles",)
        return _OTHER_ORDER, ("same",)
    best: tuple[float, tuple[str, ...]] = (0.0, ("letters",))
    for i, mine in enumerate(first.forms):
        for j, theirs in enumerate(second.forms):
            score, ways = forms_alike(mine, theirs)
            if i and j and best[0] < ALIKE:
                continue  # two people may have one by-name
            if i or j:
                score, ways = score * _OTHER_NAME, (*ways, "other")
            if score > best[0]:
                best = score, ways
    return best


def _beside(
    first: Side, second: Side, score: float, ways: tuple[str, ...]
) -> tuple[float, tuple[str, ...]]:
    """The likeness with what stands beside the names: which bearer, years, marks of a firm."""
    if first.generation != second.generation:
        if first.generation and second.generation:
            return score * _OTHER_BEARER, ("generation",)
        score *= _BEARER_UNSAID
    if first.titled and second.titled and first.titled != second.titled:
        return score * _OTHER_TITLE, ("titled",)
    if first.partners != second.partners and (first.firm or second.firm):
        score, ways = score * _OTHER_PARTNERS, (*ways, "firm")
    if first.born and second.born:
        if abs(first.born - second.born) > _YEARS_APART:
            return score * _OTHER_YEARS, ("apart",)
        if score > 0.5 and first.died == second.died:
            score, ways = 1 - (1 - score) * _SAME_YEARS, (*ways, "lives")
    elif first.died and second.died and abs(first.died - second.died) > _YEARS_APART:
        return score * _OTHER_YEARS, ("apart",)
    if first.firm or second.firm:
        # "& Sons" and "Brothers" are two firms, "Gallery" and "Ltd" say nothing of which.
        told = [each & {"sons", "brothers"} for each in (first.firm, second.firm)]
        if all(told) and told[0] != told[1]:
            score *= _OTHER_FIRM
        elif bool(first.firm) != bool(second.firm):
            score *= _FIRM_UNSAID
        elif first.firm != second.firm:
            score *= _FIRM_WORDS
        if first.firm != second.firm:
            ways = (*(way for way in ways if way != "same"), "firm")
    return score, ways
