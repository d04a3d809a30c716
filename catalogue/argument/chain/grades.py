"""How well an event of the provenance is borne: by what, of which grade, and whether directness stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.chain import words
from catalogue.record import Evidence, ProvenanceEvent, Work

NONE_CITED = "evidence/none-cited"
MARK = "evidence/inscription"
DIRECT = "passage/direct"


def cited(held: Iterable[Evidence]) -> tuple[Evidence, ...]:
    """What is cited, without the answer that nothing is.

    >>> cited((Evidence(kind=NONE_CITED),))
    ()
    """
    return tuple(each for each in held if each.kind != NONE_CITED)


def is_supported(event: ProvenanceEvent) -> bool:
    """Whether anything at all is cited for it."""
    return bool(cited(event.evidence))


def best(held: Iterable[Evidence]) -> str | None:
    """The best grade among what is cited ("strength/secondary"); None where nobody graded any of it."""
    grades: list[str] = words.table("evidence")["grades"]
    given = {each.strength for each in cited(held)}
    return next((grade for grade in grades if grade in given), None)


def bears_direct(held: Iterable[Evidence]) -> bool:
    """Whether one of them can bear that a painting passed directly: grade A or B (trade sheet V4).

    >>> told = Evidence(kind="evidence/oral", text="a niece", strength="strength/oral")
    >>> book = Evidence(kind="evidence/paper", text="stock book", strength="strength/primary")
    >>> bears_direct((told,)), bears_direct((told, book))
    (False, True)
    """
    return any(each.strength in words.terms("evidence", "bears_direct") for each in cited(held))


def direct_stands(event: ProvenanceEvent, following: ProvenanceEvent) -> bool:
    """Whether an event leads directly to the next one: recorded so, and borne by one of the two."""
    return event.passage == DIRECT and bears_direct((*event.evidence, *following.evidence))


def downgraded(work: Work) -> Iterator[tuple[ProvenanceEvent, ProvenanceEvent]]:
    """Neighbours recorded as joined directly, for which no evidence of grade A or B is cited."""
    for event, following in zip(work.provenance, work.provenance[1:], strict=False):
        if event.passage == DIRECT and not direct_stands(event, following):
            yield event, following


def is_mark(evidence: Evidence, marks: frozenset[str]) -> bool:
    """Whether a piece of evidence is an inscription or label; `marks` are the ids of the work's own."""
    return evidence.kind == MARK or (evidence.source or "") in marks


def marks_alone(event: ProvenanceEvent, marks: frozenset[str]) -> bool:
    """Whether nothing but inscriptions and labels bears an event; the making may rest on them alone.

    They prove that the painting was with somebody, not that it was theirs.
    """
    if event.kind in words.terms("evidence", "making"):
        return False
    held = cited(event.evidence)
    return bool(held) and all(is_mark(each, marks) for each in held)


def marks_of(work: Work) -> frozenset[str]:
    """The ids of all inscriptions of a work."""
    return frozenset(each.id for each in work.inscriptions)
