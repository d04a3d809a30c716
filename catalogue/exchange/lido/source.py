"""A LIDO record from anywhere as pieces that remember being read, so that nothing is dropped in silence.

Whoever reads a piece marks it. What is left unmarked at the end is told by its path and kept with the
file. Texts that stand there in several languages are read in ours, else in the first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Final
from uuid import UUID, uuid5

from catalogue.exchange.xml import Element, plain
from catalogue.places import table
from catalogue.record.rules import UUID as UUID_FORM
from catalogue.terms import Concept, known, labelled, of_iri

NAMESPACE: Final = "http://www.lido-schema.org"
LANGUAGE: Final = "en"
_LIDO: Final = f"{{{NAMESPACE}}}"
_XML_LANGUAGE: Final = "{http://www.w3.org/XML/1998/namespace}lang"
_ANALOG = re.compile(rf"([A-Z]\w+(?:\.\w+)?)(?:#({UUID_FORM}))?")
_LONGEST_TOLD: Final = 120
_MOST_TOLD: Final = 40


class Piece:
    """One element. `read` is shared by all pieces of a record: the elements that somebody has read."""

    __slots__ = ("element", "read")

    def __init__(self, element: Element, read: set[Element]) -> None:
        self.element = element
        self.read = read

    @property
    def name(self) -> str:
        """Its name without the namespace."""
        return plain(self.element.tag)

    def each(self, *path: str) -> Iterator[Piece]:
        """The pieces at the end of a path of names; those on the way count as read."""
        self.read.add(self.element)
        first, *rest = path
        for child in self.element.iterchildren(f"{_LIDO}{first}"):
            inner = Piece(child, self.read)
            if rest:
                yield from inner.each(*rest)
            else:
                yield inner

    def one(self, *path: str) -> Piece | None:
        """The first piece at the end of a path, None where there is none."""
        return next(self.each(*path), None)

    def text(self) -> str:
        """Its own text without the space around it, read; "" for none."""
        self.read.add(self.element)
        return (self.element.text or "").strip()

    def told(self, *path: str) -> str:
        """The text at the end of a path: in our language, else the first; the others stay unread."""
        found = [each for each in self.each(*path) if (each.element.text or "").strip()]
        ours = [each for each in found if (each.language or "").startswith(LANGUAGE)]
        chosen = next(iter(ours or found), None)
        return chosen.text() if chosen else ""

    def every(self, *path: str) -> list[str]:
        """All texts at the end of a path."""
        return [text for each in self.each(*path) if (text := each.text())]

    def unread(self, *path: str) -> None:
        """Take it back that the pieces at the end of a path were read: they were not understood."""
        for each in self.each(*path):
            self.read.discard(each.element)

    def attribute(self, name: str) -> str:
        """An attribute of the namespace, "" for none."""
        return str(self.element.get(f"{_LIDO}{name}") or "").strip()

    @property
    def language(self) -> str | None:
        """The language that it says itself to be in."""
        said = str(self.element.get(_XML_LANGUAGE) or "").strip()
        return said if re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*", said) else None

    def analog(self) -> tuple[str, str | None]:
        """Which field of a record of ours it came from, and the id of the value: ("", None) of no such."""
        found = _ANALOG.fullmatch(self.attribute("encodinganalog"))
        return (found[1], found[2]) if found else ("", None)

    def concept(self, *groups: str) -> str | None:
        """The key of the first term that a concept in here stands for, by address or by word.

        It counts as read only where it was understood.
        """
        ids = [(each, each.element.text or "") for each in self.each("conceptID")]
        words = [(each, each.element.text or "") for each in self.each("term")]
        self.read.discard(self.element)
        # a concept may be plain text in the newer version
        words.append((self, self.element.text or ""))
        for group in groups:
            for _, said in ids:
                if key := of_address(said.strip(), group):
                    return self._read_whole(key)
            for _, said in words:
                if key := of_word(said, group):
                    return self._read_whole(key)
        return None

    def _read_whole(self, key: str) -> str:
        self.read.update(self.element.iter(f"{_LIDO}*"))
        return key

    def words(self) -> str:
        """A concept in words: its term, else its own text."""
        return self.told("term") or self.text()

    def whole(self) -> None:
        """Count it and everything in it as read."""
        self.read.update(self.element.iter(f"{_LIDO}*"))


def of_address(address: str, group: str) -> str | None:
    """The key of the term of a group that has this address, ours, the AAT's or the AAT's page."""
    found: Concept | None = of_iri(address.replace("/page/aat/", "/aat/"), group)
    return found.key if found else None


def of_word(word: str, group: str) -> str | None:
    """The key of the term of a group that is called so, in English or as vocab/lido.toml has it."""
    plain_word = " ".join(word.split())
    if not plain_word:
        return None
    found = labelled(plain_word, group)
    if found:
        return found.key
    listed: str | None = _translated(group).get(plain_word.casefold())
    return listed if listed and known(listed) else None


@cache
def _translated(group: str) -> dict[str, str]:
    found: dict[str, dict[str, str]] = table("lido.toml")["translated"]
    return dict(found[group]) if group in found else {}


class Ids:
    """Ids of values made from what they say, so that the same record gives the same ids again."""

    def __init__(self, uuid: str) -> None:
        self._space = UUID(uuid)
        self._given: dict[str, int] = {}

    def of(self, *said: str) -> str:
        """The id of what says this; said twice in one record it gets another."""
        name = "\x1f".join(said)
        self._given[name] = self._given.get(name, 0) + 1
        return str(uuid5(self._space, f"{name}\x1f{self._given[name]}"))


def unread(record: Piece) -> tuple[str, ...]:
    """What nobody read, by path and text, the same paths together; not more than a person would read."""
    found: dict[str, list[str]] = {}
    for element in record.element.iter():
        if not isinstance(element.tag, str) or element in record.read:
            continue
        text = " ".join((element.text or "").split())
        if text and not _said_elsewhere(element, record.read):
            found.setdefault(_path(element, record.element), []).append(text)
    words = table("lido.toml")["arriving"]
    told = []
    for path, texts in found.items():
        text = next(filter(None, texts), "")
        short = text if len(text) <= _LONGEST_TOLD else text[: _LONGEST_TOLD - 1] + "…"
        how = words["more" if len(texts) > 1 else "path"]
        told.append(how.format(path=path, text=short, count=len(texts) - 1).strip().rstrip(":"))
    left = len(told) - _MOST_TOLD
    if left > 0:
        return (*told[:_MOST_TOLD], words["and_more"].format(count=left))
    return tuple(told)


def _said_elsewhere(element: Element, read: set[Element]) -> bool:
    """Whether it only repeats what is told anyway: the address of a word, the pieces of a display."""
    name = plain(str(element.tag))
    if name.endswith("ID"):
        # the address of a term that is told by its word
        return name == "conceptID" and element.getnext() is not None
    here: Element | None = element
    while here is not None:
        for before in here.itersiblings(preceding=True):
            shown = isinstance(before.tag, str) and plain(before.tag).startswith("display")
            if shown and before not in read and (before.text or "").strip():
                return True
        here = here.getparent()
    return False


def _path(element: Element, root: Element) -> str:
    names: list[str] = []
    here: Element | None = element
    while here is not None and here is not root:
        names.append(plain(here.tag) if "}" in here.tag else here.tag)
        here = here.getparent()
    # the wraps say nothing that the names within them do not
    kept = [name for name in reversed(names) if not name.endswith(("Wrap", "Metadata"))]
    return "/".join(kept)
