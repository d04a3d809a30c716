"""A name as it is written → its parts: words of attribution, family and given name, titles, years.

A name is taken apart by signs of what it is: a mark of a firm ("& Sons", "Galerie"), of an
institution ("Museum"), a comma that turns it round, particles, initials. What no sign explains is
left in `rest`; every letter of the text is in one part or in `rest`. The words are in
vocab/names.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Final, Literal, TypeAlias

from catalogue.measure.address_words import is_place
from catalogue.measure.attributions import Place, find_attribution
from catalogue.measure.name_marks import Kind, Mark, marks
from catalogue.measure.name_words import listed, table, whole
from catalogue.measure.words import any_of

Part: TypeAlias = Literal["qualifier", "family", "given", "honorifics", "life", "rest"]

_SIGNS: Final = ",;:()[]"
_LONGEST: Final = 400
"""So many characters of a text are looked at for a name; a longer one is prose, and stays `rest`."""
_YEAR: Final = r"(?<!\d)(?:1[0-9]|20)\d\d(?!\d)s?\??"


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenName:
    """One name taken apart; each part as written, None where there is none.

    `family` is what the name is filed under: of a firm, an institution or somebody who is not named
    ("private collection") it is the whole name. `honorifics` are titles and what follows a name
    ("the Elder", "R.A."); `life` the years of somebody's life or work. `rest` holds what was not
    understood, in order, "" if nothing.
    """

    text: str
    qualifier: str | None = None
    family: str | None = None
    given: str | None = None
    honorifics: str | None = None
    life: str | None = None
    kind: Kind = "unknown"
    rest: str = ""


def read_name(text: str) -> WrittenName:
    """The parts of a name.

    >>> name = read_name("Attributed to Mrs. Ada van der Quill, R.A. (1840-1926)")
    >>> name.qualifier, name.honorifics, name.given, name.family, name.life
    ('Attributed to', 'Mrs. R.A.', 'Ada', 'van der Quill', '1840-1926')
    >>> firm = read_name("J. Trewin & Sons Ltd, Bath")
    >>> firm.kind, firm.family, firm.rest
    ('firm', 'J. Trewin & Sons Ltd', 'Bath')
    """
    sheet = _Sheet(text, text)
    kind: Kind = "unknown"
    if len(text) <= _LONGEST:
        for place in find_attribution(text).words:
            sheet.take("qualifier", *place)
        _unwrap(sheet)
        _take_lives(sheet)
        kind = _take_nobody(sheet) or _take_marked(sheet) or _take_person(sheet) or "unknown"
    return WrittenName(
        text=text,
        qualifier=sheet.written("qualifier"),
        family=sheet.written("family"),
        given=sheet.written("given"),
        honorifics=sheet.written("honorifics"),
        life=sheet.written("life"),
        kind=kind,
        rest=sheet.rest(),
    )


@dataclass(slots=True)
class _Sheet:
    """A text on which what has been understood is blanked out, letter for letter."""

    text: str
    left: str
    taken: list[tuple[Part, int, str]] = field(default_factory=list)

    def take(self, part: Part, start: int, end: int) -> None:
        """Understand a stretch of what is left as a part, without the signs around it."""
        said = self.left[start:end]
        bare = said if part == "qualifier" else said.strip(_SIGNS + " \t\r\n")
        if bare:
            self.taken.append((part, start, bare))
        self.blank(start, end)

    def blank(self, start: int, end: int) -> None:
        self.left = self.left[:start] + " " * (end - start) + self.left[end:]

    def written(self, part: Part) -> str | None:
        """A part as written; of a family name the particles first, else in the order of the text."""
        places = [(start, said) for what, start, said in self.taken if what == part]
        ordered = places if part == "family" else sorted(places)
        return " ".join(" ".join(said for _, said in ordered).split()) or None

    def rest(self) -> str:
        """All that is left and all that was set aside, in order."""
        aside = [(start, said) for part, start, said in self.taken if part == "rest"]
        left = [(word.start(), word[0]) for word in re.finditer(r"\S+", self.left)]
        bare = (said.strip(_SIGNS) for _, said in sorted([*aside, *left]))
        return " ".join(each for each in bare if each.strip(".-–—"))


# --- years and brackets ----------------------------------------------------------------------------


def _unwrap(sheet: _Sheet) -> None:
    """Take off brackets that stand around all that is left."""
    around = re.fullmatch(r"\s*[(\[]([^()\[\]]*)[)\]][\s.;]*", sheet.left)
    if around:
        sheet.blank(0, around.start(1))
        sheet.blank(around.end(1), len(sheet.left))


def _take_lives(sheet: _Sheet) -> None:
    """The years of a life, in brackets or behind the name; other brackets are set aside."""
    for group in re.finditer(r"[(\[]([^()\[\]]*)[)\]]", sheet.left):
        life = _life_in(group[1])
        at = group.start(1)
        if life and sheet.written("life") is None:
            sheet.take("life", at + life[0], at + life[1])
            sheet.take("rest", at, at + life[0])
            sheet.take("rest", at + life[1], group.end(1))
        elif added := _added().fullmatch(group[1]):
            sheet.take("honorifics", at, at + added.end())
        elif group[1].strip() and not _initials().fullmatch(group[1].strip()):
            sheet.take("rest", at, group.end(1))
        else:
            continue
        sheet.blank(group.start(), group.end())
    behind = _life_behind().search(sheet.left.rstrip(" .;"))
    if behind and sheet.written("life") is None and behind.start():
        sheet.take("life", behind.start("life"), behind.end("life"))
        sheet.blank(behind.start(), behind.end("life"))


def _life_in(text: str) -> Place | None:
    """Where in a bracket the years of a life stand, None where it tells of something else."""
    parts = list(_part_of_a_life().finditer(text))
    if not any(part.lastgroup == "year" for part in parts):
        return None
    start = parts[0].start()
    end = max(part.end() for part in parts if part.lastgroup != "word")
    words = re.findall(r"[^\W\d_]+", _part_of_a_life().sub(" ", text))
    told = all(word[0].isupper() or word in ("of", "near", "bei", "près") for word in words)
    return (start, end) if told else None


@cache
def _part_of_a_life() -> re.Pattern[str]:
    words = whole(table()["born_and_died"])
    year = rf"[-–—]?\s?{_YEAR}(?:\s?[-–—/]\s?(?:{_YEAR}|\d\d?(?!\d))?)?|{_century()}"
    return re.compile(rf"(?P<word>(?<!\w){words})|(?P<year>{year})|[-–—]")


def _century() -> str:
    return (
        r"(?:(?:early|mid|late|first half|second half)[ -](?:of the )?)?"
        r"(?<!\w)\d{1,2}(?:st|nd|rd|th)(?:[-–/]\d{1,2}(?:st|nd|rd|th))?[ -](?:century|c\.)"
        r"|(?<!\w)[XVI]{1,5}e siècle|(?<!\w)\d{1,2}\. Jh(?:dt)?\."
    )


@cache
def _life_behind() -> re.Pattern[str]:
    """Years of a life that close a text: "Ada Penhale, 1840-1926", "Ada Penhale b. 1870"."""
    words = any_of(table()["born_and_died"])
    years = rf"{_YEAR}\s?[-–—]\s?(?:{_YEAR}|\d\d(?!\d))?"
    said = rf"{words}\s?(?:{words}\s?)?{_YEAR}(?:\s?[-–—]\s?(?:{_YEAR}|\d\d))?"
    return re.compile(rf"[,\s]\s*(?P<life>(?<!\w){said}|(?<!\w){years}|{_century()})$")


# --- what is no person -----------------------------------------------------------------------------


def _take_nobody(sheet: _Sheet) -> Kind | None:
    """A wording that names nobody: "private collection", "Dutch School", "Trewin Collection"."""
    found = _nobody().match(sheet.left)
    if found is None:
        return None
    behind = sheet.left[found.end() :].strip(_SIGNS + " .")
    if found["kin"] and behind and not is_place(behind):  # "his wife, Ada Penhale" names her
        sheet.take("rest", 0, found.end())
        return None
    sheet.take("family", 0, found.end())
    return "unknown"


@cache
def _nobody() -> re.Pattern[str]:
    words, nations = table()["nobody_named"], any_of(table()["nations"])
    kin = [word for word in words if word.startswith(("his ", "her ", "the ", "a "))]
    others = [word for word in words if word not in kin]
    schools, collections = whole(table()["schools"]), whole(table()["collections"])
    return re.compile(
        rf"\s*(?:(?P<kin>(?i:{whole(kin)}))|(?i:{whole(others)})"
        rf"|(?i:{nations})(?:[-/ ](?i:{nations}))?\s+{schools}"
        rf"|(?!{listed('on_behalf')})[^\W\d_][^,;()\[\]]{{1,60}}?\s{collections})"
        r"(?=\s*(?:[,;.(\[]|$|in\b))"
    )


def _take_marked(sheet: _Sheet) -> Kind | None:
    """A firm or an institution: its name begins and ends with the commas around its marks."""
    found = list(marks(sheet.left))
    partners = _partners().fullmatch(sheet.left.strip()) if not found else None
    if not found and not partners:
        return None
    commas = [0, *_commas(sheet.left), len(sheet.left)]
    last = found[-1].end if found else len(sheet.left)
    end = next(at for at in commas if at >= last)
    start = _start_of_marked(sheet.left, found[0], commas) if found else 0
    if start < end and (title := _messrs().match(sheet.left, start, end)):
        sheet.take("honorifics", start, title.end())
        start = title.end()
    firm = not found or found[-1].kind == "firm"
    place = _of_a_place().search(sheet.left, last, end) if firm and found else None
    if (
        place and is_place(place["place"]) and found[-1].start > start
    ):  # "Bank of Bath" stays whole
        end = place.start()
    sheet.take("family", start, end)
    return "firm" if firm else "institution"


def _start_of_marked(text: str, mark: Mark, commas: list[int]) -> int:
    """Where the name begins that this mark is of: at the comma before it, unless it joins."""
    before = max(at for at in commas if at <= mark.start)
    alone = not text[before : mark.start].strip(_SIGNS + " ")
    start = 0 if mark.joins or alone else before
    prose = re.compile(r"[,;\s]*(?:[^\WA-ZÀ-Þ\d_][\w'’]*\s+)*").match(text, start, mark.start)
    return prose.end() if prose else start


def _commas(text: str) -> Iterator[int]:
    return (at for at, sign in enumerate(text) if sign in ",;")


@cache
def _messrs() -> re.Pattern[str]:
    return re.compile(r"[,;\s]*(?:The\s+)?Messrs\.?\s+", re.IGNORECASE)


@cache
def _of_a_place() -> re.Pattern[str]:
    return re.compile(r"\s+(?:of|in|at|à|zu|te|a)\s+(?P<place>[^,;]+?)\s*$")


@cache
def _partners() -> re.Pattern[str]:
    """Family names joined by "&", or initials: "Trewin, Penhale & Quill", "W. & J. Trewin"."""
    name = r"[^\W\d_a-z][\w'’-]{1,40}"
    initials = r"(?:[^\W\d_]\.\s?){1,3}"
    return re.compile(
        rf"(?:{name},\s*){{0,4}}{name}\s*&\s*{name}|{initials}(?:&|and)\s*{initials}{name}"
    )


# --- persons ---------------------------------------------------------------------------------------


def _take_person(sheet: _Sheet) -> Kind | None:
    """A person: titles, what follows the name, then family and given name."""
    if re.match(rf"\s*(?:{listed('notnames')})\s+\S", sheet.left):
        sheet.take("family", 0, next(_commas(sheet.left), len(sheet.left)))
        return "person"
    if behalf := re.match(rf"\s*(?:{listed('on_behalf')})\s+(?=\S)", sheet.left):
        sheet.take("rest", 0, behalf.end())
    titles = _take_titles(sheet, len(behalf[0]) if behalf else 0)
    if within := _title_within().search(sheet.left):
        sheet.take("honorifics", *within.span())
    _take_added(sheet, titled=bool(titles))
    parts = [_name_in(sheet.left, *part) for part in _segments(sheet.left)]
    if not parts or parts[0] is None:
        return None
    first, second = parts[0], parts[1] if len(parts) > 1 else None
    if titles.endswith("of"):  # "the Duke of Bath": the place is the name
        sheet.take("family", *first)
    elif second and not titles and _turned_round(sheet.left, first, second):
        _take_titles(sheet, second[0])
        _take_turned(sheet, first, _name_in(sheet.left, *second) or second)
    else:
        given, family = _given_and_family(sheet.left, *first)
        sheet.take("given", *given)
        sheet.take("family", *family)
    return "person"


def _segments(text: str) -> Iterator[Place]:
    """The stretches between commas that hold a letter or a figure."""
    for part in re.finditer(r"[^,;]+", text):
        if any(letter.isalnum() for letter in part[0]):
            yield part.span()


def _name_in(text: str, start: int, end: int) -> Place | None:
    """Where in a stretch the name stands: from its first capital to the first word that is none."""
    first = last = None
    for word in re.compile(r"\S+").finditer(text, start, end):
        named = is_named(word[0])
        if named or (is_particle(word[0]) and not any(c.isdigit() for c in word[0])):
            first = word.start() if first is None else first
            last = word.end()
        elif first is None:
            continue
        elif not (word[0] in table()["and_signs"] or word[0][0] in "\"“'‘"):
            break
    if first is None or last is None:
        return None
    return (first, last) if any(is_named(word) for word in text[first:last].split()) else None


def is_named(word: str) -> bool:
    """Whether a word may be part of a name: it has a capital in front, or a letter without case."""
    letter = next((c for c in word if c.isalpha()), "")
    capital = letter.isupper() or letter.istitle() or bool(letter and not letter.islower())
    return (capital or bool(_elided().match(word))) and not any(c.isdigit() for c in word)


@cache
def _particle_words() -> frozenset[str]:
    return frozenset(part for words in table()["family_particles"] for part in words.split())


def is_particle(word: str) -> bool:
    """Whether a word is one of those that a family name begins with, as "van"."""
    return word in _particle_words() or word.lower() in _particle_words()


@cache
def _word_of_a_name() -> re.Pattern[str]:
    """A word, or the initials that stand close before one: "A.Penhale" is two."""
    return re.compile(r"(?:[^\W\d_]\.)+(?=[^\W\d_][^\W\d_.])|\S+")


@cache
def _elided() -> re.Pattern[str]:
    return re.compile(r"(?:d|dell|l|all)['’][^\W\d_]")


@cache
def _initials() -> re.Pattern[str]:
    return re.compile(r"(?:[^\W\d_]{1,2}\.[-\s]?){1,5}|[^\W\d_]\.?")


def _given_and_family(text: str, start: int, end: int) -> tuple[Place, Place]:
    """Given and family name of a name in the order of speaking; either may be empty."""
    words = list(_word_of_a_name().finditer(text, start, end))
    spoken = [word[0] for word in words]
    initials = [bool(_initials().fullmatch(word)) for word in spoken]
    if text[start:end].lower() == text[start:end].upper():  # a script without capitals
        return (start, start), (start, end)
    if all(initials):
        return (start, end), (end, end)
    if initials[-1] and not initials[0]:  # "Trewin J.": the family name first, without a comma
        behind = max(place for place, short in enumerate(initials) if not short) + 1
        return (words[behind].start(), end), (start, words[behind - 1].end())
    first = next(
        (
            place
            for place, word in enumerate(spoken[:-1])
            if is_particle(word) and (place or not is_named(word) or len(words) == 2 + place)
        ),
        len(words) - 1,
    )
    elided = (place for place, word in enumerate(spoken) if _elided().match(word))
    first = min(first, next(elided, first))
    joined = [place for place, word in enumerate(spoken) if word in ("y", "i") and place > 1]
    first = min(first, joined[0] - 1) if joined else first
    at = words[first].start()
    return (start, at), (at, end)


def _turned_round(text: str, first: Place, second: Place) -> bool:
    """Whether a comma turns the name round ("Penhale, Ada") and is not before a place."""
    named = [word for word in text[slice(*first)].split() if not is_particle(word)]
    behind = text[slice(*second)]
    if is_place(behind):
        return False
    if len(named) <= 1 or _titles().match(behind) or _initials().fullmatch(behind.strip()):
        return True
    given = _given_names()
    return behind.split()[0].casefold() in given and named[0].casefold() not in given


@cache
def _given_names() -> frozenset[str]:
    return frozenset(name for names in table()["twins"] for name in names)


def _take_turned(sheet: _Sheet, first: Place, second: Place) -> None:
    """ "Quill, Jan van der" is Jan, of the family van der Quill."""
    words = list(re.compile(r"\S+").finditer(sheet.left, *second))
    at = len(words)
    while at > 1 and is_particle(words[at - 1][0]) and not is_named(words[at - 1][0]):
        at -= 1
    given_end = words[at - 1].end()
    sheet.take("given", second[0], given_end)
    sheet.take("family", given_end, second[1])
    sheet.take("family", *first)


# --- titles ----------------------------------------------------------------------------------------


def _take_titles(sheet: _Sheet, at: int) -> str:
    """Titles that stand here before a name; what was taken."""
    found = _titles().match(sheet.left, at)
    if found is None:
        return ""
    sheet.take("honorifics", at, found.end())
    return " ".join(found[0].split())


@cache
def _titles() -> re.Pattern[str]:
    return re.compile(rf"\s*{titles()}(?=[^\s,;])")


@cache
def titles() -> str:
    """A pattern for the titles before a name, with the blank behind them."""
    words = [*table()["titles"], *(word.upper() for word in table()["titles"])]
    one = rf"{whole(words)}\.?".replace(r"\s+", r"\.?\s+")
    both = rf"(?:{one}(?:\s*(?:{any_of(table()['and_signs'])})\s+{one})?)"
    careful = rf"(?:{whole(table()['titles_before_a_particle'])}\.?(?=\s+(?:de|du|des|d['’]|le|la|et\s+M)))"
    peer = rf"(?:[Tt]he\s+)?(?:\d{{1,2}}(?:st|nd|rd|th)\s+)?{whole(table()['peers'])}"
    return (
        rf"(?:(?:{careful}\s+(?:et\s+{one}\s+)?)?(?:(?:{both}\s+){{1,5}}(?:{peer}\s+)?|{peer}\s+)"
        rf"|{careful}(?:\s+et\s+{one})?\s+)"
    )


@cache
def _title_within() -> re.Pattern[str]:
    return re.compile(
        rf"(?<=\w\s){whole(table()['titles_within'])}\.?(?=\s+(?:von|vom|zu|van|de|di|da|of)\b)"
    )


def _take_added(sheet: _Sheet, *, titled: bool) -> None:
    """What follows a name: "Jr.", "the Elder", "R.A.", "3rd Earl of Bath"."""
    named = len(sheet.left) - len(sheet.left.lstrip())
    for found in _behind_a_name().finditer(sheet.left, named):
        before = sheet.left[: found.start()]
        lone = len(before.split()) < 2 and not titled
        letters = _initials().fullmatch(found["added"].strip(" ,;"))
        if before.strip() and not (lone and letters):
            sheet.take("honorifics", *found.span())


@cache
def added_words() -> str:
    """A pattern for a word behind a name; letters may have points between them."""
    said = []
    for word in sorted(table()["behind_a_name"], key=len, reverse=True):
        capitals = word.isupper() and word.isalpha()
        said.append(r"\.?\s?".join(word) if capitals else re.escape(word))
    return rf"(?:{'|'.join(said)})(?!\w)\.?"


@cache
def _added() -> re.Pattern[str]:
    return re.compile(added_words())


@cache
def _behind_a_name() -> re.Pattern[str]:
    peer = rf",\s*(?:the\s+)?(?:\d{{1,2}}(?:st|nd|rd|th)\s+)?{whole(table()['peers'])}[^,;]{{1,40}}"
    title = rf",\s*{whole(table()['titles'])}\.?"
    added = rf"(?P<added>(?:[,\s]\s*{added_words()})+|{peer}|{title})"
    return re.compile(rf"{added}(?=\s*(?:[,;]|$))")
