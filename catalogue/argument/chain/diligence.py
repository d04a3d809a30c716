"""The due-diligence list of a work: each question, what is on file about it, and what is open.

What the record of inquiries says is told as facts with their days; how far a window of years is
known is computed from the events, whatever anybody wrote down. It certifies nothing: a search
without result proves no title.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from catalogue.argument.chain import words
from catalogue.argument.chain.coverage import Coverage, coverage
from catalogue.argument.chain.holders import Names
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import window
from catalogue.measure import Day
from catalogue.record import Inquiry, Paper, ProvenanceEvent, Work
from catalogue.terms import label

Sort = Literal["inquiry", "paper", "event"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing on file: of what sort, its id and number, its day, in words.

    `answers` is false for what was asked and not answered. `visibility` is that of the value.
    """

    sort: Sort
    value: str
    number: str
    on: Day | None
    says: str
    answers: bool
    visibility: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One question of the list, the facts on file, the window that was computed for it where it has one.

    `open` says that somebody has still to look: nothing answers it, or days of its window are not
    proven. It never says that all is well.
    """

    key: str
    question: str
    facts: tuple[Fact, ...]
    coverage: Coverage | None
    open: bool
    source: str

    @property
    def last_asked(self) -> Day | None:
        """The last day on which anything about it was asked or seen."""
        days = [each.on for each in self.facts if each.on and each.sort == "inquiry"]
        return max(days, default=None)

    def says(self) -> tuple[str, ...]:
        """What is on file, in words, one fact a line; that there is nothing, where there is nothing."""
        return tuple(_says(self))


def diligence(work: Work, tenures: Sequence[Tenure], names: Names = str) -> tuple[Asked, ...]:
    """Every question of the list (vocab/chain.toml) that this work is asked, in its order."""
    return tuple(
        found
        for row in words.rows("question")
        if (found := _asked(row, work, tenures, names)) is not None
    )


def closing() -> str:
    """What stands under every such list: that it certifies nothing, and accuses nobody."""
    said: str = words.table("diligence")["always"]
    return said


def _asked(
    row: dict[str, Any], work: Work, tenures: Sequence[Tenure], names: Names
) -> Asked | None:
    facts = tuple(_facts(row, work, names))
    years = coverage(tenures, window(row["window"]), work.made) if "window" in row else None
    only_if = row.get("only_if", "")
    if only_if == "concerned" and years and years.level == "not-concerned" and not facts:
        return None
    if only_if == "events" and not facts:
        return None
    unproven = years is not None and years.level in ("open", "partly")
    return Asked(
        key=row["key"],
        question=row["asks"],
        facts=facts,
        coverage=years,
        open=unproven
        or not (any(each.answers for each in facts) or (years and years.level == "accounted")),
        source=row["source"],
    )


def _facts(row: dict[str, Any], work: Work, names: Names) -> Iterator[Fact]:
    for inquiry in work.inquiries:
        if inquiry.kind in row.get("inquiries", ()):
            yield _of_inquiry(inquiry, work, names)
    for paper in work.papers:
        if paper.kind in row.get("papers", ()):
            yield _of_paper(paper)
    for event in work.provenance:
        if event.kind in row.get("events", ()):
            yield _of_event(event)


def _of_inquiry(each: Inquiry, work: Work, names: Names) -> Fact:
    answered = each.result is not None and each.result not in words.terms(
        "diligence", "unanswered"
    )
    return Fact(
        sort="inquiry",
        value=each.id,
        number=each.number or "",
        on=each.on,
        says="; ".join(_inquiry_said(each, work, names)),
        answers=answered,
        visibility=each.visibility,
    )


def _inquiry_said(each: Inquiry, work: Work, names: Names) -> Iterator[str]:
    yield words.say("diligence", "inquiry", kind=label(each.kind), subject=each.subject)
    yield words.day(each.on) if each.on else words.table("diligence")["undated"]
    if each.by:
        yield words.say("diligence", "by", by=names(each.by))
    if each.asked:
        yield words.say("diligence", "asked", asked=each.asked)
    if each.result:
        yield words.say("diligence", "result", result=label(each.result))
    else:
        yield words.say("diligence", "no_result")
    if each.reference:
        yield words.say("diligence", "reference", reference=each.reference)
    seen = [paper.number or paper.title for paper in work.papers if paper.id in each.papers]
    if seen:
        yield words.say("diligence", "seen_papers", papers=", ".join(seen))


def _of_paper(each: Paper) -> Fact:
    facts = {"number": each.number or "", "kind": label(each.kind), "title": each.title}
    said = words.say("diligence", "paper", **facts).strip()
    day = words.day(each.on) if each.on else words.table("diligence")["undated"]
    return Fact(
        sort="paper",
        value=each.id,
        number=each.number or "",
        on=each.on,
        says=f"{said}; {day}",
        answers=True,
        visibility=each.visibility,
    )


def _of_event(each: ProvenanceEvent) -> Fact:
    said = words.say("diligence", "event", number=each.number or "", kind=label(each.kind))
    when = f", {each.when.written}" if each.when else ""
    return Fact(
        sort="event",
        value=each.id,
        number=each.number or "",
        on=None,
        says=f"{said.strip()}{when}",
        answers=False,
        visibility=each.visibility,
    )


def _says(asked: Asked) -> Iterator[str]:
    yield from (each.says for each in asked.facts)
    if asked.coverage:
        first, *others, _ = asked.coverage.says()
        yield words.say("diligence", "window", name=asked.coverage.window.name, says=first)
        yield from others
    elif not asked.facts:
        yield words.say("diligence", "nothing")
