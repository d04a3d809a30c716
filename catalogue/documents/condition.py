"""The condition report: one check of a work, its findings on map and table, and the scales it is told in."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.handling import keep_face_up
from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Notice,
    Paragraph,
    Signature,
    Signatures,
    Table,
)
from catalogue.documents.seen import (
    drawing,
    finding_said,
    is_gone,
    judged,
    measured,
    photographs,
    released,
    wheres,
)
from catalogue.documents.words import (
    asked,
    capital,
    day_said,
    joined,
    labels,
    number_said,
    told,
    words,
    yes_or_no,
)
from catalogue.errors import NotOnFile
from catalogue.pictures.map import condition_map
from catalogue.record import ConditionCheck, Photo, PriorRepair, Work
from catalogue.terms import concept, group_said, in_order, known, label

JUDGEMENTS = ("condition", "urgency", "handling")
SCALES = ("severity", "extent", "stability")


def condition_report(given: Given) -> Document:
    """One check of a work: the one that was named, else the latest. Raises `NotOnFile`."""
    work = given.work
    check = the_check(work, given.checks)
    said = words("condition")
    blocks = (
        Facts(told(given.identity(work))),
        Heading(said["check"]),
        Facts(told(check_facts(given, check)) + asked(((said["limits"], check.limits or ""),))),
        *(Paragraph(text) for text in released(check.notes)),
        Heading(said["judgement"]),
        Facts(asked(_judged(check))),
        *face_up(work, check),
        *map_of(work, check, said["map"], said["map_says"]),
        *_findings(work, check),
        *_repairs(work, check),
        *photographs(given, photos_of(work, check), said["photographs"]),
        *legend(work, check),
        *_signed(given, check),
    )
    number = joined((work.number or "", check.number or ""))
    return given.document("condition", number, check.on, blocks)


def the_check(work: Work, wanted: tuple[str, ...]) -> ConditionCheck:
    """The check with the one number that is wanted, else the latest. Raises `NotOnFile`."""
    if not work.checks:
        raise NotOnFile(
            f"{work.number or 'this work'} has no condition check on file",
            remedy="a check comes first; one by somebody who may not be named is told on no paper",
        )
    if not wanted:
        return work.checks[-1]
    found: ConditionCheck = work.value("checks", wanted[0])
    return found


def check_facts(given: Given, check: ConditionCheck) -> Iterator[tuple[str, str]]:
    """When and how somebody looked."""
    said = words("condition")
    climate = joined(
        (
            number_said(check.temperature_c, "°C"),
            number_said(check.humidity_percent, said["humidity"]),
        )
    )
    yield said["occasion"], capital(joined((label(check.occasion), check.number or "")))
    yield said["on"], day_said(check.on)
    yield said["by"], given.name_of(check.by)
    yield said["at"], check.at or ""
    yield said["lights"], capital(labels(check.lights))
    yield said["instruments"], check.instruments or ""
    yield said["framed"], capital(yes_or_no(check.framed))
    yield said["glazed"], capital(yes_or_no(check.glazed))
    yield said["climate"], climate


def _judged(check: ConditionCheck) -> Iterator[tuple[str, str]]:
    said = words("condition")
    for name in JUDGEMENTS:
        key = getattr(check, name)
        yield said[name], _with_note(key) if key else ""


def face_up(work: Work, check: ConditionCheck) -> Iterator[Block]:
    """A warning for whoever takes hold of it next, on the report of the latest check."""
    if check is work.checks[-1] and keep_face_up(work):
        said = words("condition")
        yield Notice(said["face_up_title"], said["face_up"])


def _with_note(key: str) -> str:
    """A step of a scale with what it means."""
    note = concept(key).note if known(key) else ""
    return joined((capital(label(key)), note), "\n")


def map_of(
    work: Work, check: ConditionCheck | None, heading: str, caption: str
) -> Iterator[Block]:
    """The map of both sides under a heading, as at a check or as it is now; nothing without a size."""
    drawn = condition_map(
        work,
        key="map",
        leads_to=lambda _: None,
        check=check,
        kinds=("finding", "repair", "inscription"),
    )
    if drawn is not None:
        yield Heading(heading)
        yield from drawing(drawn, caption)


def _findings(work: Work, check: ConditionCheck) -> Iterator[Block]:
    said = words("condition")
    where = wheres(work, check)
    rows = []
    for finding in work.findings:
        for seen in finding.observations:
            if seen.check == check.id:
                place = where.get(finding.id, "")
                what = joined((finding_said(finding), place, *released(seen.notes)), "\n")
                change = label(seen.change) if seen.change else ""
                rows.append((finding.number or "", what, measured(seen), judged(seen), change))
    yield Heading(said["findings"])
    if not rows:
        yield Paragraph(said["no_findings"])
        return
    head = (said["number"], said["finding"], said["measures"], said["judged"], said["change"])
    yield Table(head, tuple(rows), (2, 10, 5, 6, 4))


def _repairs(work: Work, check: ConditionCheck) -> Iterator[Block]:
    """Earlier repairs that were there on the day of the check, as far as sightings say."""
    said = words("condition")
    where = wheres(work)
    there = [each for each in work.repairs if not is_gone(each, check.on)]
    if there:
        yield Heading(said["repairs"])
        yield Table(
            (said["number"], said["repair"], said["effects"], said["decision"]),
            tuple(_repair(each, where.get(each.id, "")) for each in there),
            (2, 12, 6, 5),
        )


def _repair(repair: PriorRepair, where: str) -> tuple[str, ...]:
    said = words("condition")
    adhesive = said["with"].format(what=label(repair.adhesive)) if repair.adhesive else ""
    made = capital(joined((label(repair.kind), labels(repair.materials), adhesive)))
    decision = label(repair.decision) if repair.decision else ""
    return (
        repair.number or "",
        joined((made, where), "\n"),
        labels(repair.effects),
        joined((decision, repair.reason or ""), ": "),
    )


def photos_of(work: Work, check: ConditionCheck) -> list[Photo]:
    """Front and back as they were, then what was taken for the check and for what it found."""
    then = [
        each
        for each in work.photos
        if not each.mirrored and (each.taken is None or each.taken <= check.on)
    ]
    found = {check.id}
    for finding in work.findings:
        for seen in finding.observations:
            if seen.check == check.id:
                found |= {finding.id, seen.id}
    chosen = [each for face in ("face/front", "face/back") if (each := whole(then, face))]
    chosen += [each for each in then if found & set(each.about)]
    chosen += [each for each in then if each.taken == check.on]
    return list({each.id: each for each in chosen}.values())


def whole(photos: list[Photo], face: str) -> Photo | None:
    """The latest photograph of all of a face, in normal light if there is one; None without any."""
    of_face = [each for each in photos if each.face == face and each.view == "view/whole"]
    return max(
        of_face,
        key=lambda each: (
            each.light == "light/normal",
            each.taken.iso if each.taken else "",
            each.rank,
        ),
        default=None,
    )


def legend(work: Work, *checks: ConditionCheck) -> Iterator[Block]:
    """Every scale in which these checks are told: its steps, what they mean, on what it rests."""
    ids = {check.id for check in checks}
    observed = [
        seen for finding in work.findings for seen in finding.observations if seen.check in ids
    ]
    used = [name for name in JUDGEMENTS if any(getattr(check, name) for check in checks)]
    used += [name for name in SCALES if any(getattr(seen, name) for seen in observed)]
    if not used:
        return
    said = words("condition")
    yield Heading(said["scales"])
    yield Table(
        (said["scale"], said["steps"], said["basis"]), tuple(map(_scale, used)), (4, 12, 7)
    )


def _scale(name: str) -> tuple[str, str, str]:
    title, basis = group_said(name)
    steps = (f"{each.label}: {each.note}" for each in in_order(name))
    return title, "\n".join(steps), basis


def _signed(given: Given, check: ConditionCheck) -> Iterator[Block]:
    said = words("condition")
    yield Paragraph(words("every")["advice"], "small")
    yield Signatures(
        (Signature(said["examiner"], given.name_of(check.by)),), words("every")["day"]
    )
