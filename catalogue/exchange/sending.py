"""Writing records into a folder: redaction first, then one format."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from catalogue.errors import BadSetting, CannotSave, NotOnFile
from catalogue.exchange.formats import Format
from catalogue.exchange.outgoing import Content, Files, Leaving, Sender
from catalogue.exchange.redaction import Profile, StayedHome, redact
from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import Node, parse
from catalogue.photos import Outline
from catalogue.record import Job, Paper, Party, Photo, Record, Reference, Work
from catalogue.record.rules import UUID

UNNAMED = "unnamed"
"""What is called so is not on file, or is called nothing that may leave."""

_KINDS = {"party": "Person", "work": "HumanMadeObject", "job": "Activity", "reference": "Type"}

_REFERRED = re.compile(rf'"id":"(party/{UUID})"')


@dataclass(frozen=True, slots=True)
class Exported:
    """What an export wrote, and what stayed home (by document).

    The list does not go into the folder: even that something private exists is nobody's business.
    """

    folder: Path
    files: int
    documents: int
    stayed_home: tuple[tuple[str, StayedHome], ...]


@dataclass(slots=True)
class Sending:
    """One export under way. `stored` gives a document's text, `picture` a copy that may leave.

    `original` is an untouched file, asked for only where everything may leave; `studio` and `changed`
    are what a parcel says of its sender. `_covered` are the areas of photographs, by their ids, that
    are painted over on copies.
    """

    stored: Callable[[str], bytes]
    format: Format
    profile: Profile
    base: str | None
    picture: Callable[[Photo, tuple[Outline, ...]], Path | None]
    original: Callable[[Photo | Paper], Path | None] = lambda _held: None
    studio: str = ""
    changed: str | None = None
    home: list[tuple[str, StayedHome]] = field(default_factory=list)
    _labels: dict[str, tuple[str, str]] = field(default_factory=dict)
    _covered: dict[str, tuple[Outline, ...]] = field(default_factory=dict)
    _hidden: dict[str, bool] = field(default_factory=dict)

    def into(
        self,
        out: Path,
        wanted: Iterable[tuple[str, bytes]],
        how_many: int,
        progress: Callable[[int, int], None] | None = None,
    ) -> Exported:
        """Write these documents and the parties they name into a folder, which may hold other files."""
        _make(out)
        with TemporaryDirectory(prefix="dorse-send-") as scratch:
            return self._into(out, wanted, how_many, progress, Path(scratch))

    def _into(
        self,
        out: Path,
        wanted: Iterable[tuple[str, bytes]],
        how_many: int,
        progress: Callable[[int, int], None] | None,
        scratch: Path,
    ) -> Exported:
        sender = Sender(
            base=self.base,
            labels=self._label_once,
            profile=self.profile.name,
            picture=self._picture,
            scratch=scratch,
            original=self._original,
            studio=self.studio,
            changed=self.changed,
        )
        writing = self.format.begin(sender)
        named: set[str] = set()
        seen: set[str] = set()
        # Many records share a concept or a place: the same file need not be written again.
        written: set[str] = set()
        files = documents = 0

        def put(ready: Files) -> None:
            nonlocal files
            for name, content in ready:
                if name not in written:
                    _put(out, name, content)
                    written.add(name)
                    files += 1

        def write_one(document_id: str, body: bytes) -> None:
            nonlocal documents
            seen.add(document_id)
            leaving = self._leaving(document_id, body)
            if leaving is None:
                return
            documents += 1
            put(writing.add(leaving))
            named.update(_REFERRED.findall(leaving.body.decode()))

        for done, (document_id, body) in enumerate(wanted, 1):
            if document_id not in seen:
                write_one(document_id, body)
            if progress and done % 50 == 0:
                progress(done, how_many)
        # Whom the records name comes along, and whom those name in turn.
        while waiting := sorted(named - seen):
            for document_id in waiting:
                stored = self._stored_or_none(document_id)
                if stored is None:
                    seen.add(document_id)
                else:
                    write_one(document_id, stored)
        put(writing.close())
        return Exported(out, files, documents, tuple(self.home))

    def _leaving(self, document_id: str, body: bytes) -> Leaving | None:
        held: bytes | Node | None = body
        if not self.profile.everything:
            held, home = redact(parse(body), document_id, self.profile, self._may_not_be_named)
            self.home += [(document_id, each) for each in home]
        return None if held is None else Leaving(document_id, _stem(document_id), held)

    def _picture(self, photo: Photo) -> Path | None:
        return self.picture(photo, self._covered.get(photo.id, ()))

    def _original(self, held: Photo | Paper) -> Path | None:
        return self.original(held) if self.profile.everything else None

    def _stored_or_none(self, document_id: str) -> bytes | None:
        """A document's text; None for one that a record names and that is not on file."""
        try:
            return self.stored(document_id)
        except NotOnFile:
            return None

    def _may_not_be_named(self, document_id: str) -> bool:
        if document_id not in self._hidden:
            body = self._stored_or_none(document_id)
            record = from_jsonld(parse(body), document_id=document_id) if body else None
            self._hidden[document_id] = (
                not isinstance(record, Party)
                or record.visibility not in self.profile.visibility
            )
        return self._hidden[document_id]

    def _label_once(self, document_id: str) -> tuple[str, str]:
        """The type of a document and what it is called, by whoever refers to it under this profile."""
        if document_id not in self._labels:
            body = self._stored_or_none(document_id)
            self._labels[document_id] = (
                self._label(from_jsonld(parse(body), document_id=document_id))
                if body
                else (_KINDS[document_id.partition("/")[0]], UNNAMED)
            )
        return self._labels[document_id]

    def _label(self, record: Record) -> tuple[str, str]:
        visible = self.profile.visibility
        match record:
            case Party():
                kind = "Person" if record.kind == "person" else "Group"
                said = [each.text for each in record.names if each.visibility in visible]
            case Work():
                kind = "HumanMadeObject"
                said = [each.text for each in record.titles if each.visibility in visible]
            case Reference():
                kind = next(iter(record.types), "Type")
                said = list(record.labels) if "reference" in self.profile.documents else []
            case Job():
                kind, said = "Activity", []
        return kind, next(iter(said), UNNAMED)


def _stem(document_id: str) -> str:
    """A file name that never changes and never collides: the kind and the UUID."""
    return document_id.replace("/", "-")


def _make(out: Path) -> None:
    try:
        out.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise BadSetting(f"{out} is a file", remedy="name a folder to write into") from None
    except OSError as refused:
        raise CannotSave(f"{out}: {refused.strerror}", remedy="choose another folder") from None


def _put(out: Path, name: str, content: Content) -> None:
    path = f"{out}/{name}"
    try:
        if "/" in name:
            Path(path).parent.mkdir(parents=True, exist_ok=True)
        if isinstance(content, Path):
            shutil.move(content, path)
            return
        with open(path, "wb") as file:  # noqa: PTH123 (a Path for each of 100,000 files costs a third)
            file.write(content)
    except OSError as refused:
        raise CannotSave(
            f"{path}: {refused.strerror}",
            remedy="the export is incomplete; make room and repeat it",
        ) from None
