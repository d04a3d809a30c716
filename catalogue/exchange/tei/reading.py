"""Taking in texts in TEI: a text that was sent out from here goes to its painting as a reading.

Where the painting is not on file it comes as a new work with that inscription; several texts of one
painting in one import are joined. Anybody else's file is a work of its own, known again by the number
that its sender gave it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import TypeVar
from uuid import NAMESPACE_URL, UUID, uuid5

from catalogue.errors import CatalogueError
from catalogue.exchange import xml
from catalogue.exchange.incoming import Arrival, Receiver, Refusal
from catalogue.exchange.tei.source import TEI, TeiSource, content_of, language_of, words_of
from catalogue.exchange.tei.taken import Taken, reads_alike, taken
from catalogue.linked.documents import to_jsonld
from catalogue.reading.tei_document import OBJECT
from catalogue.reading.tei_words import table
from catalogue.record import Number, Part, Photo, Title, Work
from catalogue.record.rules import UUID as UUID_FORM
from catalogue.terms import label

V = TypeVar("V", Part, Photo)

READS = "texts in TEI (EpiDoc)"
ROOTS = (f"{TEI}TEI", f"{TEI}teiCorpus")
_MEDIA_TYPE = "application/tei+xml"
_IDENTIFIER = "teiHeader/fileDesc/sourceDesc/msDesc/msIdentifier"
_TEXT_OF_OURS = re.compile(rf"(?:urn:uuid:|.+/work/({UUID_FORM})#)({UUID_FORM})")
_WORK_OF_OURS = re.compile(rf"(?:urn:uuid:|.+/work/)({UUID_FORM})")
_NUMBERS = re.compile(r"(?:(\d{4}-\d{3,}))?(?:, )?(I[1-9]\d*)?")


def arrivals(source: Path, receiver: Receiver) -> Iterator[Arrival | Refusal]:
    """The work of each document of a file; one that cannot be read does not stop the others."""
    try:
        if xml.root_of(source) == ROOTS[0]:
            content = source.read_bytes() if source.stat().st_size <= xml.LARGEST else b""
            yield _arrival(source, TeiSource(xml.parsed(source), content), content, receiver)
            return
        for root in xml.records(source, frozenset(ROOTS[:1])):
            try:
                content = content_of(root)
                yield _arrival(source, TeiSource(root, content), content, receiver)
            except CatalogueError as error:
                yield Refusal(source, error)
    except CatalogueError as error:
        yield Refusal(source, error)


@dataclass(frozen=True, slots=True)
class _Identity:
    """Which text it is, and of which painting; `ours` where a studio like this one sent it out."""

    text: str
    work: str
    ours: bool


def _arrival(source: Path, document: TeiSource, content: bytes, receiver: Receiver) -> Arrival:
    known = _identity(document, content)
    on_file = receiver.on_file(f"work/{known.work}")
    work_number, number = _numbers(document) if known.ours else (None, None)
    found = taken(document, known.text, known.work, ours=known.ours, number=number)
    if known.ours and isinstance(on_file, Work):
        work = _added(on_file, found)
    else:
        work = _made(document, known, found, work_number)
        if isinstance(on_file, Work):
            work = _as_numbered(work, on_file)
    told = (*document.left(), *dict.fromkeys(found.told))
    return Arrival(
        source, work.document, to_jsonld(work), work, told, media_type=_MEDIA_TYPE, part=True
    )


def _identity(document: TeiSource, content: bytes) -> _Identity:
    painting = next(
        iter(document.texts(f"{_IDENTIFIER}/altIdentifier[@type='{OBJECT}']/idno")), ""
    )
    texts = [
        *document.texts(f"{_IDENTIFIER}/idno[@type='URI']"),
        *document.texts(f"{_IDENTIFIER}/altIdentifier/idno[@type='URI']"),
    ]
    of_work = _WORK_OF_OURS.fullmatch(painting)
    for address in texts:
        of_text = _TEXT_OF_OURS.fullmatch(address)
        if of_text and (work := of_text[1] or (of_work and of_work[1])):
            return _Identity(of_text[2], work, ours=True)
    own = "\x1f".join(_own_number(document, content))
    work = str(uuid5(NAMESPACE_URL, f"tei\x1f{own}"))
    return _Identity(str(uuid5(UUID(work), "inscription")), work, ours=False)


def _own_number(document: TeiSource, content: bytes) -> tuple[str, ...]:
    """What its sender knows a document by: its published number, where it is kept, else what it says."""
    published = "teiHeader/fileDesc/publicationStmt/idno"
    for path in (f"{published}[@type='URI']", published):
        if numbers := document.texts(path):
            return tuple(numbers)
    if kept := document.texts(_IDENTIFIER):
        return tuple(kept)
    key = document.root.get("{http://www.w3.org/XML/1998/namespace}id")
    return (key,) if key else (sha256(content).hexdigest(),)


def _numbers(document: TeiSource) -> tuple[str | None, str | None]:
    """The numbers of the work and of the inscription: `2026-041, I3`."""
    found = _NUMBERS.fullmatch(document.text_of(f"{_IDENTIFIER}/idno[@type='studio']"))
    return (found[1], found[2]) if found else (None, None)


def _made(document: TeiSource, known: _Identity, found: Taken, number: str | None) -> Work:
    space = UUID(known.work)
    titles: list[Title] = []
    for element in document.each("teiHeader/fileDesc/titleStmt/title"):
        said = words_of(element)
        if known.ours:
            said = _painting_in(said, found.inscription.kind)
        if said and said not in [each.text for each in titles]:
            titles.append(
                Title(
                    id=str(uuid5(space, f"title\x1f{said}")),
                    text=said,
                    kind="title/descriptive",
                    language=None if known.ours else language_of(element),
                )
            )
    numbers: list[Number] = []
    if not known.ours:
        for path, kind in (
            (f"{_IDENTIFIER}//idno", "number/inventory"),
            ("teiHeader/fileDesc/publicationStmt/idno", "number/system"),
        ):
            numbers += [
                Number(id=str(uuid5(space, f"{kind}\x1f{said}")), kind=kind, text=said)
                for said in dict.fromkeys(document.texts(path))
            ]
    return Work(
        id=known.work,
        number=number,
        numbers=tuple(numbers),
        titles=tuple(titles),
        parts=found.parts,
        photos=found.photos,
        inscriptions=(found.inscription,),
    )


def _painting_in(title: str, kind: str) -> str:
    """The painting that the title of a text of ours names."""
    before = table("document")["title"].format(kind=label(kind), work="")
    return title.removeprefix(before)


def _as_numbered(work: Work, on_file: Work) -> Work:
    """The work with the numbers that its values got here, and its pictures as they were taken in."""
    numbers = {each.id: each.number for each in on_file.inscriptions}
    photos = {each.id: each for each in on_file.photos}
    return replace(
        work,
        photos=tuple(photos.get(each.id, each) for each in work.photos),
        inscriptions=tuple(
            replace(each, number=each.number or numbers.get(each.id))
            for each in work.inscriptions
        ),
    )


def _added(work: Work, found: Taken) -> Work:
    """The work on file with what a text says beyond it: another reading, or an inscription."""
    new = found.inscription
    held = next((each for each in work.inscriptions if each.id == new.id), None)
    if held is None:
        photos = {each.sha256: each for each in work.photos if each.sha256}
        same = {
            each.id: photos[each.sha256].id for each in found.photos if each.sha256 in photos
        }
        regions = tuple(
            replace(each, photo=same.get(each.photo, each.photo)) for each in new.regions
        )
        numbers = {each.number for each in work.inscriptions}
        number = None if new.number in numbers else new.number
        return replace(
            work,
            parts=(*work.parts, *_beyond(work.parts, found.parts)),
            photos=(*work.photos, *_beyond(work.photos, _not_in(found.photos, same))),
            inscriptions=(
                *work.inscriptions,
                replace(new, number=number, regions=regions),
            ),
        )
    readings = [
        each
        for each in new.transcripts
        if not any(reads_alike(each.markup, other.markup) for other in held.transcripts)
    ]
    if not readings:
        return work
    more = replace(held, transcripts=(*held.transcripts, *readings))
    others = (more if each is held else each for each in work.inscriptions)
    return replace(work, inscriptions=tuple(others))


def _not_in(photos: tuple[Photo, ...], same: dict[str, str]) -> tuple[Photo, ...]:
    return tuple(replace(each, number=None) for each in photos if each.id not in same)


def _beyond(held: tuple[V, ...], more: tuple[V, ...]) -> tuple[V, ...]:
    ids = {each.id for each in held}
    return tuple(each for each in more if each.id not in ids)
