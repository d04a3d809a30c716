"""How well an event of the provenance is borne: by what, of which grade, and whether directness stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.chain import words
from catalogue.record import Evidence, ProvenanceEvent, Work

NONE_CITED = "evidence/none-cited"
MARK = "evidence/inscription"
DIRECT = "passage/direct"
GAP = "passage/gap"


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


def direct_stands(event: ProvenanceEvent, *following: ProvenanceEvent) -> bool:
    """Whether an event leads directly to the last of those that follow, over those between them.

    It is recorded so at each of them, and borne by one. What happens beside the chain between two
    holders (a loan, an offer, an agent's part) breaks nothing where it says nothing of a passage.
    """
    *between, last = following
    said = all(it.passage == DIRECT or (it.passage is None and _beside(it)) for it in between)
    held = (event, *between, last)
    return (
        event.passage == DIRECT
        and said
        and bears_direct(each for it in held for each in it.evidence)
    )


def _beside(event: ProvenanceEvent) -> bool:
    return any(
        event.kind in words.terms("kinds", which)
        for which in ("keeping", "returning", "staying")
    )


def downgraded(work: Work) -> Iterator[tuple[ProvenanceEvent, ProvenanceEvent]]:
    """Neighbours recorded as joined directly, for which no evidence of grade A or B is cited.

    What happens beside the chain is looked over, as by `direct_stands`.
    """
    for place, event in enumerate(work.provenance[:-1]):
        if event.passage != DIRECT:
            continue
        following = [work.provenance[place + 1]]
        for each in work.provenance[place + 2 :]:
            if not _beside(following[-1]):
                break
            following.append(each)
        if not any(
            direct_stands(event, *following[: upto + 1]) for upto in range(len(following))
        ):
            yield event, following[-1]


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
