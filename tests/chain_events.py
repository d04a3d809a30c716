"""Provenances made up in few words: `event(1, "sale", party("Joan Price", "buyer"), when="1934")`."""

from __future__ import annotations

from catalogue.measure import read_date
from catalogue.record import (
    Evidence,
    Inscription,
    Paper,
    PartyRole,
    ProvenanceEvent,
    Transcript,
    Work,
)


def party(name: str, role: str) -> PartyRole:
    return PartyRole(written=name, role=f"capacity/{role}")


def label(number: str, text: str = "") -> Inscription:
    read = (Transcript(markup=text),) if text else ()
    return Inscription(
        number=number, kind="inscription/label", face="face/back", transcripts=read
    )


def paper(number: str, kind: str = "letter", **more: object) -> Paper:
    return Paper(number=number, kind=f"paper/{kind}", title=kind, file_name="a.pdf", **more)


def resting(value: Inscription | Paper, grade: str | None = None) -> Evidence:
    kind = "inscription" if isinstance(value, Inscription) else "paper"
    return Evidence(
        kind=f"evidence/{kind}",
        source=value.id,
        strength=f"strength/{grade}" if grade else None,
    )


def event(
    order: int,
    kind: str,
    *parties: PartyRole,
    when: str | None = None,
    until: str | None = None,
    passage: str | None = None,
    grade: str | None = None,
    certainty: str | None = None,
    cited: bool = True,
    rests_on: Inscription | Paper | None = None,
    evidence: tuple[Evidence, ...] | None = None,
    circa: int = 5,
) -> ProvenanceEvent:
    if evidence is None:
        if rests_on is not None:
            evidence = (resting(rests_on, grade),)
        elif cited:
            graded = f"strength/{grade}" if grade else None
            evidence = (Evidence(kind="evidence/paper", text="a letter", strength=graded),)
        else:
            evidence = (Evidence(kind="evidence/none-cited"),)
    return ProvenanceEvent(
        number=f"E{order}",
        order=order,
        kind=f"provenance/{kind}",
        parties=parties,
        when=read_date(when, circa=circa) if when else None,
        until=read_date(until, circa=circa) if until else None,
        passage=f"passage/{passage}" if passage else None,
        certainty=f"certainty/{certainty}" if certainty else None,
        evidence=evidence,
    )


def work_of(*events: ProvenanceEvent, **more: object) -> Work:
    return Work(provenance=events, **more)
