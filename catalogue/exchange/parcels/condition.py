"""How a painting is and what was done to it, on the page of a parcel: plain sentences from the latest check.

What was not examined is said and damages are never left out; every treatment is told step by step.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.chain.words import day
from catalogue.argument.handling import stands
from catalogue.exchange.outgoing import Sender
from catalogue.exchange.parcels.chapter import Chapter, capital, joined, labels, named, words
from catalogue.record import (
    ConditionCheck,
    Finding,
    Location,
    Observation,
    PriorRepair,
    Treatment,
    Work,
)
from catalogue.surface.words import nine_field
from catalogue.terms import concept, known, label

_GONE = ("state/removed", "state/removed-kept", "state/removed-lost", "state/lost")


def chapters(work: Work, sender: Sender) -> Iterator[Chapter]:
    """Condition and treatments, as far as the list lets them leave."""
    if work.checks:
        yield _condition(work, work.checks[-1], sender)
    repairs = tuple(_repair(work, each) for each in work.repairs if not _is_gone(each))
    if repairs:
        yield Chapter(words("condition")["repairs"], points=repairs)
    yield from filter(None, (_treatment(work, each) for each in work.treatments))


def _condition(work: Work, check: ConditionCheck, sender: Sender) -> Chapter:
    said = words("condition")
    by = named(sender, check.by)
    lit = joined((_framed(check), labels(check.lights)))
    looked = said["examined"].format(
        day=day(check.on), by=said["by"].format(name=by) if by else "", how=lit
    )
    says = (
        joined((looked, _whole(check)), " "),
        _not_examined(check),
        *(note.text for note in check.notes),
    )
    found = tuple(filter(None, (_found(work, each, check) for each in work.findings)))
    if not found:
        says = (*says, said["no_findings"])
    return Chapter(said["condition"], says=says, points=found, small=(said["on_its_day"],))


def _framed(check: ConditionCheck) -> str:
    which = {None: "frame_unsaid", True: "framed", False: "unframed"}[check.framed]
    return str(words("condition")[which])


def _whole(check: ConditionCheck) -> str:
    """The class of the whole with what it means, as the examiner judged it."""
    if not check.condition:
        return ""
    note = concept(check.condition).note if known(check.condition) else ""
    means = f" ({note.rstrip('.')})" if note else ""
    return str(words("condition")["whole"].format(what=label(check.condition), means=means))


def _not_examined(check: ConditionCheck) -> str:
    """What nobody saw: as the examiner wrote it, and what frame and glass hide."""
    said = words("condition")
    hidden = joined(
        (
            check.limits or "",
            said["behind_frame"] if check.framed else "",
            said["behind_glass"] if check.glazed else "",
        ),
        " ",
    )
    return str(said["not_examined"].format(what=hidden) if hidden else said["limits_unsaid"])


def _found(work: Work, finding: Finding, check: ConditionCheck) -> str:
    """One damage in a sentence, as it was last seen; when, where that was not at the latest check."""
    said, seen = words("condition"), work.course(finding)[-1]
    what = said["found"].format(what=capital(label(finding.kind)), layer=label(finding.layer))
    facts = joined((*_measured(seen), *_judged(seen)))
    sentence = joined((joined((what, where(work, seen.location))), facts), ": ")
    if not stands(work, finding):
        more = said["treated"]
    elif seen.check != check.id:
        more = said["not_seen_again"].format(day=day(work.check_of(seen).on))
    else:
        more = ""
    notes = (note.text for note in (*finding.notes, *seen.notes))
    return joined((f"{joined((finding.number or '', sentence), ' ')}.", more, *notes), " ")


def _measured(seen: Observation) -> Iterator[str]:
    said = words("condition")
    for name, value, unit in (
        (said["length"], seen.length_mm, " mm"),
        (said["gap"], seen.gap_mm, " mm"),
        (said["depth"], seen.depth_mm, " mm"),
        (said["area"], seen.area_mm2, " mm²"),
        (said["count"], seen.count, ""),
    ):
        if value is not None:
            yield f"{name} {value:.10g}{unit}".replace(" mm", "\N{NO-BREAK SPACE}mm")


def _judged(seen: Observation) -> Iterator[str]:
    for key in (seen.severity, seen.extent, seen.stability):
        if key:
            yield label(key)


def where(work: Work, location: Location | None) -> str:
    """On which face something is, and in which ninth of it where that is known.

    >>> from catalogue.record import Size
    >>> from catalogue.surface import Box, Shape
    >>> sized = Work(sizes=(Size(what="size/support", width_mm=610, height_mm=500),))
    >>> where(sized, Location(face="face/back", shape=Shape.of_box(Box(395, 120, 150, 40))))
    'back, upper right'
    """
    if location is None:
        return ""
    sheet = work.sheet
    shape = location.on_its_face(sheet)
    sides = ("face/front", "face/back")
    placed = nine_field(shape, sheet) if shape and sheet and location.face in sides else ""
    return joined((label(location.face), placed))


def _repair(work: Work, repair: PriorRepair) -> str:
    made = joined((label(repair.kind), labels(repair.materials)))
    told = joined((capital(made), where(work, repair.location), labels(repair.effects)))
    notes = (note.text for note in repair.notes)
    return joined((f"{joined((repair.number or '', told), ' ')}.", *notes), " ")


def _is_gone(repair: PriorRepair) -> bool:
    return bool(repair.sightings) and repair.sightings[-1].state in _GONE


def _treatment(work: Work, treatment: Treatment) -> Chapter | None:
    """The steps that were begun, each with its materials and its day; None where none was."""
    said, points = words("condition"), []
    for step in treatment.steps:
        if step.began is None:
            continue
        used = labels(each.material for each in step.materials)
        told = joined(
            (
                label(step.kind),
                where(work, step.location),
                said["with"].format(what=used) if used else "",
                day(step.ended or step.began),
            )
        )
        notes = (note.text for note in step.notes)
        points.append(joined((f"{treatment.label(step)} {told}.", *notes), " "))
    if not points:
        return None
    aim = label(treatment.aim) if treatment.aim else ""
    heading = joined((said["treatment"], joined((treatment.number or "", aim), ", ")), " ")
    says = tuple(note.text for note in treatment.notes)
    return Chapter(heading, says=says, points=tuple(points))
