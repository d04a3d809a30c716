"""The one door: every verb of the tool. Desk and command line ask the studio one thing and show it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast
from zoneinfo import ZoneInfo

from catalogue.errors import BadData, BadPicture, BadSetting, NotOnFile, StaleRevision
from catalogue.ledger import (
    Change,
    Ledger,
    OpenChange,
    Revision,
    Verdict,
    backup,
    restore,
    verify,
)
from catalogue.linked.documents import FORMAT, from_jsonld, to_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import Node, parse, write
from catalogue.measure import Day, read_attribution, read_date, why_not
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
from catalogue.record.compare import clashes, differences

if TYPE_CHECKING:
    from catalogue.exchange.intake import Arrival
    from catalogue.exchange.sending import Exported
    from catalogue.indexes.words import Query, Results
    from catalogue.ledger import BackupFacts, Draft

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
    saved), refused. `said` are sentences for the person.
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
        self._index: Any = None

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
        now = datetime.now(ZoneInfo(self.ledger.setting("zone", "UTC")))
        return Day(now.year, now.month, now.day)

    def members(self) -> tuple[Party, ...]:
        """The people who work here: parties in the role of studio member, by name."""
        found = (kept.record for kept in self.all(Party))
        here = (party for party in found if "role/studio-member" in party.roles)
        return tuple(sorted(here, key=lambda party: party.name()))

    def who(self, said: str) -> str:
        """What the ledger writes for a person: a member's id when the name is a member's, else the name."""
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
        works = {kept.document_id: kept.record for kept in self.all(Work)}
        today = self.today()
        here = [
            InTheHouse(
                works[item.work],
                job,
                item.next_step,
                item.due,
                bool(item.due and item.due < today),
            )
            for kept in self.all(Job)
            for job in (kept.record,)
            for item in job.items
            if item.left is None and item.work in works
        ]
        here.sort(
            key=lambda each: (
                each.due is None,
                each.due.iso if each.due else "",
                each.work.number or "",
            )
        )
        latest: dict[str, Work] = {}
        for head in self.ledger.latest("work", 8):
            if head.document in works:
                latest[head.document] = works[head.document]
        return Bench(
            tuple(here), tuple(self.ledger.drafts()), tuple(latest.values()), len(works)
        )

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
            who=self.who(who), format=FORMAT, why=why or _subject(verb, record)
        ) as change:
            if read is None:
                record = self._numbered(record, change)
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
                    f"{_naming(mine.kind, mine.field)} was changed by somebody else since you read it",
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
                said.append(f"the number {record.number} is taken here; it got a new one")
                record = replace(record, number=None)
        return self._numbered(record, change), tuple(said)

    def release(self, note: Note, *, by: str) -> Note:
        """The note with somebody's word that this very text may leave."""
        now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        return replace(note, released=Release(by=by, at=now, digest=digest_of(note.text)))

    def new_work(
        self, *, title: str, artist: str | None = None, made: str | None = None, who: str
    ) -> Kept[Work]:
        """A new work from what is known at the door; an artist not on file becomes a party."""
        span = read_date(made) if made else None
        if made and span is None:
            raise BadData(f"the date {made!r} is not understood: {why_not(made)}")
        qualifier, name = read_attribution(artist) if artist else (None, "")
        attributions: tuple[Attribution, ...] = ()
        if name:
            found = self.find_party(name)
            party = found.record if found else Party(
                kind="person", names=(PartyName(text=name, preferred=True),), roles=("role/artist",)
            )  # fmt: skip
            if found is None:
                self.save(party, who=who)
            attributions = (
                Attribution(
                    artist=party.document,
                    qualifier=qualifier or "qualifier/by",
                    written=artist,
                    preferred=True,
                ),
            )
        work = Work(
            titles=(Title(text=title, kind="title/given", preferred=True),),
            attributions=attributions,
            made=span,
        )
        return self.save(work, who=who)

    # --- photographs ------------------------------------------------------------------------------

    def add_photo(
        self, read: Kept[Work], content: bytes, *, name: str, who: str, **facts: Any
    ) -> Kept[Work]:
        """Take in a photograph of a work; `facts` are fields of `Photo` (view, face, light ...).

        Raises `BadPicture`; nothing is saved then.
        """
        photo = self._taken_in(Photo(file_name=name, **facts), content)
        record = replace(read.record, photos=(*read.record.photos, photo))
        with self.ledger.change(
            who=self.who(who), format=FORMAT, why=f"photo {name} of {read.record.number}"
        ) as change:
            change.keep_file(content, name=name, media_type=photo.media_type or "")
            record, body, current = self._joined(record, read, change)
            revision = change.save(read.document_id, body, expected=current)
        return Kept(record, revision, read.document_id)

    def _taken_in(self, photo: Photo, content: bytes) -> Photo:
        from catalogue.photos import inspect

        limit = float(self.ledger.setting("megapixels", "150"))
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
        words = self._words()
        waiting = self.ledger.since(words.cursor)
        if len(waiting) <= CATCH_UP_AT_ONCE:
            extra = words.catch_up(self._entries_of(waiting), self.ledger.last()[0])
            return cast("Results", words.search(query, extra))
        return cast("Results", words.search(query, behind=len(waiting)))

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

        span = read_date(when) if when else None
        if when and span is None:
            raise BadData(f"the date {when!r} is not understood: {why_not(when)}")
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
        words = self._words()
        waiting = self.ledger.since(words.cursor)
        last = self.ledger.last()[0]
        for start in range(0, len(waiting), CATCH_UP_AT_ONCE):
            batch = waiting[start : start + CATCH_UP_AT_ONCE]
            upto = last if start + CATCH_UP_AT_ONCE >= len(waiting) else words.cursor
            words.take_in(self._entries_of(batch), upto)
            if progress:
                progress(min(start + CATCH_UP_AT_ONCE, len(waiting)), len(waiting))
        return len(waiting)

    def rebuild(self, progress: Progress | None = None) -> int:
        """Make the index anew from the ledger alone; how many documents it holds."""
        heads = list(self.ledger.heads())
        last = self.ledger.last()[0]

        def documents() -> Iterator[tuple[str, Any]]:
            for done, head in enumerate(heads, 1):
                yield from self._entries_of([(head.document, head)])
                if progress and done % 20 == 0:
                    progress(done, len(heads))

        self._words().rebuild(documents(), last)
        return len(heads)

    def _words(self) -> Any:
        """The index of words, opened when first asked; one that is damaged is thrown away."""
        if self._index is None:
            from catalogue.indexes.words import Words

            self._index = Words(self._beside("indexes"))
        return self._index

    def _entries_of(self, touched: Iterable[tuple[str, Any]]) -> Iterator[tuple[str, Any]]:
        """What the index holds of these documents; nothing of one that was withdrawn or merged."""
        from catalogue.indexes.entries import entries

        names = cache(self._names)
        for document_id, head in touched:
            if head is None or not head.listed:
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
        wanted = (
            [head.document for head in self.ledger.heads("work")]
            if works is None
            else [self.work(each).document_id for each in works]
        )
        if works is None and allowed.everything:
            wanted = [head.document for head in self.ledger.heads()]
        sending = Sending(self._stored, self._label, chosen, allowed, self.base)
        return sending.into(out, wanted, progress)

    def _stored(self, document_id: str) -> bytes:
        return self.ledger.read(document_id).body

    def import_(
        self,
        paths: Iterable[Path],
        *,
        who: str,
        pictures: Path | None = None,
        progress: Progress | None = None,
    ) -> Iterator[Imported]:
        """Take in files and folders of JSON-LD, with the pictures that lie beside them or in `pictures`.

        Each document is reported by itself: new, already on file, different (and not saved), or
        refused with the reason. Nothing on file is ever saved over.
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
                yield from self._take_in(batch, beside, who)
                batch = []
            if progress:
                progress(done, len(sources))

    def _kind_of_uuid(self, uuid: str) -> str | None:
        for kind in ("work", "party", "job", "reference"):
            if self.ledger.has(f"{kind}/{uuid}"):
                return kind
        return None

    def _take_in(self, batch: list[Arrival], pictures: _Pictures, who: str) -> list[Imported]:
        """Save what is new of a batch as one change; say of each document what became of it."""
        told: list[Imported] = []
        new: dict[str, Arrival] = {}
        for arrival in batch:
            on_file = new.get(arrival.document_id) or self._on_file(arrival.document_id)
            if on_file is None:
                new[arrival.document_id] = arrival
            else:
                told.append(_already(arrival, on_file))
        if not new:
            return told
        why = f"import {', '.join(sorted({each.source.name for each in new.values()})[:3])}"
        with self.ledger.change(who=self.who(who), format=FORMAT, why=why) as change:
            for arrival in new.values():
                told.append(self._save_arrival(arrival, pictures, change))
        return told

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
        record, numbers = self._claim(record, change)
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
        return verify(self.ledger, head)

    def backup(self, target: Path) -> BackupFacts:
        """A verified copy of the ledger and its files, as a folder or one .tar file."""
        return backup(self.ledger, target)

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
        with self.ledger.change(who=self.who(who), format=FORMAT, why=why) as change:
            current = change.save(document_id, write(to_jsonld(bare)), expected=read.revision)
            change.forget_revisions(document_id, range(1, current))
        return current - 1


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
    if on_file.record == arrival.record:
        return Imported(str(arrival.source), arrival.document_id, "same")
    brings = [
        f"{'adds' if each.before is None else 'would change'} {_naming(each.kind, each.field)}"
        for each in differences(on_file.record, arrival.record)
        if each.after is not None
    ]
    return Imported(
        str(arrival.source),
        arrival.document_id,
        "different",
        ("on file with other content; nothing was saved", *brings[:8]),
    )


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
    return f"{field} of the {kind.lower()}" if field else f"a {kind.lower()}"
