"""Attribution: the words that say in which sense somebody is named as the maker, told from the name.

The words stand before the name ("Follower of Ada Penhale"), behind it ("Penhale, Ada (attributed
to)", "Ada Penhale and workshop", "Ada Penhale?") or around it, one or several of them ("possibly a
pupil or follower of"). They are in vocab/names.toml. Most are plain words too, so what follows must
look like a name: "School of Design" and "After Hours Gallery" are names as they stand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final, TypeAlias

from catalogue.measure.attribution_words import (
    amid,
    is_a_group_as_written,
    is_listed,
    word_before,
    word_behind,
)
from catalogue.measure.name_marks import holds_a_mark
from catalogue.measure.name_words import listed, table
from catalogue.measure.words import any_of

Place: TypeAlias = tuple[int, int]
"""Where something stands: start and end, in code points."""

_MOST_WORDS: Final = 10
"""So many words of attribution, with what stands between them, are read in a row."""
_NEAR_THE_END: Final = 90
_NEAR: Final = 200
"""So many letters of a text are looked at for what closes it, and for whether a name follows."""
_DOUBT: Final = ("probably-by", "possibly-by")
_GIVEN_UP: Final = "formerly-attributed-to"
_OF_A_HAND: Final = ("attributed-to", "possibly-by", _GIVEN_UP)
"""What may stand behind a name without any sign: "Hans Trewin zugeschrieben"."""


@dataclass(frozen=True, slots=True)
class Attribution:
    """Where the words of attribution stand in a text, and where the name that is left.

    `kind` is a name of the group "qualifier" in vocab/terms, None without such words. In a chain the
    last word that is not mere doubt decides: "possibly a follower of" is a follower; and what was
    formerly attributed is so in any chain.
    """

    words: tuple[Place, ...]
    name: tuple[Place, ...]
    kind: str | None


def read_attribution(text: str) -> tuple[str | None, str]:
    """The words of attribution as written, None for none, and the name that is left.

    >>> read_attribution("Probably a follower of Ada Penhale")
    ('Probably a follower of', 'Ada Penhale')
    >>> read_attribution("Penhale, Ada (attributed to)")
    ('attributed to', 'Penhale, Ada')
    >>> read_attribution("School of Design")
    (None, 'School of Design')
    """
    found = find_attribution(text)
    words = " ".join(_written(text, place) for place in found.words)
    return words or None, " ".join(filter(None, (_written(text, each) for each in found.name)))


def attribution_term(text: str) -> str | None:
    """The key of the term that the words of attribution in a text stand for, None without any.

    >>> attribution_term("Possibly a follower of Ada Penhale"), attribution_term("Ada Penhale")
    ('qualifier/follower-of', None)
    """
    kind = find_attribution(text).kind
    return f"qualifier/{kind}" if kind else None


def find_attribution(text: str) -> Attribution:
    """The words of attribution in a text and the name, by their places."""
    start = len(text) - len(text.lstrip())
    end = len(text.rstrip())
    if _wrapped().fullmatch(text, start, end):  # "[Ada Penhale?]"
        inside = _between(text, start + 1, end - 1)
        if inside.kind:
            return inside
    return _between(text, start, end)


@cache
def _wrapped() -> re.Pattern[str]:
    return re.compile(r"\([^()]*\)|\[[^\[\]]*\]")


def _between(text: str, start: int, end: int) -> Attribution:
    before = _before(text, start, end)
    start = before.end if before else start
    words: list[Place] = [before.words] if before else []
    kinds = [before.kind] if before else []
    name: list[Place] = []
    life = _life_at_the_end().search(text, max(end - _NEAR_THE_END, start), end)
    for until in (end, life.start()) if life else (end,):
        tail = _after(text, start, until)
        if tail:
            words.append(tail.words)
            kinds.append(tail.kind)
            name = [(start, tail.start), *([(until, end)] if until < end else [])]
            break
    kept = tuple(name or [(start, end)])
    return Attribution(tuple(words), kept, _strongest(kinds) if kinds else None)


@dataclass(frozen=True, slots=True)
class _Said:
    """Words of attribution with the signs around them (`start`, `end`), and their kind."""

    start: int
    end: int
    words: Place
    kind: str


def _written(text: str, place: Place) -> str:
    return " ".join(text[slice(*place)].split())


def _strongest(kinds: list[str]) -> str:
    """The kind that decides in a chain: what is given up, else the last that is more than doubt."""
    if _GIVEN_UP in kinds:
        return _GIVEN_UP
    firm = [kind for kind in kinds if kind not in _DOUBT]
    return firm[-1] if firm else kinds[-1]


# --- before the name -----------------------------------------------------------------------------


def _before(text: str, start: int, end: int) -> _Said | None:
    """The longest chain of words before a name that leaves a name."""
    opened = start < end and text[start] in "(["
    begin = start + 1 if opened else start
    for until, kinds, last in reversed(list(_chain(text, begin, end))):
        closed = _closes(opened).match(text, until, end)
        if closed is None:
            continue
        at = _past_the_article(text, closed.end(), end)
        careful = is_listed("careful", last)
        if at < end and (not careful or _like_a_name(text[at : min(end, at + _NEAR)])):
            return _Said(start, at, (begin, until), _strongest(kinds))
    return None


def _chain(text: str, at: int, end: int) -> Iterator[tuple[int, list[str], str]]:
    """Each place where a chain of words of attribution may end, its kinds, its last word."""
    kinds: list[str] = []
    for _ in range(_MOST_WORDS):
        word = word_before(text, at, end)
        if word:
            kinds = [*kinds, word.kind]
            yield word.end, kinds, word.listed
        passed = word.end if word else amid(text, at, end)
        if passed is None:
            return
        at = _past_blanks(text, passed, end)


@cache
def _closes(opened: bool) -> re.Pattern[str]:
    """What may stand between the words and the name."""
    return re.compile(r"\s*[)\]]\s*" if opened else r"\s*[:–—-]?\s*")


def _past_blanks(text: str, at: int, end: int) -> int:
    while at < end and text[at].isspace():
        at += 1
    return at


def _like_a_name(text: str) -> bool:
    """Whether what follows a plain word looks like a name of somebody."""
    first = re.match(r"[\"“‘'(\[]?\s*([\w'’]+)", text)
    if first is None or is_listed("no_name", first[1]):
        return False
    capital = first[1][:1].isupper() or not first[1].islower()
    name = re.split(r"[,;(\[]", text, maxsplit=1)[0]
    return (capital or bool(_particle().match(text))) and not holds_a_mark(name)


def _past_the_article(text: str, at: int, end: int) -> int:
    """Past "the" in "workshop of the Master of ...": the name begins behind it."""
    found = _article().match(text, at, end)
    return found.end() if found else at


@cache
def _article() -> re.Pattern[str]:
    return re.compile(r"the\s+(?=Master\b|Monogrammist\b|Painter\b)", re.IGNORECASE)


# --- behind the name -----------------------------------------------------------------------------


def _after(text: str, start: int, end: int) -> _Said | None:
    """Words of attribution that close a text: in brackets, behind a comma, or joined to the name."""
    named = _first_letter().search(text, start, end)
    if named is None:
        return None
    first = max(named.end(), end - _NEAR_THE_END)
    for opener in _opener().finditer(text, first, end):
        sign = opener["sign"] or (" " if opener["gap"] else "")
        joined = opener["words"] or opener["owner"]
        begin = opener.end() if joined is None else opener.end() - len(opener[0].lstrip())
        until = end
        if sign in ("(", "["):
            if text[end - 1] not in ")]":
                continue
            until = end - 1
        kind = _behind(text, opener.end(), until, sign)
        if kind and kind != "by":
            return _Said(opener.start(), end, (begin, until), kind)
    return None


@cache
def _first_letter() -> re.Pattern[str]:
    return re.compile(r"[^\W_]")


def _behind(text: str, at: int, end: int, sign: str) -> str | None:
    """The kind of the words that fill a text from here to its end, None where others are among them.

    Without a sign only what is said of a hand counts.
    """
    kinds: list[str] = []
    closed = False
    for _ in range(_MOST_WORDS):
        at = _past_blanks(text, at, end)
        if at == end:
            break
        word = word_behind(text, at, end)
        closed = word is not None and not (
            word.bare and sign and _says_something_else(text[at : word.end], sign)
        )
        passed = word.end if word and closed else amid(text, at, end)
        if passed is None:
            return None
        if word and closed:
            kinds.append(word.kind)
        elif is_listed("together", text[at:passed]):  # "Ada Penhale, and Workshop"
            sign = ""
        at = passed
    if not closed or at < end:
        return None
    kind = _strongest(kinds)
    return kind if sign != " " or kind in _OF_A_HAND else None


def _says_something_else(group: str, sign: str) -> bool:
    """Whether a word for a group may be a trade, or behind a comma a name: "Penhale, Ada, Studio"."""
    return is_listed("also_a_trade", group) or (
        sign == "," and not is_a_group_as_written(group)
    )


@cache
def _opener() -> re.Pattern[str]:
    """What may stand between a name and the words of attribution behind it."""
    joined = any_of(table()["together"])
    return re.compile(
        rf"\s*(?P<sign>[(\[,])\s*|\s+(?P<words>{joined})\s+|(?P<owner>['’]s)\s+(?=[a-z])"
        r"|(?P<gap>\s+)(?=[a-z(\[?])|(?<=\w)(?=\?)",
    )


@cache
def _particle() -> re.Pattern[str]:
    return re.compile(rf"{listed('family_particles')}\s*\w")


@cache
def _life_at_the_end() -> re.Pattern[str]:
    """Years or nations in brackets that close a text."""
    nations = any_of(table()["nations"])
    return re.compile(
        rf"\s*[(\[](?=[^()\[\]]{{0,80}}(?:\d|{nations}))[^()\[\]]{{1,80}}[)\]]$", re.IGNORECASE
    )
