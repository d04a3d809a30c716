"""From what is wished for to the exact terms an engine is asked, each with its strength.

A plain word is looked for in every field, and among the damaged words that may have read so; open
letters and letters that may be others are laid against the words that there are. A damaged word
always counts less than a whole one, by how much of it is really seen. The factors are in
vocab/widening.toml, the weights of fields in vocab/finding.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Protocol

from catalogue.indexes import tree, wish
from catalogue.indexes.folding import forms
from catalogue.indexes.lexicon import shapes
from catalogue.indexes.lexicon.lexicon import DAMAGED, Lexicon
from catalogue.indexes.lexicon.shapes import shape_of
from catalogue.indexes.spellings import groups, spelt, ways, whole
from catalogue.places import table
from catalogue.reading import fold

SHORTEST_DAMAGED, LONGEST_DAMAGED = 3, 40
"""How many letters a word has that damaged ones are compared with."""

INSCRIBED = frozenset(("seen", "text", "words"))
"""The fields that damaged words stand in."""


STEP = 2
"""Decimals of how well an open word fits: thousands of words then share a hundred strengths, and an
engine joins them strength by strength."""


class Names(Protocol):
    """What knows people and firms by their names."""

    def widened(self, name: wish.Name) -> tree.Tree:
        """Whoever may be meant."""
        ...


def widened(wished: wish.Wish, lexicon: Lexicon, names: Names) -> tree.Tree:
    """The tree that an engine is asked for a wish."""
    return _Widening(lexicon, names).of(wished)


def surely(sought: tree.Tree) -> tree.Tree:
    """What is sought, without the damaged words that may have read so."""
    match sought:
        case tree.Terms(written, hits, rarity):
            whole_ones = tuple(hit for hit in hits if hit.field != DAMAGED)
            return tree.Terms(written, whole_ones, rarity)
        case tree.All(parts):
            return tree.All(tuple(map(surely, parts)))
        case tree.Either(parts):
            return tree.Either(tuple(map(surely, parts)))
        case tree.Elsewhere(part, there):
            return tree.Elsewhere(surely(part), there)
        case _:
            return sought


class _Widening:
    def __init__(self, lexicon: Lexicon, names: Names) -> None:
        self._lexicon = lexicon
        self._names = names

    def of(self, wished: wish.Wish) -> tree.Tree:
        match wished:
            case wish.Word():
                return self._word(wished)
            case wish.Run(words, apart):
                return self._run(words, apart)
            case wish.Name():
                return self._names.widened(wished)
            case wish.Fact() | wish.Measured() | wish.InTime():
                return wished
            case wish.AllOf(parts):
                return tree.All(tuple(map(self.of, parts)))
            case wish.AnyOf(parts):
                return tree.Either(tuple(map(self.of, parts)))
            case wish.Not(part):
                # what may only have read so is not refused: it would be lost without a word
                return tree.Not(surely(self.of(part)))
            case wish.Elsewhere(part, there):
                return tree.Elsewhere(self.of(part), there)

    def _run(self, words: tuple[wish.Word, ...], apart: int) -> tree.Tree:
        """Words in a row, in every way they may be spelt; near each other, each as one word."""
        if apart:
            return self._row(tuple(map(whole, groups(words))), apart)
        found = [self._row(way, 0) for way in ways(words, self._lexicon.splits)]
        return found[0] if len(found) == 1 else tree.Either(tuple(found))

    def _row(self, words: tuple[wish.Word, ...], apart: int) -> tree.Tree:
        """Words in a row; the words themselves give the score."""
        if len(words) == 1:
            return self._word(words[0])
        sought = [self._word(each, in_a_row=True) for each in words]
        steps = tuple(
            tree.Terms(each.written, tuple(hit for hit in each.hits if hit.field != DAMAGED))
            for each in sought
        )
        whole_ones = [
            tree.Terms(each.written, step.hits, each.rarity)
            for each, step in zip(sought, steps, strict=True)
        ]
        return tree.All((tree.Row(steps, apart), *whole_ones))

    def _word(self, word: wish.Word, *, in_a_row: bool = False) -> tree.Terms:
        hits: dict[tuple[str, str], tree.Hit] = {}
        often = 0
        for count, found in self._found(word, in_a_row):
            often += count
            for hit in found:
                known = hits.get((hit.field, hit.term))
                if known is None or known.strength < hit.strength:
                    hits[hit.field, hit.term] = hit
        return tree.Terms(word.written, tuple(hits.values()), self._rarity(often))

    def _rarity(self, often: int) -> float:
        entries = max(1, self._lexicon.entries)
        return math.log(1 + entries / (min(often, entries) + 0.5))

    def _found(
        self, word: wish.Word, in_a_row: bool
    ) -> Iterator[tuple[int, Iterable[tree.Hit]]]:
        """What a word is found as: in how many entries, and the terms."""
        if word.pattern is not None:
            yield from self._open(word, word.pattern)
            return
        for form in forms(word.written) or (fold(word.written),):
            yield self._held(word, form, self._lexicon.held(form), 1.0, "word")
            if word.alike:
                yield from self._alike(word, form)
            if SHORTEST_DAMAGED <= len(form) <= LONGEST_DAMAGED:
                yield self._damaged(word, form)
            if not word.alike:
                for each in spelt(form, in_a_row):
                    held = self._lexicon.held(each)
                    yield self._held(word, each, held, factor("spelling"), "spelling")
                    if SHORTEST_DAMAGED <= len(each) <= LONGEST_DAMAGED:
                        yield self._damaged(word, each)

    def _open(self, word: wish.Word, pattern: str) -> Iterator[tuple[int, Iterable[tree.Hit]]]:
        shape = shape_of(pattern)
        if shape is None:
            for each, held in self._lexicon.matching_pattern(pattern).items():
                yield self._held(word, each, held, factor("pattern"), "pattern")
            return
        known = shapes.letters(shape)
        for each, held in self._lexicon.matching(shape).items():
            share = (1 + known / max(known, len(each))) / 2 * self._telling(held)
            strength = round(factor("pattern") * share, STEP)
            yield self._held(word, each, held, strength, "pattern")
        if known and len(shape) <= LONGEST_DAMAGED:
            yield self._damaged(word, shape)

    def _telling(self, held: Mapping[str, int]) -> float:
        """A little less for a common word: of two that fit, the rare one tells more."""
        often = max(held.values())
        return 1 - 0.1 * math.log1p(often) / math.log1p(max(often, self._lexicon.entries))

    def _alike(self, word: wish.Word, form: str) -> Iterator[tuple[int, Iterable[tree.Hit]]]:
        for each, (distance, held) in self._lexicon.alike(form, word.alike).items():
            if distance:
                near = factor("alike") / distance
                yield self._held(word, each, held, near, "alike")

    def _held(
        self,
        word: wish.Word,
        term: str,
        held: Mapping[str, int],
        strength: float,
        why: str,
    ) -> tuple[int, list[tree.Hit]]:
        known = weights()
        wanted = word.fields or tuple(known)
        found = [
            tree.Hit(field, term, round(strength * known[field], 6), why)
            for field in held
            if field in wanted and field in known
        ]
        return max((held[hit.field] for hit in found), default=0), found

    def _damaged(self, word: wish.Word, shape: str) -> tuple[int, list[tree.Hit]]:
        if word.fields and INSCRIBED.isdisjoint(word.fields):
            return 0, []
        known, open_letters = shapes.letters(shape), shapes.letters(shape) < len(shape)
        found, often = [], 0
        for pattern, (shared, count) in self._lexicon.damaged_as(shape).items():
            other = shape_of(pattern) or ""
            if open_letters and not _is_telling(shape, other, shared):
                continue
            share = min(1.0, shared / max(known, len(shape) if open_letters else known, 1))
            strength = round(factor("damaged") * share, STEP)
            found.append(tree.Hit(DAMAGED, pattern, strength, "damaged"))
            often += count
        return often, found


def _is_telling(shape: str, other: str, shared: int) -> bool:
    """Whether two damaged words have enough in common to be taken for one.

    Of the same known length, one letter of each may be enough: all others are open. Else
    half the letters of the one that kept fewer must be the same.
    """
    if shapes.is_fixed(shape) and shapes.is_fixed(other):
        return shared >= 1
    return shared >= 1 and 2 * shared >= min(shapes.letters(shape), shapes.letters(other))


@cache
def weights() -> Mapping[str, float]:
    """How much a word counts in each field of text."""
    held: Mapping[str, float] = table("finding.toml")["weights"]
    return held


def factor(why: str) -> float:
    """What a word counts that was found otherwise than as it was typed."""
    found: float = table("widening.toml")["factors"][why]
    return found
