"""One row being read: what goes into the work, what into the job, and ids that the next import finds again.

An id is made of the book's name, the row's key and what the value is; never of its place in the file.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, fields, is_dataclass, replace
from typing import Any, TypeVar
from uuid import NAMESPACE_URL, UUID, uuid5

from catalogue.exchange.books.mapping import Mapping
from catalogue.job_books.told import said
from catalogue.measure import DateSpan
from catalogue.record import (
    Attribution,
    Inscription,
    Item,
    Job,
    Note,
    Number,
    Offer,
    ProvenanceEvent,
    Size,
    Title,
    Treatment,
    Work,
)
from catalogue.record.rules import values_within

V = TypeVar("V")
IN_THE_HOUSE = "visibility/studio"


def shelf_of(book: str) -> UUID:
    """The space in which the ids of a book of this name are made."""
    return uuid5(NAMESPACE_URL, f"job-book:{book}")


@dataclass(slots=True)
class Entry:
    """What one row says so far. `own` is the space in which its ids are made."""

    mapping: Mapping
    own: UUID
    from_1904: bool | None = None
    numbers: list[Number] = field(default_factory=list)
    titles: list[Title] = field(default_factory=list)
    attributions: list[Attribution] = field(default_factory=list)
    made: DateSpan | None = None
    medium: str | None = None
    sizes: list[Size] = field(default_factory=list)
    inscriptions: list[Inscription] = field(default_factory=list)
    provenance: list[ProvenanceEvent] = field(default_factory=list)
    treatments: list[Treatment] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    item: dict[str, Any] = field(default_factory=dict)
    job: dict[str, Any] = field(default_factory=dict)
    job_notes: list[Note] = field(default_factory=list)
    offers: list[Offer] = field(default_factory=list)
    measures: dict[str, str] = field(default_factory=dict)
    reaches: list[tuple[str, str]] = field(default_factory=list)

    def new_id(self, what: str) -> str:
        """The id of a value of this row, which the next import gives it again."""
        return str(uuid5(self.own, what))

    @property
    def work_id(self) -> str:
        """The id of its work, without the kind."""
        return self.new_id("work")

    def note(self, kind: str, text: str, sentence: str = "", **more: str) -> None:
        """Add a note on the work; `sentence` is a key of [note] that the text stands in."""
        self.notes.append(self._note("note", self.notes, kind, text, sentence, **more))

    def job_note(self, kind: str, text: str, sentence: str = "", **more: str) -> None:
        """Add a note to the job, which never leaves the house."""
        note = self._note("job note", self.job_notes, kind, text, sentence, **more)
        self.job_notes.append(note)

    def _note(
        self, what: str, among: list[Note], kind: str, text: str, sentence: str, **more: str
    ) -> Note:
        at = sum(each.kind == kind for each in among)
        told = said("note")[sentence].format(text=text, **more) if sentence else text
        return Note(id=self.new_id(f"{what} {kind} {at}"), kind=kind, text=told)

    @property
    def says_something(self) -> bool:
        """Whether anything of the row goes into a record."""
        held = (
            self.titles, self.attributions, self.made, self.medium, self.sizes, self.inscriptions,
            self.provenance, self.treatments, self.notes, self.numbers, self.has_job,
        )  # fmt: skip
        return any(held)

    @property
    def has_job(self) -> bool:
        """Whether it says anything of a commission."""
        said_of_it = {name for name in self.job if name != "reason"}
        return bool(said_of_it or self.item or self.job_notes or self.offers)

    def work(self) -> Work:
        """The work that the row makes. Raises `BadData`."""
        whole = Work(
            id=self.work_id,
            numbers=tuple(self.numbers),
            titles=tuple(self.titles),
            attributions=tuple(self.attributions),
            made=self.made,
            medium=self.medium,
            sizes=tuple(self.sizes),
            inscriptions=tuple(self.inscriptions),
            provenance=tuple(self.provenance),
            treatments=tuple(self.treatments),
            notes=tuple(self.notes),
        )
        return _lasting(whole)

    def commission(self) -> Job | None:
        """The job that the row makes, None where it says nothing of one. Raises `BadData`."""
        if not self.has_job:
            return None
        item = Item(id=self.new_id("item"), work=f"work/{self.work_id}", **self.item)
        fallback = "reason/consignment" if self.offers else "reason/other"
        held = {"reason": fallback, **self.job}
        return Job(
            id=self.new_id("job"),
            items=(item,),
            offers=tuple(self.offers),
            notes=tuple(self.job_notes),
            **held,
        )


def _lasting(value: V) -> V:
    """The value, with the ids of everything within its parts made from theirs."""
    changed = {
        each.name: tuple(_within(member) for member in getattr(value, each.name))
        for each in fields(value)  # type: ignore[arg-type]
        if _holds_values(getattr(value, each.name))
    }
    return replace(value, **changed)  # type: ignore[type-var]


def _within(value: Any) -> Any:
    changed: dict[str, Any] = {}
    for each in fields(value):
        held = getattr(value, each.name)
        if _holds_values(held):
            members = sorted(held, key=lambda member: (member.rank[:-1], _gist(member)))
            changed[each.name] = tuple(
                _within(replace(member, id=_under(value.id, f"{each.name}/{at}")))
                for at, member in enumerate(members)
            )
        elif is_dataclass(held) and hasattr(held, "id"):
            changed[each.name] = _within(replace(held, id=_under(value.id, each.name)))  # type: ignore[type-var]
    return replace(value, **changed) if changed else value


def _under(own: str, what: str) -> str:
    return str(uuid5(UUID(own), what))


def _holds_values(held: object) -> bool:
    return isinstance(held, tuple) and bool(held) and hasattr(held[0], "rank")


def _gist(value: Any) -> str:
    """What a value says, without ids: to tell apart values that are ordered alike."""
    return repr([
        [(each.name, getattr(inner, each.name)) for each in fields(inner)
         if each.name != "id" and not _holds_values(getattr(inner, each.name))
         and not hasattr(getattr(inner, each.name), "id")]
        for inner in values_within(value)
    ])  # fmt: skip


def joined(parts: Iterable[str]) -> str:
    """What is left over, part by part, with a stroke between."""
    return " | ".join(each for each in (part.strip(" \t\r\n,;.") for part in parts) if each)
