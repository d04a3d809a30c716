"""LIDO taken in: 1.0 and 1.1, of ours and of others, one record or any number of them in one file.

Records go by one by one, so a file of any length needs the memory of one. A record of ours comes back
under its own id; any other gets one made of its own number and its source, so that it is known when it
comes again. What is not understood is told by its path, and stays in the file that is kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final
from uuid import NAMESPACE_URL, uuid5

from lxml import etree

from catalogue.errors import BadDocument, CatalogueError
from catalogue.exchange import xml
from catalogue.exchange.incoming import Arrival, Receiver, Refusal
from catalogue.exchange.lido import read_beside as beside
from catalogue.exchange.lido import read_object as thing
from catalogue.exchange.lido.read_events import Happened
from catalogue.exchange.lido.read_inscriptions import inscriptions
from catalogue.exchange.lido.read_materials import Made
from catalogue.exchange.lido.read_sizes import sizes
from catalogue.exchange.lido.source import NAMESPACE, Ids, Piece, unread
from catalogue.exchange.lido.taken import Taking
from catalogue.linked.addresses import uuid_in
from catalogue.linked.documents import to_jsonld
from catalogue.places import table
from catalogue.record import Note, Number, Party, Work

ROOTS: Final = (f"{{{NAMESPACE}}}lido", f"{{{NAMESPACE}}}lidoWrap")
MEDIA_TYPE: Final = "application/xml"
_RECORD: Final = frozenset({ROOTS[0]})


def arrivals(source: Path, receiver: Receiver) -> Iterator[Arrival | Refusal]:
    """The works of one LIDO file, each with the people whom it brings."""
    brought: set[str] = set()
    kept_whole = source.stat().st_size <= xml.LARGEST
    found = 0
    try:
        for element in xml.records(source, _RECORD):
            found += 1
            try:
                kept = source if kept_whole else _by_itself(element, source, found, receiver)
                work, parties, untold = record_of(element, receiver)
            except CatalogueError as error:
                yield Refusal(source, _in_record(error, found))
                continue
            for party in parties:
                if party.document not in brought:
                    brought.add(party.document)
                    yield _arrival(kept, party, ())
            yield _arrival(kept, work, untold)
    except CatalogueError as error:
        yield Refusal(source, error)
    else:
        if not found:
            yield Refusal(
                source,
                BadDocument(
                    f"{source.name} holds no LIDO record",
                    remedy="ask whoever sent it for another",
                ),
            )


def _arrival(source: Path, record: Work | Party, untold: tuple[str, ...]) -> Arrival:
    return Arrival(source, record.document, to_jsonld(record), record, untold, MEDIA_TYPE)


def _by_itself(element: xml.Element, source: Path, number: int, receiver: Receiver) -> Path:
    """One record of a large file as a file of its own, to be kept beside what it became."""
    if receiver.scratch is None:
        return source
    folder = receiver.scratch / source.name
    folder.mkdir(exist_ok=True)
    alone = folder / f"record-{number}.xml"
    alone.write_bytes(etree.tostring(element, encoding="UTF-8", xml_declaration=True))
    return alone


def _in_record(error: CatalogueError, number: int) -> BadDocument:
    return BadDocument(str(error), where=f"record {number}")


def record_of(
    element: xml.Element, receiver: Receiver
) -> tuple[Work, tuple[Party, ...], tuple[str, ...]]:
    """The work of one record, the people whom it brings, and what of it was not understood.

    Raises `BadDocument` for a record that has no number of its own, or says what cannot be.
    """
    record = Piece(element, set())
    taking = _taking(record, receiver)
    told, others = _in_our_language(record)
    identified = told.one("objectIdentificationWrap")
    if identified is None:
        raise BadDocument(
            "the record does not say what it is of (objectIdentificationWrap)",
            remedy="ask whoever sent it for a whole record",
        )
    try:
        work = _work(taking, record, told, others, identified)
    except ValueError as refused:
        raise BadDocument(str(refused)) from None
    return (
        work,
        tuple(taking.parties.values()),
        (*dict.fromkeys(taking.remarks), *unread(record)),
    )


def _work(
    taking: Taking, record: Piece, told: Piece, others: list[Piece], identified: Piece
) -> Work:
    _kind_of_thing(taking, told)
    number, numbers = thing.numbers(taking, identified)
    titles = [*thing.titles(taking, identified)]
    for each in others:
        if again := each.one("objectIdentificationWrap"):
            titles += thing.titles(taking, again)
    made_of = Made()
    made_of.take(taking, identified.each("objectMaterialsTechWrap", "objectMaterialsTechSet"))
    happened = Happened(taking, made_of)
    happened.take(told)
    relations, citations = beside.related(taking, told)
    managed = list(record.each("administrativeMetadata"))
    notes: list[Note] = [*thing.descriptions(taking, identified), *happened.notes]
    for each in managed[:1]:
        notes += beside.rights(taking, each)
    photos = tuple(each for kept in managed[:1] for each in beside.pictures(taking, kept))
    return Work(
        id=taking.uuid,
        number=number,
        numbers=(*numbers, *_numbers_of_the_record(taking, record)),
        titles=tuple({each.id: each for each in titles}.values()),
        attributions=tuple(happened.attributions),
        made=happened.made,
        materials=made_of.materials,
        medium=made_of.medium,
        sizes=sizes(taking, identified),
        parts=made_of.parts,
        layers=made_of.layers,
        inscriptions=tuple(inscriptions(taking, identified)),
        checks=tuple(happened.checks),
        repairs=tuple(happened.repairs),
        treatments=tuple(happened.treatments),
        provenance=tuple(happened.provenance),
        exhibitions=tuple(happened.exhibitions),
        citations=citations,
        relations=relations,
        movements=(*thing.keepers(taking, identified), *happened.movements),
        photos=photos,
        notes=tuple(notes),
    )


def _taking(record: Piece, receiver: Receiver) -> Taking:
    """Whose record it is, and under which id it is kept here."""
    kept = record.one("administrativeMetadata", "recordWrap")
    own = record.one("lidoRecID")
    number = own.text() if own else ""
    source = (own.attribute("source") if own else "") or (
        (kept.told("recordSource", "legalBodyName", "appellationValue") if kept else "")
        or (kept.told("recordSource", "legalBodyID") if kept else "")
    )
    links = [*(kept.every("recordInfoSet", "recordInfoID") if kept else ())]
    links += kept.every("recordInfoSet", "recordInfoLink") if kept else []
    for said in (number, *links):
        uuid = uuid_in(said, receiver.base) or uuid_in(said, None)
        if uuid and (receiver.kinds(uuid) or "work") == "work":
            ours = own is not None and own.analog()[0] == "Work"
            break
    else:
        if not number:
            raise BadDocument(
                "the record has no number of its own (lidoRecID)",
                remedy="without one it could not be known again; ask whoever sent it for one",
            )
        uuid, ours = str(uuid5(NAMESPACE_URL, f"lido\x1f{source}\x1f{number}")), False
    words = table("lido.toml")["arriving"]
    how = words["cited" if source else "cited_alone"]
    return Taking(
        uuid=uuid,
        ours=ours,
        base=receiver.base,
        source=source,
        cited=how.format(number=number, source=source),
        ids=Ids(uuid),
        kinds=receiver.kinds,
    )


def _in_our_language(record: Piece) -> tuple[Piece, list[Piece]]:
    """The description in our language, else the first; and those in others."""
    every = list(record.each("descriptiveMetadata"))
    if not every:
        raise BadDocument("the record describes nothing (descriptiveMetadata)")
    ours = next((each for each in every if (each.language or "").startswith("en")), every[0])
    return ours, [each for each in every if each is not ours]


def _kind_of_thing(taking: Taking, told: Piece) -> None:
    """Tell what kind of thing it is, if that is no painting: this is a catalogue of paintings."""
    words = table("lido.toml")
    for each in told.each("objectClassificationWrap", "objectWorkTypeWrap", "objectWorkType"):
        key = each.concept("object")
        said = each.words()
        if key in words["paintings"]["groups"]:
            continue
        each.whole()
        if said.casefold() not in words["paintings"]["words"]:
            taking.remarks.append(words["arriving"]["no_painting"].format(text=said))


def _numbers_of_the_record(taking: Taking, record: Piece) -> Iterator[Number]:
    """The numbers of a record from elsewhere, under which it is asked for there."""
    ids = record.every("lidoRecID") + record.every("objectPublishedID")
    for kept in record.each("administrativeMetadata", "recordWrap"):
        ids += kept.every("recordID")
        for name in kept.each("recordSource", "legalBodyName", "appellationValue"):
            if taking.ours or name.element.text == taking.source:
                name.text()
        for single in kept.each("recordType"):
            single.whole()
    if not taking.ours:
        for each in dict.fromkeys(ids):
            yield Number(
                id=taking.ids.of("number/system", each), kind="number/system", text=each
            )
