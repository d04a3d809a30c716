"""The condition of a work for somebody who may buy it: plain sentences from the latest check.

What was not examined is said, damages are never left out, and every treatment is disclosed. It holds
no price, no owner, and no opinion on what the work is worth.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.handling import stands
from catalogue.documents.given import Given
from catalogue.documents.model import Block, Document, Facts, Heading, Paragraph, Points
from catalogue.documents.seen import is_gone, measured, ninths, released
from catalogue.documents.words import capital, day_said, joined, labels, told, words
from catalogue.record import ConditionCheck, Finding, Observation, Step, Treatment, Work
from catalogue.terms import concept, known, label


def condition_statement(given: Given) -> Document:
    """The statement by itself."""
    work = given.work
    blocks = (
        Facts(told(given.identity(work))),
        *condition_told(given),
        *disclosed(given),
        Paragraph(words("condition-statement")["standing"], "small"),
        Paragraph(words("every")["advice"], "small"),
    )
    looked = work.checks[-1].on if work.checks else None
    return given.document("condition-statement", work.number or "", looked, blocks)


def condition_told(given: Given) -> Iterator[Block]:
    """When it was examined, by whom, what was not, and how it is, finding by finding."""
    work, said = given.work, words("condition-statement")
    yield Heading(said["condition"])
    if not work.checks:
        yield Paragraph(said["never"])
        return
    check = work.checks[-1]
    yield Paragraph(joined((_examined(given, check), _whole(check)), " "))
    yield Paragraph(_not_examined(check))
    for text in released(check.notes):
        yield Paragraph(text)
    told_now = [_found(work, each, check) for each in work.findings]
    sentences = [each for each in told_now if each]
    yield Points(tuple(sentences)) if sentences else Paragraph(said["no_findings"])
    yield from _repairs(work)


def _examined(given: Given, check: ConditionCheck) -> str:
    said = words("condition-statement")
    by = given.name_of(check.by)
    sentence = said["examined"].format(
        day=day_said(check.on),
        by=said["by"].format(name=by) if by else "",
        how=joined((_framed(check), labels(check.lights))),
    )
    return str(sentence)


def _framed(check: ConditionCheck) -> str:
    said = words("condition-statement")
    if check.framed is None:
        return str(said["frame_unsaid"])
    return str(said["framed" if check.framed else "unframed"])


def _whole(check: ConditionCheck) -> str:
    """The class of the whole with what it means, as the examiner judged it."""
    if not check.condition:
        return str(words("condition-statement")["no_judgement"])
    note = concept(check.condition).note if known(check.condition) else ""
    return str(
        words("condition-statement")["whole"].format(
            what=label(check.condition), means=f" ({note.rstrip(chr(46))})" if note else ""
        )
    )


def _not_examined(check: ConditionCheck) -> str:
    """What nobody saw: as the examiner wrote it, and what frame and glass hide."""
    said = words("condition-statement")
    hidden = [check.limits or ""]
    if check.framed:
        hidden.append(said["behind_frame"])
    if check.glazed:
        hidden.append(said["behind_glass"])
    found = joined(hidden, " ")
    return said["not_examined"].format(what=found) if found else str(said["limits_unsaid"])


def _found(work: Work, finding: Finding, check: ConditionCheck) -> str:
    """One damage in a sentence, as it was last seen; "" where a later finding took its place."""
    said = words("condition-statement")
    course = work.course(finding)
    seen = course[-1]
    what = joined(
        (
            said["found"].format(what=capital(label(finding.kind)), layer=label(finding.layer)),
            ninths(work).get(finding.id, ""),
        )
    )
    facts = joined((measured(seen).replace("\n", ", "), *_judged(seen)), "; ")
    sentence = joined((what, facts), ": ") + "."
    if not stands(work, finding):
        sentence += f" {said['treated']}"
    elif seen.check != check.id:
        day = day_said(work.check_of(seen).on)
        sentence += " " + said["not_seen_again"].format(day=day)
    return joined((sentence, *released(finding.notes), *released(seen.notes)), " ")


def _judged(seen: Observation) -> Iterator[str]:
    for key in (seen.severity, seen.extent, seen.stability):
        if key:
            yield concept(key).label if known(key) else label(key)


def _repairs(work: Work) -> Iterator[Block]:
    """Repairs from before that are still there."""
    said, where = words("condition-statement"), ninths(work)
    there = [each for each in work.repairs if not is_gone(each)]
    if there:
        yield Heading(said["repairs"], 2)
        yield Points(
            tuple(
                joined(
                    (
                        capital(joined((label(each.kind), labels(each.materials)))),
                        where.get(each.id, ""),
                        labels(each.effects),
                    )
                )
                for each in there
            )
        )


# --- what was done ---------------------------------------------------------------------------------


def disclosed(given: Given) -> Iterator[Block]:
    """Every treatment on record, step by step, with the materials that stay on the work."""
    work, said = given.work, words("condition-statement")
    yield Heading(said["treatments"])
    done = [each for each in work.treatments if any(step.began for step in each.steps)]
    if not done:
        yield Paragraph(said["no_treatment"])
        return
    where = ninths(work)
    for treatment in done:
        if treatment.aim:
            yield Paragraph(capital(label(treatment.aim)), "strong")
        yield Points(tuple(_step(treatment, it, where) for it in treatment.steps if it.began))
        for text in released(treatment.notes):
            yield Paragraph(text)


def _step(treatment: Treatment, step: Step, where: dict[str, str]) -> str:
    used = labels(each.material for each in step.materials)
    with_ = words("condition")["with"].format(what=used) if used else ""
    day = day_said(step.ended or step.began)
    sentence = joined(
        (treatment.label(step), joined((label(step.kind), where.get(step.id, ""), with_, day))),
        " ",
    )
    return joined((sentence, *released(step.notes)), ". ")
