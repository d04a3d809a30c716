"""Words that are written in several ways, and the ways in which words in a row may be spelt.

The index holds what is written; a word that is asked for stands for all its spellings. So a text has one
place for each of its words, and words in a row are laid against it once for every way to spell them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache, lru_cache
from itertools import islice, product

from catalogue.indexes.wish import Word
from catalogue.places import table
from catalogue.reading import fold

MOST_WAYS = 12
"""So many ways to spell words in a row are looked for."""

_SON = re.compile(r"(mac|mc)([^\W\d_]{3,})")

Splits = Callable[[str], Iterable[tuple[str, ...]]]
"""The pieces in which a word that is asked for in one stands in the texts."""


@lru_cache(maxsize=5_000)
def spelt(form: str, in_a_row: bool = False) -> tuple[str, ...]:
    """The other words that a folded word stands for.

    >>> spelt("saint")[0], spelt("mcbride"), spelt("harbour")
    ('st', ('macbride',), ())
    """
    found = [*_same().get(form, ())]
    if in_a_row:
        found += _in_rows().get(form, ())
    if son := _SON.fullmatch(form):
        found.append({"mac": "mc", "mc": "mac"}[son[1]] + son[2])
    return tuple(dict.fromkeys(each for each in found if each != form))


def ways(words: tuple[Word, ...], splits: Splits) -> list[tuple[Word, ...]]:
    """The ways in which these words in a row may stand in a text, as they were typed first."""
    every = product(*(list(_ways(group, splits)) for group in groups(words)))
    laid = (tuple(word for group in way for word in group) for way in every)
    return list(dict.fromkeys(islice((way for way in laid if way), MOST_WAYS)))


def groups(words: tuple[Word, ...]) -> list[tuple[Word, ...]]:
    """The words, those that were written in one (`S.W.7`, `Fenwick-Dray`) together."""
    found: list[tuple[Word, ...]] = []
    for each in words:
        if each.joined and found:
            found[-1] = (*found[-1], each)
        else:
            found.append((each,))
    return found


def whole(group: tuple[Word, ...]) -> Word:
    """A group as the one word it may be."""
    if len(group) == 1:
        return group[0]
    return Word("".join(each.written for each in group), None, group[0].fields)


def _ways(group: tuple[Word, ...], splits: Splits) -> Iterator[tuple[Word, ...]]:
    yield group
    if any(each.pattern is not None or each.alike for each in group):
        return
    one = whole(group)
    form = fold(one.written)
    if len(group) > 1:
        yield (one,)
        if fold(group[0].written) in _sons():
            son = Word("mc" + "".join(each.written for each in group[1:]), None, one.fields)
            yield (son,)
            form = fold(son.written)
    elif form in _left_out():
        yield ()
    for each in (form, *spelt(form)):
        for pieces in splits(each):
            yield tuple(
                Word(piece, None, one.fields, joined=at > 0) for at, piece in enumerate(pieces)
            )


@cache
def _same() -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for row in table("folding.toml")["same"]:
        for word in row["words"]:
            found[word] = (*found.get(word, ()), *row["words"])
    return found


@cache
def _in_rows() -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for short, long in table("folding.toml")["rows"]["initials"].items():
        found[short] = (*found.get(short, ()), *long)
        for word in long:
            found[word] = (*found.get(word, ()), short)
    return found


@cache
def _left_out() -> frozenset[str]:
    return frozenset(table("folding.toml")["rows"]["and"])


@cache
def _sons() -> frozenset[str]:
    return frozenset(table("folding.toml")["joined"]["sons"])
