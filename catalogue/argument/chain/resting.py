"""Evidence, followed both ways: what an event rests on, and what an inscription or a paper supports."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

from catalogue.argument.chain.grades import best, cited
from catalogue.errors import NotOnFile
from catalogue.record import (
    Citation,
    Evidence,
    Exhibition,
    Inscription,
    Paper,
    ProvenanceEvent,
    Work,
)
from catalogue.record.rules import pointers, values_within
from catalogue.terms import known, label

Source: TypeAlias = Inscription | Paper | Citation
Resting: TypeAlias = ProvenanceEvent | Exhibition | Citation
Sort = Literal["event", "exhibition", "citation", "statement", "other"]


@dataclass(frozen=True, slots=True)
class Rest:
    """One thing that something rests on: the evidence, and its source where that is of this work.

    `photos` are the ids of the photographs on which an inscription is outlined.
    """

    evidence: Evidence
    source: Source | None
    called: str
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Supported:
    """One thing that an inscription, paper or citation supports, or that names it.

    `value` is its id, `called` what people call it. Of what rests on evidence, `left` is what else
    is cited for it and `best` the best grade among that (a term; None: not graded). Of an `other`,
    `field` is where it names the source ("Photo.about"); it rests on nothing.
    """

    sort: Sort
    value: str
    called: str
    field: str = "evidence"
    left: tuple[Evidence, ...] = ()
    best: str | None = None

    @property
    def alone(self) -> bool:
        """Whether nothing else is cited for it."""
        return self.sort not in ("statement", "other") and not self.left


def rests_on(work: Work, wanted: str) -> tuple[Rest, ...]:
    """What an event, exhibition or citation (its number, "E2", or its id) rests on. Raises `NotOnFile`.

    Empty where nothing is cited.
    """
    resting = next((each for each in _resting(work) if wanted in _names(each)), None)
    if resting is None:
        raise NotOnFile(f"{work.number or 'this work'} has no event {wanted}")
    sources: dict[str, Source] = {each.id: each for each in _sources(work)}
    found = []
    for each in cited(resting.evidence):
        source = sources.get(each.source or "")
        photos = (
            tuple(region.photo for region in source.regions)
            if isinstance(source, Inscription)
            else ()
        )
        words = called(source) if source else each.text or label(each.kind)
        found.append(Rest(each, source, words, photos))
    return tuple(found)


def source_of(work: Work, wanted: str) -> Source:
    """The inscription, paper or citation of a number ("I2", "D1") or an id. Raises `NotOnFile`."""
    for each in _sources(work):
        if wanted in _names(each):
            return each
    raise NotOnFile(
        f"{work.number or 'this work'} has no inscription, paper or citation {wanted}"
    )


def supports(work: Work, wanted: str) -> tuple[Supported, ...]:
    """What an inscription, paper or citation (its number or id) supports. Raises `NotOnFile`."""
    source = source_of(work, wanted)
    return (*_borne(work, source), *_statements(source), *_naming(work, source))


def called(value: Any) -> str:
    """What people call a value: its number and kind, else its title or its words.

    >>> called(Inscription(number="I2", kind="inscription/label", face="face/back"))
    'I2 label'
    """
    number, kind = getattr(value, "number", None), getattr(value, "kind", None)
    if isinstance(value, Exhibition):
        return value.title
    if isinstance(value, Citation):
        return value.text
    named = label(kind) if kind and known(kind) else type(value).__name__.lower()
    return f"{number} {named}" if number else named


def _resting(work: Work) -> tuple[Resting, ...]:
    return (*work.provenance, *work.exhibitions, *work.citations)


def _sources(work: Work) -> tuple[Source, ...]:
    return (*work.inscriptions, *work.papers, *work.citations)


def _names(value: Any) -> tuple[str, ...]:
    return tuple(filter(None, (value.id, getattr(value, "number", None))))


def _borne(work: Work, source: Source) -> Iterator[Supported]:
    for each in _resting(work):
        if not any(it.source == source.id for it in each.evidence):
            continue
        left = tuple(it for it in cited(each.evidence) if it.source != source.id)
        sort: Sort = (
            "event"
            if isinstance(each, ProvenanceEvent)
            else "exhibition"
            if isinstance(each, Exhibition)
            else "citation"
        )
        yield Supported(
            sort=sort, value=each.id, called=called(each), left=left, best=best(left)
        )


def _statements(source: Source) -> Iterator[Supported]:
    """What a person accepted or corrected in its readings."""
    if isinstance(source, Inscription):
        for each in source.statements:
            if each.stands:
                yield Supported(
                    sort="statement", value=each.id, called=each.written, field="statements"
                )


def _naming(work: Work, source: Source) -> Iterator[Supported]:
    """Whatever else of the work points at it, or at something within it."""
    own = {each.id for each in values_within(source) if getattr(each, "id", None)}
    for top in _tops(work):
        if top is source:
            continue
        for value in values_within(top):
            if isinstance(value, Evidence):
                continue
            for pointer in pointers(value):
                if pointer.target in own:
                    field = f"{type(value).__name__}.{pointer.field}"
                    yield Supported(
                        sort="other", value=value.id, called=called(top), field=field
                    )


def _tops(work: Work) -> Iterator[Any]:
    """The values that a work holds itself, each with all that is within it."""
    for name in work.__dataclass_fields__:
        held = getattr(work, name)
        if isinstance(held, tuple):
            yield from (each for each in held if getattr(each, "id", None))
