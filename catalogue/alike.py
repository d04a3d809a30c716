"""Look-alike labels on file: which labels of past jobs are like one, the families, what a family dates.

The shelf of labels is kept in memory and brought up to date by what was saved since. Photographs are
looked at only of labels that are near by their words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from catalogue.argument import Reason
from catalogue.argument.look_alikes import (
    Family,
    Likeness,
    Seen,
    Shelf,
    compare,
    families,
    seen_of,
    verdicts_of,
)
from catalogue.argument.look_alikes.comparing import is_form
from catalogue.argument.look_alikes.families import Verdict, Where
from catalogue.errors import NotOnFile
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.places import table
from catalogue.record import Comparison, Inscription, Work

Span = tuple[Day, Day]
Hashes = Callable[[Work, Inscription], tuple[int, ...]]
_LABELLED = b'"carries"'


@dataclass(frozen=True, slots=True)
class OnFile:
    """One label on file: its work and itself."""

    work: Work
    inscription: Inscription


@dataclass(frozen=True, slots=True)
class Alike:
    """A label on file that is like another: how far and why, and what a person said of the two."""

    on_file: OnFile
    likeness: Likeness
    verdict: Comparison | None


@dataclass(frozen=True, slots=True)
class FamilyOnFile:
    """A confirmed family: its labels, the years of those that are dated, its numbers in order."""

    members: tuple[OnFile, ...]
    verdicts: tuple[Verdict, ...]
    against: tuple[Verdict, ...]
    years: Span | None
    numbers: tuple[tuple[int, OnFile], ...]


class LabelsOnFile:
    """Every label on file, ready to be compared; nobody is read again until it changed."""

    def __init__(self, ledger: Ledger, hashes: Hashes) -> None:
        self._ledger = ledger
        self._hashes = hashes
        self._last = 0
        self._shelf = Shelf()
        self._works: dict[str, Work] = {}

    def _current(self) -> Shelf:
        now = self._ledger.last()[0]
        if self._last == now:
            return self._shelf
        if self._last == 0:
            for revision in self._ledger.bodies("work"):
                if _LABELLED in revision.body:
                    self._put(as_read(revision).record)
        else:
            for document, head in self._ledger.since(self._last):
                self._shelf.remove_work(document)
                self._works.pop(document, None)
                if document.startswith("work/") and not head.withdrawn and not head.merged_into:
                    self._put(as_read(self._ledger.read(document)).record)
        self._last = now
        return self._shelf

    def _put(self, work: Work) -> None:
        forms = [each for each in work.inscriptions if is_form(each)]
        if not forms and not any(each.compared for each in work.inscriptions):
            return
        self._works[work.document] = work
        for each in forms:
            self._shelf.add(seen_of(work.document, each))

    def on_file(self, where: Where) -> OnFile | None:
        """The label of a work's document id and an inscription's id, None where it is not on file."""
        self._current()
        work = self._works.get(where[0])
        found = [each for each in work.inscriptions if each.id == where[1]] if work else []
        return OnFile(work, found[0]) if work and found else None

    def alike(self, work: Work, inscription: Inscription) -> tuple[Alike, ...]:
        """The labels like one, best first; what a person called another form is left out."""
        shelf = self._current()
        label = self._with_hashes(seen_of(work.document, inscription))
        said = {each.pair: each.said for each in self._verdicts()}
        found: list[Alike] = []
        for each in shelf.like(label, self._with_hashes):
            verdict = said.get(frozenset((label.id, each.other.id)))
            held = self.on_file(each.other.id)
            if held and (verdict is None or verdict.verdict != "verdict/another-form"):
                found.append(Alike(held, each, verdict))
        return tuple(found)

    def side_by_side(self, one: Where, other: Where) -> Likeness:
        """Two labels compared in full. Raises `NotOnFile`."""
        sides = [self.on_file(each) for each in (one, other)]
        if sides[0] is None or sides[1] is None:
            raise NotOnFile("one of the two labels is not on file")
        seen = [
            self._with_hashes(seen_of(each.work.document, each.inscription))
            for each in sides if each
        ]  # fmt: skip
        return compare(seen[0], seen[1])

    def _with_hashes(self, label: Seen) -> Seen:
        held = self.on_file(label.id)
        return (
            replace(label, hashes=self._hashes(held.work, held.inscription)) if held else label
        )

    def _verdicts(self) -> Iterator[Verdict]:
        self._current()
        for work in self._works.values():
            yield from verdicts_of(work)

    def confirmed(self) -> tuple[Family, ...]:
        """The families that people made."""
        return families(self._verdicts())

    def families(self, dated: Callable[[Work], Mapping[str, Span]]) -> tuple[FamilyOnFile, ...]:
        """The confirmed families with their labels; `dated` tells the firm years of a work's labels."""
        return tuple(self._whole(each, dated) for each in self.confirmed())

    def _whole(
        self, family: Family, dated: Callable[[Work], Mapping[str, Span]]
    ) -> FamilyOnFile:
        members = [held for each in family.members if (held := self.on_file(each))]
        years = span_of(self._spans(members, dated))
        numbers = sorted(
            (
                (number, each)
                for each in members
                for number in seen_of("", each.inscription).numbers
            ),
            key=lambda it: it[0],
        )
        return FamilyOnFile(
            tuple(members), family.joined, family.against, years, tuple(numbers)
        )

    @staticmethod
    def _spans(
        members: Iterable[OnFile], dated: Callable[[Work], Mapping[str, Span]]
    ) -> Iterator[Span]:
        for each in members:
            span = dated(each.work).get(each.inscription.id)
            if span:
                yield span

    def reasons(
        self, work: Work, dated: Callable[[Work], Mapping[str, Span]]
    ) -> dict[str, Reason]:
        """What confirmed families say of the years of this work's labels, by the inscription's id."""
        found: dict[str, Reason] = {}
        if not any(is_form(each) for each in work.inscriptions):
            return found
        for family in self.confirmed():
            for where in family.members:
                if where[0] != work.document:
                    continue
                others = [
                    held for each in family.members
                    if each != where and (held := self.on_file(each))
                ]  # fmt: skip
                others = [each for each in others if each.inscription.id in dated(each.work)]
                span = span_of(self._spans(others, dated))
                if span:
                    found[where[1]] = family_reason(others, span)
        return found


def span_of(spans: Iterable[Span]) -> Span | None:
    """From the first day of the earliest to the last day of the latest."""
    held = tuple(spans)
    return (min(each[0] for each in held), max(each[1] for each in held)) if held else None


def family_reason(members: Iterable[OnFile], span: Span) -> Reason:
    """What the dated members of a family say of a new one: soft, of the label, never of the painting."""
    rules = table("look_alikes.toml")["dating"]
    held = sorted(
        (each.work.number or each.work.id, each.inscription.number or "") for each in members
    )
    return Reason(
        rule=f"family:{held[0][0]}-{held[0][1]}",
        written="", start=0, end=0,
        earliest=span[0], latest=span[1],
        soft_earliest=span[0],
        soft_latest=span[1],
        strength="soft",
        dates="use",
        why=rules["why"].format(members=", ".join(" ".join(each).strip() for each in held)),
        source=rules["source"],
        verified=rules["verified"],
    )  # fmt: skip
