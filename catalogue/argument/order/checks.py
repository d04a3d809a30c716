"""What the rules look for: one function a check, each telling in words what is missing, if anything."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Final

from catalogue.argument.covering import (
    before_covering,
    in_words,
    lacking,
    margin_mm,
    present,
    side_of,
)
from catalogue.argument.order.log import Done, Log, Moment, spot_of
from catalogue.argument.order.rows import Rule, is_one
from catalogue.places import table
from catalogue.record import Finding, Inscription, PriorRepair, Step, Test
from catalogue.terms import label

Found = Iterator[str]
Check = Callable[[Log, Rule, Done], Found]
_PASSED: Final = ("result/safe", "result/conditional")
_UNSAFE: Final = "result/unsafe"


def _photographed(log: Log, rule: Rule, done: Done) -> Found:
    """Whole photographs of these faces at one of these stages, taken before the step."""
    earlier = list(log.earlier(done, rule.since))
    if rule.since and not earlier:
        return
    since = max((each.ended for each in earlier if each.ended), default=None)
    for face in rule.faces:
        if not any(
            photo.face and side_of(photo.face) == side_of(face)
            and photo.stage in rule.stages
            and (photo.view == "view/whole" or rule.since)
            and not photo.mirrored
            and _in_time(photo.taken.iso if photo.taken else None, done.began, since)
            for photo in log.work.photos
        ):  # fmt: skip
            stages = " or ".join(label(each) for each in rule.stages)
            yield f"no photograph of the {label(face)} ({stages})"


def _in_time(taken: str | None, before: Moment | None, since: Moment | None) -> bool:
    """A photograph without a day counts: its stage says when it was taken."""
    if taken is None:
        return since is None
    return (before is None or taken <= before[0]) and (since is None or taken >= since[0])


def _approved(log: Log, rule: Rule, done: Done) -> Found:
    """An approval by the client of a job in which the work is here."""
    if isinstance(done.step, Step) and done.step.emergency:
        return
    jobs = [job for job in log.jobs if job.proposals or job.approvals or job.client]
    if not jobs:
        return  # the studio's own work: nobody has to be asked
    given = [(job, approval) for job in jobs for approval in job.approvals]
    if not given:
        yield "nobody has approved a proposal"
        return
    if done.began and all(approval.on.iso > done.began[0] for _, approval in given):
        yield f"it was approved on {min(a.on.iso for _, a in given)}, after the step began"
        return
    options = [
        option
        for job, approval in given
        for proposal in job.proposals
        for option in proposal.options
        if option.id == approval.option
    ]
    if options and all(option.nothing for option in options):
        yield "what was approved is to do nothing, or only to guard the painting"


def _recorded(log: Log, rule: Rule, done: Done) -> Found:
    """Every inscription that is covered or taken away, and what lies over it, is on record."""
    for each in _hidden(log, done):
        lacks = lacking(each, log.work)
        if lacks:
            yield f"{_name(each)} ({in_words(lacks)})"


def _hidden(log: Log, done: Done) -> Iterator[Inscription]:
    """The inscriptions that a step covers or removes, by what it says and by where it works."""
    said = {*done.step.covers, *done.step.removes}
    removed = [each for each in log.work.repairs if each.id in said]
    said |= {target for repair in removed for target in repair.covers}
    reached = {each.id for each in _under(log, done)}
    for each in present(log.work):
        if each.id in said | reached or said & set(each.lies_over):
            yield each


def _under(log: Log, done: Done) -> Iterator[Inscription]:
    """The inscriptions on its side that a covering step lies over; unknown places may lie anywhere."""
    location = done.step.location
    whole = is_one(done.step.kind, tuple(table("covering.toml")["whole_side_steps"]))
    covering = is_one(done.step.kind, tuple(table("covering.toml")["covering_steps"]))
    if not covering or (location is None and not whole):
        return
    face = location.face if location else "face/back"
    shape = location.on_its_face(log.sheet) if location and not whole else None
    for each in before_covering(log.work, shape, face, margin=0):
        if each.level in ("hit", "unknown"):
            yield each.inscription


def _handled(log: Log, rule: Rule, done: Done) -> Found:
    """Each inscription under it is named among what it covers: somebody has seen it and decided."""
    for each in _under(log, done):
        if each.id not in done.step.covers:
            yield _name(each)


def _ink_tested(log: Log, rule: Rule, done: Done) -> Found:
    """Each inscription near, on either side of the canvas, is tested for itself."""
    for each in log.inscriptions_at(done, margin=margin_mm(), through=True):
        tests = [
            test
            for test in log.work.tests
            if test.inscription == each.id
            and is_one(test.kind, rule.tests)
            and _was(test, done)
        ]
        if not tests:
            yield f"{_name(each)} is not tested"
        elif any(test.result == _UNSAFE for test in tests):
            yield f"{_name(each)} was tested, and it is unsafe"


def _agent_tested(log: Log, rule: Rule, done: Done) -> Found:
    """Each agent has a passing test, and none that says unsafe where it is used."""
    passive = table("checks.toml")["words"]["no_data_sheet"]
    for used in done.step.materials:
        active = is_one(used.role, rule.roles) or (
            used.role is None and not is_one(used.material, tuple(passive))
        )
        if not active:
            continue
        tests = [
            test
            for test in log.work.tests
            if _was(test, done)
            and any(is_one(each.material, (used.material,)) for each in test.materials)
        ]
        here = [test for test in tests if _meets(log, done, test)]
        if any(test.result == _UNSAFE for test in here):
            yield f"{label(used.material)}: a test here says unsafe"
        elif not any(test.result in _PASSED for test in tests):
            yield f"{label(used.material)}: no passing test"


def _tested(log: Log, rule: Rule, done: Done) -> Found:
    """One of these tests passed where it works, if what calls for it is there."""
    called_for = [_name(each) for each in log.repairs_at(done, rule.repairs)]
    called_for += [label(each) for each in _materials(log) if is_one(each, rule.materials)]
    if (rule.repairs or rule.materials) and not called_for:
        return
    for test in log.work.tests:
        if is_one(test.kind, rule.tests) and test.result in _PASSED and _was(test, done):
            return
    yield ", ".join(dict.fromkeys(called_for)) or "no test"


def _materials(log: Log) -> Iterator[str]:
    yield from log.work.materials
    for layer in log.work.layers:
        yield from layer.materials
    for repair in log.work.repairs:
        yield from repair.made_of


def _after(log: Log, rule: Rule, done: Done) -> Found:
    """One of these steps was done before, where this one works."""
    called_for = []
    if rule.findings:
        found = [
            each for each in log.findings_at(done, rule.findings) if _is_so(log, each, rule)
        ]
        called_for += [_name(each) for each in found]
    if rule.repairs:
        called_for += [
            _name(each) for each in log.repairs_at(done, rule.repairs) if _still_there(each)
        ]
    if rule.given:
        called_for += [each.called for each in _here(log, done, rule.given)]
    if (rule.findings or rule.repairs or rule.given) and not called_for:
        return
    if next(_here(log, done, rule.after), None) is None:
        yield ", ".join(called_for) or "nothing of the kind was done"


def _here(log: Log, done: Done, kinds: tuple[str, ...]) -> Iterator[Done]:
    for each in log.earlier(done, kinds):
        if log.meets(done.spot, each.spot, through=True):
            yield each


def _is_so(log: Log, finding: Finding, rule: Rule) -> bool:
    latest = log.latest(finding)
    if is_one(latest.change, ("change/treated", "change/not-found")):
        return False
    return not rule.stability or (latest.stability or "stability/unknown") in rule.stability


def _still_there(repair: PriorRepair) -> bool:
    state = repair.latest()
    return state is None or not is_one(
        state.state, tuple(table("checks.toml")["words"]["gone"])
    )


def _not_yet(log: Log, rule: Rule, done: Done) -> Found:
    """None of these steps was done before, where this one works."""
    for each in _here(log, done, rule.after):
        yield each.called


def _taken_off(log: Log, rule: Rule, done: Done) -> Found:
    """Each of these steps that lies here was undone."""
    for each in _here(log, done, rule.after):
        undone = (
            other
            for other in log.earlier(done, rule.undone_by)
            if other.place > each.place and log.meets(other.spot, each.spot, through=True)
        )
        if next(undone, None) is None:
            yield each.called


def _named_batch(log: Log, rule: Rule, done: Done) -> Found:
    for used in done.step.materials:
        if is_one(used.material, rule.materials):
            lacks = [
                words
                for words, told in (
                    ("lot", used.lot),
                    ("year of the formulation", used.formulation_year),
                )
                if told is None
            ]
            if lacks:
                yield f"{label(used.material)} without {' and '.join(lacks)}"


def _rested(log: Log, rule: Rule, done: Done) -> Found:
    """So many hours since the last of these steps ended here; unknown times of day are taken as enough."""
    if done.began is None:
        return
    for each in _here(log, done, rule.after):
        if each.ended is None:
            continue
        hours = _hours(each.ended, done.began, timed=done.timed)
        if hours < rule.hours:
            yield f"{each.called} ended {hours:.0f} hours before, of {rule.hours:g}"


def _hours(ended: Moment, began: Moment, *, timed: bool) -> float:
    """The most hours that may lie between two moments; without a time of day it may be all of it."""
    end = _instant((ended[0], "00:00" if ended[1] == "24:00" else ended[1]))
    hours = (_instant(began) - end).total_seconds() / 3600
    return max(hours if timed else hours + 24, 0)


def _instant(moment: Moment) -> datetime:
    return datetime.fromisoformat(f"{moment[0]}T{moment[1]}")


def _seen_beneath(log: Log, rule: Rule, done: Done) -> Found:
    """What an earlier step took off has been looked under and photographed since."""
    for each in log.steps:
        if each.place >= done.place or each.planned:
            continue
        for repair in log.work.repairs:
            if repair.id not in each.step.removes:
                continue
            if repair.writing_beneath is None:
                yield f"under {_name(repair)} nobody has looked"
            elif not _pictured(log, each, repair):
                yield f"what lay under {_name(repair)} is not photographed"


def _pictured(log: Log, removing: Done, repair: PriorRepair) -> bool:
    face = repair.location.face if repair.location else "face/back"
    day = removing.ended[0] if removing.ended else ""
    return any(
        photo.face is not None
        and side_of(photo.face) == side_of(face)
        and photo.stage in ("stage/during", "stage/after", "stage/outgoing")
        and (photo.taken is None or photo.taken.iso >= day)
        for photo in log.work.photos
    )


def _safety_written(log: Log, rule: Rule, done: Done) -> Found:
    for used in done.step.materials:
        if used.data_sheet is None:
            yield f"{label(used.material)} without its safety data sheet"
    if isinstance(done.step, Step) and not done.step.notes:
        yield "no note of who was kept away"


CHECKS: Final[dict[str, Check]] = {
    "approved": _approved, "photographed": _photographed, "recorded": _recorded,
    "ink_tested": _ink_tested, "agent_tested": _agent_tested, "after": _after, "not_yet": _not_yet,
    "taken_off": _taken_off, "tested": _tested, "handled": _handled, "named_batch": _named_batch,
    "rested": _rested, "seen_beneath": _seen_beneath, "safety_written": _safety_written,
}  # fmt: skip
"""The checks that a rule about a step may name."""


def still_open(log: Log) -> Found:
    """What keeps a work from leaving: steps without an end, departures that nobody approved."""
    for each in log.steps:
        if isinstance(each.step, Step) and each.step.began and each.step.ended is None:
            yield f"{each.called} has no end"
    for job in log.jobs:
        for departure in job.departures:
            if not departure.approved:
                yield f"the departure of {departure.on.iso} is not approved"


def _was(test: Test, done: Done) -> bool:
    """Whether a test was made before a step; one without a day counts."""
    return test.on is None or done.began is None or test.on.iso <= done.began[0]


def _meets(log: Log, done: Done, test: Test) -> bool:
    return log.meets(done.spot, spot_of(test.location), through=True)


def _name(value: Inscription | Finding | PriorRepair) -> str:
    return f"{value.number or ''} {label(value.kind)}".strip()
