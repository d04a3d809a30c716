"""The distinct names in the index, and who is found when somebody is asked for by name, however written.

A name is looked up by keys of its words: as they sound, as they look when misread, and with one letter
less, so that a mistake in either still meets. What meets is then held against the question by
`measure.names`, which alone decides. The table is one SQLite file beside the index, or in memory; it
can always be made anew from the entries.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from types import TracebackType

from catalogue.indexes.entry import Entry
from catalogue.indexes.tree import Hit, Terms
from catalogue.indexes.wish import Name
from catalogue.measure import compare
from catalogue.measure.name_forms import side
from catalogue.measure.name_letters import closeness, looks, sounded
from catalogue.measure.names import ALIKE
from catalogue.places import table

__all__ = ["FIELDS", "Known", "Like", "NamesKnown", "joined_names", "known_in", "widened_name"]

FIELDS = ("artist", "firm", "owner", "person")
"""Facts whose values are parties; what is written and is no party on file is `named`."""

MOST = 60
"""So many names are taken up in a question at most, the most alike first."""

_CLOSE_WORDS = 40
_MOST_HELD = 600
"""So many words, and names with them, are held against a question at most."""

_TABLES = """
create table if not exists name (
  id integer primary key, text text not null, key text not null, unique (text, key));
create table if not exists told (document text not null, name integer not null,
  primary key (document, name)) without rowid;
create index if not exists told_name on told (name);
create table if not exists word (id integer primary key, word text not null unique);
create table if not exists meets (key text not null, word integer not null,
  primary key (key, word)) without rowid;
create table if not exists holds (word integer not null, name integer not null,
  primary key (word, name)) without rowid;
create table if not exists apart (party text not null, other text not null,
  primary key (party, other)) without rowid;
"""


@dataclass(frozen=True, slots=True)
class Known:
    """One name as written, and whose it is: a party's id, or "" for one that is nobody's on file.

    With `apart` the party of the document is told apart from `text`: another's id, or a name.
    """

    text: str
    key: str
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Like:
    """A name that is like the one asked for, how much, and in which ways (keys of `[why]` there)."""

    known: Known
    score: float
    ways: tuple[str, ...]


class NamesKnown:
    """The names, in a file or (without one) in memory; closed by whoever opened it."""

    def __init__(self, file: Path | None = None) -> None:
        self._base = sqlite3.connect(str(file or ":memory:"), check_same_thread=False)
        self._base.executescript(
            f"pragma journal_mode = off; pragma synchronous = off; {_TABLES}"
        )

    def __enter__(self) -> NamesKnown:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._base.close()

    def __len__(self) -> int:
        return int(self._base.execute("select count(distinct name) from told").fetchone()[0])

    def take_in(self, documents: Iterable[tuple[str, Iterable[Entry]]]) -> None:
        """Know these documents' names as their entries have them now, in place of what was known."""
        self.know((document, known_in(entries)) for document, entries in documents)

    def know(self, documents: Iterable[tuple[str, Iterable[Known]]]) -> None:
        """Know these names of each document, in place of what was known of it."""
        with self._base as base:
            for document, names in documents:
                base.execute("delete from told where document = ?", (document,))
                base.execute("delete from apart where party = ?", (document,))
                for each in names:
                    if each.apart:
                        self._tell_apart(document, each.text)
                        continue
                    base.execute(
                        "insert or ignore into told values (?, ?)", (document, self._id(each))
                    )

    def like(self, written: str, least: float = ALIKE) -> list[Like]:
        """The names that are like this one, the most alike first; those told apart from it are left out.

        >>> with NamesKnown() as names:
        ...     names.know([("party/1", [Known("Ada Penhale", "party/1")])])
        ...     [(each.known.key, each.ways) for each in names.like("Penhalle, A.")]
        [('party/1', ('spelling', 'initials'))]
        """
        apart = self._apart_from(written)
        found = []
        for known in self._candidates(written):
            alike = compare(written, known.text)
            if alike.score >= least and not (known.key and known.key in apart):
                found.append(Like(known, alike.score, alike.ways))
        return sorted(found, key=lambda each: (-each.score, each.known.text, each.known.key))

    def widened(self, name: Name) -> Terms:
        """Whoever may be meant by a name that was wished for."""
        return widened_name(name, self)

    def _tell_apart(self, party: str, other: str) -> None:
        told = other if other.startswith("party/") else _same(other)
        self._base.execute("insert or ignore into apart values (?, ?)", (party, told))

    def _id(self, known: Known) -> int:
        base = self._base
        asked = "select id from name where text = ? and key = ?"
        found = base.execute(asked, (known.text, known.key)).fetchone()
        if found:
            return int(found[0])
        name = base.execute(
            "insert into name (text, key) values (?, ?)", (known.text, known.key)
        ).lastrowid
        for word in words_of(known.text):
            held = base.execute("select id from word where word = ?", (word,)).fetchone()
            if held is None:
                number = base.execute("insert into word (word) values (?)", (word,)).lastrowid
                base.executemany(
                    "insert or ignore into meets values (?, ?)",
                    [(key, number) for key in keys_of(word)],
                )
            else:
                number = held[0]
            base.execute("insert or ignore into holds values (?, ?)", (number, name))
        if run := _run_together(known.text):
            base.execute("insert or ignore into word (word) values (?)", (run,))
            number = base.execute("select id from word where word = ?", (run,)).fetchone()[0]
            base.execute(
                "insert or ignore into meets values (?, ?)", ("s" + sounded(run), number)
            )
            base.execute("insert or ignore into holds values (?, ?)", (number, name))
        return int(name or 0)

    def _candidates(self, written: str) -> list[Known]:
        """Names that hold a word like one of the words that tell most of this name."""
        chosen: dict[int, Known] = {}
        for words in _telling(written):
            for _, number in sorted(self._words_like(words), reverse=True)[:_CLOSE_WORDS]:
                rows = self._base.execute(
                    "select id, text, key from name where id in (select name from holds where word = ?)"
                    " and exists (select 1 from told where told.name = name.id)",
                    (number,),
                ).fetchall()
                for name, text, key in rows:
                    chosen[name] = Known(text, key)
            if chosen:
                break
        if len(chosen) <= _MOST_HELD:
            return list(chosen.values())
        letters = {word[0] for word in words_of(written)}
        return sorted(
            chosen.values(),
            key=lambda each: -len(letters & {w[0] for w in words_of(each.text)}),
        )[:_MOST_HELD]

    def _words_like(self, words: Sequence[str]) -> Iterator[tuple[float, int]]:
        for asked in words:
            keys = sorted(keys_of(asked))
            rows = self._base.execute(
                "select distinct word.id, word.word from meets join word on word.id = meets.word"
                f" where meets.key in ({','.join('?' * len(keys))})",
                keys,
            )
            for number, word in rows:
                near = closeness(asked, word)[0]
                if near >= 0.6 or asked.endswith(word) or word.endswith(asked):
                    yield near, number

    def _apart_from(self, written: str) -> set[str]:
        """The parties that somebody said this name is not."""
        key = _same(written)
        rows = self._base.execute("select party from apart where other = ?", (key,)).fetchall()
        known = self._base.execute(
            "select distinct name.key from name where name.key != '' and name.text = ?",
            (written,),
        ).fetchall()
        if len(known) == 1:  # the name of one party alone: those it is not
            one = known[0][0]
            asked = "select other from apart where party = ? union select party from apart where other = ?"
            rows += self._base.execute(asked, (one, one)).fetchall()
        return {row[0] for row in rows}


def known_in(entries: Iterable[Entry]) -> Iterator[Known]:
    """The names that these entries hold: a party's, and those written of somebody not on file."""
    for entry in entries:
        if entry.kind == "party" and entry.whole:
            for name in _parted_names(entry.text):
                yield Known(name, entry.document)
        for field, key in entry.facts:
            if field == "named" and key:
                yield Known(key, "")
            elif field == "not-same" and entry.kind == "party":
                yield Known(key, entry.document, apart=True)


_OWN = ";\u00a0"
"""How a name's own semicolon with a blank is written among several names: with a blank that holds."""


def joined_names(names: Iterable[str]) -> str:
    """Several names in one text, as a party's entry has them."""
    return "; ".join(name.replace("; ", _OWN) for name in names)


def _parted_names(text: str) -> Iterator[str]:
    return (name.replace(_OWN, "; ") for name in text.split("; "))


def widened_name(wish: Name, names: NamesKnown) -> Terms:
    """A name wished for as the people and firms it may be, and as it may be written of others.

    Each counts as much as it is alike; `why` is the weakest way in which it is.
    """
    weight = float(table("finding.toml").get("weights", {}).get("named", 1.0))
    best: dict[tuple[str, str], Hit] = {}
    for each in names.like(wish.written)[:MOST]:
        field = wish.field if each.known.key else "named"
        hit = Hit(
            f"fact:{field}",
            each.known.key or each.known.text,
            round(each.score * weight, 4),
            f"name-{each.ways[-1] if each.ways else 'same'}",
        )
        held = best.get((hit.field, hit.term))
        if held is None or held.strength < hit.strength:
            best[hit.field, hit.term] = hit
    return Terms(wish.written, tuple(best.values()))


@lru_cache(maxsize=65536)
def words_of(name: str) -> tuple[str, ...]:
    """The words of a name by which it may be looked up, in all its forms; initials are none."""
    made = side(name)
    found = [
        word for form in made.forms for word in (*form.family, *form.given) if len(word) > 1
    ]
    joined = ["".join((*form.particles, *form.family)) for form in made.forms if form.particles]
    double = ["".join(form.family) for form in made.forms if len(form.family) > 1]
    letters = [] if found else ["".join(form.given) for form in made.forms]
    return tuple(dict.fromkeys((*found, *joined, *double, *letters)))


def _run_together(name: str) -> str:
    """The words of a name without the blanks between them, "" when it has one word."""
    form = next(iter(side(name).forms), None)
    return "".join((*form.given, *form.family)) if form and form.given and form.family else ""


def _telling(written: str) -> Iterator[list[str]]:
    """The words to look a name up by: its family names first; all of them when nobody is found so."""
    forms = side(written).forms
    families = [word for form in forms for word in form.family]
    whole = [word for word in words_of(written) if word not in families]
    joined = [word for word in whole if any(word.endswith(family) for family in families)]
    if families:
        yield [*families, *joined]
    yield whole


@lru_cache(maxsize=65536)
def keys_of(word: str) -> frozenset[str]:
    """The keys under which a word meets others: as it sounds, as it looks, each with a letter less.

    >>> bool(keys_of("harrowell") & keys_of("hanowell")), bool(keys_of("cuijper") & keys_of("kuyper"))
    (True, True)
    >>> bool(keys_of("penhale") & keys_of("trewin"))
    False
    """
    found = set()
    for sign, key in (("s", sounded(word)), ("l", looks(word))):
        found.add(sign + key)
        if len(key) > 3:
            found.update(sign + key[:at] + key[at + 1 :] for at in range(len(key)))
    for front in _fronts():
        if word.startswith(front) and len(word) - len(front) > 3:
            found.add("s" + sounded(word[len(front) :]))
    return frozenset(found)


@cache
def _fronts() -> tuple[str, ...]:
    return tuple(
        front for front in table("names_alike.toml")["grown_together"] if len(front) > 1
    )


def _same(name: str) -> str:
    return " ".join(side(name).words)
