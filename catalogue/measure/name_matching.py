"""Two forms of names held against each other: family name to family name, given to given.

Different given names of one family name are two people; an initial, a twin in another language or a
name left out is none. Where the order of the words is open, the other order is tried too.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Final, TypeAlias

from catalogue.measure.name_forms import Form
from catalogue.measure.name_letters import (
    closeness,
    first_letters,
    forms_of,
    given_group,
    shortened,
    sounded,
    stem,
    table,
)

Alike: TypeAlias = tuple[float, tuple[str, ...]]
"""How alike, and in which ways."""

# How far each way of being alike goes: set by the banks of names in tests/measure, no source.
_TURNED: Final = 0.96
_PARTICLES: Final = 0.985
_ONE_OF_TWO: Final = 0.88
_STEEP: Final = 1.25
_NO_GIVEN: Final = 0.74
_ALONE: Final = 0.84
_ALONE_COMMON: Final = 0.5
_NO_FAMILY: Final = 0.76
_INITIAL: Final = 0.93
_INITIAL_OF_A_TWIN: Final = 0.80
_TWIN: Final = 0.965
_STEM: Final = 0.96
_SHORTENED: Final = 0.95
_FEWER: Final = 0.975
_NOT_THE_FIRST: Final = 0.88
_BEHIND_JOHANN: Final = 0.96
_INITIAL_NOT_THE_FIRST: Final = 0.75
_OTHER_GIVEN: Final = 0.45
_LEAST_OF_A_WORD: Final = 0.72
_MORE_INITIALS: Final = 0.95
_LITTLE_ONE: Final = 0.7


def forms_alike(a: Form, b: Form) -> Alike:
    """How alike two forms of names are.

    >>> ada = Form(("penhale",), ("ada",))
    >>> forms_alike(ada, Form(("penhale",), ("a",)))
    (0.93, ('initials',))
    >>> forms_alike(ada, Form(("penhale",), ("rosa",)))[0] < 0.5
    True
    """
    best = _straight(a, b)
    if best[0] < 0.9 and a.given and b.given:
        for mine, theirs in _turned(a, b):
            score, ways = _straight(mine, theirs)
            if score * _TURNED > best[0]:
                best = score * _TURNED, (*ways, "order")
    return best


def _turned(a: Form, b: Form) -> list[tuple[Form, Form]]:
    """The pairs with the words in another order, where no comma fixed it."""
    pairs = []
    if not a.sure:
        pairs.append((_front(a), b))
    if not b.sure:
        pairs.append((a, _front(b)))
    return pairs


@lru_cache(maxsize=65536)
def _front(form: Form) -> Form:
    """The same words with the family name in front."""
    words = (*form.given, *form.family)
    return Form(words[:1], words[1:], form.particles, True, form.short)


def _straight(a: Form, b: Form) -> Alike:
    if not a.given and not b.given:
        score, ways = _family(a, b)
        return _steep(score), ways
    if not a.given or not b.given:
        return _one_lacks(a, b)
    if not a.family or not b.family:
        return _initials_alone(a, b)
    family, ways = _family(a, b)
    if family < _LEAST_OF_A_WORD:
        return max(
            (_steep(family) * 0.6, ("letters",)), _by_father(a, b), _joined(a, b), key=_score
        )
    given, said = _given(a, b)
    found = _steep(family) * given, tuple(dict.fromkeys((*ways, *said)))
    if "given" in said:
        found = found[0], ("given",)
        return max(found, _joined(a, b), key=_score)
    return found


def _score(alike: Alike) -> float:
    return alike[0]


def _steep(score: float) -> float:
    return max(0.0, 1 - (1 - score) * _STEEP)


# --- Family names ---------------------------------------------------------------------------------


@lru_cache(maxsize=65536)
def _spoken(form: Form) -> tuple[str, tuple[str, ...]]:
    """The family name as one word, and as it reads with particles grown on or off."""
    base = "".join(form.family)
    ways = {base, "".join(form.particles) + base}
    for front in _fronts().get(base[:1], ()):
        if base.startswith(front) and len(base) - len(front) > 3:
            ways.add(base[len(front) :])
    return base, tuple(sorted(ways - {base}))


@cache
def _fronts() -> dict[str, tuple[str, ...]]:
    """What grows together with a family name, by its first letter."""
    fronts = table()["grown_together"]
    return {
        letter: tuple(f for f in fronts if f[0] == letter) for letter in {f[0] for f in fronts}
    }


def _family(a: Form, b: Form) -> Alike:
    if a.family == b.family:
        return _same_family(a, b)
    (mine, my_ways), (theirs, their_ways) = _spoken(a), _spoken(b)
    if mine == theirs:
        return _same_family(a, b)
    score, why = closeness(mine, theirs)
    if _of_a_namesake(mine, theirs) or _of_a_namesake(theirs, mine):
        return min(score, _LITTLE_ONE), ("letters",)
    best: Alike = (score, (why,))
    if score < 0.97 and (my_ways or their_ways):
        for way in my_ways:
            best = max(best, _grown(way, theirs), key=_score)
        for way in their_ways:
            best = max(best, _grown(mine, way), key=_score)
    if len(a.family) > 1 or len(b.family) > 1:
        pairs = [(closeness(x, y), x, y) for x in a.family for y in b.family]
        (score, why), _, _ = max(pairs)
        best = max(best, (score * _ONE_OF_TWO, ("fewer",)), key=_score)
    return best


def _of_a_namesake(name: str, other: str) -> bool:
    """Whether the other is "the little" one, Bassone and Bassonino: a pupil or a son, rather."""
    return (
        len(name) > 4
        and name[-1] in "aeio"
        and any(other == name[:-1] + ending for ending in table()["spelling"]["little"])
    )


def _same_family(a: Form, b: Form) -> Alike:
    if a.particles == b.particles:
        return 1.0, ()
    both = a.particles and b.particles
    return (_PARTICLES - 0.015 if both else _PARTICLES), ("particles",)


def _grown(a: str, b: str) -> Alike:
    if a == b:
        return _PARTICLES, ("particles",)
    score, why = closeness(a, b)
    return score * _PARTICLES - 0.02, ("particles", why)


# --- Given names -----------------------------------------------------------------------------------


def _given(a: Form, b: Form) -> Alike:
    """How well the given names agree; those of the shorter one must each find their like in order."""
    if a.given == b.given:
        return 1.0, ()
    few, many = (a, b) if len(a.given) <= len(b.given) else (b, a)
    score, ways, at, lowest, fulls = 1.0, [], 0, 1.0, 0
    for place, word in enumerate(few.given):
        options = []
        for there in range(at, len(many.given)):
            found, why = given_alike(
                word, many.given[there], word in few.short, many.given[there] in many.short
            )
            if place == 0 and there:
                found *= _called_by_another(many.given[:there], why)
            options.append((found, -there, why))
        if not options:
            lowest = min(lowest, _OTHER_GIVEN)
            break
        found, there, why = max(options)
        if found < _LEAST_OF_A_WORD:
            if place and behind_a_given(word) and not any(map(behind_a_given, many.given[1:])):
                score *= _FEWER
                continue
            lowest = min(lowest, max(found, 0.2))
            break
        at = -there + 1
        fulls += why != "initials"
        score *= found if why != "initials" or place == 0 else 0.99
        if why != "same":
            ways.append(why)
    if lowest < _LEAST_OF_A_WORD:
        for grown in _parted(few.given, many.given):
            found, said = _given(
                Form((), grown, short=few.short), Form((), many.given, short=many.short)
            )
            if "given" not in said:
                return found * 0.98, tuple(dict.fromkeys(("spelling", *said)))
        concat = closeness("".join(a.given), "".join(b.given))
        if concat[0] > 0.85 and (len(a.given) > 1) != (len(b.given) > 1):
            return concat[0] * 0.98, ("spelling",)
        return min(lowest, _OTHER_GIVEN) * (0.9 if score < 1 else 1.0), ("given",)
    extra = len(many.given) - len(few.given)
    if extra:
        if all(len(word) == 1 for word in many.given) and fulls == 0 and len(few.given[0]) > 1:
            score *= _MORE_INITIALS
        fathers = sum(map(is_of_a_father, many.given))
        score *= _FEWER ** min(max(extra - fathers * 0.5, 0), 3)
        ways.append("fewer")
    return score, tuple(ways)


def _parted(few: tuple[str, ...], many: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The given names with one that is two grown together in its parts: Giambattista, Pierluigi."""
    for at, word in enumerate(few):
        for first in many[at : at + 1] if len(many) > len(few) and len(word) > 6 else ():
            group = given_group(first)
            fronts = _forms(group) if group is not None else {first}
            for front in sorted(fronts, key=lambda each: (-len(each), each)):
                for said in (front, front[:-1] + "m" if front[-1] == "n" else front):
                    rest = word[len(said) :]
                    if word.startswith(said) and len(said) > 2 and len(rest) > 2:
                        yield (*few[:at], first, rest, *few[at + 1 :])


def _called_by_another(before: tuple[str, ...], why: str) -> float:
    """What it takes off that a name agrees with a later given name only: least behind a Johann."""
    if why == "initials":
        return _INITIAL_NOT_THE_FIRST
    return _NOT_THE_FIRST if given_group(before[0]) != given_group("johann") else _BEHIND_JOHANN


@lru_cache(maxsize=131072)
def given_alike(
    a: str, b: str, short_a: bool = False, short_b: bool = False
) -> tuple[float, str]:
    """How well one given name agrees with another, and in which way.

    >>> given_alike("jan", "giovanni"), given_alike("jan", "j")
    ((0.965, 'twin'), (0.93, 'initials'))
    >>> given_alike("jan", "pieter")[0] < 0.5, given_alike("johann", "jonas")[0] < 0.5
    (True, True)
    """
    if a == b:
        return (1.0, "same") if len(a) > 1 else (0.96, "initials")
    if len(a) == 1 or len(b) == 1:
        return _initial(a, b)
    mine, theirs = given_group(a), given_group(b)
    if mine is not None and mine == theirs:
        return (0.985, "spelling") if sounded(a) == sounded(b) else (_TWIN, "twin")
    if (is_of_a_father(a) or is_of_a_father(b)) and father(a) == father(b):
        return 0.98, "spelling"
    if (short_a and b.startswith(a)) or (short_b and a.startswith(b)):
        return _SHORTENED, "shortened"
    if (short_a or short_b) and (_starts_a_form(a, theirs) or _starts_a_form(b, mine)):
        return _SHORTENED - 0.04, "shortened"
    if shortened(a) == b or shortened(b) == a:
        return _SHORTENED, "shortened"
    if (short_a and contracted(a, b)) or (short_b and contracted(b, a)):
        return _SHORTENED - 0.02, "shortened"
    score, why = closeness(a, b)
    if mine is not None and theirs is not None:
        return min(score * 0.6, 0.5), "given"
    if (
        stem(a) == stem(b)
        and len(stem(a)) > 3
        and (a[-1] in "sm" or b[-1] in "sm" or why == "spelling")
    ):
        return _STEM, "twin"
    if len(a) < 5 or len(b) < 5:
        score -= 0.06
    if a.startswith(b) or b.startswith(a):
        longer = max(a, b, key=len)
        if longer[-1] == "a" and longer[-2] not in "aeiou":
            return min(score, 0.6), "given"  # Philip, Philippa
    if a[-1] != b[-1] and a[:-1] == b[:-1] and {a[-1], b[-1]} in ({"a", "o"}, {"a", "e"}):
        score = min(score, 0.7)  # Mario, Maria
    return _steep(score) if score < 0.97 else score, why


def _initial(a: str, b: str) -> tuple[float, str]:
    short, long = (a, b) if len(a) == 1 else (b, a)
    if long[0] == short:
        return _INITIAL, "initials"
    if {short, long[0]} in _ALIKE_INITIALS:
        return _INITIAL - 0.05, "initials"
    group = given_group(long) if len(long) > 1 else None
    if group is not None and short in first_letters(group):
        return _INITIAL_OF_A_TWIN, "initials"
    return 0.2, "given"


_ALIKE_INITIALS: Final = (
    {"i", "j"},
    {"c", "k"},
    {"f", "p"},
    {"i", "y"},
    {"v", "w"},
    {"u", "v"},
    {"y", "j"},
)


def _starts_a_form(short: str, group: int | None) -> bool:
    return group is not None and any(name.startswith(short) for name in _forms(group))


@cache
def _forms(group: int) -> frozenset[str]:
    return forms_of(group)


@lru_cache(maxsize=65536)
def is_of_a_father(word: str) -> bool:
    """Whether a word is a patronymic: a given name with an ending, "Jacobsz", "Pieterszoon"."""
    return any(
        word.endswith(ending) and given_group(word[: -len(ending)]) is not None
        for ending in table()["spelling"]["son_of"]
        if len(word) > len(ending) + 2
    )


@lru_cache(maxsize=65536)
def behind_a_given(word: str) -> bool:
    """Whether a word between a given and a family name is a patronymic: there "Pieters" is one too."""
    return is_of_a_father(word) or (
        given_group(word) is None
        and any(
            word.endswith(ending) and given_group(word[: -len(ending)]) is not None
            for ending in ("s", "sen")
        )
    )


def contracted(short: str, long: str) -> bool:
    """Whether a word is another one without letters inside it.

    >>> contracted("margt", "margaret"), contracted("margt", "martha")
    (True, False)
    """
    letters = iter(long)
    return (
        len(short) > 2
        and len(short) < len(long)
        and short[:2] == long[:2]
        and short[-1] == long[-1]
        and all(letter in letters for letter in short)
    )


@lru_cache(maxsize=65536)
def father(word: str) -> object:
    """Whose son it is: one key for Jacobsz, Jacobszoon and Jacobsen."""
    for ending in sorted(table()["spelling"]["patronymics"], key=len, reverse=True):
        if word.endswith(ending) and len(word) - len(ending) > 2:
            name = word[: -len(ending)]
            group = given_group(name)
            return group if group is not None else sounded(name)
    return sounded(word)


# --- Forms that lack something ---------------------------------------------------------------------


def _one_lacks(a: Form, b: Form) -> Alike:
    """One has no given names: its one word may be the family name or, for some, the name itself."""
    bare, full = (a, b) if not a.given else (b, a)
    family, ways = _family(bare, full)
    best: Alike = (_steep(family) * _NO_GIVEN, (*ways, "family"))
    if len(bare.family) == 1:
        word = bare.family[0]
        score, why = given_alike(word, full.given[0])
        if why in ("same", "spelling", "letters", "misread", "twin") and len(word) > 3:
            common = given_group(word) is not None
            alone = score * (_ALONE_COMMON if common else _ALONE)
            best = max(best, (alone, ("alone",)), key=_score)
    return max(best, _joined(bare, full), key=_score)


def _initials_alone(a: Form, b: Form) -> Alike:
    """A monogram, with nothing but initials, against a name."""
    few, full = (a, b) if not a.family else (b, a)
    letters = "".join(few.given)
    words = (*full.given, *full.family)
    theirs = "".join(word[0] for word in words)
    parts = "".join(word[0] for word in full.particles)
    if letters in (theirs, theirs[:-1] + parts + theirs[-1:]) and len(letters) > 1:
        return 0.72 if len(letters) > 2 else 0.62, ("initials",)
    return 0.1, ("letters",)


def _by_father(a: Form, b: Form) -> Alike:
    """ "Pieter Jansz" for "Pieter Jansz Quill": the family name is not said."""
    best: Alike = (0.0, ("letters",))
    for one, two in ((a, b), (b, a)):
        if len(one.family) == 1 and is_of_a_father(one.family[0]) and len(two.given) > 1:
            score, ways = _given(Form((), (*one.given, *one.family)), Form((), two.given))
            if "given" not in ways:
                best = max(best, (score * _NO_FAMILY, ("fewer",)), key=_score)
    if (
        best[0] == 0.0
        and a.given == b.given
        and len(a.given) > 1
        and any(map(is_of_a_father, a.given))
    ):
        best = (0.6, ("fewer",))
    return best


def _joined(a: Form, b: Form) -> Alike:
    """All words run together: spaces that one of two names lacks."""
    if len(a.given) + len(a.family) == len(b.given) + len(b.family):
        return 0.0, ("letters",)
    mine, theirs = "".join((*a.given, *a.family)), "".join((*b.given, *b.family))
    if abs(len(mine) - len(theirs)) > 2 or mine[:1] != theirs[:1]:
        return 0.0, ("letters",)
    score, why = closeness(mine, theirs)
    return (_steep(score) * 0.97 if score > 0.9 else 0.0), (
        why if why != "same" else "spelling",
    )
