"""What stays in the house, gathered from commissions and contacts, so that files can be searched for it.

Names of clients, owners and depositors, ways to reach people, sums, storage places, and what the
sentences of a commission hold of such. It is read from the stored documents as they lie, so that what
dorse does not understand of them is guarded as well.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalogue.exchange.scanning.sums_written import written_sums
from catalogue.exchange.scanning.words_in_files import words_of
from catalogue.linked import concepts
from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import Node, parse
from catalogue.measure import Day
from catalogue.places import table
from catalogue.record import Party

Words = tuple[bytes, ...]

_E_MAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
_NUMBER = re.compile(r"(?<![\w.-])\+?\(?\d[\d ()./\u00a0-]{3,}\d(?![\w-])")
_PATH = re.compile(r"(?:[A-Za-z]:\\|\\\\|/(?:home|Users|media|mnt|srv|Volumes)/)[^\s\"'<>]{3,}")
_NO_SECRET = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}|\d{1,2}[./]\d{1,2}[./]\d{2,4}|1\d{3}\s?[-/]\s?[12]\d{3}"
    r"|\d{4}-\d{3,}(?:/\w+)?"
)
"""A day, a span of years, a number that the studio gave out."""

_DRAWN = re.compile(r"(?:POINT|LINESTRING|POLYGON) \(+[\d ,.-]+\)+")
"""A place on a painting, drawn in millimetres: what stands in it are no telephone numbers."""

_NAMELESS = ("id", "@id", "@context", "type", "_label")
_ROLES = (b"role/client", b"role/owner")
LONG = 9
"""A number of so many digits is known by its end: what goes before it depends on who dials."""


@dataclass(frozen=True, slots=True)
class Secret:
    """Something that stays in the house: its kind, how it is written, the record that it stands in.

    `of` is the party whose name it is: whoever allows one of their names allows the others.
    """

    kind: str
    text: str
    stands_in: str
    of: str = ""


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

    def __len__(self) -> int:
        return len(self._known) + sum(map(len, (self.numbers, self.endings, self.paths)))

    def add(self, secret: Secret) -> None:
        """Look for one thing more, if it is long enough not to stand everywhere by chance."""
        least = _settings()["letters"]
        found = words_of(secret.text)
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


@cache
def _settings() -> dict[str, Any]:
    return table("last_scan.toml")


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
        return frozenset(_settings()["by_right"].get(self.profile, ()))

    @property
    def listed(self) -> frozenset[str]:
        """The kinds of secrets that stand in fields which the profile lists."""
        by_field = _settings()["listed"]
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

    def commission(self, document_id: str, body: bytes) -> None:
        """Take in one commission: whom it is for, and what it says."""
        document = parse(body)
        theirs = self._is_theirs(document)
        for key in _settings()["people"]:
            for actor in _nodes(document.get(key)):
                person = str(actor.get("id", ""))
                self.people.setdefault(person, document_id)
                if theirs:
                    self.theirs.add(person)
        for secret in _of_commission(
            document, document_id, told="Offer.asked" in self.leaving.fields
        ):
            if secret.kind in self.leaving.listed or (
                theirs and secret.kind in self.leaving.by_right
            ):
                self.known.add((secret.kind, secret.text))
            else:
                self._later.append(secret)

    def party(self, document_id: str, body: bytes) -> None:
        """Take in one party after all commissions: names of those they are for, and every contact."""
        is_client = document_id in self.people or any(role in body for role in _ROLES)
        if not is_client and b'"contact"' not in body:
            return
        document = parse(body)
        if (
            is_client
            and not (document_id in self.theirs and "name" in self.leaving.by_right)
            and not self._may_be_named(document, document_id)
        ):
            where = self.people.get(document_id, document_id)
            for name in _nodes(document.get("identified_by")):
                if name.get("type") == "Name" and isinstance(name.get("content"), str):
                    self._later.append(Secret("name", name["content"], where, document_id))
        by_right = self.leaving.by_right if document_id in self.theirs else frozenset[str]()
        told = () if self.leaving.rules else tuple(self._addresses_told(document))
        for contact in _nodes(document.get("contact")):
            for secret in _of_contact(contact, document_id):
                is_told = any(set(words_of(secret.text)) <= each for each in told)
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

    def _may_be_named(self, document: Node, document_id: str) -> bool:
        """Whether somebody on an open record is known by their works, or agreed to be named."""
        if concepts.recognise_visibility(document) not in self.leaving.visibility:
            return False
        if set(concepts.all_of(document, "classified_as", "role")) & set(_settings()["makers"]):
            return True
        if "consents" not in document:
            return False
        party = from_jsonld(document, document_id=document_id)
        return isinstance(party, Party) and any(
            each.to == _settings()["consent"] and each.holds_on(self.leaving.today)
            for each in party.consents
        )

    def _addresses_told(self, document: Node) -> Iterator[set[bytes]]:
        """The words of the addresses that the open part of a party tells under this profile."""
        for stay in _nodes(document.get("carried_out")):
            if concepts.recognise_visibility(stay) in self.leaving.visibility:
                texts = (text for _, text in _leaves(stay.get("took_place_at")))
                yield {word for text in texts for word in words_of(str(text))}

    def _is_theirs(self, document: Node) -> bool:
        """Whether a commission is for works that leave."""
        if self.leaving.chosen is None:
            return True
        works = {
            str(each.get("id"))
            for part in _nodes(document.get("part"))
            for each in _nodes(part.get("used_specific_object"))
        }
        return bool(works & self.leaving.chosen)


def gathered(
    commissions: Iterable[tuple[str, bytes]],
    parties: Callable[[], Iterable[tuple[str, bytes]]],
    leaving: Leaving,
    folders: Iterable[str] = (),
) -> Guarded:
    """What must not stand in the files that leave; `folders` are places on this computer."""
    made = Gathering(leaving)
    for document_id, body in commissions:
        made.commission(document_id, body)
    for document_id, body in parties():
        made.party(document_id, body)
    found = made.finished()
    for folder in folders:
        found.add(Secret("path", folder, "this computer"))
    return found


def _of_commission(document: Node, document_id: str, *, told: bool) -> Iterator[Secret]:
    rules = _settings()
    sums = {*rules["sums"], *(() if told else (rules["asked"],))}
    for key, value in _leaves(document):
        if key in sums and not isinstance(value, str):
            yield Secret("sum", str(value), document_id)
        elif isinstance(value, str):
            if key in rules["places"]:
                yield Secret("place", value, document_id)
            yield from _within(value, document_id)


def _of_contact(contact: Node, document_id: str) -> Iterator[Secret]:
    for reach in _nodes(contact.get("part")):
        kinds = {
            str(each.get("id")).rpartition("#")[2]
            for each in _nodes(reach.get("classified_as"))
        }
        text = reach.get("content")
        if not isinstance(text, str) or kinds & set(_settings()["not_secret"]):
            continue
        found = [*_within(text, document_id)]
        yield from found
        if not found or kinds & {"reach/post"}:
            yield from _of_address(text, document_id)
    for note in _nodes(contact.get("referred_to_by")):
        for _, value in _leaves(note):
            if isinstance(value, str):
                yield from _within(value, document_id)


def _of_address(text: str, document_id: str) -> Iterator[Secret]:
    """The whole of it, and the line with the house's number: a town alone is no secret."""
    yield Secret("address", text, document_id)
    lines = [each.strip() for each in re.split(r"[\n,;]", text)]
    street = next((each for each in lines if any(map(str.isdecimal, each))), None)
    if street and street != text:
        yield Secret("address", street, document_id)


def _within(text: str, document_id: str) -> Iterator[Secret]:
    """What a sentence holds of e-mails, long numbers and places of files.

    >>> [each.text for each in _within("Ring 0115 496 0011, or b.noll@post.example", "party/1")]
    ['b.noll@post.example', '0115 496 0011']
    >>> [*_within("POLYGON ((96 424, 376 424, 376 500, 96 500, 96 424))", "job/1")]
    []
    """
    if _DRAWN.fullmatch(text):
        return
    for found in _E_MAIL.findall(text):
        yield Secret("e-mail", found, document_id)
    for found in _NUMBER.findall(text):
        if not _NO_SECRET.fullmatch(found.strip()):
            yield Secret("number", found, document_id)
    for found in _PATH.findall(text):
        yield Secret("path", found, document_id)


def _leaves(value: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    """Every text and number of a document with the key that it stands under; addresses are left out."""
    if isinstance(value, dict):
        for inner, held in value.items():
            if inner not in _NAMELESS:
                yield from _leaves(held, inner)
    elif isinstance(value, list):
        for each in value:
            yield from _leaves(each, key)
    elif value is not None and not isinstance(value, bool):
        yield key, value


def _nodes(held: Any) -> Iterator[Node]:
    for each in held if isinstance(held, list) else (held,):
        if isinstance(each, dict):
            yield each
