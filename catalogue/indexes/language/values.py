"""What was typed for a field of facts → keys of the index: labels of terms, near misses, flags."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from rapidfuzz import fuzz, process

from catalogue.indexes.facts_of import key_of
from catalogue.indexes.language.fields import (
    FactField,
    facts,
    field_words,
    flag_words,
    kind_words,
    known_as,
)
from catalogue.indexes.language.pieces import without_quotes
from catalogue.measure import read_money
from catalogue.terms import Concept, group, label

_CALLED = re.compile(r"[^\W\d_]{1,20}\.?|[£$€ƒ]")

NEAR = 80
"""From here on (of 100) a word is taken for the one it is near to, and that is said."""

PERHAPS = 60
"""From here on a word may be hinted at."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The keys that a value stands for, () for none.

    `taken_for` is the label that it was read as when it is only near to one; `perhaps` are labels
    to hint at when it stands for nothing.
    """

    keys: tuple[str, ...]
    taken_for: str = ""
    perhaps: tuple[str, ...] = ()


def values_of(field: FactField, typed: str) -> Chosen:
    """What a value typed for a field of facts stands for.

    >>> values_of(facts()["face"], "Verso").keys, values_of(facts()["light"], "UV").keys
    (('face/back',), ('light/ultraviolet',))
    >>> values_of(facts()["technique"], "pencl").taken_for
    'pencil'
    """
    wanted = known_as(typed)
    if not wanted:
        return Chosen(())
    if not (field.terms or field.flags):
        return Chosen(_own_text(field, typed))
    held = vocabulary(field.name)
    if "," in typed and wanted not in held:
        return _several(field, typed)
    if key := _key(field, typed.strip()):
        return Chosen((key,))
    if found := _meant(field, wanted):
        return Chosen(found)
    near = process.extract(
        wanted, held.keys(), scorer=fuzz.ratio, score_cutoff=PERHAPS, limit=3
    )
    if near and near[0][1] >= NEAR:
        return Chosen(_meant(field, near[0][0]), said_as(held[near[0][0]], near[0][0]))
    return Chosen(
        (), "", tuple(dict.fromkeys(said_as(held[each], each) for each, _, _ in near))
    )


def exact_values(field: FactField, typed: str) -> tuple[str, ...]:
    """The keys of a value that is called exactly so; () when none is."""
    wanted = known_as(typed)
    return _meant(field, wanted) if _exact(field, wanted) else ()


def said_as(keys: tuple[str, ...], word: str) -> str:
    """What to call these keys: the label of one term, else the word for them."""
    return label(keys[0]) if len(keys) == 1 and "/" in keys[0] else word


def _key(field: FactField, typed: str) -> str:
    """A key typed as such: `technique/ink`; one without a stroke with a stroke behind it, `step/`."""
    key = typed.removesuffix("/")
    return key if "/" in typed and key in _keys(field.name) else ""


def _several(field: FactField, typed: str) -> Chosen:
    chosen = [values_of(field, each) for each in typed.split(",") if each.strip()]
    keys = dict.fromkeys(key for each in chosen for key in each.keys)
    taken = ", ".join(filter(None, (each.taken_for for each in chosen)))
    perhaps = tuple(dict.fromkeys(word for each in chosen for word in each.perhaps))
    return Chosen(tuple(keys), taken, perhaps)


def _own_text(field: FactField, typed: str) -> tuple[str, ...]:
    """A text of its own as the index holds it; a currency as its unit is called."""
    key = key_of(without_quotes(typed))
    if field.currency and key:
        return tuple(dict.fromkeys(unit for each in key.split(",") for unit in _units(each)))
    return (key,) if key else ()


@lru_cache(maxsize=200)
def _units(key: str) -> tuple[str, ...]:
    """What sums in this are counted in: guinea for gns; itself where it is no money that is known."""
    if not _CALLED.fullmatch(key):
        return (key,) if key.strip() else ()
    amounts = read_money(f"1 {key}") or read_money(f"{key} 1")
    units = {key_of(each.unit) for amount in amounts for each in amount.readings}
    return (key,) if key in units or not units else tuple(sorted(units))


def _meant(field: FactField, wanted: str) -> tuple[str, ...]:
    """The keys of a known word; of kinds also those narrower ones whose words hold it."""
    exact = _exact(field, wanted)
    if exact and field.name != "kind":
        return exact
    words = {_single(each) for each in wanted.split()}
    groups = {each.partition("/")[0] for each in exact if "/" in each}
    holding = (
        key
        for key, said in _words(field.name)
        if words <= said and (not exact or key.partition("/")[0] in groups)
    )
    return tuple(dict.fromkeys((*exact, *holding)))


def _exact(field: FactField, wanted: str) -> tuple[str, ...]:
    held = vocabulary(field.name)
    return held.get(wanted) or held.get(" ".join(map(_single, wanted.split())), ())


@lru_cache(maxsize=1_000)
def _single(word: str) -> str:
    """One of several: label for labels."""
    for ending, instead in (("ies", "y"), ("ches", "ch"), ("ses", "s"), ("s", "")):
        if len(word) > len(ending) + 2 and word.endswith(ending) and not word.endswith("ss"):
            return word.removesuffix(ending) + instead
    return word


@cache
def vocabulary(name: str) -> Mapping[str, tuple[str, ...]]:
    """Every word that may be typed for a field, with the keys that it stands for.

    A term's own label comes before another one's alternative.
    """
    field = facts()[name]
    found: dict[str, tuple[str, ...]] = {}
    if field.flags:
        found.update(flag_words())
    if name == "kind":
        found.update(kind_words())
    terms = tuple(_terms(field))
    own: dict[str, tuple[str, ...]] = {}
    for each in terms:
        for word in dict.fromkeys((known_as(each.label), known_as(each.name))):
            own[word] = tuple(dict.fromkeys((*own.get(word, ()), each.key)))
    for word, keys in own.items():
        found[word] = tuple(dict.fromkeys((*found.get(word, ()), *keys)))
    for each in terms:
        for other in each.alternatives:
            found.setdefault(known_as(other), (each.key,))
    return found


@cache
def _words(name: str) -> tuple[tuple[str, frozenset[str]], ...]:
    return tuple(
        (each.key, frozenset(map(_single, known_as(f"{each.label} {each.name}").split())))
        for each in _terms(facts()[name])
    )


@cache
def _keys(name: str) -> frozenset[str]:
    return frozenset(key for keys in vocabulary(name).values() for key in keys)


@cache
def _called() -> Mapping[str, Mapping[tuple[str, ...], str]]:
    """By field and keys, the word to type for them: the first one of the vocabulary that means them."""
    found: dict[str, dict[tuple[str, ...], str]] = {}
    for name, field in facts().items():
        if field.terms or field.flags:
            words = found.setdefault(name, {})
            for word in vocabulary(name):
                words.setdefault(_meant(field, word), word)
    return found


def typed_for(field: FactField, keys: tuple[str, ...]) -> str:
    """What to type for these keys so that they are read again: a word, else the keys themselves.

    >>> typed_for(facts()["face"], ("face/back",)), typed_for(facts()["town"], ("the hague",))
    ('back', 'the hague')
    """
    word = _called().get(field.name, {}).get(keys)
    if word is not None:
        return word
    return ",".join(key if "/" in key or not field.terms else f"{key}/" for key in keys)


def field_near(typed: str) -> tuple[tuple[str, float], ...]:
    """Names of fields near to what was typed before a colon, the nearest first, with how near (of 100).

    >>> field_near("colr")[0][0]
    'colour'
    """
    known = known_as(typed)
    near = process.extract(
        known, field_words().keys(), scorer=fuzz.ratio, score_cutoff=70, limit=3
    )
    return tuple((field_words()[word].name, score) for word, score, _ in near)


def _terms(field: FactField) -> Iterable[Concept]:
    return (each for name in field.terms for each in group(name))
