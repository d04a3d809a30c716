"""Look-alike labels on file: which labels of past jobs are like one, the families, what a family dates.

What is compared of each label is kept in a file beside the indexes (labels_kept.py), so that an argument
reads no work but those of a family. Photographs are looked at only of labels near by their words.
"""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

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
from catalogue.argument.statements import find_statements
from catalogue.errors import NotOnFile
from catalogue.keeping import as_read
from catalogue.labels_kept import LabelsKept, Leaving
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.places import table
from catalogue.record import Comparison, Inscription, Work

Span = tuple[Day, Day]
Hashes = Callable[[Work, Inscription], tuple[int, ...]]
_MOST_HELD = 2000
"""So many works are remembered as they were read."""
_LOOKED_AT = 8
"""So many labels are compared in full while somebody types."""
_SOON = 60
"""So many works are looked through while somebody types; more are left to a thread of their own."""


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
    """A confirmed family: its labels, the years of those that are dated, its numbers in order.

    `firms` and `addresses` are as they stand on the labels, the most frequent first. `neighbours` are
    the runs of numbers that follow each other closely.
    """

    members: tuple[OnFile, ...]
    verdicts: tuple[Verdict, ...]
    against: tuple[Verdict, ...]
    years: Span | None
    numbers: tuple[tuple[int, OnFile], ...]
    firms: tuple[str, ...] = ()
    addresses: tuple[str, ...] = ()

    @property
    def neighbours(self) -> tuple[tuple[tuple[int, OnFile], ...], ...]:
        """The runs of two numbers and more of which each is near the one before it."""
        near = table("look_alikes.toml")["numbers"]["near"]
        runs: list[list[tuple[int, OnFile]]] = []
        for each in self.numbers:
            if runs and each[0] - runs[-1][-1][0] <= near:
                runs[-1].append(each)
            else:
                runs.append([each])
        return tuple(tuple(run) for run in runs if len({number for number, _ in run}) > 1)


@dataclass(frozen=True, slots=True)
class Proposed:
    """Two labels that may be of one form, and why; nobody said anything of them yet."""

    one: OnFile
    other: OnFile
    likeness: Likeness


class LabelsOnFile:
    """Every label on file, ready to be compared; nobody is read again until it changed."""

    def __init__(self, ledger: Ledger, hashes: Hashes, file: Path) -> None:
        self._ledger = ledger
        self._hashes = hashes
        self._kept = LabelsKept(ledger, file)
        self._works: dict[str, tuple[int, Work]] = {}
        self._shelf = Shelf()
        self._shelved = 0
        self._laying = threading.Lock()
        self._layer: threading.Thread | None = None
        self._families: tuple[Family, ...] = ()
        self._said: tuple[Verdict, ...] = ()
        self._gathered = -1

    def close(self) -> None:
        """Let go of the thread that lays out the labels; what it had half done is done anew next time."""
        self._kept.leave()
        if self._layer is not None:
            self._layer.join()

    def at_hand(self) -> bool:
        """Whether every label can be compared at once, without a look through thousands of works.

        Where not, they are laid out on a thread of their own, for whoever asks again a little later.
        """
        if self._shelved:
            far = len(self._ledger.since(self._shelved)) > _SOON
        else:
            far = len(self._ledger.latest("work", _SOON + 1)) > _SOON
        if far and (self._layer is None or not self._layer.is_alive()):
            self._layer = threading.Thread(target=self.lay_out, name="labels", daemon=True)
            self._layer.start()
        return not far

    def lay_out(self) -> None:
        """Get every label ready to be compared, leaving others room to work; until one is `close`d."""
        try:
            with self._laying:
                self._laid_out(patient=True)
            self._kept.works_that_say()
        except Leaving:
            return

    def _current(self) -> Shelf:
        """The shelf as of the last change; read whole once, and then only what was touched since."""
        with self._laying:
            return self._laid_out()

    def _laid_out(self, *, patient: bool = False) -> Shelf:
        now = self._ledger.last()[0]
        if self._shelved == 0 and now:
            for each in self._kept.labels(patient=patient):
                self._shelf.add(each)
        elif self._shelved != now:
            for document, _ in self._ledger.since(self._shelved):
                if document.startswith("work/"):
                    self._shelf.remove_work(document)
                    work = self._work(document)
                    for inscription in work.inscriptions if work else ():
                        if is_form(inscription):
                            self._shelf.add(seen_of(document, inscription))
        self._shelved = now
        return self._shelf

    def _work(self, document: str) -> Work | None:
        """A listed work, read once for each of its states; None where it is not listed."""
        try:
            head = self._ledger.head(document)
        except NotOnFile:
            return None
        if not head.listed:
            return None
        held = self._works.get(document)
        if held is None or held[0] != head.revision:
            if len(self._works) >= _MOST_HELD:
                self._works.clear()
            held = (head.revision, as_read(self._ledger.read(document)).record)
            self._works[document] = held
        return held[1]

    def on_file(self, where: Where) -> OnFile | None:
        """The label of a work's document id and an inscription's id, None where it is not on file."""
        work = self._work(where[0])
        found = [each for each in work.inscriptions if each.id == where[1]] if work else []
        return OnFile(work, found[0]) if work and found else None

    def alike(self, work: Work, inscription: Inscription) -> tuple[Alike, ...]:
        """The labels like one, best first; what a person called another form is left out."""
        label = self._with_hashes(seen_of(work.document, inscription))
        return tuple(self._alike(label, self._current().like(label, self._with_hashes)))

    def like_typed(
        self, work: Work, inscription: Inscription, at_most: int
    ) -> tuple[Alike, ...]:
        """The labels like one that is still being typed: by words, size and looks, not by photographs."""
        label = seen_of(work.document, inscription)
        like = self._current().like(label, at_most=_LOOKED_AT)
        return tuple(islice(self._alike(label, like), at_most))

    def _alike(self, label: Seen, like: Iterable[Likeness]) -> Iterator[Alike]:
        said = {each.pair: each.said for each in self._verdicts()}
        for each in like:
            verdict = said.get(frozenset((label.id, each.other.id)))
            held = self.on_file(each.other.id)
            if held and (verdict is None or verdict.verdict != "verdict/another-form"):
                yield Alike(held, each, verdict)

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

    def _verdicts(self) -> tuple[Verdict, ...]:
        """What people said of two labels; only the works that hold it are read."""
        now = self._ledger.last()[0]
        if self._gathered != now:
            held = filter(None, map(self._work, self._kept.works_that_say()))
            self._said = tuple(verdict for work in held for verdict in verdicts_of(work))
            self._families = families(self._said)
            self._gathered = now
        return self._said

    def confirmed(self) -> tuple[Family, ...]:
        """The families that people made."""
        self._verdicts()
        return self._families

    def proposed(self, works: Iterable[Work], at_most: int) -> tuple[Proposed, ...]:
        """Pairs that may be of one form, of which nobody said anything yet: labels of these works first.

        Labels that a family joins already are no pair to decide about.
        """
        said = {each.pair for each in self._verdicts()}
        member = {where: at for at, each in enumerate(self._families) for where in each.members}
        found: dict[frozenset[Where], Proposed] = {}
        for work in works:
            for inscription in work.inscriptions:
                if not is_form(inscription):
                    continue
                mine = (work.document, inscription.id)
                for other in self.alike(work, inscription):
                    theirs = other.likeness.other.id
                    pair = frozenset((mine, theirs))
                    together = mine in member and member.get(theirs) == member[mine]
                    if pair not in said and not together:
                        found.setdefault(
                            pair,
                            Proposed(OnFile(work, inscription), other.on_file, other.likeness),
                        )
        ranked = sorted(
            found.values(),
            key=lambda it: (
                it.likeness.band != "likely",
                -it.likeness.score,
                it.likeness.one.id,
            ),
        )
        return tuple(ranked[:at_most])

    def families(self, dated: Callable[[Work], Mapping[str, Span]]) -> tuple[FamilyOnFile, ...]:
        """The confirmed families with their labels; `dated` tells the firm years of a work's labels."""
        whole = (self._whole(each, dated) for each in self.confirmed())
        return tuple(each for each in whole if len(each.members) > 1)

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
            tuple(members), family.joined, family.against, years, tuple(numbers),
            firms=_as_written(members, "statement/name") or _first_lines(members),
            addresses=_as_written(members, "statement/address"),
        )  # fmt: skip

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


def _as_written(members: Iterable[OnFile], kind: str) -> tuple[str, ...]:
    """What labels say of one kind, as on most of them first; what a person rejected is left out."""
    said: Counter[str] = Counter()
    for each in members:
        transcript = each.inscription.preferred()
        if transcript is None:
            continue
        rejected = {
            (one.start, one.end)
            for one in each.inscription.statements
            if one.standing == "standing/rejected" and one.transcript == transcript.id
        }
        said.update(
            found.written
            for found in find_statements(transcript.reading())
            if found.kind == kind and (found.start, found.end) not in rejected
        )
    return tuple(text for text, _ in said.most_common())


def _first_lines(members: Iterable[OnFile]) -> tuple[str, ...]:
    """How labels begin, as most of them do first: a firm mostly stands at the head of its form."""
    shown = filter(None, (each.inscription.preferred() for each in members))
    lines = Counter(each.reading().seen().partition("\n")[0].strip() for each in shown)
    return tuple(text for text, _ in lines.most_common() if text)


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
