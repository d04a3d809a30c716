"""Taking records in: what becomes of each document of an import, and the pictures that come along.

Each document is looked at by itself; what is new of a batch is saved as one change. Nothing on file
is ever saved over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, cast

from catalogue.coming_along import CameAlong, keep_what_came, lacks_files
from catalogue.copies_kept import note_copies
from catalogue.errors import BadPicture
from catalogue.exchange.incoming import Arrival, Receiver, Refusal
from catalogue.exchange.readers import documents_of, files_to_read
from catalogue.exchange.withholding.standing_in import without_stand_ins
from catalogue.keeping import Kept, as_read, claimed, media_type_of
from catalogue.ledger import Ledger, OpenChange, Progress
from catalogue.linked.addresses import absolute
from catalogue.linked.documents import FORMAT, from_jsonld, to_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import parse, write
from catalogue.measure import Day
from catalogue.record import Job, Paper, Photo, Record, Reference, Work
from catalogue.record.compare import Difference, as_known, differences, with_additions
from catalogue.record.rules import KINDS
from catalogue.wording import field_word, kind_word

IMPORT_BATCH = 200
"""How many documents of an import are saved as one change."""


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


@dataclass(frozen=True, slots=True)
class Intake:
    """One import under way, by one person on one day.

    `save` keeps a record that was read, `taken_in` looks at a picture; both are the studio's.
    """

    ledger: Ledger
    base: str | None
    who: str
    today: Day
    add: bool
    save: Callable[[Any, Kept[Any], str], object]
    taken_in: Callable[[Photo, bytes], Photo]

    def of(
        self, paths: Iterable[Path], elsewhere: Path | None, progress: Progress | None = None
    ) -> Iterator[Imported]:
        """What becomes of each document of these files and folders; pictures may lie `elsewhere`."""
        with TemporaryDirectory(prefix="dorse-take-in-") as scratch:
            receiver = Receiver(self.base, self._kind_of_uuid, Path(scratch), self._record)
            yield from self._of(paths, elsewhere, progress, receiver)

    def _of(
        self,
        paths: Iterable[Path],
        elsewhere: Path | None,
        progress: Progress | None,
        receiver: Receiver,
    ) -> Iterator[Imported]:
        sources = [found for path in paths for found in files_to_read(Path(path))]

        def documents() -> Iterator[Arrival | Refusal]:
            for done, source in enumerate(sources, 1):
                yield from documents_of(source, receiver)
                if progress:
                    progress(done, len(sources))

        yield from self.of_documents(documents(), _Files(sources, elsewhere))

    def of_documents(
        self, found: Iterable[Arrival | Refusal], beside: _Files | None = None
    ) -> Iterator[Imported]:
        """What becomes of documents that somebody has read, some at a time."""
        files = beside or _Files((), None)
        batch: list[Arrival] = []
        begun: set[str] = set()
        for arrival in found:
            if isinstance(arrival, Refusal):
                yield Imported(arrival.place, "", "refused", (str(arrival.error),))
                continue
            batch.append(arrival)
            if len(batch) >= IMPORT_BATCH:
                yield from self._take_in(batch, files, begun)
                batch = []
        yield from self._take_in(batch, files, begun)

    def foreseen_of(self, paths: Iterable[Path]) -> Iterator[Imported]:
        """What would become of each document of these files and folders; nothing is saved."""
        with TemporaryDirectory(prefix="dorse-take-in-") as scratch:
            receiver = Receiver(self.base, self._kind_of_uuid, Path(scratch), self._record)
            for path in paths:
                for source in files_to_read(Path(path)):
                    for found in documents_of(source, receiver):
                        if isinstance(found, Refusal):
                            yield Imported(found.place, "", "refused", (str(found.error),))
                        else:
                            yield _told_whole(self.foreseen(found), found)

    def foreseen(self, arrival: Arrival) -> Imported:
        """What would become of a document; nothing is saved."""
        on_file = self._on_file(arrival.document_id)
        if on_file is None:
            return Imported(arrival.place, arrival.document_id, "new")
        return self._with_standing(self._compared(_as_on_file(arrival, on_file), on_file))

    def _kind_of_uuid(self, uuid: str) -> str | None:
        for kind in KINDS:
            if self.ledger.has(f"{kind}/{uuid}"):
                return kind
        return None

    def _record(self, document_id: str) -> Record | None:
        held = self._on_file(document_id)
        return held.record if held else None

    def _take_in(
        self, batch: list[Arrival], pictures: _Files, begun: set[str]
    ) -> list[Imported]:
        """Save what is new of a batch as one change; say of each document what became of it.

        `begun` are the documents that this import made of files that each tell a part of one.
        """
        told: list[Imported] = []
        new: dict[str, Arrival] = {}
        parts: list[Arrival] = []
        for arrival in batch:
            on_file = new.get(arrival.document_id) or self._on_file(arrival.document_id)
            if on_file is None:
                new[arrival.document_id] = arrival
                continue
            if isinstance(on_file, Kept):
                arrival = _as_on_file(arrival, on_file)
            said = self._compared(arrival, on_file)
            may_add = (self.add and not arrival.reduced) or (
                arrival.part and arrival.document_id in begun
            )
            if self.add and arrival.reduced and said.outcome == "different":
                said = replace(said, said=(*said.said, _REDUCED))
            if may_add and said.outcome == "different" and isinstance(on_file, Kept):
                said = self._add_to(on_file, arrival)
            elif isinstance(on_file, Arrival) and said.outcome == "different" and arrival.part:
                new[arrival.document_id] = _together(on_file, arrival)
                parts.append(arrival)
                said = _joined_to(on_file, arrival)
            if isinstance(on_file, Kept):
                said = self._with_late_files(said, arrival, on_file.record)
            told.append(self._with_standing(said))
        if not new:
            return told
        why = f"import {', '.join(sorted({_file_of(each).name for each in new.values()})[:3])}"
        with self.ledger.change(who=self.who, written_in=FORMAT, why=why) as change:
            # A job book of a thousand rows is one file.
            kept = {
                source: change.keep_file(source, name=source.name, media_type=media_type)
                for source, media_type in {
                    each.source: each.media_type for each in (*new.values(), *parts)
                }.items()
            }
            copies: dict[str, str] = {}
            for each in new.values():
                along = _came_along(self.ledger, each, change)
                copies.update(along.copies)
                told.append(
                    self._save_arrival(each, kept[each.source], pictures, along, change)
                )
        note_copies(self.ledger, copies)
        begun.update(each.document_id for each in new.values() if each.part)
        return told

    def _with_late_files(self, said: Imported, arrival: Arrival, record: Record) -> Imported:
        """The same, with files kept that a record on file names and that only now came along."""
        if arrival.folder is None or not lacks_files(self.ledger, record):
            return said
        why = f"files from {_file_of(arrival).name}"
        with self.ledger.change(who=self.who, written_in=FORMAT, why=why) as change:
            stem = arrival.source.stem
            along = keep_what_came(self.ledger, change, record, arrival.folder, stem)
        note_copies(self.ledger, along.copies)
        if not along.new:
            return said
        word = f"{along.new} of its files came along, and are kept"
        return replace(said, said=(*said.said, word))

    def _compared(self, arrival: Arrival, on_file: Kept[Any] | Arrival) -> Imported:
        """What to say of a document that is on file; of one kept as it came, all that it says counts."""
        said = _already(arrival, on_file)
        if said.outcome != "same" or not isinstance(arrival.record, Reference):
            return said
        if isinstance(on_file, Kept) and isinstance(on_file.record, Reference):
            there = parse(self.ledger.read(on_file.document_id, on_file.revision).body)
        elif isinstance(on_file, Arrival):
            there = on_file.document
        else:
            return said
        came = arrival.document
        # An address of ours says the same in full, as it left, and as it is kept.
        if there == came or absolute(there, self.base) == absolute(came, self.base):
            return said
        words = ("it is on file with other content; nothing was saved", "it says other things")
        return replace(said, outcome="different", said=words)

    def _add_to(self, read: Kept[Any], arrival: Arrival) -> Imported:
        """Add what an import says beyond what is on file."""
        if self.ledger.head(read.document_id).merged_into is not None:
            return _already(arrival, read)
        more = with_additions(read.record, cast("Any", arrival.record))
        where = (arrival.place, arrival.document_id)
        if more == read.record:
            return Imported(*where, "same", ("it says nothing beyond what is on file",))
        self.save(more, read, f"add from {_file_of(arrival).name}")
        return Imported(*where, "added", ("what it says beyond what is on file was added",))

    def _on_file(self, document_id: str) -> Kept[Any] | None:
        """The record of an id as it stands; of a merged one what it said itself, last of all.

        One from elsewhere that was made our own is on file as what it became.
        """
        if not self.ledger.has(document_id):
            return None
        head = self.ledger.head(document_id)
        became = head.merged_into is not None and document_id.startswith("reference/")
        if head.merged_into is None or became:
            return as_read(self.ledger.read(document_id))
        return as_read(self.ledger.read(document_id, head.revision))

    def _with_standing(self, said: Imported) -> Imported:
        """The same, with a word about a record that is in no list."""
        if not self.ledger.has(said.document_id):
            return said
        head = self.ledger.head(said.document_id)
        if head.merged_into is not None:
            word = f"{head.merged_into} answers for it since they were merged"
        elif head.withdrawn:
            word = "it was set aside here"
        else:
            return said
        return replace(said, said=(*said.said, word))

    def _save_arrival(
        self,
        arrival: Arrival,
        source: str,
        pictures: _Files,
        along: CameAlong,
        change: OpenChange,
    ) -> Imported:
        said = [*arrival.said, *along.said]
        if along.copies:
            said.append("of its photographs copies came along; the originals are elsewhere")
        if arrival.not_understood:
            said.append(f"kept, not understood: {', '.join(arrival.not_understood)}")
        beside = pictures.also_in(arrival.folder)
        record, photos = self._with_pictures(arrival.record, beside, along, change)
        record, papers = self._with_papers(record, beside, along, change)
        record, taken = claimed(record, change, self.today)
        numbers = (f"{taken[0]}; it got a new one",) if taken else ()
        document = merge(arrival.document, arrival.record, record)
        change.save(arrival.document_id, write(document), expected=None, source=source)
        return Imported(
            arrival.place, arrival.document_id, "new", (*said, *photos, *papers, *numbers)
        )

    def _with_pictures(
        self, record: Record, pictures: _Files, along: CameAlong, change: OpenChange
    ) -> tuple[Record, list[str]]:
        """The record with the digests of the pictures that lie beside its file, taken in unchanged."""
        if not isinstance(record, Work):
            return record, []
        said: list[str] = []
        photos: list[Photo] = []
        for photo in record.photos:
            if photo.id in along.here:
                photos.append(photo)
                continue
            path = pictures.find(photo.file_name) if photo.sha256 is None else None
            if path is None:
                if photo.sha256 is None or not self.ledger.has_file(photo.sha256):
                    said.append(
                        f"the picture {photo.file_name or photo.sha256} did not come along"
                    )
                photos.append(photo)
                continue
            try:
                taken = self.taken_in(photo, path.read_bytes())
            except BadPicture as refused:
                said.append(str(refused))
                photos.append(photo)
                continue
            change.keep_file(path, name=path.name, media_type=taken.media_type or "")
            photos.append(taken)
        return replace(record, photos=tuple(photos)), said

    def _with_papers(
        self, record: Record, files: _Files, along: CameAlong, change: OpenChange
    ) -> tuple[Record, list[str]]:
        """The record with the digests of the papers that lie beside its file, kept byte for byte."""
        if not isinstance(record, Work | Job):
            return record, []
        said: list[str] = []
        papers: list[Paper] = []
        for paper in record.papers:
            if paper.id in along.here:
                papers.append(paper)
                continue
            path = files.find(paper.file_name) if paper.sha256 is None else None
            if path is None:
                if paper.sha256 is None or not self.ledger.has_file(paper.sha256):
                    said.append(
                        f"the paper {paper.file_name or paper.sha256} did not come along"
                    )
                papers.append(paper)
                continue
            kind = paper.media_type or media_type_of(path.name)
            digest = change.keep_file(path, name=path.name, media_type=kind)
            papers.append(replace(paper, sha256=digest, media_type=kind))
        return replace(record, papers=tuple(papers)), said


_BESIDE = ("photos", "papers")
"""Folders next to those of the records in which their files may lie."""


class _Files:
    """The pictures and papers that lie beside the files of an import, by name."""

    def __init__(self, sources: Iterable[Path], elsewhere: Path | None) -> None:
        self._folders = sorted({source.parent for source in sources})
        self._elsewhere = {elsewhere} if elsewhere else set()
        self._found: dict[str, Path] | None = None
        self._inside: dict[Path, _Files] = {}

    def also_in(self, folder: Path | None) -> _Files:
        """These, or for records that came in a zip those of the folder that it was unpacked into."""
        if folder is None:
            return self
        if folder not in self._inside:
            inside = _Files((), None)
            inside._found = {
                each.name: each for each in sorted(folder.rglob("*")) if each.is_file()
            }
            self._inside[folder] = inside
        return self._inside[folder]

    def find(self, name: str | None) -> Path | None:
        """The file of that name beside the records, or in a folder next to theirs."""
        if name is None:
            return None
        if self._found is None:
            around = self._elsewhere | {
                near
                for folder in self._folders
                for near in (folder, *(folder.parent / name for name in _BESIDE))
            }
            self._found = {
                path.name: path
                for folder in sorted(around)
                if folder.is_dir()
                for path in sorted(folder.iterdir())
                if path.is_file()
            }
        return self._found.get(name)


def _file_of(arrival: Arrival) -> Path:
    """The file that a person named: the zip, for what came in one."""
    return arrival.came_in or arrival.source


def _came_along(ledger: Ledger, arrival: Arrival, change: OpenChange) -> CameAlong:
    """The files of a record that came in a parcel, kept."""
    if arrival.folder is None:
        return CameAlong()
    return keep_what_came(ledger, change, arrival.record, arrival.folder, arrival.source.stem)


def _together(first: Arrival, second: Arrival) -> Arrival:
    """One document of two files that each tell a part of it."""
    record = with_additions(first.record, cast("Any", second.record))
    return replace(first, record=record, document=to_jsonld(record))


def _joined_to(first: Arrival, second: Arrival) -> Imported:
    said = [f"joined with what {first.source.name} says of it", *second.said]
    if second.not_understood:
        said.append(f"kept, not understood: {', '.join(second.not_understood)}")
    return Imported(second.place, second.document_id, "new", tuple(said))


_REDUCED = (
    "nothing was added from it: this form leaves out what tells the values of a record apart;"
    " take in a parcel or the full graph instead"
)


def _told_whole(foreseen: Imported, arrival: Arrival) -> Imported:
    """The same, with what of the document is kept without being understood."""
    if not arrival.not_understood:
        return foreseen
    word = f"kept, not understood: {', '.join(arrival.not_understood)}"
    return replace(foreseen, said=(*foreseen.said, word))


def _as_on_file(arrival: Arrival, on_file: Kept[Any]) -> Arrival:
    """The arrival read as what it was made here: a work, when it is on file as one of our works.

    What stands in it for something that we withheld when we sent it is as on file.
    """
    if arrival.document_id.partition("/")[0] == on_file.document_id.partition("/")[0]:
        if isinstance(arrival.record, Work) and isinstance(on_file.record, Work):
            known = without_stand_ins(arrival.record, on_file.record)
            return replace(arrival, record=as_known(known, on_file.record))
        if type(arrival.record) is type(on_file.record):
            return replace(
                arrival, record=as_known(cast("Any", arrival.record), on_file.record)
            )
        return arrival
    record = from_jsonld(arrival.document, document_id=on_file.document_id)
    return replace(arrival, document_id=on_file.document_id, record=record)


def _brings(change: Difference) -> bool:
    """Whether an import says something else there, and does not merely leave something unsaid.

    What is on file may have got a number here, or say what the import's format has no place for.
    """
    if not (isinstance(change.before, dict) and isinstance(change.after, dict)):
        return change.after is not None
    return any(
        said not in (None, ()) and said != change.before.get(field)
        for field, said in change.after.items()
    )


def _already(arrival: Arrival, on_file: Kept[Any] | Arrival) -> Imported:
    """What to say of a document that is on file: the same, or what the import would change."""
    changes = [each for each in differences(on_file.record, arrival.record) if _brings(each)]
    where = arrival.place
    if not changes:
        return Imported(where, arrival.document_id, "same")
    brings = dict.fromkeys(
        f"{'it adds' if each.before is None else 'it has another'} {_called(each)}"
        for each in changes
    )
    said = ("it is on file with other content; nothing was saved", *list(brings)[:8])
    return Imported(where, arrival.document_id, "different", said)


def _called(each: Difference) -> str:
    """What a difference is in, in words: "medium of the work", "name"."""
    value = kind_word(each.kind).label
    return f"{field_word(each.kind, each.field).label} of the {value}" if each.field else value
