"""The concepts of vocab/terms: their labels, what they mean, and where the AAT has the same.

One file a group; the key of a concept is "group/name", and that is what records hold. A group is
read when it is first asked for, and refused as a whole, with file and line, when a concept in it is
not complete.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from catalogue import places
from catalogue.errors import UnknownTerm
from catalogue.terms.turtle import AAT, NAMESPACE, Block, blocks, refuse

_ALLOWED = {
    "inScheme", "prefLabel", "altLabel", "scopeNote", "broader", "exactMatch", "broadMatch",
    "editorialNote",
}  # fmt: skip
_MANY = {"altLabel"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Concept:
    """One term: `key` is what records hold ("face/back"), `aat` the same concept in the AAT.

    `broad_aat` is the nearest broader AAT concept, `broader` the key of the broader one here;
    `why_none` says why there is no `aat`. Both AAT addresses are written in full, with http.
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


@dataclass(frozen=True, slots=True)
class Group:
    """One file of vocab/terms, read."""

    title: str
    note: str
    concepts: dict[str, Concept]
    by_address: dict[str, Concept]


def concept(key: str) -> Concept:
    """The concept of a key. Raises `UnknownTerm` with the group and the nearest words.

    >>> concept("face/back").label
    'back'
    >>> concept("face/bakc")
    Traceback (most recent call last):
    catalogue.errors.UnknownTerm: 'bakc' is not in the group 'face' (vocab/terms/face.ttl)
      did you mean face/back?
    """
    name = key.partition("/")[0]
    found = _group(name).concepts.get(key)
    if found is None:
        raise _unknown(name, key.partition("/")[2])
    return found


def _unknown(name: str, wanted: str) -> UnknownTerm:
    words: dict[str, str] = {}
    for each in _group(name).concepts.values():
        words.update(dict.fromkeys((each.name, each.label, *each.alternatives), each.key))
    near = dict.fromkeys(words[word] for word in difflib.get_close_matches(wanted, words, n=3))
    return UnknownTerm(
        f"{wanted!r} is not in the group {name!r} (vocab/terms/{name}.ttl)",
        remedy=f"did you mean {' or '.join(near)}?" if near else "add it to that file",
    )


def known(key: str) -> bool:
    """Whether there is a concept of this key."""
    name = key.partition("/")[0]
    return name in _files() and key in _group(name).concepts


def label(key: str) -> str:
    """What to call a term; an address from outside is called by itself."""
    return concept(key).label if known(key) else key


def group(name: str) -> tuple[Concept, ...]:
    """The concepts of one group, by label. Raises `UnknownTerm`.

    >>> [each.label for each in group("certainty")]
    ['certain', 'doubtful', 'possible', 'probable']
    """
    held = _group(name).concepts.values()
    return tuple(sorted(held, key=lambda each: (each.label.casefold(), each.key)))


def in_order(name: str) -> tuple[Concept, ...]:
    """The concepts of one group in the order of its file, as a scale wants it. Raises `UnknownTerm`.

    >>> [each.label for each in in_order("certainty")]
    ['certain', 'probable', 'possible', 'doubtful']
    """
    return tuple(_group(name).concepts.values())


def groups() -> dict[str, str]:
    """Every group with its title."""
    return {name: _group(name).title for name in _files()}


def group_said(name: str) -> tuple[str, str]:
    """What a group is called, and what it is: for a scale, on what it rests. Raises `UnknownTerm`.

    >>> group_said("extent")[1]
    "How much of the layer's area a finding takes up; steps by common practice, no source."
    """
    found = _group(name)
    return found.title, found.note


def of_iri(iri: str, group: str) -> Concept | None:
    """The concept of a group that has this address, ours or the AAT's; None when there is none.

    >>> of_iri("aat:300190692", "face").key
    'face/back'
    """
    if iri.startswith("aat:"):
        iri = AAT + iri.removeprefix("aat:")
    if iri.startswith("https://vocab.getty.edu/"):
        iri = iri.replace("https:", "http:", 1)
    return _group(group).by_address.get(iri) if group in _files() else None


def labelled(text: str, group_name: str) -> Concept | None:
    """The concept of a group that is called so, in whatever case; None when there is none.

    Its own label comes before another concept's alternative.

    >>> labelled("Verso", "face").key
    'face/back'
    """
    return _called(group_name).get(" ".join(text.split()).casefold())


@cache
def _called(name: str) -> dict[str, Concept]:
    """The concepts of a group by every word for them: a form asks for hundreds of words at once."""
    held = group(name)
    found: dict[str, Concept] = {}
    for words_of in (_own_words, _other_words):
        for each in held:
            for word in words_of(each):
                found.setdefault(word, each)
    return found


def _own_words(here: Concept) -> tuple[str, ...]:
    return (here.label.casefold(), here.name.casefold())


def _other_words(here: Concept) -> tuple[str, ...]:
    return tuple(word.casefold() for word in here.alternatives)


def within(key: str, *ancestors: str) -> bool:
    """Whether a term is one of these or narrower than one of them.

    >>> within("inscription/dealer-label", "inscription/label")
    True
    """
    here: str | None = key
    while here is not None:
        if here in ancestors:
            return True
        here = concept(here).broader if known(here) else None
    return False


@cache
def _files() -> dict[str, Path]:
    return {
        each.stem: each for each in sorted((places.folder("vocab") / "terms").glob("*.ttl"))
    }


@cache
def _group(name: str) -> Group:
    source = _files().get(name)
    if source is None:
        near = difflib.get_close_matches(name, _files(), n=3)
        raise UnknownTerm(
            f"there is no group {name!r} in vocab/terms",
            remedy=f"did you mean {' or '.join(near)}?" if near else "",
        )
    return read_group(source)


def read_group(source: Path) -> Group:
    """One file of vocab/terms; raises `BadSetting` with file and line when a concept is not whole."""
    scheme = NAMESPACE + source.stem
    title = note = ""
    found: dict[str, tuple[Block, Concept]] = {}
    by_address: dict[str, Concept] = {}
    for block in blocks(source):
        if block.kind == "ConceptScheme":
            if block.subject != scheme:
                raise refuse(source, block.line, f"the group of this file is <{scheme}>")
            title = block.properties.get("prefLabel", [""])[0]
            note = block.properties.get("scopeNote", [""])[0]
            continue
        here = _concept(source, block, scheme)
        for address in (here.iri, here.aat):
            if address in by_address:
                raise refuse(
                    source, block.line, f"{by_address[address].key} is <{address}> too"
                )
            if address:
                by_address[address] = here
        found[here.key] = block, here
    _demand_order(source, found)
    return Group(title, note, {key: here for key, (_, here) in found.items()}, by_address)


def _demand_order(source: Path, found: dict[str, tuple[Block, Concept]]) -> None:
    """Every broader concept is in the same file, and nothing is broader than itself."""
    for block, here in found.values():
        passed = {here.key}
        above = here.broader
        while above is not None:
            if above not in found or above in passed:
                raise refuse(source, block.line, f"{above!r} cannot be broader than {here.key}")
            passed.add(above)
            above = found[above][1].broader


def _concept(source: Path, block: Block, scheme: str) -> Concept:
    said = block.properties
    for name, values in said.items():
        if name not in _ALLOWED or (len(values) > 1 and name not in _MANY):
            raise refuse(source, block.line, f"skos:{name} is not expected, or stands twice")
    if not block.subject.startswith(f"{scheme}/") or said.get("inScheme") != [scheme]:
        raise refuse(source, block.line, f"it must begin with and be skos:inScheme <{scheme}>")
    for name in ("prefLabel", "scopeNote"):
        if name not in said:
            raise refuse(source, block.line, f"it has no skos:{name}")
    if ("exactMatch" in said) == ("editorialNote" in said):
        raise refuse(
            source,
            block.line,
            "it needs either skos:exactMatch or skos:editorialNote, why none",
        )
    one = {name: values[0] for name, values in said.items()}
    broader = one.get("broader")
    return Concept(
        key=block.subject.removeprefix(NAMESPACE),
        label=one["prefLabel"],
        alternatives=tuple(said.get("altLabel", ())),
        note=one["scopeNote"],
        aat=one.get("exactMatch"),
        broad_aat=one.get("broadMatch"),
        broader=broader.removeprefix(NAMESPACE) if broader else None,
        why_none=one.get("editorialNote", ""),
    )
