"""The rules of dating: the rows of vocab/dating/*.toml, each checked against its own examples.

A row says what is seen, from when to when it was to be had, how firmly, what it dates, why, and
who says so. How a row is written stands in vocab/dating/README.md. A row that is not whole, or
that does not do what its examples say, is refused with its file, its key and what to do.
"""

from __future__ import annotations

import datetime
import re
import tomllib
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final, Literal, TypeAlias, get_args

from catalogue.argument import dating_words
from catalogue.argument.spans import Interval
from catalogue.errors import BadSetting
from catalogue.measure import Day
from catalogue.places import folder
from catalogue.terms import known, within

Strength: TypeAlias = Literal["hard", "soft"]
What: TypeAlias = Literal["printing", "use", "presence", "support", "repair", "paint"]
Where: TypeAlias = Literal["label", "description", "both"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One row: a form of words, a technique or a material that dates what carries it.

    `not_before` and `not_after` are the days between which the form was current, None = not
    known. `margin` is in years: how long it was still used up after `not_after`; `margin_before`
    how much earlier it may have been used. `only_in` are the countries of which one must be named
    before it counts, none = any. `terms` are concepts of vocab/terms that fire it. Rows with the
    same `stem` are alternatives. `careful` rows speak with the caution of vocab/dating.toml.
    """

    key: str
    seen: str
    finder: re.Pattern[str] | None
    anchors: tuple[str, ...]
    terms: tuple[str, ...]
    region: str
    only_in: frozenset[str]
    not_before: Day | None
    not_after: Day | None
    margin: int
    margin_before: int
    strength: Strength
    dates: What
    on: Where
    careful: bool
    why: str
    source: str
    verified: str
    differs: str
    fires: tuple[str, ...]
    nearly: tuple[str, ...]
    file: str

    @property
    def stem(self) -> str:
        """What it has in common with its alternatives.

        >>> rule("gb.royal.king#2").stem
        'gb.royal.king'
        """
        return self.key.partition("#")[0]

    @property
    def has_alternatives(self) -> bool:
        """Whether other rows date the same words otherwise."""
        return "#" in self.key

    def bounds(self, *, soft: bool, open_end: bool) -> tuple[Interval, Interval]:
        """Its own days, and how far they may reach; `open_end` when the closing date is off.

        >>> own, reach = rule("gb.rail.lms").bounds(soft=False, open_end=False)
        >>> own.latest.iso, reach.earliest.iso, reach.latest.iso
        ('1947-12-31', '1923-01-01', '1950-12-31')
        """
        start, end = self.not_before, None if open_end else self.not_after
        softened = soft and self.strength == "hard"
        before = max(self.margin, self.margin_before) if softened else self.margin_before
        return Interval(start, end), Interval(
            start.years_on(-before) if start else None,
            end.years_on(self.margin) if end else None,
        )

    def may_be_in(self, searched: str) -> bool:
        """Whether it is worth looking closer in a text as `searchable` gives it."""
        return not self.anchors or any(anchor in searched for anchor in self.anchors)

    def found_in(self, text: str) -> Iterator[re.Match[str]]:
        """Where it stands in a text; a description that denies it is passed over.

        >>> [found[0] for found in rule("hw.staples").found_in("no staples; stapled below")]
        ['stapled']
        """
        if self.finder is None:
            return
        for found in self.finder.finditer(text):
            denied = self.on == "description" and dating_words.denied(
                text[: found.start()][-60:]
            )
            if found[0].strip() and not denied:
                yield found

    def fires_on(self, text: str) -> bool:
        """Whether a text, or the key of a concept, fires it."""
        return any(self.found_in(text)) or self.is_of(text)

    def is_of(self, term: str) -> bool:
        """Whether a concept is one of its `terms` or narrower.

        >>> rule("rp.polyester_fabric").is_of("material/sailcloth")
        True
        """
        return bool(self.terms) and within(term, *self.terms)


def searchable(text: str) -> str:
    """A text as the rules' anchors are looked for in it: without capitals, and without points and blanks."""
    return f"{text.casefold()}\n{_BETWEEN_INITIALS.sub('', text)}"


def rule(key: str) -> Rule:
    """The rule of a key. Raises `BadSetting`."""
    found = _by_key().get(key)
    if found is None:
        raise BadSetting(f"there is no dating rule {key!r}", remedy="see vocab/dating/*.toml")
    return found


@cache
def rules() -> tuple[Rule, ...]:
    """Every rule, by file and in the order of the files. Raises `BadSetting`."""
    return read_rules(sorted((folder("vocab") / "dating").glob("*.toml")))


@cache
def rules_on(where: Where) -> tuple[Rule, ...]:
    """The rules for the letters of a label, or for what is described."""
    return tuple(each for each in rules() if each.on in (where, "both"))


@cache
def _by_key() -> dict[str, Rule]:
    return {each.key: each for each in rules()}


def read_rules(files: Iterable[Path]) -> tuple[Rule, ...]:
    """The rules of some files. Raises `BadSetting` at the first that is not whole."""
    found: dict[str, Rule] = {}
    for file in files:
        for row in _rows(file):
            here = _Row(file.name, row).rule()
            if here.key in found:
                raise BadSetting(
                    f"{file.name}: the key {here.key} stands in {found[here.key].file} too",
                    remedy="give one of the two another key; alternatives are written key#1, key#2",
                )
            found[here.key] = here
    return tuple(found.values())


def _rows(file: Path) -> Iterator[dict[str, Any]]:
    try:
        held = tomllib.loads(file.read_text("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as wrong:
        raise BadSetting(f"{file.name}: {wrong}", remedy="mend that line") from None
    every = held.get("every", {})
    for row in held.get("rule", []):
        yield {**every, **row}


_NEEDED: Final = (
    "key", "seen", "strength", "dates", "why", "source", "verified", "fires", "nearly",
)  # fmt: skip
FIELDS: Final[Mapping[str, type]] = {
    "key": str, "seen": str, "says": list, "pattern": str, "terms": list, "region": str,
    "only_in": list, "not_before": datetime.date, "not_after": datetime.date, "margin": int,
    "margin_before": int, "strength": str, "dates": str, "on": str, "careful": bool, "why": str,
    "source": str, "verified": str, "differs": str, "fires": list, "nearly": list,
}  # fmt: skip
"""What a row may say, and of what type it is."""
_KEY: Final = re.compile(r"[a-z0-9]+(?:\.\w+)+(?:#[0-9]+)?")


class _Row:
    """One row on its way to a rule."""

    def __init__(self, file: str, row: dict[str, Any]) -> None:
        self.file = file
        self.row = row

    def rule(self) -> Rule:
        self._check_fields()
        here = self._rule()
        for text in here.fires:
            self._demand(
                here.fires_on(text),
                f"it does not fire on {text!r}, as its `fires` says",
                "mend the words, the pattern or the example",
            )
        for text in here.nearly:
            self._demand(
                not here.fires_on(text),
                f"it fires on {text!r}, which its `nearly` forbids",
                "make the words or the pattern narrower",
            )
        return here

    def _rule(self) -> Rule:
        row = self.row
        margin = row.get("margin", 0)
        return Rule(
            key=row["key"],
            seen=row["seen"],
            finder=self._finder(),
            anchors=() if "pattern" in row else tuple(map(_anchor, row.get("says", []))),
            terms=tuple(row.get("terms", [])),
            region=row.get("region", "any"),
            only_in=dating_words.countries(row.get("only_in", [])),
            not_before=self._day("not_before"),
            not_after=self._day("not_after"),
            margin=margin,
            margin_before=row.get("margin_before", margin if row["strength"] == "soft" else 0),
            strength=row["strength"],
            dates=row["dates"],
            on=row.get("on", "label"),
            careful=row.get("careful", False),
            why=row["why"],
            source=row["source"],
            verified=row["verified"],
            differs=row.get("differs", ""),
            fires=tuple(row["fires"]),
            nearly=tuple(row["nearly"]),
            file=self.file,
        )

    def _check_fields(self) -> None:
        row = self.row
        for name in _NEEDED:
            self._demand(bool(row.get(name)), f"it has no {name}", f"add {name}")
        for name, value in row.items():
            wanted = FIELDS.get(name)
            self._demand(
                wanted is not None,
                f"nothing here is called {name!r}",
                "see README.md beside it",
            )
            fits = wanted is not None and type(value) is wanted
            if fits and wanted is list:
                fits = bool(value) and all(isinstance(each, str) and each for each in value)
            self._demand(fits, f"{name} cannot be {value!r}", "see README.md beside it")
        self._demand(
            _KEY.fullmatch(row["key"]) is not None,
            "a key is written xx.kind.name",
            "see README.md beside it",
        )
        self._choose("strength", get_args(Strength))
        self._choose("dates", get_args(What))
        self._choose("on", get_args(Where))
        self._demand(
            any(name in row for name in ("says", "pattern", "terms")),
            "nothing says when it fires",
            "add says, pattern or terms",
        )
        self._demand(
            "not_before" in row or "not_after" in row,
            "it has neither not_before nor not_after",
            "add one",
        )
        self._demand(
            row.get("not_before", datetime.date.min) <= row.get("not_after", datetime.date.max),
            "it ends before it begins",
            "mend not_before or not_after",
        )
        for name in ("margin", "margin_before"):
            self._demand(
                0 <= row.get(name, 0) <= 200, f"{name} is in years, from 0", "give whole years"
            )
        for code in row.get("only_in", []):
            self._demand(
                code in dating_words.regions(),
                f"no region is called {code!r}",
                "add it to vocab/dating.toml, with the words that name it",
            )
        for term in row.get("terms", []):
            self._demand(
                known(term), f"vocab/terms has no {term!r}", "use the key of a concept"
            )

    def _choose(self, name: str, allowed: tuple[str, ...]) -> None:
        self._demand(
            self.row.get(name, allowed[0]) in allowed,
            f"{name} cannot be {self.row.get(name)!r}",
            f"say {' or '.join(allowed)}",
        )

    def _finder(self) -> re.Pattern[str] | None:
        ways = [_spoken(words) for words in self.row.get("says", [])]
        pattern = self.row.get("pattern")
        if pattern is not None:
            endless = _ENDLESS.search(_BARE.sub("", pattern))
            self._demand(
                endless is None,
                f"its pattern may go on for ever: {endless[0] if endless else ''}",
                "say how many at most: {0,20} for * and {1,20} for +",
            )
            # a blank in a pattern may be the end of a line too
            ways.append(pattern.replace(" ", r"\s"))
        if not ways:
            return None
        try:
            return re.compile("|".join(ways), re.MULTILINE)
        except re.error as wrong:
            raise self._refused(f"its pattern cannot be read: {wrong}", "mend it") from None

    def _day(self, name: str) -> Day | None:
        held: datetime.date | None = self.row.get(name)
        return Day(held.year, held.month, held.day) if held else None

    def _demand(self, holds: bool, what: str, remedy: str) -> None:
        if not holds:
            raise self._refused(what, remedy)

    def _refused(self, what: str, remedy: str) -> BadSetting:
        key = self.row.get("key") or "a rule without a key"
        return BadSetting(f"{self.file}: {key}: {what}", remedy=remedy)


_BARE: Final = re.compile(r"\\.|\[(?:\\.|[^\]\\])*\]")
"""What stands for itself in a pattern: an escaped letter, a choice of letters."""
_ENDLESS: Final = re.compile(r"[*+]|\{\d*,\}")
_INITIALS: Final = re.compile(r"(?:[^\W\d_]\.|&)+[^\W\d_]?\.?")
_BETWEEN_INITIALS: Final = re.compile(r"[.\s]")
_OTHERWISE: Final = {"'": "['’]", "-": "[-‐‑–]", "ß": "(?:ß|ss)", "&": "&"}


def _spoken(words: str) -> str:
    """The pattern for some words: in capitals too, with or without accents, over a line's end.

    Initials with points, `L.N.E.R.`, are found with and without them, as they are capitalised, and
    not within longer ones.
    """
    parts = words.split()
    before = r"(?<!\w)(?<!\w\.)" if _is_initials(parts[0]) else r"(?<!\w)"
    after = r"(?!\.?\w)" if _is_initials(parts[-1]) else r"(?!\w)"
    return before + r"\s".join(map(_part, parts)) + after


def _is_initials(word: str) -> bool:
    return "." in word and _INITIALS.fullmatch(word) is not None


def _part(word: str) -> str:
    if _is_initials(word):
        letters = (
            rf"{letter}\.?" if letter != "&" else "&" for letter in word if letter != "."
        )
        return r"\s?".join(letters)
    return f"(?i:{''.join(map(_letter, word))})"


def _letter(letter: str) -> str:
    bare = unicodedata.normalize("NFD", letter)[0]
    if bare != letter:
        return f"[{letter}{bare}]"
    return _OTHERWISE.get(letter, re.escape(letter))


def _anchor(words: str) -> str:
    """Some letters of `searchable` without which the words cannot be in a text."""
    found = [
        run for word in words.split() if not _is_initials(word)
        for run in re.findall(r"[a-z0-9]+", word.casefold().replace("ß", " "))
    ]  # fmt: skip
    longest = max(found, key=len, default="")
    if len(longest) >= 3:
        return longest
    initials = (word for word in words.split() if "." in word)
    return _BETWEEN_INITIALS.sub("", max(initials, key=len, default=longest))
