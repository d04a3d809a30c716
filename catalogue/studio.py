"""The one door: every verb of the tool. Desk and command line ask the studio one thing and show it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast
from zoneinfo import ZoneInfo

from catalogue.errors import BadData, BadPicture, BadSetting, NotOnFile, StaleRevision
from catalogue.ledger import Change, Ledger, OpenChange, Revision, Verdict, restore
from catalogue.linked.documents import FORMAT, from_jsonld, to_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import Node, parse, write
from catalogue.measure import DateSpan, Day, read_attribution, read_date, why_not
from catalogue.record import (
    Attribution,
    Job,
    Note,
    Party,
    PartyName,
    Photo,
    Record,
    Reference,
    Release,
    Title,
    Work,
    digest_of,
    is_id,
)
from catalogue.record.compare import clashes, differences, with_additions
from catalogue.surface import Box
from catalogue.terms import label

if TYPE_CHECKING:
    from catalogue.exchange.intake import Arrival
    from catalogue.exchange.sending import Exported
    from catalogue.indexes.words import Entry, Query, Results, Words
    from catalogue.ledger import BackupFacts, Draft, Head

R = TypeVar("R", Work, Party, Job, Reference)
Progress = Callable[[int, int], None]
"""Called with how many are done and how many there are; 0 for a number that nobody knows."""

CATCH_UP_AT_ONCE = 200
"""How many documents a search takes into the index before it answers; more are left to a rebuild."""


@dataclass(frozen=True, slots=True)
class Kept(Generic[R]):
    """A record as it was read: with the revision that a save will be measured against."""

    record: R
    revision: int
    document_id: str


@dataclass(frozen=True, slots=True)
class InTheHouse:
    """One line of the bench: a work that is here, for which job, what comes next, when it is due."""

    work: Work
    job: Job
    next_step: str | None
    due: Day | None
    overdue: bool


@dataclass(frozen=True, slots=True)
class Bench:
    """What a day begins with: what is here, what is half done, what was worked on last."""

    here: tuple[InTheHouse, ...]
    drafts: tuple[Draft, ...]
    latest: tuple[Work, ...]
    works: int


@dataclass(frozen=True, slots=True)
class Imported:
    """What became of one document of an import.

    `outcome` is one of new, same (already on file), different (on file with other content: not
    saved), added, refused. `said` are sentences for the person.
    """

    source: str
    document_id: str
    outcome: str
    said: tuple[str, ...] = ()


class Studio:
    """An open studio: its ledger, its indexes, and every verb of the tool.

    Close it, or use it in a `with`. Any thread may call it.
    """

    def __init__(self, ledger: Ledger) -> None:
        self.ledger = ledger
        self.folder = ledger.folder
        self._index: Words | None = None

    @classmethod
    def init(
        cls, folder: str | Path, *, base: str | None = None, zone: str | None = None
    ) -> Studio:
        """A new studio in an empty or new folder; `base` is the address its records go out under."""
        where = Path(folder)
        if base is not None and not base.startswith(("http://", "https://")):
            raise BadSetting(
                f"the base {base!r} is not a web address",
                remedy="such as https://backs.example/",
            )
        ledger = Ledger.create(where, zone=zone)
        if base is not None:
            ledger.set_setting("base", base)
        return cls(ledger)

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
        self.ledger.set_setting("base", base or "")

    def today(self) -> Day:
        """The day it is in the studio's own zone."""
        now = datetime.now(ZoneInfo(self.ledger.setting("zone") or "UTC"))
        return Day(now.year, now.month, now.day)

    def members(self) -> tuple[Party, ...]:
        """The people who work here: parties in the role of studio member, by name."""
        found = (kept.record for kept in self.all(Party))
        here = (party for party in found if "role/studio-member" in party.roles)
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
        if "/" not in document_id:
            return document_id
        with suppress(NotOnFile):
            return self._label(document_id)[1]
        return document_id

    # --- reading ----------------------------------------------------------------------------------

    def read(self, document_id: str, revision: int | None = None) -> Kept[Any]:
        """A record by document id ("work/<uuid>"), as it stands or as it stood. Raises `NotOnFile`."""
        return _kept(self.ledger.read(document_id, revision))

    def document(self, document_id: str, revision: int | None = None) -> Node:
        """The stored document itself."""
        return parse(self.ledger.read(document_id, revision).body)

    def all(self, kind: type[R]) -> Iterator[Kept[R]]:
        """Every record of one kind that is listed."""
        for revision in self.ledger.bodies(kind.__name__.lower()):
            yield cast("Kept[R]", _kept(revision))

    def work(self, wanted: str) -> Kept[Work]:
        """A work by its number ("2026-041"), its UUID or its document id. Raises `NotOnFile`."""
        if wanted.startswith("work/"):
            return self.read(wanted)
        if is_id(wanted):
            return self.read(f"work/{wanted}")
        for revision in self.ledger.bodies("work"):
            # A look at the text spares reading ten thousand records to find one.
            if wanted.encode() in revision.body:
                kept = _kept(revision)
                if kept.record.number == wanted:
                    return kept
        raise NotOnFile(
            f"no work has the number {wanted!r}", remedy="dorse search finds by words"
        )

    def party(self, wanted: str) -> Kept[Party]:
        """A party by UUID or document id. Raises `NotOnFile`."""
        return self.read(wanted if wanted.startswith("party/") else f"party/{wanted}")

    def find_party(self, name: str) -> Kept[Party] | None:
        """The party that has this very name among its names, or None."""
        wanted = name.strip().casefold()
        for kept in self.all(Party):
            if any(each.text.casefold() == wanted for each in kept.record.names):
                return kept
        return None

    def bench(self) -> Bench:
        """What is in the house, what is half done, what was worked on last."""
        today = self.today()
        here = [
            InTheHouse(
                self.read(item.work).record, job, item.next_step, item.due,
                bool(item.due and item.due < today),
            )
            for kept in self.all(Job)
            for job in (kept.record,)
            for item in job.items
            if item.left is None and self.ledger.has(item.work)
        ]  # fmt: skip
        here.sort(
            key=lambda each: (
                each.due is None,
                each.due.iso if each.due else "",
                each.work.number or "",
            )
        )
        latest = [self.read(head.document).record for head in self.ledger.latest("work", 8)]
        works = sum(1 for _ in self.ledger.heads("work"))
        return Bench(tuple(here), tuple(self.ledger.drafts()), tuple(latest), works)

    def jobs_of(self, document_id: str) -> tuple[Job, ...]:
        """The commissions for which a work is or was here."""
        wanted = document_id.encode()
        found = (
            _kept(each).record for each in self.ledger.bodies("job") if wanted in each.body
        )
        return tuple(
            job for job in found if any(item.work == document_id for item in job.items)
        )

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
        """Every change, or every change of one document, oldest first."""
        return self.ledger.changes(document_id)

    # --- saving -----------------------------------------------------------------------------------

    def save(
        self,
        record: R,
        *,
        who: str,
        why: str = "",
        read: Kept[R] | None = None,
        draft: str | None = None,
    ) -> Kept[R]:
        """Keep a record: a new one, or what changed in one since it was `read`.

        What somebody else changed meanwhile is joined value by value; the same value changed twice
        raises `StaleRevision` with both sides, and nothing is saved. Numbers are issued here. The
        answer comes after the change is safely on the disk.
        """
        if read is not None and record == read.record and draft is None:
            return read
        verb = "new" if read is None else "edit"
        with self.ledger.change(
            who=self.who(who), written_in=FORMAT, why=why or _subject(verb, record)
        ) as change:
            if read is None:
                claimed, taken = self._claim(record, change)
                if taken:
                    raise BadData(taken[0], remedy="leave the number out, and it gets its own")
                record = cast("R", claimed)
                body = write(to_jsonld(record))
                revision = change.save(record.document, body, expected=None)
            else:
                record, body, current = self._joined(record, read, change)
                revision = change.save(read.document_id, body, expected=current)
            if draft is not None:
                change.take_draft(draft)
        return Kept(record, revision, record.document)

    def _joined(self, record: R, read: Kept[R], change: OpenChange) -> tuple[R, bytes, int]:
        """The record and its text with what everybody changed, and the revision it was joined to."""
        now = self.ledger.read(read.document_id)
        if now.revision != read.revision:
            theirs = _kept(now).record
            twice = clashes(read.record, record, theirs)
            if twice:
                mine, other = twice[0]
                raise StaleRevision(
                    f"the {_naming(mine.kind, mine.field)} was changed by somebody else since you read it",
                    mine=mine.after,
                    theirs=other.after,
                    remedy="compare both versions and save again",
                )
        record = self._numbered(record, change)
        document = merge(parse(now.body), read.record, record)
        joined = from_jsonld(document, document_id=read.document_id, written_in=now.format)
        if now.revision == read.revision and joined != record:
            raise BadData(
                "this record came from elsewhere in a form that this change cannot be written into",
                remedy="nothing was saved; make it a work of your own first",
            )
        return cast("R", joined), write(document), now.revision

    def _numbered(self, record: R, change: OpenChange) -> R:
        """The record with a number for whatever has none yet, issued within the change."""
        if isinstance(record, Work):
            number = record.number or _written_number("", change, "work", self.today())
            inscriptions = tuple(
                each
                if each.number
                else replace(each, number=f"I{change.number(f'I of {record.document}')}")
                for each in record.inscriptions
            )
            photos = tuple(
                each
                if each.number
                else replace(each, number=f"P{change.number(f'P of {record.document}')}")
                for each in record.photos
            )
            return replace(record, number=number, inscriptions=inscriptions, photos=photos)
        if isinstance(record, Job) and record.number is None:
            return replace(record, number=_written_number("J", change, "job", self.today()))
        return record

    def _claim(self, record: Record, change: OpenChange) -> tuple[Record, tuple[str, ...]]:
        """Take the numbers that an imported record brings; one that is taken is replaced, and said."""
        said: list[str] = []
        if isinstance(record, Work):
            for prefix, numbers in (
                ("I", (each.number for each in record.inscriptions)),
                ("P", (each.number for each in record.photos)),
            ):
                for number in numbers:
                    if number:
                        change.claim(f"{prefix} of {record.document}", int(number[1:]))
        if isinstance(record, Work | Job) and record.number:
            kind = type(record).__name__.lower()
            year, _, count = record.number.removeprefix("J").partition("-")
            try:
                change.claim(f"{kind}:{year}", int(count))
            except BadData:
                said.append(f"the number {record.number} is taken here")
                record = replace(record, number=None)
        return self._numbered(cast("Any", record), change), tuple(said)

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
        photos: Iterable[tuple[Photo, bytes]] = (),
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
            who=self.who(who), written_in=FORMAT, why=_subject("new", work)
        ) as change:
            for party in strangers:
                change.save(party.document, write(to_jsonld(party)), expected=None)
            _keep_pictures(pictures, change)
            work = self._numbered(work, change)
            revision = change.save(work.document, write(to_jsonld(work)), expected=None)
        return Kept(work, revision, work.document)

    def _attributed(self, written: str) -> tuple[tuple[Attribution, ...], tuple[Party, ...]]:
        """The attribution that a maker's line makes, and the party that is not on file yet."""
        qualifier, name = read_attribution(written)
        found = self.find_party(name)
        party = found.record if found else _artist(name)
        said = Attribution(
            artist=party.document,
            qualifier=qualifier or "qualifier/by",
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
        self, read: Kept[Work], photos: Iterable[tuple[Photo, bytes]], *, who: str
    ) -> Kept[Work]:
        """Keep photographs of a work (`taken_in`), all of them as one change."""
        pictures = tuple(photos)
        record = replace(
            read.record, photos=(*read.record.photos, *(photo for photo, _ in pictures))
        )
        names = ", ".join(str(photo.file_name) for photo, _ in pictures[:3])
        why = f"photo {names} of {read.record.number}"
        with self.ledger.change(who=self.who(who), written_in=FORMAT, why=why) as change:
            _keep_pictures(pictures, change)
            record, body, current = self._joined(record, read, change)
            revision = change.save(read.document_id, body, expected=current)
        return Kept(record, revision, read.document_id)

    def add_photo(
        self, read: Kept[Work], content: bytes, *, name: str, who: str, **facts: Any
    ) -> Kept[Work]:
        """Take in one photograph of a work. Raises `BadPicture`; nothing is saved then."""
        return self.add_photos(
            read, [(self.taken_in(content, name=name, **facts), content)], who=who
        )

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

        limit = float(self.ledger.setting("megapixels", "150") or "150")
        facts = inspect(content, name=photo.file_name or "", limit_megapixels=limit)
        taken = (
            Day(facts.taken.year, facts.taken.month, facts.taken.day) if facts.taken else None
        )
        return replace(
            photo,
            sha256=facts.sha256,
            media_type=facts.media_type,
            width=facts.width,
            height=facts.height,
            taken=photo.taken or taken,
        )

    def picture(self, sha256: str, recipe: str) -> Path:
        """A file of one derivative of a photograph ("thumb", "screen", "full"), made when first asked."""
        from catalogue.photos import RECIPES, derivative

        if recipe not in RECIPES:
            raise NotOnFile(f"there is no size {recipe!r} of a photo")
        return derivative(
            self.ledger.file(sha256), sha256, self._beside("derived"), RECIPES[recipe]
        )

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
        from catalogue.indexes.words import NeedsRebuild

        words = self._words()
        try:
            # First the number, then the documents: a save in between is taken in twice, not lost.
            last = self.ledger.last()[0]
            waiting = self._waiting(words.cursor)
            if len(waiting) > CATCH_UP_AT_ONCE:
                return words.search(query, behind=len(waiting))
            extra = words.catch_up(self._entries_of(waiting), last)
            return words.search(query, extra)
        except NeedsRebuild:
            # The index is derived: whatever is wrong with it, the ledger makes a new one.
            self.rebuild()
            return words.search(query)

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
        )

    def catch_up(self, progress: Progress | None = None) -> int:
        """Take everything saved since into the index, in batches; how many documents that was."""
        from catalogue.indexes.words import NeedsRebuild

        words = self._words()
        try:
            last = self.ledger.last()[0]
            waiting = self._waiting(words.cursor)
            if words.cursor == 0 and len(waiting) > CATCH_UP_AT_ONCE:
                return self.rebuild(progress)
            for start in range(0, len(waiting), CATCH_UP_AT_ONCE):
                batch = waiting[start : start + CATCH_UP_AT_ONCE]
                done = start + len(batch)
                # The cursor moves once everything is in: a batch taken in twice does no harm.
                words.take_in(
                    self._entries_of(batch), last if done == len(waiting) else words.cursor
                )
                if progress:
                    progress(done, len(waiting))
        except NeedsRebuild:
            return self.rebuild(progress)
        return len(waiting)

    def _waiting(self, cursor: int) -> list[tuple[str, Head]]:
        """The documents touched since, and the works that name a party touched since."""
        touched = self.ledger.since(cursor)
        parties = [
            document.encode() for document, _ in touched if document.startswith("party/")
        ]
        if not parties or cursor == 0:
            return touched
        known = {document for document, _ in touched}
        named = re.compile(b"|".join(map(re.escape, parties)))
        naming = [
            (revision.document, self.ledger.head(revision.document))
            for revision in self.ledger.bodies("work")
            if revision.document not in known and named.search(revision.body)
        ]
        return [*touched, *naming]

    def rebuild(self, progress: Progress | None = None) -> int:
        """Make the index anew from the ledger alone; how many documents it holds."""
        last = self.ledger.last()[0]
        heads = list(self.ledger.heads())

        def documents() -> Iterator[tuple[str, Sequence[Entry]]]:
            for done, head in enumerate(heads, 1):
                yield from self._entries_of([(head.document, head)])
                if progress and done % 20 == 0:
                    progress(done, len(heads))

        self._words().rebuild(documents(), last)
        return len(heads)

    def _words(self) -> Words:
        """The index of words, opened when first asked; one that is damaged is thrown away."""
        if self._index is None:
            from catalogue.indexes.words import Words

            self._index = Words(self._beside("indexes"))
        return self._index

    def _entries_of(
        self, touched: Iterable[tuple[str, Head]]
    ) -> Iterator[tuple[str, Sequence[Entry]]]:
        """What the index holds of these documents; nothing of one that was withdrawn or merged."""
        from catalogue.indexes.entries import entries

        names = cache(self._names)
        for document_id, head in touched:
            if not head.listed:
                yield document_id, ()
            else:
                yield document_id, entries(self.read(document_id).record, names)

    def _names(self, party: str) -> tuple[str, ...]:
        """Every form of a party's name, the one to show first."""
        try:
            return tuple(name.text for name in self.party(party).record.names)
        except NotOnFile:
            return ()

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

    # --- sending out and taking in ----------------------------------------------------------------

    @staticmethod
    def formats() -> dict[str, str]:
        """Every format that records leave in, and the sentence that says what it is for."""
        from catalogue.exchange.formats import FORMATS

        return {name: each.says for name, each in FORMATS.items()}

    @staticmethod
    def profiles() -> dict[str, str]:
        """Every list of what may leave, and the sentence that says for whom it is."""
        from catalogue.exchange.redaction import profiles

        return {name: each.says for name, each in profiles().items()}

    def export(
        self,
        format_name: str,
        profile_name: str,
        out: Path,
        works: Iterable[str] | None = None,
        progress: Progress | None = None,
    ) -> Exported:
        """Write works (all of them for None) and whom they name into a folder, under a profile.

        Only what the profile lists leaves; the rest is said in `stayed_home`. Raises `BadSetting`
        for an unknown format or profile before anything is written.
        """
        from catalogue.exchange.formats import format_named
        from catalogue.exchange.redaction import profile
        from catalogue.exchange.sending import Sending

        chosen, allowed = format_named(format_name), profile(profile_name)
        kind = None if allowed.everything else "work"
        if works is None:
            how_many = sum(1 for _ in self.ledger.heads(kind))
            wanted = ((each.document, each.body) for each in self.ledger.bodies(kind))
        else:
            ids = [self.work(each).document_id for each in works]
            how_many = len(ids)
            wanted = ((each, self._stored(each)) for each in ids)
        sending = Sending(self._stored, self._label, chosen, allowed, self.base)
        return sending.into(out, wanted, how_many, progress)

    def _stored(self, document_id: str) -> bytes:
        return self.ledger.read(document_id).body

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
        from catalogue.exchange.intake import Arrival, arrivals, json_files

        sources = [found for path in paths for found in json_files(Path(path))]
        beside = _Pictures(sources, pictures)
        batch: list[Arrival] = []
        for done, source in enumerate(sources, 1):
            for arrival in arrivals(source, self.base, self._kind_of_uuid):
                if isinstance(arrival, Arrival):
                    batch.append(arrival)
                else:
                    yield Imported(str(source), "", "refused", (str(arrival.error),))
            if len(batch) >= IMPORT_BATCH or done == len(sources):
                yield from self._take_in(batch, beside, who, add)
                batch = []
            if progress:
                progress(done, len(sources))

    def _kind_of_uuid(self, uuid: str) -> str | None:
        for kind in ("work", "party", "job", "reference"):
            if self.ledger.has(f"{kind}/{uuid}"):
                return kind
        return None

    def _take_in(
        self, batch: list[Arrival], pictures: _Pictures, who: str, add: bool
    ) -> list[Imported]:
        """Save what is new of a batch as one change; say of each document what became of it."""
        told: list[Imported] = []
        new: dict[str, Arrival] = {}
        for arrival in batch:
            on_file = new.get(arrival.document_id) or self._on_file(arrival.document_id)
            if on_file is None:
                new[arrival.document_id] = arrival
                continue
            said = _already(arrival, on_file)
            if add and said.outcome == "different" and isinstance(on_file, Kept):
                said = self._add_to(on_file, arrival, who)
            told.append(said)
        if not new:
            return told
        why = f"import {', '.join(sorted({each.source.name for each in new.values()})[:3])}"
        with self.ledger.change(who=self.who(who), written_in=FORMAT, why=why) as change:
            told += [self._save_arrival(each, pictures, change) for each in new.values()]
        return told

    def _add_to(self, read: Kept[Any], arrival: Arrival, who: str) -> Imported:
        """Add what an import says beyond what is on file."""
        more = with_additions(read.record, cast("Any", arrival.record))
        where = (str(arrival.source), arrival.document_id)
        if more == read.record:
            return Imported(*where, "same", ("it says nothing beyond what is on file",))
        self.save(more, who=who, why=f"add from {arrival.source.name}", read=read)
        return Imported(*where, "added", ("what it says beyond what is on file was added",))

    def _on_file(self, document_id: str) -> Kept[Any] | None:
        return self.read(document_id) if self.ledger.has(document_id) else None

    def _save_arrival(
        self, arrival: Arrival, pictures: _Pictures, change: OpenChange
    ) -> Imported:
        said = (
            [f"kept, not understood: {', '.join(arrival.not_understood)}"]
            if arrival.not_understood
            else []
        )
        record, photos = self._with_pictures(arrival.record, pictures, change)
        record, taken = self._claim(record, change)
        numbers = (f"{taken[0]}; it got a new one",) if taken else ()
        document = merge(arrival.document, arrival.record, record)
        source = change.keep_file(
            arrival.source, name=arrival.source.name, media_type="application/ld+json"
        )
        change.save(arrival.document_id, write(document), expected=None, source=source)
        return Imported(
            str(arrival.source), arrival.document_id, "new", (*said, *photos, *numbers)
        )

    def _with_pictures(
        self, record: Record, pictures: _Pictures, change: OpenChange
    ) -> tuple[Record, list[str]]:
        """The record with the digests of the pictures that lie beside its file, taken in unchanged."""
        if not isinstance(record, Work):
            return record, []
        said: list[str] = []
        photos: list[Photo] = []
        for photo in record.photos:
            path = pictures.find(photo.file_name) if photo.sha256 is None else None
            if path is None:
                if photo.sha256 is None or not self.ledger.has_file(photo.sha256):
                    said.append(
                        f"the picture {photo.file_name or photo.sha256} did not come along"
                    )
                photos.append(photo)
                continue
            try:
                taken = self._taken_in(photo, path.read_bytes())
            except BadPicture as refused:
                said.append(str(refused))
                photos.append(photo)
                continue
            change.keep_file(path, name=path.name, media_type=taken.media_type or "")
            photos.append(taken)
        return replace(record, photos=tuple(photos)), said

    # --- keeping ----------------------------------------------------------------------------------

    def verify(self, head: str | None = None) -> Verdict:
        """Whether everything kept is what was saved; `head` is a digest printed earlier."""
        return self.ledger.verify(expected_head=head)

    def backup(self, target: Path) -> BackupFacts:
        """A verified copy of the ledger and its files, as a folder or one .tar file."""
        return self.ledger.backup(target)

    @staticmethod
    def restore(source: Path, folder: Path) -> Studio:
        """A studio from a backup, into an empty or new folder."""
        restore(source, folder)
        return Studio.open(folder)

    def forget(self, document_id: str, *, who: str, why: str, pseudonym: str) -> int:
        """Replace a party by a pseudonym and delete what older revisions said; how many those were.

        The chain still holds: it is over digests, and `verify` lists what was withdrawn, by whom,
        when and why.
        """
        read = self.read(document_id)
        if not isinstance(read.record, Party):
            raise BadData(
                f"{document_id} is not a person or firm", remedy="only a party can be forgotten"
            )
        if not why.strip():
            raise BadData("forgetting needs a reason", remedy='say it with --why "..."')
        bare = Party(
            id=read.record.id,
            kind=read.record.kind,
            names=(PartyName(text=pseudonym, preferred=True),),
            roles=read.record.roles,
        )
        with self.ledger.change(who=self.who(who), written_in=FORMAT, why=why) as change:
            current = change.save(document_id, write(to_jsonld(bare)), expected=read.revision)
            change.forget_revisions(document_id, range(1, current))
        return current - 1


def _artist(name: str) -> Party:
    return Party(
        kind="person", names=(PartyName(text=name, preferred=True),), roles=("role/artist",)
    )


def _keep_pictures(pictures: tuple[tuple[Photo, bytes], ...], change: OpenChange) -> None:
    for photo, content in pictures:
        change.keep_file(content, name=str(photo.file_name), media_type=photo.media_type or "")


IMPORT_BATCH = 200
"""How many documents of an import are saved as one change."""


class _Pictures:
    """The picture files that lie beside the files of an import, by name."""

    def __init__(self, sources: Iterable[Path], elsewhere: Path | None) -> None:
        self._folders = sorted({source.parent for source in sources})
        self._elsewhere = {elsewhere} if elsewhere else set()
        self._found: dict[str, Path] | None = None

    def find(self, name: str | None) -> Path | None:
        """The file of that name beside the records, or in a folder next to theirs."""
        if name is None:
            return None
        if self._found is None:
            around = self._elsewhere | {
                near for folder in self._folders for near in (folder, folder.parent / "photos")
            }
            self._found = {
                path.name: path
                for folder in sorted(around)
                if folder.is_dir()
                for path in sorted(folder.iterdir())
                if path.is_file()
            }
        return self._found.get(name)


def _kept(revision: Revision) -> Kept[Any]:
    record = from_jsonld(
        parse(revision.body), document_id=revision.document, written_in=revision.format
    )
    return Kept(record, revision.revision, revision.document)


def _already(arrival: Arrival, on_file: Kept[Any] | Arrival) -> Imported:
    """What to say of a document that is on file: the same, or what the import would change."""
    changes = [
        each for each in differences(on_file.record, arrival.record) if each.after is not None
    ]
    where = str(arrival.source)
    if not changes:
        return Imported(where, arrival.document_id, "same")
    brings = dict.fromkeys(
        f"{'it adds' if each.before is None else 'it has another'} {_naming(each.kind, each.field)}"
        for each in changes
    )
    said = ("it is on file with other content; nothing was saved", *list(brings)[:8])
    return Imported(where, arrival.document_id, "different", said)


def _written_number(prefix: str, change: OpenChange, kind: str, today: Day) -> str:
    return f"{prefix}{today.year}-{change.number(f'{kind}:{today.year}'):03d}"


def _subject(verb: str, record: Record) -> str:
    match record:
        case Work():
            what = record.number or record.title()
        case Party():
            what = record.name()
        case Job():
            what = record.number or "commission"
        case Reference():
            what = record.labels[0] if record.labels else record.id
    return f"{verb} {type(record).__name__.lower()} {what}"


def _naming(kind: str, field: str) -> str:
    return f"{field} of the {kind.lower()}" if field else kind.lower()
