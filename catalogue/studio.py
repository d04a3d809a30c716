"""The one door: every verb of the tool. Desk and command line ask the studio one thing and show it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from types import MappingProxyType, TracebackType
from typing import TYPE_CHECKING, Any, cast
from zoneinfo import ZoneInfo

from catalogue import doubles, price_keys, samples, saved_searches, sent
from catalogue.adopting import adopt, may_become
from catalogue.at_the_bench import InTheHouse, Shown, in_order, sentence
from catalogue.bench_kept import BenchKept
from catalogue.bringing_back import saved_again, without
from catalogue.data_sheets import DataSheets
from catalogue.deciding import decided, decision_on, decision_said, undecided
from catalogue.errors import BadData, BadPicture, BadSetting, CatalogueError, Damaged, NotOnFile
from catalogue.following import Remembered
from catalogue.half_typed import NEW_RECORDS
from catalogue.history import Told, ValueChange, between, retold
from catalogue.house import (
    Commission,
    Overdue,
    Whereabouts,
    commission,
    conflicts,
    keep_away,
    keep_off_the_bench,
    keep_to_what_was_approved,
    overdue,
    whereabouts,
)
from catalogue.jobs_on_file import JobsOnFile
from catalogue.keeping import (
    Kept,
    R,
    as_read,
    as_read_lately,
    at,
    claimed,
    is_document,
    joined,
    media_type_of,
    numbered,
    subject,
    written,
)
from catalogue.ledger import Change, Ledger, OpenChange, Progress, Verdict, restore
from catalogue.linked.approvals import as_approved
from catalogue.linked.documents import FORMAT, to_jsonld
from catalogue.linked.text import Node, parse, write
from catalogue.lists import JobLine, Leaf, Lists, PartyLine
from catalogue.measure import (
    CodeReading,
    DateSpan,
    Day,
    PriceKey,
    attribution_term,
    read_attribution,
    read_date,
    why_not,
)
from catalogue.named_by import NamedBy
from catalogue.record import (
    Attribution,
    Comparison,
    Inscription,
    Job,
    MaterialUse,
    Note,
    Paper,
    Party,
    PartyName,
    Photo,
    Reference,
    Release,
    Statement,
    Title,
    Work,
    digest_of,
    is_address,
    is_id,
)
from catalogue.record.rules import KINDS
from catalogue.retention_kept import RetentionKept
from catalogue.secrets_kept import SecretsKept
from catalogue.setting_aside import (
    WITHHELD,
    Forgetting,
    Joining,
    Standing,
    forget,
    forgetting,
    joining,
    merge,
    reasoned,
    reinstate,
    standing,
    unmerge,
    withdraw,
)
from catalogue.surface import Box
from catalogue.terms import concept, label

if TYPE_CHECKING:
    from catalogue.about_person import OnPerson
    from catalogue.alike import Alike, FamilyOnFile, LabelsOnFile, Proposed
    from catalogue.arguing import Argued, FirmsOnFile
    from catalogue.argument import KnownAddress
    from catalogue.argument.borders import Advice, Journey
    from catalogue.argument.chain.falling import Falls, Rereading
    from catalogue.argument.chain.resting import Rest, Supported
    from catalogue.argument.statements import FoundStatement
    from catalogue.argument.timing.changes import Changes
    from catalogue.argument.timing.solving import Chronology
    from catalogue.arriving import Imported, Intake
    from catalogue.asking import Asker
    from catalogue.card import Looked
    from catalogue.checking import Remark
    from catalogue.doubles import Double
    from catalogue.drafting import MachineDraft
    from catalogue.exchange.passed_over import PassedOver
    from catalogue.exchange.sending import Exported
    from catalogue.exchange.withholding.at_home import Listener
    from catalogue.exporting import Exporting
    from catalogue.finding import Finder
    from catalogue.foretelling import Foretold
    from catalogue.hands import Asked, Hands, Held
    from catalogue.indexes.asked import Answer
    from catalogue.indexes.questions import Question
    from catalogue.indexes.words import Query, Results
    from catalogue.job_books.taking import BookTaking
    from catalogue.ledger import BackupFacts, Draft
    from catalogue.narrowing import Facet
    from catalogue.photos import Outline, Tiles
    from catalogue.photos.laid_over import Overlay
    from catalogue.previewing import Seen
    from catalogue.printing import Printed
    from catalogue.retention import Due, Hold
    from catalogue.samples import Sample
    from catalogue.saved_searches import SavedSearch
    from catalogue.sent import Sent
    from catalogue.shapes_kept import ShapesKept
    from catalogue.sittings import Doing, Frame
    from catalogue.telling import Brackets, Form, Taken, Written


WORKED_OUT = 64
"""So much of what was worked out for pages, chronologies above all, is remembered while nothing is saved."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What a day begins with: what is here and needs a hand first, what is half done, worked on last.

    `says` is in one sentence what needs a hand today, `works` how many works are on file.
    """

    says: str
    here: tuple[InTheHouse, ...]
    drafts: tuple[Draft, ...]
    latest: tuple[Shown, ...]
    works: int


class Studio:
    """An open studio: its ledger, its indexes, and every verb of the tool.

    Close it, or use it in a `with`. Any thread may call it.
    """

    def __init__(self, ledger: Ledger) -> None:
        self.ledger = ledger
        self.folder = ledger.folder
        self._opening = Lock()
        self._index: Finder | None = None
        self._members: tuple[int, tuple[Party, ...]] = (0, ())
        self._graph: Asker | None = None
        self._firms: FirmsOnFile | None = None
        self._labels_on_file: LabelsOnFile | None = None
        self._shapes_kept: ShapesKept | None = None
        self._sheets = DataSheets(ledger)
        self._jobs = JobsOnFile(ledger)
        self._lists = Lists(ledger)
        self._named_by = NamedBy(ledger)
        self._doubles = doubles.Doubles(ledger)
        self._retention = RetentionKept(ledger)
        self._secrets = SecretsKept(ledger)
        self._looked_at = Remembered(ledger)
        self._worked_out = Remembered(ledger, WORKED_OUT)
        self._kept_bench = BenchKept(
            ledger, self._jobs, self.jobs_of, self.name_of,
            lambda work: self.showing(work, "face/front") or self.showing(work, "face/back"),
        )  # fmt: skip

    @classmethod
    def init(
        cls, folder: str | Path, *, base: str | None = None, zone: str | None = None
    ) -> Studio:
        """A new studio in an empty or new folder; `base` is the address its records go out under."""
        _check_base(base)
        studio = cls(Ledger.create(Path(folder), zone=zone))
        if base is not None:
            studio.set_base(base)
        return studio

    @classmethod
    def open(cls, path_or_url: str | Path) -> Studio:
        """The studio in a folder, or a passing one for `memory:`. Raises `NoStudio`."""
        named = str(path_or_url)
        if named == "memory:":
            return cls(Ledger.create(None))
        where = Path(named.removeprefix("file://"))
        return cls(Ledger.open(where))

    def close(self) -> None:
        """Let go of the ledger and the indexes."""
        if self._index is not None:
            self._index.close()
        if self._labels_on_file is not None:
            self._labels_on_file.close()
        self.ledger.close()

    def __enter__(self) -> Studio:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # --- settings, who and when -------------------------------------------------------------------

    @property
    def base(self) -> str | None:
        """The address that records go out under, None for `urn:uuid:`."""
        return self.ledger.setting("base") or None

    def set_base(self, base: str | None) -> None:
        """Change the address that records go out under; what was sent earlier is still known."""
        _check_base(base)
        self.ledger.set_setting("base", base or "")

    @property
    def letterhead(self) -> tuple[str, ...]:
        """The lines at the head of every paper: who the studio is and how to reach it."""
        return tuple((self.ledger.setting("letterhead") or "").splitlines())

    def set_letterhead(self, lines: Iterable[str]) -> None:
        """Change the lines at the head of papers; those that are empty are left out."""
        kept = (" ".join(line.split()) for line in lines)
        self.ledger.set_setting("letterhead", "\n".join(line for line in kept if line))

    def set_engine(self, name: str) -> str:
        """Choose what finds words: "usual", or "large" for great catalogues; both find the same works.

        The index is made anew by it at the next search. What is returned tells whether it is installed
        ("" when all is well). Raises `BadSetting` for an engine that there is not.
        """
        from catalogue.indexes import engines

        if name not in engines.NAMES:
            raise BadSetting(
                f"there is no engine {name!r}", remedy=f"choose {' or '.join(engines.NAMES)}"
            )
        self.ledger.set_setting("engine", name)
        if self._index is not None:
            self._index.close()
            self._index = None
        return engines.notice(name)

    def today(self) -> Day:
        """The day it is in the studio's own zone."""
        now = datetime.now(ZoneInfo(self.ledger.setting("zone") or "UTC"))
        return Day(now.year, now.month, now.day)

    def members(self) -> tuple[Party, ...]:
        """The people who work here: parties in the role of studio member, by name."""
        # Every save asks: nobody is read again until some party changed.
        last, known = self._members
        now = self.ledger.last()[0]
        touched = self.ledger.since(last) if 0 < last < now else []
        if last == 0 or any(each.startswith("party/") for each, _ in touched):
            known = self._members_on_file()
        self._members = (now, known)
        return known

    def _members_on_file(self) -> tuple[Party, ...]:
        role = concept("role/studio-member")
        marks = [each.encode() for each in (role.iri, role.aat) if each]
        # A look at the text spares reading thousands of other parties.
        found = (
            as_read(revision).record
            for revision in self.ledger.bodies("party")
            if any(mark in revision.body for mark in marks)
        )
        here = (party for party in found if role.key in party.roles)
        return tuple(sorted(here, key=lambda party: party.name()))

    def who(self, said: str) -> str:
        """What the ledger writes for a person: a member's id when the name is a member's, else the name."""
        if said.startswith("party/") and self.ledger.has(said):
            return said
        for member in self.members():
            if said in (member.document, member.id) or said in {
                name.text for name in member.names
            }:
                return member.document
        return said

    def name_of(self, document_id: str | None) -> str:
        """What to call a party, a work or a name as it was said."""
        if not document_id:
            return ""
        with suppress(NotOnFile):
            own = self.at(document_id)
            return self._label(own)[1] if own else document_id
        return document_id

    def at(self, named: str) -> str | None:
        """The document of an id or of a full address from elsewhere; None where there is none.

        A record that was merged, or made one of our own, is found as the one that answers for it.
        """
        if is_address(named):
            return at(self.ledger, named)
        return named if is_document(named) and self.ledger.has(named) else None

    # --- reading ----------------------------------------------------------------------------------

    def read(self, document_id: str, revision: int | None = None) -> Kept[Any]:
        """A record by document id ("work/<uuid>"), as it stands or as it stood. Raises `NotOnFile`."""
        return as_read_lately(self.ledger.read(document_id, revision))

    def document(self, document_id: str, revision: int | None = None) -> Node:
        """The stored document itself."""
        return parse(self.ledger.read(document_id, revision).body)

    def all(self, kind: type[R]) -> Iterator[Kept[R]]:
        """Every record of one kind that is listed."""
        for revision in self.ledger.bodies(kind.__name__.lower()):
            yield cast("Kept[R]", as_read(revision))

    def work(self, wanted: str) -> Kept[Work]:
        """A work by its number ("2026-041"), its UUID or its document id. Raises `NotOnFile`.

        The number of one that was merged finds the one that answers for it.
        """
        if wanted.startswith("work/"):
            return self.read(wanted)
        if is_id(wanted):
            return self.read(f"work/{wanted}")
        for listed_only in (True, False):
            for kept in self._holding(wanted, Work, listed_only):
                if kept.record.number == wanted:
                    return kept if listed_only else self.read(kept.document_id)
        raise NotOnFile(
            f"no work has the number {wanted!r}", remedy="dorse search finds by words"
        )

    def party(self, wanted: str) -> Kept[Party]:
        """A party by UUID or document id. Raises `NotOnFile`."""
        return self.read(wanted if wanted.startswith("party/") else f"party/{wanted}")

    def find_party(self, name: str) -> Kept[Party] | None:
        """The party that has this very name among its names, or None."""
        found = self.parties_called(name)
        return self.read(found[0].document) if found else None

    def parties_called(self, name: str) -> tuple[Party, ...]:
        """Every listed party that has this very name among its names, in whatever case."""
        wanted = name.strip().casefold()
        # A look at the text spares reading ten thousand parties to find one.
        written = json.dumps(wanted, ensure_ascii=False)[1:-1]
        found = (
            as_read(revision).record
            for revision in self.ledger.bodies("party")
            if b"\\u" in revision.body or written in revision.body.decode().casefold()
        )
        return tuple(
            party
            for party in found
            if any(each.text.strip().casefold() == wanted for each in party.names)
        )

    def named(self, wanted: str) -> Kept[Any]:
        """Whatever a person means by a number, a name, an id or an address. Raises `NotOnFile`."""
        return self.read(self.meant(wanted))

    def meant(self, wanted: str) -> str:
        """The document that a person means, itself even where another answers for it by now.

        What is listed comes before what was merged or set aside. Raises `NotOnFile`.
        """
        ids = (f"{kind}/{wanted}" for kind in KINDS) if is_id(wanted) else (wanted,)
        for own in map(self.at, ids):
            if own:
                return own
        kinds: tuple[Any, ...] = (Work, Job, Party)
        for listed_only in (True, False):
            for kind in kinds:
                for kept in self._holding(wanted, kind, listed_only):
                    record = kept.record
                    names = (
                        [each.text for each in record.names]
                        if kind is Party
                        else [record.number]
                    )
                    if wanted in names:
                        return kept.document_id
        raise NotOnFile(
            f"nothing on file is called {wanted!r}",
            remedy="a number (2026-041), a name in full, an id; dorse search finds by words",
        )

    def _holding(self, words: str, kind: type[R], listed_only: bool) -> Iterator[Kept[R]]:
        """The records of a kind that hold these words somewhere."""
        # A look at the text spares reading ten thousand records to find one.
        wanted = json.dumps(words, ensure_ascii=False).encode()
        for revision in self.ledger.bodies(kind.__name__.lower(), listed_only=listed_only):
            if wanted in revision.body:
                yield cast("Kept[R]", as_read(revision))

    def bench(self) -> Bench:
        """What is in the house and needs a hand first, what is half done, what was worked on last."""
        here = in_order(self._kept_bench.stays(), self.today())
        latest = self._kept_bench.lines(self.ledger.latest("work", 8))
        works = self.ledger.how_many("work")
        drafts = tuple(
            each
            for each in self.ledger.drafts()
            if each.document in NEW_RECORDS or self._is_listed(each.document)
        )
        return Bench(sentence(here), here, drafts, latest, works)

    def people(self, named: str = "", role: str = "", page: int = 1) -> Leaf[PartyLine]:
        """A page of the people and firms on file by name; `named` is part of a name, `role` a term."""
        return self._lists.people(named, role, page)

    def commissions(
        self, asked: str = "", *, here: bool = False, page: int = 1
    ) -> Leaf[JobLine]:
        """A page of the commissions, the latest first; `asked` is part of a number or a client's name."""
        return self._lists.commissions(asked, here=here, page=page)

    def shown(self, documents: Iterable[str]) -> tuple[Shown, ...]:
        """What a line says of each of these works, with the photograph that shows it. Raises `NotOnFile`."""
        return self._kept_bench.lines([self.ledger.head(each) for each in documents])

    def warm_up(self, leaving: Callable[[], bool] = lambda: False) -> None:
        """Get ready what the first pages ask for, so that nobody waits for it; the bench first.

        Between two things it asks whether one is `leaving`, and then leaves the rest.
        """
        ready: tuple[Callable[[], object], ...] = (
            self.bench,
            self.people,
            self.commissions,
            lambda: self.search(self.query("label", limit=1)),
            self._known_addresses,
            self._secrets.get_ready,
            self._named_by.get_ready,
            self._doubles.get_ready,
            self._retention.get_ready,
            self.formats,
            self._labels().lay_out,
            self.families,
            self.may_be_one_form,
        )
        for get_ready in ready:
            if leaving():
                return
            get_ready()

    def _is_listed(self, document_id: str) -> bool:
        """Whether a record, or the one that answers for it, is on file and not set aside."""
        if not self.ledger.has(document_id):
            return False
        return not self.ledger.head(self.ledger.read(document_id).document).withdrawn

    def whereabouts(self) -> tuple[Whereabouts, ...]:
        """Where every work is that is here for a job, by number; one that is here twice is told once."""
        found = {
            item.work: whereabouts(self.read(item.work).record, job, item)
            for job in self._jobs.may_have_one_here()
            for item in job.items
            if item.left is None and self._is_listed(item.work)
        }
        return tuple(sorted(found.values(), key=lambda each: each.work.number or ""))

    def overdue(self) -> tuple[Overdue, ...]:
        """Every work that should have gone back by now, the longest overdue first."""
        return overdue(self._jobs.may_have_one_here(), self.today())

    def data_sheets(self, materials: Iterable[str]) -> tuple[MaterialUse, ...]:
        """The newest safety data sheet of each product of these materials, as somebody typed it in."""
        return self._sheets.newest(materials)

    def commission(self, document_id: str) -> Commission:
        """A job with what is to be known about it: money, bags, what lacks, which approvals hold."""
        job: Job = self.read(document_id).record
        return commission(job, as_approved(job), self._others(job))

    def conflicts(self, job: Job) -> tuple[Job, ...]:
        """The other jobs by which the studio both treats a work of this one and advises on its sale."""
        return conflicts(job, self._others(job))

    def _others(self, job: Job) -> Iterable[Job]:
        """The jobs for the works of a job, itself among them."""
        return {
            other.id: other for item in job.items for other in self.jobs_of(item.work)
        }.values()

    def _hold_back(self, record: Any, before: Any) -> None:
        """Refuse what is kept apart at the bench, and a step begun beyond what was approved."""
        if isinstance(record, Job):
            keep_away(record, before)
        if not isinstance(record, Work) or before is None:
            return
        if record.movements != before.movements or record.treatments != before.treatments:
            works = (before.document, *self.ledger.answering_for(before.document))
            here = [
                (job, item)
                for job in self.jobs_of(before.document)
                for item in job.items
                if item.left is None and item.work in works
            ]
            keep_off_the_bench(record, before, (item for _, item in here))
            keep_to_what_was_approved(record, before, (job for job, _ in here))

    def jobs_of(self, document_id: str) -> tuple[Job, ...]:
        """The commissions for which a work is or was here."""
        works = (document_id, *self.ledger.answering_for(document_id))
        found = self._jobs.naming(works)
        return tuple(job for job in found if any(item.work in works for item in job.items))

    def summary(self, work: Work) -> Iterator[str]:
        """A work in a few lines of plain text, each reading on lines of its own."""
        yield f"{work.number or ''}  {work.title()}".strip()
        for each in work.attributions:
            maker = each.written or f"{label(each.qualifier)} {self.name_of(each.artist)}"
            yield f"  {maker}"
        for said in (work.made.written if work.made else None, work.medium):
            if said:
                yield f"  {said}"
        for inscription in work.inscriptions:
            where = ", ".join(
                label(each.kind) for each in work.parts if each.id == inscription.part
            ) or label(inscription.face)
            state = inscription.latest()
            yield f"  {inscription.number or ''} {label(inscription.kind)}, {where}" + (
                f" ({label(state.state)})" if state else ""
            )
            shown = inscription.preferred()
            if shown:
                yield from (f"      {line}" for line in shown.reading().plain().splitlines())

    def history(self, document_id: str | None = None) -> Iterator[Change]:
        """Every change, or every change of one document with its own entries, oldest first."""
        return self.ledger.changes(document_id, own_only=document_id is not None)

    def retold(
        self,
        document_id: str,
        *,
        skip: int = 0,
        at_most: int | None = None,
        only: Container[int] | None = None,
    ) -> tuple[int, list[Told]]:
        """How many changes a record has seen, and some of them in words, the newest first.

        With `only` some sequence numbers, what was changed is told of these; of the others when and why.
        """
        return retold(
            self.ledger, document_id, self.name_of, skip=skip, at_most=at_most, only=only
        )

    def between(self, document_id: str, first: int, second: int) -> tuple[ValueChange, ...]:
        """What differs from one revision of a record to another, in words. Raises `NotOnFile`."""
        return between(self.ledger, document_id, first, second, self.name_of)

    def naming(self, document_id: str) -> list[str]:
        """The listed works that name a record, by its id or by its address elsewhere."""
        return self._named_by.naming(document_id)

    @staticmethod
    def may_become(reference: Reference) -> str | None:
        """What a record from elsewhere can be made: "work", "party", or None."""
        return may_become(reference)

    def standing(self, document_id: str) -> Standing:
        """Whether a record was set aside, and for which others it answers."""
        return standing(self.ledger, document_id, self.name_of)

    # --- saving -----------------------------------------------------------------------------------

    def save(
        self,
        record: R,
        *,
        who: str,
        why: str = "",
        read: Kept[R] | None = None,
        draft: str | None = None,
        strangers: Iterable[Party] = (),
    ) -> Kept[R]:
        """Keep a record: a new one, or what changed in one since it was `read`; with new parties it names.

        What somebody else changed meanwhile is joined value by value; the same value changed twice
        raises `StaleRevision` with both sides, and nothing is saved. A step that a rule of the order
        of work stops raises `Stopped`. Numbers are issued here. The answer comes after the change is
        safely on the disk.
        """
        if read is not None and record == read.record:
            if draft is not None:
                self.ledger.drop_draft(draft)
            return read
        self._hold_back(record, read.record if read else None)
        verb = "new" if read is None else "edit"
        with self.ledger.change(
            who=self.who(who), written_in=FORMAT, why=why or subject(verb, record)
        ) as change:
            if read is None:
                as_claimed, taken = claimed(record, change, self.today())
                if taken:
                    raise BadData(taken[0], remedy="leave the number out, and it gets its own")
                record = cast("R", as_claimed)
                revision = change.save(record.document, written(record), expected=None)
            else:
                record, body, current = joined(self.ledger, record, read, change, self.today())
                revision = change.save(read.document_id, body, expected=current)
            self._refuse_stops(record, read)
            for party in strangers:
                change.save(party.document, write(to_jsonld(party)), expected=None)
            if draft is not None:
                change.take_draft(draft)
        return Kept(record, revision, record.document)

    def _refuse_stops(self, record: object, read: Kept[Any] | None) -> None:
        """Raise `Stopped` where a rule of the order of work stops a step; the change is then undone."""
        if not isinstance(record, Work) or not record.treatments:
            return
        from catalogue.stopping import refuse_stops, touches_steps

        before = read.record if read else None
        if touches_steps(before, record):
            since = self._on_file_since(record.document) if read else self.today()
            jobs = [as_approved(job) for job in self.jobs_of(record.document)]
            refuse_stops(before, record, jobs, since)

    def _on_file_since(self, document_id: str) -> Day:
        return Day.from_iso(min(change.at for change in self.ledger.changes(document_id))[:10])

    def release(self, note: Note, *, by: str) -> Note:
        """The note with somebody's word that this very text may leave."""
        now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        return replace(note, released=Release(by=by, at=now, digest=digest_of(note.text)))

    def new_work(
        self,
        *,
        title: str,
        artist: str | None = None,
        made: str | None = None,
        who: str,
        photos: Iterable[tuple[Photo, bytes | Path]] = (),
    ) -> Kept[Work]:
        """A new work from what is known at the door, with its photos (`taken_in`), as one change.

        An artist who is not on file becomes a party.
        """
        pictures = tuple(photos)
        attributions, strangers = self._attributed(artist) if artist else ((), ())
        work = Work(
            titles=(Title(text=title, kind="title/given", preferred=True),),
            attributions=attributions,
            made=self.date(made) if made else None,
            photos=tuple(photo for photo, _ in pictures),
        )
        with self.ledger.change(
            who=self.who(who), written_in=FORMAT, why=subject("new", work)
        ) as change:
            for party in strangers:
                change.save(party.document, write(to_jsonld(party)), expected=None)
            _keep_pictures(pictures, change)
            work = numbered(work, change, self.today())
            revision = change.save(work.document, write(to_jsonld(work)), expected=None)
        return Kept(work, revision, work.document)

    def _attributed(self, written: str) -> tuple[tuple[Attribution, ...], tuple[Party, ...]]:
        """The attribution that a maker's line makes, and the party that is not on file yet."""
        _, name = read_attribution(written)
        found = self.find_party(name)
        party = found.record if found else _artist(name)
        said = Attribution(
            artist=party.document,
            qualifier=attribution_term(written) or "qualifier/by",
            written=written,
            preferred=True,
        )
        return (said,), () if found else (party,)

    # --- what a person types ----------------------------------------------------------------------

    @staticmethod
    def date(typed: str) -> DateSpan:
        """The span that a date means, as one would write it. Raises `BadData` with the reason."""
        span = read_date(typed)
        if span is None:
            raise BadData(
                f"the date {typed!r} is not understood: {why_not(typed)}",
                remedy="such as c. 1890, 1884-1891, before 1907, 12 April 1903",
            )
        return span

    @staticmethod
    def day(typed: str) -> Day:
        """A day written 2026-03-01. Raises `BadData`."""
        try:
            return Day.from_iso(typed.strip())
        except ValueError as refused:
            raise BadData(str(refused)) from None

    @staticmethod
    def place(x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> Box:
        """A place on a face, in mm from its top left corner. Raises `BadData`."""
        try:
            return Box(x_mm, y_mm, width_mm, height_mm)
        except ValueError as refused:
            raise BadData(str(refused)) from None

    def artist(self, name: str, *, who: str) -> Party:
        """The party of this very name; one that is not on file becomes an artist."""
        found = self.find_party(name)
        return found.record if found else self.save(_artist(name), who=who).record

    def welcome(self, name: str) -> Party:
        """The studio member of this name; one who is not on file is put there, in their own name."""
        for member in self.members():
            if name.casefold() in {each.text.casefold() for each in member.names}:
                return member
        member = Party(
            kind="person",
            names=(PartyName(text=name, preferred=True),),
            roles=("role/studio-member",),
        )
        return self.save(member, who=name).record

    # --- photographs ------------------------------------------------------------------------------

    def taken_in(self, content: bytes, *, name: str, **facts: Any) -> Photo:
        """A photograph looked at, not yet kept; `facts` are fields of `Photo`. Raises `BadPicture`."""
        from catalogue.photos import clean_name

        return self._taken_in(Photo(file_name=clean_name(name), **facts), content)

    def add_photos(
        self, read: Kept[Work], photos: Iterable[tuple[Photo, bytes | Path]], *, who: str
    ) -> Kept[Work]:
        """Keep photographs of a work (`taken_in`, or `look_at`ed where they lie), all as one change."""
        pictures = tuple(photos)
        record = replace(
            read.record, photos=(*read.record.photos, *(photo for photo, _ in pictures))
        )
        names = ", ".join(str(photo.file_name) for photo, _ in pictures[:3])
        why = f"photo {names} of {read.record.number}"
        with self.ledger.change(who=self.who(who), written_in=FORMAT, why=why) as change:
            _keep_pictures(pictures, change)
            record, body, current = joined(self.ledger, record, read, change, self.today())
            revision = change.save(read.document_id, body, expected=current)
        return Kept(record, revision, read.document_id)

    def add_photo(
        self, read: Kept[Work], content: bytes, *, name: str, who: str, **facts: Any
    ) -> Kept[Work]:
        """Take in one photograph of a work. Raises `BadPicture`; nothing is saved then."""
        return self.add_photos(
            read, [(self.taken_in(content, name=name, **facts), content)], who=who
        )

    def look_at(
        self, path: Path, *, name: str, key: str, folder: str = "", written: float | None = None
    ) -> Looked:
        """One file of a card looked at where it lies: a photograph, or why it is none; nothing is kept."""
        from catalogue.card import look

        return look(
            self.ledger, path, name=name, key=key, folder=folder, written=written,
            limit_megapixels=self._limit_megapixels,
        )  # fmt: skip

    def doings(self, frames: Sequence[Frame]) -> tuple[Doing, ...]:
        """What is known to have been done to any work on the days of these photographs. Not for a page."""
        from catalogue.doings import doings

        return doings(self.ledger, frames)

    def on_file_as(self, sha256: str) -> str:
        """Where the very same photograph is already ("2026-041 as P3"), "" where it is not."""
        from catalogue.card import where

        return where(self.ledger, sha256)

    def picture_to_come(self, path: Path, sha256: str) -> Path:
        """A small picture of a photograph that is not taken in yet."""
        from catalogue.photos import RECIPES, derivative

        return derivative(
            path, sha256, self._beside("derived"), RECIPES["thumb"],
            limit_megapixels=self._limit_megapixels,
        )  # fmt: skip

    # --- papers -----------------------------------------------------------------------------------

    def add_paper(
        self,
        read: Kept[R],
        paper: Paper,
        content: bytes,
        *,
        who: str,
        strangers: Iterable[Party] = (),
    ) -> Kept[R]:
        """Keep a file, byte for byte, and what it proves, with a work or a job. Raises `BadData`.

        `paper.file_name` is the name it came with; whatever else was changed on the record is not saved.
        """
        from catalogue.photos import clean_name

        if not content:
            raise BadData("the file is empty", remedy="choose it again")
        name = clean_name(paper.file_name or "")
        kind = media_type_of(name)
        paper = replace(paper, sha256=hashlib.sha256(content).hexdigest(), media_type=kind)
        held: Any = read.record
        record = cast("R", replace(held, papers=(*held.papers, paper)))
        why = f"paper of {held.number or 'a commission'}"
        with self._change(who, why) as change:
            change.keep_file(content, name=name, media_type=kind)
            for party in strangers:
                change.save(party.document, write(to_jsonld(party)), expected=None)
            record, body, current = joined(self.ledger, record, read, change, self.today())
            revision = change.save(read.document_id, body, expected=current)
        return Kept(record, revision, read.document_id)

    def original(self, paper: Paper | Photo) -> Path:
        """Where the untouched file of a paper or photo lies: only ever read it."""
        if paper.sha256 is None:
            raise NotOnFile(
                f"the file {paper.file_name!r} was never taken in",
                remedy="add it again with the file",
            )
        return self.ledger.file(paper.sha256)

    @staticmethod
    def showing(work: Work, face: str) -> Photo | None:
        """The photo that shows a face best: all of it, in normal light; None where there is none."""
        of_face = (each for each in work.photos if each.face == face and each.sha256)
        return min(
            of_face,
            key=lambda each: (
                each.view != "view/whole",
                each.light != "light/normal",
                each.rank,
            ),
            default=None,
        )

    def _taken_in(self, photo: Photo, content: bytes) -> Photo:
        from catalogue.photos import inspect

        limit = self._limit_megapixels
        facts = inspect(content, name=photo.file_name or "", limit_megapixels=limit)
        taken = (
            Day(facts.taken.year, facts.taken.month, facts.taken.day) if facts.taken else None
        )
        said = (photo.width, photo.height)
        # Corners in the pixels of a larger or smaller copy would lie elsewhere on this one.
        fits = said in ((None, None), (facts.width, facts.height))
        return replace(
            photo,
            sha256=facts.sha256,
            media_type=facts.media_type,
            width=facts.width,
            height=facts.height,
            outline=photo.outline if fits else (),
            taken=photo.taken or taken,
        )

    def picture(self, sha256: str, recipe: str) -> Path:
        """A file of one derivative of a photograph ("thumb", "screen", "full"), made when first asked.

        Where only a copy came along in a parcel, it is made from that.
        """
        from catalogue.photos import RECIPES, derivative

        if recipe not in RECIPES:
            raise NotOnFile(f"there is no size {recipe!r} of a photo")
        original, sha256 = self._shown(sha256)
        return derivative(
            original, sha256, self._beside("derived"), RECIPES[recipe],
            limit_megapixels=self._limit_megapixels,
        )  # fmt: skip

    def tiles(self, sha256: str) -> Tiles:
        """What there is of a photograph in tiles: its size, its levels, the ways of looking at it."""
        from catalogue.photos.tiles import tiles

        return tiles(*self._shown(sha256), limit_megapixels=self._limit_megapixels)

    def tile(self, sha256: str, way: str, level: int, x: int, y: int) -> Path:
        """A file of one tile, made with its level when first asked; `way` is a way of looking or "plain"."""
        from catalogue.photos.tiles import tile

        original, sha256 = self._shown(sha256)
        return tile(
            original, sha256, self._beside("derived"), way, (level, x, y),
            limit_megapixels=self._limit_megapixels,
        )  # fmt: skip

    def laid_over(self, photo: str, other: str) -> Overlay:
        """How one photograph (by digest) lies on another that shows the same: for two kinds of light.

        Raises `BadPicture`, with the reason, where they do not show one thing.
        """
        from catalogue.photos.laid_over import laid_over

        return laid_over(
            self._shown(photo), self._shown(other), self._beside("derived"),
            limit_megapixels=self._limit_megapixels,
        )  # fmt: skip

    def prepare_pictures(self, sha256s: Iterable[str], progress: Progress | None = None) -> int:
        """Make the sizes and tiles that pages will ask for; for how many photographs it could be done.

        One that cannot be shown is passed over: its page says why.
        """
        from catalogue.photos.tiles import prepare

        wanted, prepared = [*dict.fromkeys(sha256s)], 0
        for done, each in enumerate(wanted):
            if progress is not None:
                progress(done, len(wanted))
            with suppress(BadData, NotOnFile, Damaged):
                original, sha256 = self._shown(each)
                limit = self._limit_megapixels
                prepare(original, sha256, self._beside("derived"), limit_megapixels=limit)
                for recipe in ("screen", "thumb"):
                    self.picture(each, recipe)
                prepared += 1
        if progress is not None:
            progress(len(wanted), len(wanted))
        return prepared

    def _shown(self, sha256: str) -> tuple[Path, str]:
        """The file that stands for a photograph, and its digest: itself, or the copy that came along."""
        from catalogue.copies_kept import copy_of

        if not self.ledger.has_file(sha256):
            sha256 = copy_of(self.ledger, sha256) or sha256
        return self.ledger.file(sha256), sha256

    @property
    def _limit_megapixels(self) -> float:
        from catalogue.photos import LIMIT_MEGAPIXELS

        return float(self.ledger.setting("megapixels") or LIMIT_MEGAPIXELS)

    def crop(self, sha256: str, box: tuple[int, int, int, int]) -> Path:
        """A small picture of one part of a photograph (x, y, width, height in upright pixels)."""
        from catalogue.photos import Recipe, derivative

        recipe = Recipe(longest_px=400, box=box, quality=80)
        return derivative(
            self.ledger.file(sha256), sha256, self._beside("derived"), recipe,
            limit_megapixels=self._limit_megapixels,
        )  # fmt: skip

    @staticmethod
    def no_machine_reading() -> str:
        """Why nothing can be drafted by machine here, and what to do; "" where it can."""
        from catalogue.drafting.engine import missing

        return missing()

    def draft_reading(
        self, photo: Photo, corners: Iterable[tuple[float, float]] = (), *, turn: int = 0
    ) -> MachineDraft:
        """What a machine makes of the print on a part of a photograph; it is kept in no record.

        `corners` are upright pixels, clockwise from where the text begins (none: all of it); the text of
        any part but a frame of four stands turned by `turn` degrees clockwise. Seconds the first time,
        nothing the second. Raises `NotOnFile`, `BadPicture`, and `BadSetting` where no engine is installed.
        """
        from catalogue.drafting import drafted_from

        if photo.sha256 is None:
            raise NotOnFile(
                f"the file of {photo.number} was never taken in", remedy="add the photo again"
            )
        original, sha256 = self._shown(photo.sha256)
        return drafted_from(
            original, sha256, (photo.width or 0, photo.height or 0), self._beside("derived"),
            tuple(corners), turn=turn, on=self.today().iso,
        )  # fmt: skip

    def drafted(self, sha256: str, key: str) -> MachineDraft:
        """A draft by machine that was made before. Raises `NotOnFile`."""
        from catalogue.drafting import drafted

        return drafted(self._beside("derived"), sha256, key)

    def drafted_picture(self, sha256: str, key: str) -> Path:
        """The picture that a machine read, set upright. Raises `NotOnFile`."""
        from catalogue.drafting import drafted_picture

        return drafted_picture(self._beside("derived"), sha256, key)

    def _beside(self, name: str) -> Path:
        """A folder for what can be made again at any time."""
        where = self.folder / name
        where.mkdir(parents=True, exist_ok=True)
        return where

    # --- finding ----------------------------------------------------------------------------------

    def search(self, query: Query) -> Results:
        """Works and people by words, artist, kind, place and years, best first, grouped by work.

        What was saved since the index last looked is taken in first; when that is too much to wait
        for, or another process is at it, the answer says how many saves it is behind.
        """
        return self._finder().search(query)

    def narrowed(self, text: str, found: Results) -> tuple[Facet, ...]:
        """What the answer to a question can be narrowed by, each value with the question that does it."""
        from catalogue.narrowing import narrowed

        return narrowed(text, found.facets, self.name_of)

    def questions(self) -> tuple[Question, ...]:
        """Questions that a studio asks of its past jobs, each with what to type today."""
        from catalogue.indexes.questions import questions

        return questions(self.today())

    def saved_searches(self) -> tuple[SavedSearch, ...]:
        """The searches that somebody wants again, by name."""
        return saved_searches.saved(self.ledger)

    def saved_search(self, name: str) -> SavedSearch:
        """The search kept under a name. Raises `NotOnFile`."""
        return saved_searches.named(self.ledger, name)

    def save_search(self, name: str, text: str) -> SavedSearch:
        """Keep the text of a question under a name; what was kept under it before is replaced."""
        return saved_searches.keep(self.ledger, name, text)

    def rename_search(self, name: str, new: str) -> SavedSearch:
        """Give a kept search another name."""
        return saved_searches.rename(self.ledger, name, new)

    def remove_search(self, name: str) -> SavedSearch:
        """Forget a kept search, and say what it was."""
        return saved_searches.remove(self.ledger, name)

    def catch_up(self, progress: Progress | None = None) -> int:
        """Take everything saved since into the index; how many documents that was."""
        return self._finder().catch_up(progress)

    def rebuild(self, progress: Progress | None = None) -> int:
        """Make both indexes anew from the ledger alone; how many documents they hold."""
        told = progress or (lambda done, total: None)
        self._finder().rebuild(lambda done, total: told(done, 2 * total))
        return self._asker().rebuild(lambda done, total: told(total + done, 2 * total))

    def ask(
        self,
        question: str,
        *,
        limit: int = 1000,
        seconds: float = 10,
        progress: Progress | None = None,
    ) -> Answer:
        """What a question in SPARQL finds in everything kept, in-house: at most `limit` rows of it.

        What was saved since is taken in first; then what was found after `seconds` is the answer.
        Raises `BadData` for a question that cannot be read, or that does more than ask this studio.
        """
        return self._asker().ask(question, limit=limit, seconds=seconds, progress=progress)

    def _finder(self) -> Finder:
        """The index, opened when first asked: it loads an engine that most commands don't need."""
        from catalogue.finding import Finder

        with self._opening:
            if self._index is None:
                self._index = Finder(self.ledger, self._beside("indexes"))
            return self._index

    def _asker(self) -> Asker:
        """The index of the graph, opened when first asked, for the same reason."""
        if self._graph is None:
            from catalogue.asking import Asker

            self._graph = Asker(self.ledger, self._beside("indexes") / "graph")
        return self._graph

    def query(
        self,
        words: str = "",
        *,
        artist: str | None = None,
        kind: str | None = None,
        place: str | None = None,
        when: str | None = None,
        certainly: bool = False,
        limit: int = 20,
        page: int = 1,
        counting: bool = True,
    ) -> Query:
        """A query from what a person typed; `when` is a date as one would write it."""
        from catalogue.indexes.words import Query

        span = self.date(when) if when else None
        return Query(
            words=words,
            artist=artist or "",
            kind=kind or "",
            place=place or "",
            earliest=span.earliest.ordinal if span and span.earliest else None,
            latest=span.latest.ordinal if span and span.latest else None,
            certainly=certainly,
            limit=limit,
            page=page,
            counting=counting,
        )

    def _label(self, document_id: str) -> tuple[str, str]:
        """The type and the label of a document, for whoever refers to it."""
        record = self.read(document_id).record
        match record:
            case Party():
                return ("Person" if record.kind == "person" else "Group"), record.name()
            case Work():
                return "HumanMadeObject", record.title()
            case Job():
                return "Activity", record.number or "commission"
        types = record.types
        return (types[0] if types else "Type"), (
            record.labels[0] if record.labels else document_id
        )

    # --- arguing ----------------------------------------------------------------------------------

    def argue(self, work: Work) -> Iterator[Argued]:
        """What each thing written on a work, and each old repair, proves of its own years."""
        from catalogue.arguing import argued

        return argued(work, self._known_addresses(), self._labels().reasons(work, self._dated))

    def foretold(self, wanted: str | Work, inscription: Inscription, markup: str) -> Foretold:
        """What a text would bring as the reading of an inscription, neither of them saved yet.

        Statements, years, the labels on file that are like it. Raises `MarkupError`.
        """
        from catalogue.foretelling import foretold

        return foretold(
            self._record_of(wanted), inscription, markup,
            firms=self._known_addresses(), labels=self._labels(), dated=self._dated,
        )  # fmt: skip

    # --- look-alike labels ------------------------------------------------------------------------

    def alike(self, wanted: str | Work, inscription: str) -> tuple[Alike, ...]:
        """The labels of past jobs that are like one, best first, with the reasons; it proposes, no more."""
        work = self._record_of(wanted)
        return self._labels().alike(work, work.inscription(inscription))

    def labels_at_hand(self) -> bool:
        """Whether labels can be compared at once; where not, they are laid out meanwhile on a thread."""
        return self._labels().at_hand()

    def families(self) -> tuple[FamilyOnFile, ...]:
        """The families of labels that people found to be of one printed form."""
        return self._worked_out.get(("families",), lambda: self._labels().families(self._dated))

    def may_be_one_form(self, works: int = 20, at_most: int = 30) -> tuple[Proposed, ...]:
        """Pairs of labels to lay beside each other, of the works worked on last; it proposes, no more."""

        def propose() -> tuple[Proposed, ...]:
            latest = (
                self.read(each.document).record for each in self.ledger.latest("work", works)
            )
            return self._labels().proposed(latest, at_most)

        return self._worked_out.get(("may be one form", works, at_most), propose)

    def lay_beside(
        self,
        read: Kept[Work],
        inscription: str,
        other: tuple[str, str],
        verdict: str,
        *,
        who: str,
        note: str = "",
    ) -> Kept[Work]:
        """Keep what somebody concluded who held a label beside another (a work, an inscription of it).

        An earlier verdict on the same two in this record is replaced; the history keeps it.
        """
        mine = read.record.inscription(inscription)
        there = self._record_of(other[0])
        theirs = there.inscription(other[1])
        by = self.who(who)
        said = Comparison(
            other=theirs.id,
            work=there.document,
            verdict=verdict,
            by=by if by.startswith("party/") else None,
            on=self.today(),
            notes=(Note(kind="note/inscription", text=note),) if note.strip() else (),
        )
        kept = tuple(each for each in mine.compared if each.other != theirs.id)
        after = replace(mine, compared=(*kept, said))
        record = replace(
            read.record,
            inscriptions=tuple(
                after if each.id == mine.id else each for each in read.record.inscriptions
            ),
        )
        why = f"{label(verdict)}: {mine.number} of {read.record.number}, {theirs.number} of {there.number}"
        return self.save(record, who=who, why=why, read=read)

    def _labels(self) -> LabelsOnFile:
        from catalogue.alike import LabelsOnFile

        with self._opening:
            if self._labels_on_file is None:
                file = self._beside("indexes") / "labels.sqlite"
                self._labels_on_file = LabelsOnFile(self.ledger, self._hashes, file)
            return self._labels_on_file

    def _dated(self, work: Work) -> dict[str, tuple[Day, Day]]:
        """The likely years of a work's labels by what stands on them, where both ends are known."""
        from catalogue.arguing import argued

        found: dict[str, tuple[Day, Day]] = {}
        for each in argued(work, self._known_addresses()):
            told = each.dating.of("use") or each.dating.main
            if told.soft_earliest and told.soft_latest and not told.contradicts_itself:
                found[each.value.id] = (told.soft_earliest, told.soft_latest)
        return found

    def _hashes(self, work: Work, inscription: Inscription) -> tuple[int, ...]:
        """The perceptual hashes of the first frame on a photograph in plain light; none without one."""
        from catalogue.photos.likeness import region_hashes

        photos = {each.id: each for each in work.photos}
        framed = [
            (photos[each.photo], each) for each in inscription.regions if each.photo in photos
        ]
        framed.sort(key=lambda it: (it[0].light != "light/normal", it[0].mirrored))
        for photo, region in framed:
            if photo.sha256:
                with suppress(CatalogueError):
                    return region_hashes(
                        self.ledger.file(photo.sha256),
                        photo.sha256,
                        region.corners,
                        self._beside("derived"),
                    )
        return ()

    def _known_addresses(self) -> tuple[KnownAddress, ...]:
        from catalogue.arguing import FirmsOnFile

        with self._opening:
            if self._firms is None:
                self._firms = FirmsOnFile(self.ledger)
            return self._firms.known()

    def chronology(self, wanted: str | Work) -> Chronology:
        """When everything happened to a work, by all that is on record; to one not saved yet, too.

        It is worked out once for a record in memory while nothing is saved: the pages of a work ask again.
        """
        from catalogue.placing import placed

        work = self._record_of(wanted)

        def place() -> tuple[Work, Chronology]:
            return work, placed(work, self._known_addresses(), self._beside_it)

        # What is remembered holds the record, so no other one can have its id meanwhile.
        return self._worked_out.get(("chronology", id(work)), place)[1]

    def chain(
        self, wanted: str | Work, windows: Iterable[str] = (), *, together: bool = False
    ) -> Hands:
        """Through whose hands a work went: holdings, gaps and overlaps, how far windows are known.

        By what its events say; `together` by all that is on record, labels and lives too.
        """
        from catalogue.hands import hands

        work = self._record_of(wanted)
        return hands(work, self.name_of, windows, self.chronology(work) if together else None)

    def held(self, wanted: str | Work, when: str | Day) -> Held:
        """Who had a work on a day, or over some ("1929"): owners, agents and keepers apart."""
        from catalogue.hands import held_by

        return held_by(self._record_of(wanted), when, self.name_of)

    def provenance(
        self, wanted: str | Work, brackets: Brackets = "life", form: Form = "public"
    ) -> Written:
        """The provenance of a work in words, "public" or "internal".

        `brackets` says what stands in square ones: "life" dates, or the "dealer". Raises `BadSetting`.
        """
        from catalogue.telling import told

        work = wanted if isinstance(wanted, Work) else self.work(wanted).record
        return told(self.ledger, work, today=self.today(), brackets=brackets, form=form)

    def take_provenance(
        self, wanted: str, text: str, *, who: str, cited: str | None = None, save: bool = False
    ) -> Taken:
        """A published provenance as events of a work, behind those that it has; saved where one says so.

        `cited` is where the text stands printed. Raises `BadData` where nothing can be read from it.
        """
        from catalogue.telling import taken

        kept = self.work(wanted)
        found = taken(kept.record, text, cited)
        if save and found.events:
            self.save(
                found.after, who=who, why=f"take provenance {kept.record.number}", read=kept
            )
        return found

    def before_it_travels(self, wanted: str | Work, journey: Journey) -> tuple[Advice, ...]:
        """What the law may ask before a work travels or is sold, by what is on file about it."""
        from catalogue.argument.borders import before_it_travels

        work = self._record_of(wanted)
        said = work.attribution()
        party = self.read(said.artist).record if said and said.artist else None
        maker = party.name() if party else (said.written or "" if said else "")
        return before_it_travels(
            work, journey, maker=maker, died=party.ended if party else None
        )

    def diligence(self, wanted: str | Work) -> tuple[Asked, ...]:
        """What is asked before a sale or loan: the facts on file with their days, and what is open."""
        from catalogue.hands import asked

        return asked(self._record_of(wanted), self.name_of)

    def rests_on(self, wanted: str | Work, event: str) -> tuple[Rest, ...]:
        """What an event ("E2"), a showing or a citation of a work rests on."""
        from catalogue.argument.chain.resting import rests_on

        return rests_on(self._record_of(wanted), event)

    def supports(self, wanted: str | Work, source: str) -> tuple[Supported, ...]:
        """What an inscription ("I2"), paper or citation of a work supports, and what names it."""
        from catalogue.argument.chain.resting import supports

        return supports(self._record_of(wanted), source)

    def would_fall(self, wanted: str | Work, source: str) -> Falls:
        """What would lose its ground if an inscription, paper or citation went. Nothing is done."""
        from catalogue.argument.chain.falling import would_fall

        return would_fall(self._record_of(wanted), source)

    def re_read(self, wanted: str | Work, inscription: str, markup: str) -> Rereading:
        """Which decisions about an inscription still stand when it is read like this."""
        from catalogue.argument.chain.falling import re_read

        return re_read(self._record_of(wanted), inscription, markup)

    def would_move(self, wanted: str | Work, source: str, markup: str | None = None) -> Changes:
        """What the chronology would know otherwise without a source, or if it were read like this."""
        from catalogue.argument.chain.falling import read_as, without
        from catalogue.argument.timing.changes import changes

        work = self._record_of(wanted)
        after = without(work, source) if markup is None else read_as(work, source, markup)
        return changes(self.chronology(work), self.chronology(after))

    def _record_of(self, wanted: str | Work) -> Work:
        return wanted if isinstance(wanted, Work) else self.work(wanted).record

    def price_keys(self) -> tuple[str, ...]:
        """What the studio's keys to dealers' price codes are called; the keys are told to nobody."""
        return price_keys.names(self.ledger)

    def keep_price_key(
        self, name: str, word: str, *, repeaters: str = "", from_nought: bool = False
    ) -> None:
        """Keep a key word under a name. Raises `BadSetting` for what cannot be a key."""
        price_keys.keep(self.ledger, name, PriceKey(word, repeaters, from_nought))

    def drop_price_key(self, name: str) -> None:
        """Forget a key. Raises `NotOnFile`."""
        price_keys.drop(self.ledger, name)

    def read_price_code(
        self, written: str, key: str | None = None
    ) -> dict[str, tuple[CodeReading, ...]]:
        """What a dealer's letters may mean, by the name of each key that fits: readings, no facts."""
        return price_keys.readings(self.ledger, written, key)

    # --- looking over -----------------------------------------------------------------------------

    def check(self, document_id: str, *, shapes: bool = True) -> tuple[Remark, ...]:
        """What is wrong, missing or open about a work or a job, in words. It advises: nothing is refused.

        Without `shapes`, which our own records cannot break, the answer is there at once; so it is once
        a state of the record was held to them (`held_to_shapes`).
        """
        from catalogue.checking import Around, remarks, remarks_of_job

        revision = self.ledger.read(document_id)
        kept = as_read_lately(revision)
        if not isinstance(kept.record, Job | Work):
            raise BadData(
                f"{self.name_of(document_id)} is neither a work nor a commission",
                remedy="these are what can be checked",
            )
        faults = self._shapes().faults(revision) if shapes else ()
        if isinstance(kept.record, Job):
            return remarks_of_job(
                kept.record, faults, self._others(kept.record), self._called, self.today()
            )
        works = (kept.document_id, *self.ledger.answering_for(kept.document_id))
        jobs = self.jobs_of(kept.document_id)
        stays = (item for job in jobs for item in job.items)
        around = Around(
            cache(self._beside_it),
            cache(self._called),
            tuple(item for item in stays if item.work in works),
            jobs,
            self.today(),
            self.chronology(kept.record),
        )
        return remarks(kept.record, faults, around)

    def held_to_shapes(self, document_id: str) -> bool:
        """Whether a record as it stands was held to the shapes already, so that a whole check is quick."""
        return self._shapes().known(self.ledger.read(document_id)) is not None

    def _shapes(self) -> ShapesKept:
        from catalogue.shapes_kept import ShapesKept

        with self._opening:
            if self._shapes_kept is None:
                self._shapes_kept = ShapesKept(self._beside("indexes") / "shapes.sqlite")
            return self._shapes_kept

    @staticmethod
    def out_of_range(work: Work) -> tuple[Remark, ...]:
        """The figures of a work, saved or not, outside the studio's own ranges. They warn, no more."""
        from catalogue.checking import out_of_range

        return out_of_range(work)

    def _beside_it(self, named: str) -> Any:
        """The record of an id or address, None for one that is not on file here."""
        own = self.at(named)
        return self.read(own).record if own else None

    def _called(self, document_id: str) -> str:
        """A work by its number, anything else by its label."""
        record = self._beside_it(document_id)
        return getattr(record, "number", None) or self.name_of(document_id)

    # --- what a label says ------------------------------------------------------------------------

    @staticmethod
    def statements(inscription: Inscription) -> tuple[FoundStatement, ...]:
        """What the reading shown first says - dates, prices, names - and nobody decided about yet."""
        from catalogue.argument.statements import open_statements

        shown = inscription.preferred()
        return open_statements(shown, inscription.statements) if shown else ()

    def decide(
        self, read: Kept[Work], inscription: str, statement: Statement, *, who: str
    ) -> Kept[Work]:
        """Keep what somebody made of a statement, signed and dated; an earlier decision is replaced.

        `inscription` is a number ("I2") or an id. Raises `NotOnFile` where there is none.
        """
        by = self.who(who)
        signed = replace(statement, by=by if by.startswith("party/") else None, on=self.today())
        record = decided(read.record, inscription, signed)
        why = f"{decision_said(signed)} on {record.inscription(inscription).number} of {record.number}"
        return self.save(record, who=who, why=why, read=read)

    def undecide(
        self, read: Kept[Work], inscription: str, statement: str, *, who: str
    ) -> Kept[Work]:
        """Open the question about a statement again. Raises `NotOnFile` where nothing was decided."""
        record = undecided(read.record, inscription, statement)
        written = decision_on(read.record.inscription(inscription), statement).written
        where = f"{record.inscription(inscription).number} of {record.number}"
        return self.save(record, who=who, why=f"“{written}” on {where} open again", read=read)

    # --- sending out and taking in ----------------------------------------------------------------

    @staticmethod
    def formats() -> dict[str, str]:
        """Every format that records leave in, and the sentence that says what it is for."""
        from catalogue.exchange.formats import FORMATS

        return {name: each.says for name, each in FORMATS.items()}

    @staticmethod
    def profiles() -> dict[str, str]:
        """Every list of what may leave that an export is offered, and whom it is for, in a sentence."""
        from catalogue.exchange.withholding.profiles import offered

        return offered()

    def export(
        self,
        format_name: str,
        profile_name: str,
        out: Path,
        works: Iterable[str] | None = None,
        progress: Progress | None = None,
        *,
        who: str = "",
        recipient: str = "",
        reason: str = "",
        allow: Mapping[str, str] = MappingProxyType({}),
        pictures: str = "",
        longest_px: int | None = None,
        listen: Listener | None = None,
    ) -> Exported:
        """Write works (all of them for None) and whom they name into a folder, under a profile.

        Records from elsewhere leave as well, where the profile lists them; each by id or address.

        Only what the profile lists leaves; the rest is counted, and told one by one to `listen`. `who`
        sends it to `recipient` for a `reason`, which is put down (`exports`); `allow` are the names that
        may leave this once though the last scan finds them, each with the reason. `pictures` names a choice
        of photographs (`choices_of_pictures`), `longest_px` bounds their copies. Raises `BadSetting`
        for an unknown format or profile and where the profile wants a reason, `MayNotLeave` where a
        finished file holds what stays in the house; then nothing is written.
        """
        from catalogue.exchange.parcels.pictures import Pictures
        from catalogue.exporting import Order

        order = Order(
            format_name, profile_name, out, self._all_wanted(works), self.who(who),
            recipient, reason, allow, Pictures(pictures, longest_px),
        )  # fmt: skip
        return self._exporting().export(order, progress, listen)

    def rehearse(
        self,
        format_name: str,
        profile_name: str,
        out: Path,
        works: Iterable[str] | None = None,
        *,
        allow: Mapping[str, str] = MappingProxyType({}),
        listen: Listener | None = None,
    ) -> Exported:
        """The same, to look at: not put down as sent, and `refused` says why it would not leave."""
        from catalogue.exporting import Order

        order = Order(format_name, profile_name, out, self._all_wanted(works), allow=allow)
        return self._exporting().rehearse(order, listen)

    @staticmethod
    def sends_pictures(format_name: str) -> bool:
        """Whether copies of photographs leave with a format."""
        from catalogue.exchange.formats import format_named

        return format_named(format_name).pictures

    @staticmethod
    def choices_of_pictures() -> tuple[dict[str, str], str, int]:
        """Which photographs may be sent, in words; the choice and the longer side where nobody says."""
        from catalogue.exchange.parcels.pictures import choices, settings

        return choices(), settings()["which"], settings()["longest_px"]

    @staticmethod
    def asks_before(profile_name: str) -> tuple[str, bool]:
        """What a sender is told before something leaves under a profile, and whether it wants a reason."""
        from catalogue.exchange.withholding.redaction import profile

        allowed = profile(profile_name)
        return allowed.note, allowed.needs_reason

    def preview(self, wanted: str, profile_name: str) -> tuple[Seen, ...]:
        """A work value by value under a profile: what leaves, what stays, why, and what could be done."""
        from catalogue.previewing import preview_on_file

        document_id = self.work(wanted).document_id
        return preview_on_file(
            self.ledger, document_id, profile_name, self.name_of, self.today()
        )

    def looked_at(
        self, wanted: str, format_name: str, profile_name: str
    ) -> tuple[Exported, tuple[Seen, ...]]:
        """One work rehearsed and previewed: worked out once for as long as nothing is saved."""

        def look() -> tuple[Exported, tuple[Seen, ...]]:
            with TemporaryDirectory(prefix="dorse-send-") as folder:
                made = self.rehearse(format_name, profile_name, Path(folder), [wanted])
            return made, self.preview(wanted, profile_name)

        return self._looked_at.get((wanted, format_name, profile_name, self.today()), look)

    def exports(self) -> tuple[Sent, ...]:
        """Everything that was sent out, the first one first."""
        return sent.listed(self.ledger)

    def works_found(self, text: str) -> tuple[str, ...]:
        """The works that a question finds, all of them, by id; what is asked of people is left out."""
        found: list[str] = []
        page = 1
        while True:
            results = self.search(self.query(text, limit=200, page=page, counting=False))
            found += [
                each.document for each in results.hits if each.document.startswith("work/")
            ]
            if (page * 200 >= results.total and results.exact) or not results.hits:
                return tuple(dict.fromkeys(found))
            page += 1

    def _exporting(self) -> Exporting:
        from catalogue.exporting import Exporting

        return Exporting(
            self.ledger,
            self.base,
            studio=next(iter(self.letterhead), ""),
            changed=self._last_changed(),
            today=self.today(),
            name_of=self.name_of,
            picture=self._picture_leaving,
            original=self._original_leaving,
            secrets=self._secrets,
        )

    def _all_wanted(self, works: Iterable[str] | None) -> tuple[str, ...] | None:
        return None if works is None else tuple(map(self._wanted, works))

    def _wanted(self, named: str) -> str:
        """The document that an export names: a work, or by id or address a record from elsewhere."""
        found = self.at(named)
        if found is not None and found.startswith("reference/"):
            return found
        return self.work(named).document_id

    def _picture_leaving(
        self,
        photo: Photo,
        covered: tuple[Outline, ...] = (),
        longest_px: int | None = None,
    ) -> Path | None:
        """A copy of a photograph that may leave, areas of it painted over; None without its file."""
        from catalogue.copies_kept import leaving

        return leaving(self.ledger, photo, self._beside("derived"), covered, longest_px)

    def _original_leaving(self, held: Photo | Paper) -> Path | None:
        """The untouched file of a photograph or a paper, None where it isn't here."""
        try:
            return self.original(held)
        except NotOnFile:
            return None

    def _last_changed(self) -> str | None:
        """The day of the last change to any record."""
        for head in self.ledger.latest(how_many=1):
            return max(each.at for each in self.ledger.changes(head.document))[:10]
        return None

    # --- on paper ---------------------------------------------------------------------------------

    @staticmethod
    def printable() -> dict[str, str]:
        """Every paper that can be printed, and the sentence that says for whom and when."""
        from catalogue.printing import printable

        return printable()

    def print_(
        self,
        wanted: str,
        paper: str,
        *,
        work: str | None = None,
        checks: tuple[str, ...] = (),
        written_as: str = "pdf",
        page: str = "a4",
    ) -> Printed:
        """A paper about a work or a commission (a number, an id) as "pdf" or "html", for its client.

        `work` says which of a commission's works a paper about one work is about; `checks` are the
        condition checks that it is about, by number ("K2"). What the client's profile doesn't list
        is not printed, and said in `stayed_home`. Raises `BadSetting` for an unknown paper, format
        or page, `BadData` where it is unclear what is meant.
        """
        from catalogue.printing import Printing

        printing = Printing(
            ledger=self.ledger,
            base=self.base,
            today=self.today(),
            letterhead=self.letterhead,
            jobs_of=self.jobs_of,
            picture=self.picture,
            covered=self._picture_leaving,
            sheets=self.data_sheets,
        )
        return printing.paper(
            self.meant(wanted),
            paper,
            work=self.work(work).document_id if work else None,
            checks=checks,
            written_as=written_as,
            page=page,
        )

    def import_(
        self,
        paths: Iterable[Path],
        *,
        who: str,
        pictures: Path | None = None,
        add: bool = False,
        progress: Progress | None = None,
    ) -> Iterator[Imported]:
        """Take in files and folders of JSON-LD, with the pictures that lie beside them or in `pictures`.

        Each document is reported by itself: new, already on file, different, or refused with the
        reason. Nothing on file is ever saved over; with `add`, what a different one says beyond it
        is added.
        """
        return self._intake(who, add=add).of(paths, pictures, progress)

    def foresee(self, paths: Iterable[Path]) -> Iterator[Imported]:
        """What would become of each document of files and folders (`import_`); nothing is saved."""
        return self._intake("", add=False).foreseen_of(paths)

    def _intake(self, who: str, *, add: bool) -> Intake:
        from catalogue.arriving import Intake

        def save(record: Any, read: Kept[Any], why: str) -> object:
            return self.save(record, who=who, why=why, read=read)

        return Intake(
            ledger=self.ledger,
            base=self.base,
            who=self.who(who),
            today=self.today(),
            add=add,
            save=save,
            taken_in=self._taken_in,
        )

    @staticmethod
    def draft_mapping(source: Path, mapping_name: str = "mapping.toml") -> str:
        """A mapping for an old job book (CSV, XLSX) to begin with, as the text of a file."""
        from catalogue.job_books.guessing import drafted

        return drafted(source, mapping_name).text

    @staticmethod
    def is_book(source: Path) -> bool:
        """Whether a file is a spreadsheet, and so wants a mapping; a text is one where it holds a table."""
        from catalogue.exchange.passed_over import is_book

        return is_book(source)

    @staticmethod
    def passed_over(paths: Iterable[Path]) -> PassedOver:
        """What lies in the folders among `paths` and is no record."""
        from catalogue.exchange.passed_over import passed_over

        return passed_over(paths)

    def read_book(
        self, source: Path, mapping: Path, *, who: str, add: bool = False
    ) -> BookTaking:
        """An old job book under a mapping: `tried` shows every row as it is read, `taken` takes it in.

        Raises `BadDocument` for a file that is no book, `BadSetting` for a mapping that doesn't fit.
        """
        from catalogue.exchange.books.mapping import mapping_from
        from catalogue.job_books.taking import BookTaking

        def parties() -> Iterator[Party]:
            return (as_read(each).record for each in self.ledger.bodies("party"))

        intake = self._intake(who, add=add)
        return BookTaking(source, mapping_from(mapping), intake, parties)

    # --- keeping ----------------------------------------------------------------------------------

    def verify(self, head: str | None = None, progress: Progress | None = None) -> Verdict:
        """Whether everything kept is what was saved; `head` is a digest printed earlier."""
        found = self.ledger.verify(expected_head=head, progress=progress)
        return replace(found, faults=(*found.faults, *sent.faults(self.ledger)))

    def backup(self, target: Path, progress: Progress | None = None) -> BackupFacts:
        """A verified copy of the ledger and its files, as a folder or one .tar file."""
        return self.ledger.backup(target, progress=progress)

    @staticmethod
    def restore(source: Path, folder: Path) -> Studio:
        """A studio from a backup, into an empty or new folder."""
        restore(source, folder)
        return Studio.open(folder)

    # --- taking back, setting aside ---------------------------------------------------------------

    def bring_back(self, read: Kept[R], revision: int, *, who: str, why: str) -> Kept[R]:
        """The record as it stood at a revision, saved as a new change; nothing is overwritten.

        Raises `NotOnFile` when that state was forgotten, `StaleRevision` when somebody changed the
        same value since the record was `read`.
        """
        reason = reasoned(why, "bringing an earlier state back")
        with self._change(who, reason) as change:
            return saved_again(change, self.ledger, read, revision, self.today())

    def take_back(
        self,
        read: Kept[R],
        revision: int,
        *,
        who: str,
        why: str,
        value: str | None = None,
    ) -> Kept[R]:
        """The record without what one change did to it, or to one value (a number, an id, a field).

        Raises `BadData` for what was changed again since.
        """
        reason = reasoned(why, "taking a change back")
        record = without(self.ledger, read, revision, value)
        return self.save(record, who=who, why=reason, read=read)

    def withdraw(self, document_id: str, *, who: str, why: str) -> None:
        """Take a record out of lists, searches and exports; its history stays."""
        reason = reasoned(why, "setting a record aside")
        with self._change(who, reason) as change:
            withdraw(change, self.ledger, document_id)

    def reinstate(self, document_id: str, *, who: str, why: str) -> None:
        """Put a record that was set aside back into the lists."""
        reason = reasoned(why, "taking a record back into the lists")
        with self._change(who, reason) as change:
            reinstate(change, self.ledger, document_id)

    def sample(self) -> Sample | None:
        """The sample records in this studio, by their ids; None where none were ever brought in."""
        return samples.sample(self.ledger)

    def know_sample(self, documents: Iterable[str]) -> Sample:
        """Remember which records are the sample, so that they can be left out again."""
        return samples.know(self.ledger, documents)

    def set_sample_aside(self, *, who: str) -> frozenset[str]:
        """Take the sample out of the lists as one change; which records went. One's own stay."""
        with self._change(who, "the sample records left out") as change:
            gone = samples.aside(self.ledger, change)
        samples.note(self.ledger, is_here=False)
        return gone

    def bring_sample_back(self, *, who: str) -> frozenset[str]:
        """Put the sample back into the lists as one change; which records came."""
        with self._change(who, "the sample records brought back") as change:
            came = samples.back(self.ledger, change)
        samples.note(self.ledger, is_here=True)
        return came

    def joining(self, old: str, into: str) -> Joining:
        """What would happen if `into` answered for `old`; nothing is saved."""
        return joining(self.ledger, old, into, self.name_of, self._named_by)

    def merge(self, old: str, into: str, *, who: str, why: str) -> Kept[Any]:
        """Let `into` answer for `old` from now on, with what only `old` says; `unmerge` undoes it."""
        reason = reasoned(why, "merging two records")
        with self._change(who, reason) as change:
            merge(change, self.ledger, old, into, self.today())
        return self.read(into)

    def unmerge(self, document_id: str, *, who: str, why: str) -> tuple[ValueChange, ...]:
        """Let a merged record answer for itself again; what the other one keeps of it.

        A work that was made from a record from elsewhere is set aside by it.
        """
        reason = reasoned(why, "undoing a merge")
        with self._change(who, reason) as change:
            return unmerge(change, self.ledger, document_id, self.today(), self.name_of)

    def doubles(self, party: Party) -> tuple[Double, ...]:
        """Those on file who may be the same as a party, with the reasons; those told apart stand last."""
        return self._doubles.of(party)

    def tell_apart(self, party: str, other: str, *, who: str, why: str) -> Kept[Party]:
        """Remember that a party is not another: one on file, or whoever is written `other` somewhere.

        The two are not offered as one again.
        """
        reason = reasoned(why, "telling two apart")
        kept = self.read(party)
        member = self.who(who)
        by = member if member.startswith("party/") else None
        told = doubles.told_apart(
            kept.record, self._other(other), by=by, on=self.today(), why=reason
        )
        if told == kept.record:
            return kept
        return self.save(told, who=who, why=reason, read=kept)

    def take_for_one(self, party: str, other: str, *, who: str, why: str) -> Kept[Party]:
        """Take back that a party is not another."""
        reason = reasoned(why, "taking back that two are told apart")
        kept = self.read(party)
        told = doubles.taken_for_one(kept.record, self._other(other))
        return self.save(told, who=who, why=reason, read=kept)

    def _other(self, other: str) -> Party | str:
        """A party on file by its id or very name, else the name as it is written."""
        if other.startswith("party/"):
            return self.party(other).record
        found = self.find_party(other)
        return found.record if found else other

    def adopt(self, document_id: str, *, who: str, why: str) -> Kept[Any]:
        """Make a record from elsewhere a work, a person or a firm of our own, as it came."""
        reason = reasoned(why, "making a record our own")
        read = self.read(document_id)
        if not isinstance(read.record, Reference):
            raise BadData(f"{self.name_of(document_id)} is one of our own already")
        with self._change(who, reason) as change:
            return adopt(change, self.ledger, read, self.today())

    def about_person(self, wanted: str) -> OnPerson:
        """Everything on file about one person or firm (a name, an id): what they may ask to see."""
        from catalogue.about_person import on_person

        return on_person(
            self.ledger, self.party(self.meant(wanted)), self.name_of, self._named_by
        )

    def retention(self) -> Iterator[Due]:
        """Every record that vocab/retention.toml gives years, and how it stands today."""
        return self._retention.standing()

    def holds(self) -> tuple[Hold, ...]:
        """Every record that must stay, whatever its years, and why."""
        from catalogue.retention import holds

        return holds(self.ledger)

    def hold(self, wanted: str, *, who: str, why: str) -> Hold:
        """Hold a record, so that it is never due and cannot be forgotten, until it is let go."""
        from catalogue.retention import hold

        return hold(
            self.ledger, self.meant(wanted), why=why, who=self.who(who), today=self.today()
        )

    def let_go(self, wanted: str) -> Hold:
        """Hold a record no longer. Raises `NotOnFile` where it is not held."""
        from catalogue.retention import let_go

        return let_go(self.ledger, self.meant(wanted))

    def forgotten(self) -> Iterator[Change]:
        """Every change in which something was deleted for good: what, by whom, when, why."""
        return self.ledger.changes(act="forget")

    def forgetting(self, document_id: str) -> Forgetting:
        """What forgetting a record would do, in numbers; nothing is saved."""
        return forgetting(self.ledger, self.ledger.read(document_id).document, self._named_by)

    def forget(self, document_id: str, *, who: str, why: str, pseudonym: str = WITHHELD) -> int:
        """Replace a party by a pseudonym, or keep of a work only what it says today.

        What older revisions said is deleted; how many those were. The chain still holds: it is over
        digests, and `verify` lists what was forgotten, by whom, when and why.
        """
        from catalogue.retention import refuse_held

        reason = reasoned(why, "forgetting")
        read = self.read(document_id)
        refuse_held(self.ledger, read.document_id)
        with self._change(who, reason) as change:
            gone = forget(change, self.ledger, read, pseudonym)
        as_read_lately.cache_clear()  # nor is it kept in memory
        self._worked_out = Remembered(self.ledger, WORKED_OUT)
        self._shapes().clear()
        return gone

    def _change(self, who: str, why: str) -> AbstractContextManager[OpenChange]:
        return self.ledger.change(who=self.who(who), written_in=FORMAT, why=why)


def _check_base(base: str | None) -> None:
    if base is not None and not base.startswith(("http://", "https://")):
        raise BadSetting(
            f"the base {base!r} is not a web address", remedy="such as https://backs.example/"
        )


def _artist(name: str) -> Party:
    return Party(
        kind="person", names=(PartyName(text=name, preferred=True),), roles=("role/artist",)
    )


def _keep_pictures(
    pictures: tuple[tuple[Photo, bytes | Path], ...], change: OpenChange
) -> None:
    """Keep the files of photographs. Raises `BadPicture` for one that changed since it was looked at."""
    for photo, content in pictures:
        name = str(photo.file_name)
        kept = change.keep_file(content, name=name, media_type=photo.media_type or "")
        if kept != photo.sha256:
            raise BadPicture(
                f"{name}: the file changed since it was looked at",
                remedy="look at it again",
            )
