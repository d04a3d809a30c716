"""What the index holds of damages and treatments: a finding each time it was seen, a step for itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from catalogue.indexes.entry import Entry
from catalogue.indexes.facts_of import NOTHING, Fact, Known, chain, kinds
from catalogue.indexes.making import days, given, is_private, of_value, seen_on, shown_by
from catalogue.indexes.told import Names, told
from catalogue.record import Finding, Step, Treatment, Work
from catalogue.terms import label


def of_finding(
    finding: Finding, work: Work, base: Entry, names: Names, known: Known
) -> Iterator[Entry]:
    """An entry for each time it was seen: how it was on that day, and what was done for it."""
    worked = known.get(finding.id, NOTHING)
    itself = tuple(told(finding, names, without=("observations",)))
    answered = tuple(_answering(finding.id, work))
    where = f"{finding.number or ''} {label(finding.kind)}".strip()
    for observation in work.course(finding):
        check = work.check_of(observation)
        made = of_value(
            observation,
            "finding",
            base,
            names,
            also=(finding,),
            begins=itself,
            own=days(check.on),
        )
        yield given(
            made,
            value=finding.id,
            where=f"{where}, {label(check.occasion)} {check.on.iso}",
            private=made.private or is_private(finding.visibility, check.visibility),
            facts=(*kinds("finding", finding.kind), ("occasion", check.occasion), *answered,
                   *worked.facts),
            figures=worked.figures,
        )  # fmt: skip


def _answering(finding: str, work: Work) -> Iterator[Fact]:
    """The steps that were done for a finding, and are not only planned."""
    for treatment in work.treatments:
        for step in treatment.steps:
            if finding in step.addresses and step.began:
                yield from (("step", key) for key in chain(step.kind))


def of_treatment(
    treatment: Treatment, work: Work, base: Entry, names: Names, known: Known
) -> Iterator[Entry]:
    """The treatment as a whole, and each of its steps."""
    whole = of_value(treatment, "treatment", base, names, without=("steps",))
    done = [days(step.began, step.ended) for step in treatment.steps if step.began]
    if done:
        whole = replace(whole, own_earliest=min(d[0] or 0 for d in done), own_latest=max(d[1] or 0 for d in done))  # fmt: skip  # noqa: E501
    yield whole
    for step in treatment.steps:
        yield _of_step(step, treatment, work, base, names, known)


def _of_step(
    step: Step, treatment: Treatment, work: Work, base: Entry, names: Names, known: Known
) -> Entry:
    worked = known.get(step.id, NOTHING)
    made = of_value(step, "step", base, names, own=days(step.began, step.ended))
    writing = [each for each in work.inscriptions if each.id in step.covers]
    flags: list[Fact] = [("is", "done" if step.began else "planned")]
    if writing:
        flags.append(("is", "covers-writing"))
    if step.departures:
        flags.append(("is", "departs"))
    made = given(
        made,
        where=" ".join(
            filter(None, (treatment.number, f"step {step.order}", label(step.kind)))
        ),
        private=made.private or is_private(treatment.visibility),
        facts=(*flags, *worked.facts),
        figures=worked.figures,
    )
    photo, corners = seen_on(writing[0], work) if writing else shown_by(step.id, work)
    return replace(made, photo=photo, corners=corners)
