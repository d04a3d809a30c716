"""Writing records into a folder: redaction, a format, the last scan; the whole export arrives, or nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from catalogue.errors import CannotSave, CatalogueError, MayNotLeave, NotOnFile
from catalogue.exchange.formats import Format
from catalogue.exchange.outgoing import UNNAMED, Files, Leaving, Sender
from catalogue.exchange.parcels.pictures import Pictures
from catalogue.exchange.scanning.guarded import Guarded
from catalogue.exchange.scanning.judging import judge
from catalogue.exchange.scanning.last_scan import LastScan
from catalogue.exchange.scanning.secrets_in import Secret
from catalogue.exchange.scanning.words_in_files import all_words, undone, words, words_of
from catalogue.exchange.staging import Staging
from catalogue.exchange.withholding.at_home import AtHome
from catalogue.exchange.withholding.lives import Lives
from catalogue.exchange.withholding.redaction import (
    Profile,
    StayedHome,
    areas_to_cover,
    redacted,
)
from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import parse
from catalogue.measure import Day
from catalogue.photos import Outline
from catalogue.record import Job, Offer, Paper, Party, Photo, Record, Reference, Work

_MOST_PEOPLE = 5_000
"""So many people of the last records are kept at hand, to ask who may be living."""

_KINDS = {"party": "Person", "work": "HumanMadeObject", "job": "Activity", "reference": "Type"}


@dataclass(frozen=True, slots=True)
class Exported:
    """What an export wrote, and what stayed home: `counts` by what and why, the first ones by document.

    The list does not go into the folder: even that something private exists is nobody's business.
    `digest` is over every file, `others` are files that the folder holds beside those of this export,
    `allowed` the names that somebody let leave with the reasons, `refused` why a rehearsal would not leave.
    """

    folder: Path
    files: int
    documents: int
    stayed_home: tuple[tuple[str, StayedHome], ...]
    counts: Mapping[tuple[str, str], int] = field(default_factory=dict)
    digest: str = ""
    others: int = 0
    allowed: Mapping[str, str] = field(default_factory=dict)
    refused: MayNotLeave | None = None

    @property
    def home(self) -> int:
        """How many values stayed home."""
        return sum(self.counts.values())


def _no_log(_made: Exported) -> None:
    return None


@dataclass(slots=True)
class Sending:
    """One export under way. `stored` gives a document's text, `picture` a copy that may leave.

    `original` is an untouched file, asked for only where everything may leave; `studio` and `changed`
    are what a parcel says of its sender, `today` tells who may be living, `offer` is what may be told
    of an offer. `guarded` is what the last scan looks for, `allow` the names that may leave though it
    finds them, `called` what a record is called when it is told of; `log` is told of the export just
    before it arrives. A `rehearsal` is not refused: it tells why it would be. `pictures` says of which
    photographs copies are wanted. `_covered` are the areas
    of photographs, by their ids, that are painted over on copies, `_left` the documents that left.
    """

    stored: Callable[[str], bytes]
    format: Format
    profile: Profile
    base: str | None
    picture: Callable[[Photo, tuple[Outline, ...]], Path | None]
    original: Callable[[Photo | Paper], Path | None] = lambda _held: None
    studio: str = ""
    changed: str | None = None
    today: Day | None = None
    offer: Callable[[str], Offer | None] = lambda _work: None
    guarded: Guarded = field(default_factory=Guarded)
    allow: Mapping[str, str] = field(default_factory=dict)
    called: Callable[[str], str] = str
    log: Callable[[Exported], None] = _no_log
    rehearsal: bool = False
    pictures: Pictures = field(default_factory=Pictures)
    home: AtHome = field(default_factory=AtHome)
    _left: list[str] = field(default_factory=list)
    _labels: dict[str, tuple[str, str]] = field(default_factory=dict)
    _covered: dict[str, tuple[Outline, ...]] = field(default_factory=dict)
    _hidden: dict[str, bool] = field(default_factory=dict)
    _people: dict[str, Party | None] = field(default_factory=dict)

    def into(
        self,
        out: Path,
        wanted: Iterable[tuple[str, bytes]],
        how_many: int,
        progress: Callable[[int, int], None] | None = None,
    ) -> Exported:
        """Write these documents and the parties they name into a folder, which may hold other files.

        Raises `MayNotLeave` where the last scan finds what is not allowed; then nothing is written.
        """
        try:
            with Staging(out) as staging, TemporaryDirectory(prefix="dorse-send-") as scratch:
                return self._into(staging, wanted, how_many, progress, Path(scratch))
        except CatalogueError:
            raise
        except OSError as refused:
            raise CannotSave(
                f"{refused.filename or out}: {refused.strerror or refused}",
                remedy="nothing was exported; make room and repeat it",
            ) from None

    def _into(
        self,
        staging: Staging,
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
            offer=self.offer,
            pictures=self.pictures,
        )
        scan = LastScan(self.guarded)
        if len(self.guarded):
            self.guarded.add(Secret("path", str(scratch), "this computer"))
        writing = self.format.begin(sender)
        named: set[str] = set()
        seen: set[str] = set()

        def put(ready: Files) -> None:
            for name, content in ready:
                # Many records share a concept or a place: the same file need not be written again.
                if name not in staging:
                    scan.look(name, content)
                    staging.put(name, content)

        def write_one(document_id: str, body: bytes) -> None:
            seen.add(document_id)
            leaving = self._leaving(document_id, body)
            if leaving is None:
                return
            self._left.append(document_id)
            put(writing.add(leaving))
            named.update(leaving.parties())

        for done, (document_id, body) in enumerate(wanted, 1):
            if document_id not in seen:
                write_one(document_id, body)
            if progress:
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
        return self._arrived(staging, scan)

    def _arrived(self, staging: Staging, scan: LastScan) -> Exported:
        """The finished export where it belongs, if the last scan lets it."""
        allowed: Mapping[str, str] = {}
        refused = None
        try:
            allowed = judge(scan, self._leaving_again(scan), self.allow, self.called)
        except MayNotLeave as found:
            if not self.rehearsal:
                raise
            refused = found
        made = Exported(
            folder=staging.out,
            files=len(staging),
            documents=len(self._left),
            stayed_home=tuple(self.home.first),
            counts=dict(self.home.counts),
            digest=staging.digest(),
            others=staging.others(),
            allowed=allowed,
            refused=refused,
        )
        self.log(made)
        staging.arrive()
        return made

    def _leaving_again(self, scan: LastScan) -> Iterator[Record]:
        """The records that left and have all the words of something that was found, as they leave."""
        wanted = [frozenset(words_of(secret.text)) for secret in scan.found]
        for document_id in self._left:
            body = self.stored(document_id)
            plain = undone(body)
            here = {*words(plain), *all_words(plain)}
            if any(each <= here for each in wanted):
                leaving, _ = self._redacted(document_id, body)
                if leaving is not None:
                    yield leaving.record

    def _leaving(self, document_id: str, body: bytes) -> Leaving | None:
        leaving, home = self._redacted(document_id, body)
        self.home.add(document_id, home)
        self._covered.update(areas_to_cover(home))
        return leaving

    def _redacted(
        self, document_id: str, body: bytes
    ) -> tuple[Leaving | None, list[StayedHome]]:
        stem = _stem(document_id)
        if self.profile.everything:
            return Leaving(document_id, stem, body), []
        lives = Lives(self._party, self.today)
        found = redacted(parse(body), document_id, self.profile, self._may_not_be_named, lives)
        if found.node is None:
            return None, found.home
        held = found.node() if self.profile.unknown else found.node
        return Leaving(document_id, stem, held, found.record), found.home

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
            found = self._party(document_id)
            self._hidden[document_id] = (
                found is None or found.visibility not in self.profile.visibility
            )
        return self._hidden[document_id]

    def _party(self, document_id: str) -> Party | None:
        """Somebody on file, None for one who isn't."""
        if document_id not in self._people:
            if len(self._people) >= _MOST_PEOPLE:
                self._people.clear()
            body = self._stored_or_none(document_id)
            record = from_jsonld(parse(body), document_id=document_id) if body else None
            self._people[document_id] = record if isinstance(record, Party) else None
        return self._people[document_id]

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
