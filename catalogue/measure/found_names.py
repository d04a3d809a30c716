"""Names of firms, institutions and people in running text, where something shows that they are names.

Words with capitals alone are no name. A mark shows a firm ("& Sons", "Galerie") or an institution
("Museum"); a title, initials, what follows a name ("Esq.", "R.A.") or a word before it ("by",
"Owner:") shows a person. A name ends with its line and is not read across a lost part ("…"); where a
word of it touches one, nothing is found. The words are in vocab/names.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Final, NamedTuple

from catalogue.measure.address_words import is_place
from catalogue.measure.attributions import Place
from catalogue.measure.finds import Found, longest
from catalogue.measure.name_marks import Mark, marks
from catalogue.measure.name_titles import added_words, titles
from catalogue.measure.name_words import is_named, is_particle, table, whole
from catalogue.measure.words import LOST, any_of
from catalogue.measure.written_names import read_name

_MOST_WORDS: Final = 8
"""So many words to each side of a mark may belong to a name."""
_CAPITAL: Final = r"[^\W\d_a-zß-öø-ÿ]"
_UNTOUCHED_BEFORE: Final = rf"(?<![\w{LOST}'’-])"
_UNTOUCHED_BEHIND: Final = rf"(?![\w{LOST}]| ?[\w'’.-]+{LOST})"


def find_names(text: str) -> list[Found]:
    """The names in a text, in its order; the value has `kind`, `family`, `given`, `honorifics`.

    >>> for each in find_names("J. TREWIN & SONS, carvers; Low Tide, by Ada Penhale"):
    ...     print(each.written, "|", each.value["kind"], "|", each.value["family"])
    J. TREWIN & SONS | firm | J. TREWIN & SONS
    Ada Penhale | person | Penhale
    """
    found: list[Found] = []
    at = 0
    for line in text.split("\n"):
        places = {*_marked(line), *_persons(line)}
        for each in longest(Found.at("name", line, *place, {}) for place in sorted(places)):
            name = read_name(each.written)
            if name.family:
                value = {
                    "kind": name.kind, "family": name.family, "given": name.given,
                    "honorifics": name.honorifics,
                }  # fmt: skip
                found.append(Found.at("name", text, at + each.start, at + each.end, value))
        at += len(line) + 1
    return found


# --- firms and institutions ------------------------------------------------------------------------


class _Word(NamedTuple):
    """One word of a line, where it stands, and the signs between it and the word before."""

    text: str
    start: int
    end: int
    gap: str

    @property
    def named(self) -> bool:
        return LOST not in self.text and is_named(self.text)

    @property
    def amid(self) -> bool:
        """Whether it may stand between the words of a name."""
        return self.text in table()["and_signs"] or is_particle(self.text)


def _marked(line: str) -> Iterator[Place]:
    """Where the names stand that the marks of a line belong to."""
    words = list(_words(line))
    at = done = 0
    for mark in marks(line):
        if is_a_trade(line[mark.start : mark.end]):
            continue
        while at < len(words) and words[at].end <= mark.start:
            at += 1
        if mark.start < done or at == len(words):
            continue
        behind = at
        while behind + 1 < len(words) and words[behind + 1].start < mark.end:
            behind += 1
        first, last = _first(words, at, mark), _last(words, behind, mark)
        if _is_a_name(words[first : last + 1], mark) and not _touches_a_loss(
            words, first, last
        ):
            done = words[last].end
            yield words[first].start, done


def is_a_trade(mark: str) -> bool:
    """Whether a mark may say no more than what somebody trades in."""
    return mark.casefold().rstrip(".") in _folded("marks_that_are_trades")


def _words(line: str) -> Iterator[_Word]:
    end = 0
    for found in re.finditer(r"[^\s,;:()\[\]\"“”„|]+", line):
        yield _Word(found[0], found.start(), found.end(), line[end : found.start()].strip())
        end = found.end()


def _first(words: Sequence[_Word], at: int, mark: Mark) -> int:
    """The first word of the name with a mark here: leftward as far as names go."""
    first = at
    for here in range(at - 1, max(at - _MOST_WORDS, 0) - 1, -1):
        gap = words[here + 1].gap
        listed = gap == "," and (mark.joins or (here == at - 1 and _legal_form(words[at])))
        if (gap and not listed) or not (words[here].named or words[here].amid):
            break
        if words[here].named and words[here].text not in table()["not_first"]:
            first = here
    return first


def _last(words: Sequence[_Word], at: int, mark: Mark) -> int:
    """The last word of the name with a mark here: rightward, without the town."""
    last = at
    for here in range(at + 1, min(at + _MOST_WORDS, len(words))):
        word = words[here]
        if word.gap not in ("", ".") and not (word.gap == "," and _legal_form(word)):
            break
        amid = word.amid or (
            mark.kind == "institution" and word.text in table()["amid_an_institution"]
        )
        if not (word.named or amid):
            break
        if word.named and (words[here - 1].amid or not is_place(word.text)):
            last = here
    return last


def _legal_form(word: _Word) -> bool:
    return word.text.casefold().rstrip(".") in _folded("legal_forms")


def _is_a_name(words: Sequence[_Word], mark: Mark) -> bool:
    """Whether the words say who, not only what somebody trades in; "Trewin Academy" does."""
    named = [word.text.casefold().rstrip(".'’") for word in words if word.named]
    if mark.kind == "institution" and len(named) > 1:
        return named[0] not in ("the", "a", "an") or len(named) > 2
    return any(word not in _trades() for word in named)


def _touches_a_loss(words: Sequence[_Word], first: int, last: int) -> bool:
    """Whether a part of the name is lost, or the word beside it goes on in a loss."""
    if any(LOST in word.text for word in words[first : last + 1]):
        return True
    before = [words[first - 1]] if first and not words[first].gap else []
    behind = [words[last + 1]] if last + 1 < len(words) and not words[last + 1].gap else []
    return any(LOST in word.text and word.text.strip(LOST) for word in (*before, *behind))


@cache
def _folded(name: str) -> frozenset[str]:
    return frozenset(word.casefold().rstrip(".") for word in table()[name])


@cache
def _trades() -> frozenset[str]:
    """Single words that say a trade, or are a mark themselves."""
    lists = ("trades", "firm_marks", "joined_firm_marks", "institution_marks", "and_signs")
    words = (word for name in lists for said in table()[name] for word in said.split())
    return frozenset(word.casefold().rstrip(".'’") for word in words)


# --- persons ---------------------------------------------------------------------------------------


def _persons(line: str) -> Iterator[Place]:
    """Where the names of people stand in a line."""
    for pattern in _shown():
        for found in pattern.finditer(line):
            name = found["name"].split()
            if not (is_place(name[-1]) or name[-1] in table()["after_other_initials"]):
                yield found.span("name")


@cache
def _shown() -> tuple[re.Pattern[str], ...]:
    """Each way in which a text shows that a person is named."""
    word = rf"{_CAPITAL}[\w'’-]{{0,30}}+"
    short = rf"(?:{_CAPITAL}\.[ -]?|{whole(table()['short_first_names'])}\.? )"
    particles = rf"(?:{whole(table()['family_particles'])} ){{0,3}}(?:[dD]['’])?"
    family = rf"{particles}{_CAPITAL}[\w'’-]{{1,30}}+(?! ?:)"
    given = rf"(?:{short}|{word} )"
    added = rf"(?:,? {added_words()}){{0,4}}"
    makers, colons = any_of(table()["before_a_maker"]), any_of(table()["before_a_colon"])
    own = rf"(?!(?i:{whole(table()['trades'])}))"
    shown = (
        rf"(?P<name>{short}{{1,3}}& ?{short}{{1,3}}{family})",
        rf"(?P<name>{titles()}{given}{{0,4}}{family}{added})",
        rf"(?P<name>(?:{own}{word} )?{short}{{1,4}}{family}{added})",
        rf"(?P<name>(?:{own}{given}){{1,4}}{own}{family},? {added_words()}{added})",
        rf"{makers} (?P<name>(?:{own}{given}){{1,4}}{own}{family}{added})",
        rf"{colons} ?: ?(?P<name>{given}{{0,4}}{family}{added})",
    )
    return tuple(re.compile(f"{_UNTOUCHED_BEFORE}{each}{_UNTOUCHED_BEHIND}") for each in shown)
