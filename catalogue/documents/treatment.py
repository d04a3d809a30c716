"""The treatment report: tests, steps with what was used and measured, departures, people, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.photo_pairs import AFTER, BEFORE, FACES
from catalogue.documents.condition import whole
from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Notice,
    Paragraph,
    Pictures,
    Points,
    Signature,
    Signatures,
    Table,
)
from catalogue.documents.receipts import piece_rows
from catalogue.documents.seen import (
    material_said,
    photo_said,
    released,
    what_stands,
    wheres,
)
from catalogue.documents.words import (
    capital,
    day_said,
    joined,
    labels,
    number_said,
    time_said,
    told,
    words,
    yes_or_no,
)
from catalogue.measure import Day
from catalogue.record import (
    Departure,
    Finding,
    Inscription,
    Job,
    Layer,
    MaterialUse,
    Part,
    Photo,
    PriorRepair,
    Step,
    Test,
    Treatment,
    Work,
)
from catalogue.terms import (
    Caution,
    cautions,
    hazard_says,
    label,
    precaution_says,
    standing,
)


def treatment_report(given: Given) -> Document:
    """Everything that was done to a work: for its owner, with the names of those who did it."""
    work = given.work
    said = words("treatment")
    blocks = (
        Facts(told(given.identity(work))),
        *_people(given, work),
        *_before_and_after(given, work),
        *_tests(given, work),
        Heading(said["steps"]),
        *_treatments(given, work),
        *_changed(given),
        *_pieces(given),
        *what_stands(work),
        *_cautions(given, work),
        Paragraph(words("every")["advice"], "small"),
        Signatures((Signature(said["signed"]),), words("every")["day"]),
    )
    return given.document("treatment", work.number or "", _last_day(work), blocks)


def _last_day(work: Work) -> Day | None:
    days = (step.ended or step.began for _, step in _steps(work))
    return max((day for day in days if day), default=None)


def _steps(work: Work) -> Iterator[tuple[Treatment, Step]]:
    return ((treatment, step) for treatment in work.treatments for step in treatment.steps)


def _people(given: Given, work: Work) -> Iterator[Block]:
    """The names of those who did the work, as E.C.C.O. Professional Guidelines II, art. 10, asks."""
    parties = (party for _, step in _steps(work) for party in step.by)
    names = [name for party in dict.fromkeys(parties) if (name := given.name_of(party))]
    if names:
        yield Heading(words("treatment")["people"])
        yield Points(tuple(names))


def _before_and_after(given: Given, work: Work) -> Iterator[Block]:
    """Each face before and after, side by side; it says where the light differs."""
    said = words("treatment")
    blocks: list[Block] = []
    for face in FACES:
        pair = [_staged(work, face, stages) for stages in (BEFORE, AFTER)]
        before, after = pair
        if before is None or after is None:
            continue
        shown = tuple(
            picture
            for each in (before, after)
            if (picture := given.shown(each, photo_said(each))) is not None
        )
        if len(shown) == 2:
            blocks.append(Pictures(shown))
            if before.light != after.light:
                blocks.append(Paragraph(said["other_light"], "small"))
    if blocks:
        yield Heading(said["photographs"])
        yield from blocks


def _staged(work: Work, face: str, stages: tuple[str, ...]) -> Photo | None:
    return whole(
        [each for each in work.photos if each.stage in stages and not each.mirrored], face
    )


def _tests(given: Given, work: Work) -> Iterator[Block]:
    if not work.tests:
        return
    said = words("treatment")
    where = wheres(work)
    yield Heading(said["tests"])
    yield Table(
        (said["test_number"], said["test"], said["agent"], said["seen"], said["result"]),
        tuple(_test(given, work, each, where.get(each.id, "")) for each in work.tests),
        (2, 8, 7, 6, 4),
    )


def _test(given: Given, work: Work, test: Test, where: str) -> tuple[str, ...]:
    said = words("treatment")
    on = next(
        (each.number or "" for each in work.inscriptions if each.id == test.inscription), ""
    )
    what = joined((capital(label(test.kind)), on), " ")
    done = joined((day_said(test.on), given.name_of(test.by)))
    agent = (
        *map(material_said, test.materials),
        joined(
            (
                f"{said['ph']} {number_said(test.ph)}" if test.ph is not None else "",
                number_said(test.conductivity_ms_cm, "mS/cm"),
                number_said(test.temperature_c, "°C"),
                time_said(test.dwell_s),
            )
        ),
        joined(
            (
                test.applicator or "",
                said["rolls"].format(count=test.rolls) if test.rolls else "",
                number_said(test.area_mm2, "mm²"),
            )
        ),
    )
    responses = (f"{label(each.layer)}: {labels(each.seen)}" for each in test.responses)
    return (
        test.number or "",
        joined((what, where, done, *released(test.notes)), "\n"),
        joined(agent, "\n"),
        "\n".join(responses),
        label(test.result) if test.result else "",
    )


def _treatments(given: Given, work: Work) -> Iterator[Block]:
    said = words("treatment")
    if not any(treatment.steps for treatment in work.treatments):
        yield Paragraph(said["none"])
    where = wheres(work)
    for treatment in work.treatments:
        yield Heading(joined((treatment.number or "", treatment.title or ""), "  "), 2)
        if treatment.aim:
            yield Facts(((said["aim"], label(treatment.aim)),))
        yield from (Paragraph(text) for text in released(treatment.notes))
        for step in treatment.steps:
            yield Heading(f"{treatment.label(step)}  {capital(label(step.kind))}", 3)
            yield Facts(told(_step(given, work, step, where.get(step.id, ""))))
            yield from (Paragraph(text) for text in released(step.notes))


def _step(given: Given, work: Work, step: Step, where: str) -> Iterator[tuple[str, str]]:
    said = words("treatment")
    named = _called(work)
    yield said["done"], _when(step)
    yield said["by"], joined(given.name_of(each) for each in step.by)
    yield said["where"], where if step.location else ""
    yield said["for"], _names(named, step.addresses)
    yield said["materials"], "\n".join(map(material_said, step.materials))
    yield said["set"], number_said(step.set_temperature_c, "°C")
    yield said["surface"], number_said(step.surface_temperature_c, "°C")
    yield said["humidity"], number_said(step.humidity_percent, "%")
    yield said["dwell"], time_said(step.dwell_s)
    yield said["pressure"], number_said(step.pressure_mbar, "mbar")
    yield said["weight"], number_said(step.weight_kg, "kg")
    yield said["ph"], number_said(step.ph)
    yield said["conductivity"], number_said(step.conductivity_ms_cm, "mS/cm")
    yield said["layers"], number_said(step.layers)
    yield said["overlap"], number_said(step.overlap_mm, "mm")
    yield said["edge"], label(step.edge) if step.edge else ""
    yield said["covers"], _names(named, step.covers)
    yield said["removes"], _names(named, step.removes)
    yield said["emergency"], step.emergency or ""
    yield said["outcome"], step.outcome or ""
    yield said["departures"], step.departures or ""


def _called(work: Work) -> dict[str, str]:
    """What people call each value that a step may point at, by its id: "F1 straight tear"."""
    called: dict[str, str] = {}
    numbered: tuple[Inscription | Finding | PriorRepair, ...] = (
        *work.inscriptions,
        *work.findings,
        *work.repairs,
    )
    for each in numbered:
        called[each.id] = joined((each.number or "", label(each.kind)), " ")
    bare: tuple[Part | Layer, ...] = (*work.parts, *work.layers)
    for part in bare:
        called[part.id] = label(part.kind)
    return called


def _names(called: dict[str, str], wanted: tuple[str, ...]) -> str:
    return joined(name for key, name in called.items() if key in wanted)


def _when(step: Step) -> str:
    said = words("treatment")
    if step.began is None:
        return str(said["planned"])
    began = _at(step.began, step.began_at)
    if step.ended is None:
        return began
    if step.ended == step.began:
        clocks = joined((step.began_at or "", step.ended_at or ""), " – ")
        return joined((day_said(step.began), clocks))
    return str(said["until"]).format(began=began, ended=_at(step.ended, step.ended_at))


def _at(day: Day, clock: str | None) -> str:
    return joined((day_said(day), clock or ""))


def _changed(given: Given) -> Iterator[Block]:
    """What was done otherwise than agreed with the client, where the paper is for one commission."""
    said = words("treatment")
    departures = given.job.departures if given.job else ()
    if departures:
        yield Heading(said["agreed"])
        yield Table(
            (said["changed_on"], said["changed"], said["told_on"], said["approved"]),
            tuple(map(_departure, departures)),
            (4, 10, 4, 3),
        )


def _departure(each: Departure) -> tuple[str, ...]:
    what = joined((each.what, each.why or ""), "\n")
    return day_said(each.on), what, day_said(each.told_on), yes_or_no(each.approved)


def _pieces(given: Given) -> Iterator[Block]:
    job: Job | None = given.job
    mine = [each for each in job.pieces if each.work == given.work.document] if job else []
    if mine:
        yield Heading(words("treatment")["pieces"])
        yield piece_rows(given, mine)


def _cautions(given: Given, work: Work) -> Iterator[Block]:
    """The studio's own sheets first, then the reminders of vocab/cautions.toml; always the deference."""
    said = words("treatment")
    called = _called_for(work)
    uses = [use for _, step in _steps(work) for use in step.materials]
    if not uses and not called:
        return
    yield Heading(said["cautions"])
    yield Notice(said["deference_title"], said["deference"].strip())
    if uses:
        yield Heading(said["sheets"], 2)
        yield from _sheets(given, uses)
    if called:
        yield Heading(said["reminders"], 2)
        yield Points(
            tuple(
                said["reminder"].format(says=caution.says, steps=", ".join(steps))
                for caution, steps in called.items()
            )
        )


def _sheets(given: Given, uses: list[MaterialUse]) -> Iterator[Block]:
    """What was typed in from the newest sheet of each product, and which products have none."""
    said = words("treatment")
    used = {_key(each): each for each in uses}
    for each in (*uses, *given.sheets({each.material for each in uses})):
        if _key(each) in used and _dated(each) > _dated(used[_key(each)]):
            used[_key(each)] = each
    rows = tuple(_sheet(each) for each in used.values() if each.data_sheet)
    if rows:
        head = (said["product"], said["sheet"], said["signal"], said["codes"])
        yield Table(head, rows, (8, 5, 4, 9))
    without = [_product(each) for each in used.values() if not each.data_sheet]
    if without:
        yield Paragraph(said["no_sheet"].format(what="; ".join(without)))


def _key(use: MaterialUse) -> tuple[str, str, str]:
    return use.material, use.product or "", use.maker or ""


def _dated(use: MaterialUse) -> int:
    return use.data_sheet.ordinal if use.data_sheet else 0


def _product(use: MaterialUse) -> str:
    return joined((label(use.material), use.product or "", use.maker or ""))


def _sheet(use: MaterialUse) -> tuple[str, ...]:
    hazards = (joined((code, hazard_says(code)), " ") for code in use.hazards)
    precautions = (joined((code, precaution_says(code)), " ") for code in use.precautions)
    return (
        _product(use),
        day_said(use.data_sheet),
        use.signal or "",
        "\n".join((*hazards, *precautions)) or words("treatment")["no_codes"],
    )


def _called_for(work: Work) -> dict[Caution, list[str]]:
    """The reminders that the steps call for, each with the steps that do."""
    found: dict[Caution, list[str]] = {}
    always = standing()
    for treatment, step in _steps(work):
        for caution in cautions(_terms(step)):
            if caution not in always:
                found.setdefault(caution, []).append(treatment.label(step))
    return found


def _terms(step: Step) -> Iterable[str]:
    return (step.kind, *(use.material for use in step.materials))
