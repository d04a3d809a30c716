"""Exhibitions, and what was done in the studio: checks and the steps of treatments, on their days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from catalogue.argument.timing.claims import Claim, Event, Instant
from catalogue.argument.timing.dated import lasting, on_days
from catalogue.argument.timing.lives import in_life, life_id
from catalogue.argument.timing.making import made
from catalogue.argument.timing.saying import (
    YEAR_DAYS,
    Said,
    after,
    claim,
    event,
    named,
    settings,
)
from catalogue.record import Exhibition, Party, Step, Treatment, Work
from catalogue.terms import label


def shows(work: Work, parties: Mapping[str, Party]) -> Iterator[Said]:
    """Every exhibition: the painting was there, somebody lent it, a label was stuck on for it."""
    own = made(work)
    for show in work.exhibitions:
        here = event("exhibition", show.id, show.title, show.title)
        about = {"what": show.title, "called": show.title}
        yield here
        yield from lasting(here, show.when, show.id, f"the exhibition {show.title}")
        for kind, instant in (("shown-begun", own.began), ("shown-finished", own.ended)):
            bounds = after(instant, here.began)
            yield claim(kind, show.id, bounds, (show.id,), **about)
        lender = parties.get(show.lender or "")
        if lender:
            bounds = in_life(life_id(lender), here.began, here.began)
            rests_on = (show.id, lender.document)
            yield claim("lent", show.id, bounds, rests_on, name=lender.name(), **about)
        yield from _its_labels(work, show, here)


def _its_labels(work: Work, show: Exhibition, here: Event) -> Iterator[Claim]:
    near = settings("near_years") * YEAR_DAYS
    cited = {each.source for each in show.evidence}
    for mark in work.inscriptions:
        if mark.id in cited:
            fixed = Instant(mark.id, "began")
            bounds = (*after(here.began, fixed, near), *after(fixed, here.ended, near))
            yield claim(
                "shown-label", f"{show.id}:{mark.id}", bounds, (show.id, mark.id),
                what=show.title, mark=named(mark),
            )  # fmt: skip


# --- the studio -----------------------------------------------------------------------------------


def in_the_studio(work: Work) -> Iterator[Said]:
    """Every check, and every step that has a day, covers something or takes it away."""
    own = made(work)
    for check in work.checks:
        name = f"{check.number or ''} ({label(check.occasion)})".strip()
        here = event("check", check.id, check.number or name, name, moment=True)
        yield here
        yield from on_days(here, check.on, None, check.id, here.words)
        bounds = after(own.ended, here.began)
        yield claim("checked", check.id, bounds, (check.id,), what=here.words)
    for treatment in work.treatments:
        yield from _steps(treatment)


def _steps(treatment: Treatment) -> Iterator[Said]:
    told = [step for step in treatment.steps if step.began or step.covers or step.removes]
    for step in told:
        here, name = _step_event(treatment, step), treatment.label(step)
        yield here
        yield from on_days(here, step.began, step.ended, step.id, name)
    for earlier, later in pairwise(told):
        if earlier.began and later.began:
            continue  # their days say it, and work may overlap
        yield claim(
            "steps", later.id,
            after(Instant(earlier.id, "began"), Instant(later.id, "began")),
            (earlier.id, later.id),
            what=treatment.label(later), before=treatment.label(earlier),
        )  # fmt: skip


def _step_event(treatment: Treatment, step: Step) -> Event:
    name = treatment.label(step)
    return event("step", step.id, name, f"{name} ({named(step)})")
