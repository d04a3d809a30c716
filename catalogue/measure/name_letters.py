"""Two words of names, letter by letter: how alike they are, spelt otherwise or misread.

What a misread or otherwise spelt letter costs stands in vocab/names_alike.toml; anything else costs
a whole letter. Distances that need no such table are rapidfuzz's.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any, Final

from rapidfuzz.distance import JaroWinkler, Levenshtein

from catalogue import places
from catalogue.measure.folding import fold

_FAR: Final = 0.62
"""Below this likeness by Jaro and Winkler two words are not looked at letter by letter."""
_MOST_CHANGED: Final = 0.6
"""With more of their letters changed two words are not weighed letter by letter."""
_DOUBLED: Final = re.compile(r"(.)\1+")
_EXCHANGED: Final = 0.55
"""What two neighbouring letters in the wrong order cost."""
_IN_FRONT: Final = 1.5
"""A first letter is misread or misspelt less often than the others, so it counts more."""
_SPELT, _EYE, _ANY = 1, 2, 4


def table() -> dict[str, Any]:
    """The whole of vocab/names_alike.toml."""
    return places.table("names_alike.toml")


@lru_cache(maxsize=65536)
def sounded(word: str) -> str:
    """A key of a word that is the same for the common spellings of one name.

    >>> sounded("cuijper"), sounded("kuyper"), sounded("schmidt") == sounded("schmitt")
    ('kuiper', 'kuiper', True)
    """
    start, rest = word[:1], word
    for old, new in _rules():
        if old in rest:
            rest = rest.replace(old, new)
    rest = rest[:1] + rest[1:].replace("h", "")
    rest = _DOUBLED.sub(_once, rest)
    if len(rest) > 3 and rest[-1] in "ed":
        rest = rest[:-1] + ("t" if rest[-1] == "d" else "")
    return rest or start


def _once(doubled: re.Match[str]) -> str:
    return doubled[1]


@lru_cache(maxsize=65536)
def stem(word: str) -> str:
    """The sounded word without an ending of Latin or of another language.

    >>> stem("martinus") == stem("martin"), stem("albertus") == stem("alberto")
    (True, True)
    """
    sound = sounded(word)
    for ending in _endings():
        if sound.endswith(ending) and len(sound) - len(ending) > 2:
            return sound[: -len(ending)]
    return sound


@lru_cache(maxsize=262144)
def closeness(a: str, b: str) -> tuple[float, str]:
    """How alike two folded words are, 0 to 1, and what tells them apart.

    >>> closeness("harrowell", "hanowell")[1], closeness("burne", "bume")[1]
    ('misread', 'misread')
    >>> closeness("vermeulen", "trewin")[0] < 0.5
    True
    """
    if a == b:
        return 1.0, "same"
    if a > b:
        a, b = b, a
    if _sons(a, b):
        return 0.98, "spelling"
    near = float(JaroWinkler.similarity(a, b))
    sounds = sounded(a), sounded(b)
    if sounds[0] == sounds[1]:
        return 0.97, "misread" if _weighted(a, b)[1] == "misread" else "spelling"
    if near < _FAR and JaroWinkler.similarity(*sounds) < _FAR:
        return near * 0.5, "letters"
    plain = Levenshtein.distance(a, b, score_cutoff=5)
    if plain > 5 or plain > max(len(a), len(b), 4) * _MOST_CHANGED:
        return near * 0.5, "letters"
    cost, why = _weighted(a, b)
    sound, said = _weighted(*sounds)
    if sound + 0.15 < cost:
        cost, why = sound + 0.15, "spelling" if said != "misread" else said
    length = (len(a) + len(b)) / 2
    return max(0.0, 1 - cost / max(length, 3.0)), why


_SON: Final = re.compile(r"s(?:z|zn|zoon|zen)$")
_ANY_SON: Final = re.compile(r"s(?:z|zn|zoon|zen|en)?$")


def _sons(a: str, b: str) -> bool:
    """Whether two words are one patronymic with its ending short or long: Eelkesz, Eelkeszoon."""
    if a[:3] != b[:3] or not (_SON.search(a) or _SON.search(b)):
        return False
    mine, theirs = _ANY_SON.search(a), _ANY_SON.search(b)
    return bool(mine and theirs and a[: mine.start()] == b[: theirs.start()])


def _weighted(a: str, b: str) -> tuple[float, str]:
    """The least that it costs to turn one word into the other, and in which way."""
    at, till = _differing(a, b)
    first = at == 0
    a, b = a[at : len(a) - till], b[at : len(b) - till]
    pairs, longest = _pairs(), 3
    rows: list[list[tuple[float, int]]] = []
    for i in range(len(a) + 1):
        row: list[tuple[float, int]] = []
        rows.append(row)
        for j in range(len(b) + 1):
            if not (i or j):
                row.append((0.0, 0))
                continue
            front = _IN_FRONT if first and i <= 1 and j <= 1 else 1.0
            options = []
            if i and j:
                cost, ways = rows[i - 1][j - 1]
                options.append(
                    (cost, ways) if a[i - 1] == b[j - 1] else (cost + front, ways | _ANY)
                )
                if i > 1 and j > 1 and a[i - 1] == b[j - 2] and a[i - 2] == b[j - 1]:
                    cost, ways = rows[i - 2][j - 2]
                    options.append((cost + _EXCHANGED, ways | _ANY))
            if i:
                more, way = _one_too_many(a, i)
                cost, ways = rows[i - 1][j]
                options.append((cost + more * front, ways | way))
            if j:
                more, way = _one_too_many(b, j)
                cost, ways = row[j - 1]
                options.append((cost + more * front, ways | way))
            for m in range(min(i, longest) + 1):
                left = a[i - m : i]
                rights = pairs.get(left)
                if rights is None:
                    continue
                for right, (more, way) in rights.items():
                    if b.endswith(right, 0, j) and (m or right):
                        cost, ways = (rows[i - m] if m else row)[j - len(right)]
                        options.append((cost + more * front, ways | way))
            row.append(min(options))
    cost, ways = rows[-1][-1]
    return cost, "letters" if ways & _ANY else "misread" if ways & _EYE else "spelling"


def _differing(a: str, b: str) -> tuple[int, int]:
    """How many letters of two words are the same in front and behind, but for one next to the others."""
    short = min(len(a), len(b))
    front = 0
    while front < short and a[front] == b[front]:
        front += 1
    behind = 0
    while behind < short - front and a[-1 - behind] == b[-1 - behind]:
        behind += 1
    return max(front - 1, 0), max(behind - 1, 0)


def _one_too_many(word: str, at: int) -> tuple[float, int]:
    """What a letter too many costs: a doubled one hardly anything."""
    return (0.15, _SPELT) if at > 1 and word[at - 2] == word[at - 1] else (0.9, _ANY)


@cache
def _rules() -> tuple[tuple[str, str], ...]:
    return tuple((old, new) for old, new in table()["spelling"]["rules"])


@cache
def _endings() -> tuple[str, ...]:
    return tuple(sorted(table()["spelling"]["endings"], key=lambda each: (-len(each), each)))


@cache
def _pairs() -> Mapping[str, Mapping[str, tuple[float, int]]]:
    """What stands for what, from both sides: the letters of the one word, then those of the other."""
    known: dict[str, dict[str, tuple[float, int]]] = {}
    for group in table()["misread"]:
        way = _EYE if group["why"] == "misread" else _SPELT
        for a, b, cost in group["pairs"]:
            for left, right in ((a, b), (b, a)):
                others = known.setdefault(left, {})
                if right not in others or others[right][0] > cost:
                    others[right] = (float(cost), way)
    return known


@cache
def _groups() -> tuple[Mapping[str, int], Mapping[str, int]]:
    """The group of each given name of the tables, by its letters and by its stem."""
    group: dict[str, int] = {}
    rows = [*places.table("names.toml")["twins"], *table()["given"]["twins"]]
    for place, row in enumerate(rows):
        folded = [fold(name) for name in row]
        known = {group[name] for name in folded if name in group}
        mine = min(known, default=place)
        group = {name: mine if held in known else held for name, held in group.items()}
        group.update(
            {name: mine for name in folded if name not in group or group[name] in known}
        )
    stems: dict[str, int] = {}
    for name, held in group.items():
        stems.setdefault(sounded(name), held)
    return group, stems


@lru_cache(maxsize=65536)
def given_group(word: str) -> int | None:
    """The group of forms that a given name belongs to, None when the tables do not know it.

    >>> given_group("jan") == given_group("giovanni") == given_group("iohannes")
    True
    >>> given_group("trewin") is None
    True
    """
    by_letters, by_sound = _groups()
    word = _short().get(word, word)
    found = by_letters.get(word)
    if found is None:
        found = by_sound.get(sounded(word))
    if found is None:
        for ending in table()["given"]["pet"]:
            if word.endswith(ending) and len(word) - len(ending) > 3:
                return by_letters.get(word[: -len(ending)])
    return found


@cache
def _short() -> Mapping[str, str]:
    return dict(table()["given"]["short"])


@cache
def first_letters(group: int) -> frozenset[str]:
    """The first letters of the forms of one given name: an initial may be any of them."""
    return frozenset(name[0] for name, held in _groups()[0].items() if held == group)


def shortened(word: str) -> str:
    """The given name that a common short form stands for, or the word itself: "wm" is William."""
    return _short().get(word, word)


def forms_of(group: int) -> frozenset[str]:
    """All forms of one given name that the tables know."""
    return frozenset(name for name, held in _groups()[0].items() if held == group)


@lru_cache(maxsize=65536)
def looks(word: str) -> str:
    """A key of a word that is the same for letters that are easily misread for each other.

    >>> looks("burney") == looks("bumey"), looks("wardle") == looks("vvardle")
    (True, True)
    """
    several, single = _looking()
    for old, new in several:
        word = word.replace(old, new)
    return word.translate(single)


_LOOKS_ALIKE: Final = 0.3
"""Up to this cost letters are one in the key of how a word looks."""


@cache
def _looking() -> tuple[tuple[tuple[str, str], ...], dict[int, str]]:
    pairs = [
        pair
        for group in table()["misread"]
        for pair in group["pairs"]
        if group["why"] == "misread" and pair[2] <= _LOOKS_ALIKE and all(pair[:2])
    ]
    several = [tuple(sorted(pair[:2], key=len, reverse=True)) for pair in pairs]
    longer = sorted({(a, b) for a, b in several if len(a) > len(b)}, reverse=True)
    stands: dict[str, str] = {}
    for a, b, _ in pairs:
        if len(a) == len(b) == 1:
            one, other = stands.get(a, a), stands.get(b, b)
            stands.update({a: one, b: one})
            stands.update({each: one for each, held in stands.items() if held == other})
    return tuple(longer), {ord(letter): held for letter, held in stands.items()}
