"""What stays in the house, gathered from commissions and contacts, so that files can be searched for it.

Names of clients, owners and depositors, ways to reach people, sums, storage places, and what the
sentences of a commission hold of such (`secrets_in.py`). Here is decided what of it is a secret to whoever
is written to.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from catalogue.exchange.scanning.secrets_in import InCommission, InParty, Secret, settings
from catalogue.exchange.scanning.sums_written import written_sums
from catalogue.exchange.scanning.words_in_files import words_of
from catalogue.measure import Day

Words = tuple[bytes, ...]

LONG = 9
"""A number of so many digits is known by its end: what goes before it depends on who dials."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """Words in a row, in whatever order where they are a name."""

    run: Words
    each: frozenset[bytes]
    secret: Secret

    def is_at(self, here: Words) -> bool:
        """Whether words in a row are these."""
        if here == self.run:
            return True
        return self.secret.kind == "name" and sorted(here) == sorted(self.run)


@dataclass(slots=True)
class Guarded:
    """Everything that is looked for, laid out so that a file is asked once for all of it.

    `numbers` are digits and `endings` the last digits of long numbers, `paths` are looked for letter by
    letter.
    """

    numbers: dict[bytes, Secret] = field(default_factory=dict)
    endings: dict[bytes, Secret] = field(default_factory=dict)
    paths: dict[bytes, Secret] = field(default_factory=dict)
    _known: dict[tuple[bool, Words], Wanted] = field(default_factory=dict)
    _rows: dict[bool, dict[bytes, list[Wanted]]] = field(default_factory=dict)

    def rows(self, *, plain: bool) -> dict[bytes, list[Wanted]]:
        """Words in a row, by the one of them that the fewest others have: files are asked for that.

        Those of plain letters alone, or those with other letters (`words_in_files.all_words`).
        """
        if not self._rows:
            in_all = Counter(word for each in self._known.values() for word in each.each)
            self._rows = {True: {}, False: {}}
            for each in self._known.values():
                anchor = min(each.run, key=lambda word: (in_all[word], -len(word), word))
                rows = self._rows[all(word.isascii() for word in each.run)]
                rows.setdefault(anchor, []).append(each)
        return self._rows[plain]

    def apart(self) -> Guarded:
        """The same, to which more can be added without changing this one."""
        self.rows(plain=True)
        return Guarded(
            dict(self.numbers),
            dict(self.endings),
            dict(self.paths),
            dict(self._known),
            self._rows,
        )

    def __len__(self) -> int:
        return len(self._known) + sum(map(len, (self.numbers, self.endings, self.paths)))

    def add(self, secret: Secret) -> None:
        """Look for one thing more, if it is long enough not to stand everywhere by chance."""
        least = settings()["letters"]
        found = _words(secret.text)
        match secret.kind:
            case "number":
                self._add_number(secret, least["number"])
            case "sum":
                for each in written_sums(secret.text):
                    self._add_row(each, secret)
            case "path":
                if len(secret.text) >= least["address"]:
                    self.paths.setdefault(secret.text.encode(), secret)
            case "name":
                if len(found) > 1 or (found and len(found[0].decode()) >= least["name"]):
                    self._add_row(found, secret)
            case "place":
                if _is_telling(secret.text, least["place"]):
                    self._add_row(found, secret)
            case _:
                if len(found) > 1 and len(secret.text) >= least["address"]:
                    self._add_row(found, secret)

    def _add_row(self, run: Words, secret: Secret) -> None:
        is_name = secret.kind == "name"
        key = (is_name, tuple(sorted(run)) if is_name else run)
        if run and key not in self._known:
            self._known[key] = Wanted(run, frozenset(run), secret)
            self._rows = {}

    def _add_number(self, secret: Secret, least: int) -> None:
        digits = "".join(filter(str.isdecimal, secret.text)).encode("ascii", "ignore")
        if len(digits) >= LONG:
            self.endings.setdefault(digits[-LONG:], secret)
        elif len(digits) >= least:
            self.numbers.setdefault(digits, secret)


@lru_cache(maxsize=50_000)
def _words(text: str) -> Words:
    return tuple(words_of(text))


def _is_telling(place: str, least: int) -> bool:
    """Whether a storage place is a code or an address, and not a word such as "safe"."""
    bare = "".join(place.split())
    return len(bare) >= least and (any(map(str.isdecimal, bare)) or len(bare) >= 3 * least)


@dataclass(frozen=True, slots=True)
class Leaving:
    """What leaves, as far as it decides what is a secret: under which profile, which works, on which day.

    `chosen` are the documents of the works, None where every work leaves; `rules` says that addresses are
    held to what may be told of the living, so that an open one is a secret as well.
    """

    profile: str
    fields: frozenset[str]
    visibility: frozenset[str]
    chosen: frozenset[str] | None
    rules: bool = True
    today: Day | None = None

    @property
    def by_right(self) -> frozenset[str]:
        """The kinds of secrets of their own commissions that its readers may know."""
        return frozenset(settings()["by_right"].get(self.profile, ()))

    @property
    def listed(self) -> frozenset[str]:
        """The kinds of secrets that stand in fields which the profile lists."""
        by_field = settings()["listed"]
        return frozenset(kind for kind, names in by_field.items() if self.fields & set(names))


@dataclass(slots=True)
class Gathering:
    """What was found in commissions and contacts so far.

    `people` are those whom commissions are for, each with the first commission, `theirs` those of them
    whose works leave, `known` what is no secret.
    """

    leaving: Leaving
    guarded: Guarded = field(default_factory=Guarded)
    people: dict[str, str] = field(default_factory=dict)
    theirs: set[str] = field(default_factory=set)
    known: set[tuple[str, str]] = field(default_factory=set)
    _later: list[Secret] = field(default_factory=list)
    _by_right: frozenset[str] = frozenset()
    _listed: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        self._by_right, self._listed = self.leaving.by_right, self.leaving.listed

    def commission(self, document_id: str, found: InCommission) -> None:
        """Take in one commission: whom it is for, and what it says."""
        theirs = self.leaving.chosen is None or bool(found.works & self.leaving.chosen)
        for person in found.people:
            self.people.setdefault(person, document_id)
            if theirs:
                self.theirs.add(person)
        told = "Offer.asked" in self.leaving.fields
        for secret, asked in found.secrets:
            if told and asked:
                continue
            if secret.kind in self._listed or (theirs and secret.kind in self._by_right):
                self.known.add((secret.kind, secret.text))
            else:
                self._later.append(secret)

    def party(self, document_id: str, found: InParty) -> None:
        """Take in one party after all commissions: names of those they are for, and every contact."""
        is_client = document_id in self.people or found.is_client
        theirs = document_id in self.theirs
        if (
            is_client
            and not (theirs and "name" in self._by_right)
            and not self._may_be_named(found)
        ):
            where = self.people.get(document_id, document_id)
            self._later += [Secret("name", name, where, document_id) for name in found.names]
        by_right = self._by_right if theirs else frozenset[str]()
        told = () if self.leaving.rules else tuple(self._addresses_told(found))
        for secret in found.contacts:
            is_told = told and any(set(words_of(secret.text)) <= each for each in told)
            if secret.kind in by_right or (secret.kind == "address" and is_told):
                self.known.add((secret.kind, secret.text))
            else:
                self._later.append(secret)

    def finished(self) -> Guarded:
        """Everything that is to be looked for; what is known by right is not."""
        for secret in self._later:
            if (secret.kind, secret.text) not in self.known:
                self.guarded.add(secret)
        self._later.clear()
        return self.guarded

    def _may_be_named(self, found: InParty) -> bool:
        """Whether somebody on an open record is known by their works, or agreed to be named."""
        if found.visibility not in self.leaving.visibility:
            return False
        return found.is_maker or any(
            each.to == settings()["consent"] and each.holds_on(self.leaving.today)
            for each in found.consents
        )

    def _addresses_told(self, found: InParty) -> Iterator[frozenset[bytes]]:
        """The words of the addresses that the open part of a party tells under this profile."""
        return (
            words for visibility, words in found.told if visibility in self.leaving.visibility
        )


def gathered(
    commissions: Iterable[tuple[str, InCommission]],
    parties: Iterable[tuple[str, InParty]],
    leaving: Leaving,
    folders: Iterable[str] = (),
) -> Guarded:
    """What must not stand in the files that leave; `folders` are places on this computer."""
    made = Gathering(leaving)
    for document_id, commission in commissions:
        made.commission(document_id, commission)
    for document_id, party in parties:
        made.party(document_id, party)
    found = made.finished()
    for folder in folders:
        found.add(Secret("path", folder, "this computer"))
    return found
