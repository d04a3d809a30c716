"""A name made ready to be held against others: its words in their parts, and its other forms.

Nothing is kept of it; how a name is written stands in `written_names`. Here a name is cut roughly
and quickly, and where its order is open both orders are tried by whoever compares.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from catalogue import places
from catalogue.measure.folding import fold, spellings
from catalogue.measure.name_letters import table


@dataclass(frozen=True, slots=True)
class Form:
    """One form of a name: folded words of the family name, given names, particles.

    `sure` when a comma or a particle told them apart. `short` are given names that were shortened by a point.
    """

    family: tuple[str, ...]
    given: tuple[str, ...]
    particles: tuple[str, ...] = ()
    sure: bool = False
    short: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Side:
    """A whole name: its forms (the first as written), which bearer it is, years, marks of a firm."""

    forms: tuple[Form, ...]
    words: tuple[str, ...]
    generation: str = ""
    born: int | None = None
    died: int | None = None
    firm: frozenset[str] = frozenset()
    ordered: tuple[str, ...] = ()
    titled: str = ""
    partners: bool = False


_LIFE = re.compile(
    r"(?P<b>\b1[0-9]\d\d|\b20\d\d)\s*[-–—/]\s*(?:c\.?|ca\.?|um|vers)?\s*(?P<d>\d{4}|\d\d)?(?!\d)"
)
_BORN = re.compile(r"(?:\bb\.|\bborn|\bgeb\.?|\*|\bnato|\bné|\bnée)\D{0,4}(1[0-9]\d\d|20\d\d)")
_DIED = re.compile(r"(?:\bd\.|\bdied|\bgest\.?|†|\bmort|\bmorto)\D{0,4}(1[0-9]\d\d|20\d\d)")
_BRACKET = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_DOTTED = re.compile(r"[\s,]+((?:[a-z]\.\s?){2,4}[a-z]?)\s*$")
_SMALL = re.compile(r"(?:\b[vye]|\bv\.?\s?d)\.?\s")
_FRONTS = re.compile(r"\b(?:m'|mc|mac\s|st|sainct)")
_WORDS = re.compile(r"\w+")
_WORD = re.compile(r"[^\W_]+\.?")


@lru_cache(maxsize=65536)
def side(name: str) -> Side:
    """A name made ready.

    >>> side("Quill, Jan van der, the Elder (1600-1660)").forms[0].given
    ('jan',)
    >>> side("Ada Penhale, née Trewin").forms[1].family
    ('trewin',)
    """
    text, born, died = _lives(name)
    folded = _latin(fold(_small_words(text))).replace("’", "'").replace("`", "'")
    folded = _grown_fronts(folded)
    if "&" in folded:
        folded = re.sub(r"\b([a-z])\.?\s*&\s*([a-z])\b", r"\1 \2", folded)
    generation, folded = _generation(folded)
    main, others = _others(folded)
    form, firm, words, ordered = _form(main)
    forms = [form] if form else []
    if (
        form
        and form.given[:1] == ("m",)
        and (form.particles if len(form.given) == 1 else not form.sure)
    ):
        forms.append(replace(form, given=form.given[1:]))  # Monsieur
    for what, said in others:
        other, marks, more, _ = _form(said)
        if other is None:
            continue
        words = words or more
        if form and what in ("born", "married") and not other.given:
            forms.append(Form(other.family, form.given, other.particles, True, form.short))
        elif what == "bracket" and form and _expands(form, other):
            forms[0] = Form(form.family, other.given + other.family, form.particles, form.sure)
        else:
            forms.append(other)
        firm |= marks
    told = {which for which, titles in _titled().items() if titles & _told_by(folded)}
    return Side(
        tuple(dict.fromkeys(forms)),
        words,
        generation,
        born,
        died,
        firm,
        ordered,
        told.pop() if len(told) == 1 and not firm else "",
        _partners(main),
    )


@cache
def _titled() -> dict[str, frozenset[str]]:
    return {which: frozenset(titles) for which, titles in table()["titled"].items()}


def _partners(folded: str) -> bool:
    """Whether two names are joined: "Trewin & Penhale", not "Trewin & Sons"."""
    if "&" not in folded and " and " not in folded and " und " not in folded:
        return False
    found = re.search(r"[^\W\d_]{3,}\s*(?:&|\band\b|\bund\b)\s*([^\W\d_]{3,})", folded)
    return found is not None and found[1] not in _firm_words()


@lru_cache(maxsize=16384)
def spelt(name: str) -> frozenset[str]:
    """The words of a name in the spellings that an umlaut allows, in no order."""
    return frozenset(map(_unordered, spellings(_lives(name)[0])))


def _unordered(text: str) -> str:
    small = _set("particles")
    return " ".join(
        sorted(w.rstrip(".") for w in _WORD.findall(text) if w.rstrip(".") not in small)
    )


def _lives(name: str) -> tuple[str, int | None, int | None]:
    """A name without figures of years, and the years of birth and death."""
    if not any(letter.isdigit() for letter in name):
        return name, None, None
    born = died = None
    if life := _LIFE.search(name):
        born = int(life["b"])
        if life["d"]:
            died = int(life["d"]) if len(life["d"]) == 4 else born // 100 * 100 + int(life["d"])
    else:
        first, last = _BORN.search(name), _DIED.search(name)
        born = int(first[1]) if first else None
        died = int(last[1]) if last else None
    if re.search(r"\b(?:fl|act|active|tätig|actif|attivo|werkzaam|flourished)\b", name):
        born = died = None
    text = re.sub(r"[(\[][^()\[\]]*\d{3,}[^()\[\]]*[)\]]", " ", name)
    text = re.sub(r"[,;]?\s*(?:\b(?:b|d|c|ca|born|died|geb|gest|fl)\.?\s*)*\d{3,}.*$", "", text)
    return text, born, died


def _small_words(text: str) -> str:
    """Small words that only their small letter tells from an initial: "v. d.", "v.", "y", "e"."""
    if not _SMALL.search(text):
        return text
    text = re.sub(r"\bv\.?\s?d\.?\s(?=[^\W\d_])", "van der ", text)
    text = re.sub(r"(?<=[\s,])v\.\s?(?=[^\W\d_a-z])", "von ", text)
    return re.sub(r"(?<=\w)\s[ye]\s(?=[^\W\d_a-z])", " ", text)


def _grown_fronts(folded: str) -> str:
    """ "M'", "Mc" and "Mac " as "mac", "St-" as "saint"."""
    if not _FRONTS.search(folded):
        return folded
    folded = re.sub(r"\b(?:m'|mc\s?|mac\s)(?=[^\W\d_]{3})", "mac", folded)
    return re.sub(
        r"\b(?:ste?|sainct)\.?-\s?(?=\w)|(?<=\bde\s)ste?\.?\s(?=\w)", "saint ", folded
    )


def _latin(text: str) -> str:
    """Letters of another alphabet as Latin ones."""
    return text if text.isascii() else text.translate(_alphabet())


@cache
def _alphabet() -> dict[int, str]:
    return {ord(letter): latin for letter, latin in table()["letters"].items()}


@cache
def _generations() -> tuple[tuple[str, re.Pattern[str]], ...]:
    found = []
    for which, words in table()["generation"].items():
        longest = sorted(words, key=lambda each: (-len(each), each))
        said = "|".join(
            r"\W+".join(re.escape(part) for part in each.split()) for each in longest
        )
        found.append(
            (which, re.compile(rf"(?<=[\w.,)])[\s,(]+(?:{said})\b\.?\)?(?=\s*(?:$|[,;(]))"))
        )
    return tuple(found)


def _generation(folded: str) -> tuple[str, str]:
    """Which bearer of a name it is, and the name without that."""
    bare = folded.strip()
    if " " not in bare:
        return "", bare
    if not _told_by(bare) & _last_words("generation"):
        return "", bare
    for which, pattern in _generations():
        if found := pattern.search(bare):
            left = bare[: found.start()] + " " + bare[found.end() :]
            if left.strip(" ,;") and not (
                which != "third" and _a_firm_before(bare, found.start())
            ):
                return which, left.strip(" ,;")
    return "", bare


def _a_firm_before(text: str, at: int) -> bool:
    """Whether "& fils" stands there: sons in a firm, not the younger of two."""
    return bool(re.search(r"(?:&|\bet|\bund|\band)\s*$", text[: at + 1]))


@lru_cache(maxsize=1024)
def _told_by(text: str) -> frozenset[str]:
    return frozenset(_WORDS.findall(text))


@cache
def _last_words(*rows: str) -> frozenset[str]:
    """The last word of each saying in these tables: without one of them nothing needs looking for."""
    return frozenset(
        saying.split()[-1]
        for row in rows
        for words in table()[row].values()
        for saying in words
    )


@cache
def _calls() -> re.Pattern[str]:
    rows = [(kind, word) for kind, words in table()["other"].items() for word in words]
    rows.sort(key=lambda each: (-len(each[1]), each[1]))
    by_kind = {
        kind: "|".join(
            r"\W+".join(re.escape(part) for part in word.split())
            for k, word in rows
            if k == kind
        )
        for kind in table()["other"]
    }
    said = "|".join(f"(?P<{kind}>{words})" for kind, words in by_kind.items())
    return re.compile(rf"(?<=[\w.,)(\[ ])[\s,;(\[]*(?<!\w)(?:{said})\b\.?\s+(?=\S)")


def _others(folded: str) -> tuple[str, list[tuple[str, str]]]:
    """The name as it begins, and what else it is called: by a word that says so, or in brackets."""
    others: list[tuple[str, str]] = []
    text = folded
    for bracket in _BRACKET.finditer(folded):
        inner = bracket[1].strip(" ,;")
        if inner:
            call = _calls().match(" " + inner)
            kind = call.lastgroup or "called" if call else "bracket"
            others.append((kind, inner[max(call.end() - 1, 0) :] if call else inner))
    if others or "(" in folded or "[" in folded:
        text = _BRACKET.sub(" ", folded)
    while _told_by(text) & _last_words("other") and (found := _last_call(text)):
        others.append((found.lastgroup or "called", text[found.end() :].strip(" ,;")))
        text = text[: found.start()].strip(" ,;")
    for slash in (" / ", " = ", ";"):
        if slash in text:
            text, _, rest = text.partition(slash)
            others.append(("called", rest))
    return text, others


def _last_call(text: str) -> re.Match[str] | None:
    calls = list(_calls().finditer(text)) if " " in text else []
    return calls[-1] if calls and calls[-1].start() > 0 else None


@cache
def _set(*names: str) -> frozenset[str]:
    here = table()
    for name in names:
        here = here[name]
    return frozenset(here)


@cache
def _titles() -> frozenset[str]:
    one_word = {fold(title).replace(".", "") for title in places.table("names.toml")["titles"]}
    return _set("honorifics") | {
        title for title in one_word if " " not in title and len(title) > 2
    }


@cache
def _firm_words() -> dict[str, str]:
    return {word: kind for kind, words in table()["firm"].items() for word in words}


def _form(text: str) -> tuple[Form | None, frozenset[str], tuple[str, ...], tuple[str, ...]]:
    """One form, the marks of a firm in it, its words sorted, and in the order of speaking."""
    joined = "&" in text or " and " in text or " und " in text
    text = _behind(text)
    segments = [part for part in text.replace(";", ",").split(",") if part.strip(" .&'-")]
    parts = [_split(part) for part in segments]
    whole = sum(len(part) for part in parts)
    dotted = {bare for part in parts for bare, point in part if point and len(bare) > 1}
    kept: list[list[str]] = []
    marks: set[str] = set()
    for place, part in enumerate(parts):
        left = []
        for at, (word, _) in enumerate(part):
            first, last = not (place or at), place == len(parts) - 1 and at == len(part) - 1
            kind = _firm_words().get(word)
            firm = (
                kind and (joined or len(word) > 3 or last) and not (first and kind == "company")
            )
            if whole > 1 and firm and kind:
                marks.add(kind)
            elif not (
                (whole > 1 and word in _titles() and not _a_family(place, at, len(part)))
                or (whole > 1 and last and _letters(word, whole))
                or (whole > 1 and last and _signs(word, place))
            ):
                left.append(word)
        if left:
            kept.append(left)
    if not kept:
        kept = [[word for word, _ in part] for part in parts if part][:1]
        marks = set()
    if not kept:
        return None, frozenset(), (), ()
    words = [word for part in (*kept[1:2], *kept[:1], *kept[2:]) for word in part]
    return (
        _roles(kept, words, dotted),
        frozenset(marks),
        tuple(sorted(w for w in words if len(w) == 1 or w not in _set("particles")))
        or tuple(words),
        tuple(words),
    )


def _a_family(place: int, at: int, of: int) -> bool:
    """Whether the word stands where a family name does: alone before a comma, or last behind others."""
    return place == 0 and at == of - 1


def _letters(word: str, words: int) -> bool:
    """Whether the last word is letters behind a name; a whole name stands before short ones."""
    return word in _set("letters_behind") and (words > 2 or len(word) > 2)


def _signs(word: str, place: int) -> bool:
    """Whether the last word says that somebody signed: one letter does only without a comma."""
    return word in _set("signed") and (len(word) > 1 or place == 0)


def _behind(text: str) -> str:
    """The text without letters behind a name that stand with points: "R. Penhale, R.A."."""
    found = _DOTTED.search(text) if "." in text else None
    if found and found[1].replace(".", "").replace(" ", "") in _set("letters_behind"):
        before = text[: found.start()]
        if re.search(r"\w{2,}\W*$", before) and (
            len(before.split()) > 1 or found[1].count(".") > 2
        ):
            return before
    return text


def _split(part: str) -> list[tuple[str, bool]]:
    """Words with whether a point closes them; initials that stand close are several words."""
    if "'" not in part:
        return [(word.rstrip("."), word.endswith(".")) for word in _WORD.findall(part)]
    part = re.sub(r"\b(?:[dlst]'(?=\w)|'t\s)|(?<!\w)'[ts]\s", " ", part)
    part = re.sub(r"\b(dell|all)'(?=\w)", r"\1 ", part)
    part = re.sub(r"\b(o)'(?=\w)", r"\1", part).replace("'", " ")
    return [(word.rstrip("."), word.endswith(".")) for word in _WORD.findall(part)]


def _roles(kept: list[list[str]], words: list[str], dotted: set[str]) -> Form:
    small = _set("particles")

    def bare(part: list[str]) -> list[str]:
        return [w for w in part if w not in small or len(w) == 1] or part

    particles = tuple(word for word in words if word in small and len(word) > 1)
    if len(kept) > 1:
        family, given = bare(kept[0]), [w for part in kept[1:] for w in part]
        given = [w for w in given if w not in small or (len(w) == 1)]
        return Form(tuple(family), tuple(given), particles, True, frozenset(dotted))
    named = bare(kept[0])
    if len(named) == 1:
        return Form(tuple(named), (), particles)
    if all(len(word) == 1 for word in named):
        return Form((), tuple(named), particles)
    # "Trewin J.": a family name before initials; "Jan van der Quill Trewin": the particle begins it.
    if len(named[-1]) == 1 and len(named[0]) > 1:
        at = next(place for place, word in enumerate(named) if len(word) == 1)
        return Form(
            tuple(named[:at]),
            tuple(named[at:]),
            particles,
            False,
            frozenset(dotted),
        )
    at, sure = _family_from(kept[0], named)
    given = named[:at]
    return Form(tuple(named[at:]), tuple(given), particles, sure, frozenset(dotted))


def _family_from(words: list[str], named: list[str]) -> tuple[int, bool]:
    """Where the family name begins among the words that are no particles; sure where one shows it."""
    small = _set("particles")
    seen = 0
    for place, word in enumerate(words):
        if word in small and len(word) > 1 and 0 < seen < len(named) and place + 1 < len(words):
            return seen, True
        if not (word in small and len(word) > 1):
            seen += 1
    return len(named) - 1, False


def _expands(form: Form, other: Form) -> bool:
    """Whether the bracket spells out the initials: "J. A. (Jan Arend) Quill"."""
    names = other.given + other.family
    return (
        bool(form.given)
        and len(names) == len(form.given)
        and all(
            len(short) == 1 and long.startswith(short)
            for short, long in zip(form.given, names, strict=True)
        )
    )
