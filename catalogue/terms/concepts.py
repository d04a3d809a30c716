"""The concepts of vocab/terms: their labels, what they mean, and where the AAT has the same.

One Turtle file for each group, in a shape strict enough to be read without a Turtle library: a
prefix or a subject opens a block, every line holds one property and its value. rdflib would take
half a second to load at every command; a test holds that it reads the same triples from every file.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from catalogue.errors import BadSetting, UnknownTerm
from catalogue.places import folder

NAMESPACE = "https://dorse.example/ns/1#"
AAT = "http://vocab.getty.edu/aat/"

_SUBJECT = re.compile(rf"<{re.escape(NAMESPACE)}([a-z-]+)(?:/([A-Za-z0-9-]+))?> a skos:(\w+) ;")
_PROPERTY = re.compile(r'    skos:(\w+) (?:"((?:[^"\\]|\\.)*)"@en|<([^>]+)>|aat:(\d+)) ([;.])')


@dataclass(frozen=True, slots=True, kw_only=True)
class Concept:
    """One term: `key` is what records hold ("face/back"), `aat` the same concept in the AAT.

    `broad_aat` is the nearest broader one where there is no match; `why_none` says why.
    """

    key: str
    label: str
    alternatives: tuple[str, ...] = ()
    note: str = ""
    aat: str | None = None
    broad_aat: str | None = None
    broader: str | None = None
    why_none: str = ""

    @property
    def group(self) -> str:
        """The group it belongs to."""
        return self.key.partition("/")[0]

    @property
    def name(self) -> str:
        """What it is called within its group."""
        return self.key.partition("/")[2]

    @property
    def iri(self) -> str:
        """Its address among our own terms."""
        return NAMESPACE + self.key


def concept(key: str) -> Concept:
    """The concept of a key. Raises `UnknownTerm` with the nearest ones.

    >>> concept("face/back").label
    'back'
    """
    found = _all().get(key)
    if found is None:
        group, _, name = key.partition("/")
        names = [each.name for each in _all().values() if each.group == group]
        near = difflib.get_close_matches(name, names, n=3)
        raise UnknownTerm(
            f"{key!r} is not in vocab/terms/{group}.ttl",
            remedy=f"did you mean {', '.join(f'{group}/{each}' for each in near)}?"
            if near
            else "",
        )
    return found


def known(key: str) -> bool:
    """Whether there is a concept of this key."""
    return key in _all()


def label(key: str) -> str:
    """What to call a term; an address from outside is called by itself."""
    found = _all().get(key)
    return found.label if found else key


def group(name: str) -> tuple[Concept, ...]:
    """The concepts of one group, by label."""
    found = sorted(
        (each for each in _all().values() if each.group == name), key=lambda c: c.label
    )
    if not found:
        raise UnknownTerm(f"there is no group {name!r} in vocab/terms")
    return tuple(found)


def groups() -> dict[str, str]:
    """Every group and the sentence that says what it is for."""
    return dict(_read_all()[1])


def of_iri(iri: str, group: str) -> Concept | None:
    """The concept of a group that has this address, ours or the AAT's; None when there is none."""
    if iri.startswith(NAMESPACE):
        found = _all().get(iri.removeprefix(NAMESPACE))
        return found if found and found.group == group else None
    return _by_aat().get((group, iri.replace("https://", "http://", 1)))


def labelled(text: str, group_name: str) -> Concept | None:
    """The concept of a group that is called so, in whatever case; None when there is none."""
    wanted = text.strip().casefold()
    for each in group(group_name):
        if wanted in (
            each.label.casefold(),
            each.name,
            *(a.casefold() for a in each.alternatives),
        ):
            return each
    return None


def within(key: str, *ancestors: str) -> bool:
    """Whether a term is one of these or narrower than one of them.

    >>> within("inscription/dealer-label", "inscription/label")
    True
    """
    here: str | None = key
    while here is not None:
        if here in ancestors:
            return True
        found = _all().get(here)
        here = found.broader if found else None
    return False


def _all() -> dict[str, Concept]:
    return _read_all()[0]


@cache
def _by_aat() -> dict[tuple[str, str], Concept]:
    return {(each.group, each.aat): each for each in _all().values() if each.aat}


@cache
def _read_all() -> tuple[dict[str, Concept], dict[str, str]]:
    concepts: dict[str, Concept] = {}
    titles: dict[str, str] = {}
    for source in sorted((folder("vocab") / "terms").glob("*.ttl")):
        for key, properties in read_file(source):
            if "/" in key:
                concepts[key] = _concept(key, properties)
            else:
                titles[key] = properties["prefLabel"][0]
    return concepts, titles


def read_file(source: Path) -> Iterator[tuple[str, dict[str, list[str]]]]:
    """The subjects of one file and their properties. Raises `BadSetting` naming file and line."""
    key: str | None = None
    properties: dict[str, list[str]] = {}
    for place, line in enumerate(source.read_text("utf-8").splitlines(), 1):
        if key is None:
            opened = _SUBJECT.fullmatch(line)
            if opened:
                key = f"{opened[1]}/{opened[2]}" if opened[2] else opened[1]
                properties = {}
                continue
            if not line or line.startswith(("@prefix ", "#")):
                continue
        else:
            held = _PROPERTY.fullmatch(line)
            if held:
                value = held[2] if held[2] is not None else held[3] or f"{AAT}{held[4]}"
                properties.setdefault(held[1], []).append(re.sub(r"\\(.)", r"\1", value))
                if held[5] == ".":
                    yield key, properties
                    key = None
                continue
        raise BadSetting(
            f"{source.name}, line {place} is not in the shape that this vocabulary is written in: {line!r}",
            remedy="copy the shape of the concept above it: one property a line, ';' after each, '.' after the last",
        )


def _concept(key: str, properties: dict[str, list[str]]) -> Concept:
    def first(name: str) -> str | None:
        return properties.get(name, [None])[0]

    broader = first("broader")
    return Concept(
        key=key,
        label=first("prefLabel") or key,
        alternatives=tuple(properties.get("altLabel", ())),
        note=first("scopeNote") or "",
        aat=first("exactMatch"),
        broad_aat=first("broadMatch"),
        broader=broader.removeprefix(NAMESPACE) if broader else None,
        why_none=first("editorialNote") or "",
    )
