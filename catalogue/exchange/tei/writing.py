"""TEI in the shape of EpiDoc: one document for each inscription of a work that somebody has read.

A work becomes as many files as it has readings; parties and jobs become none. Only the preferred
reading leaves this way: the others are in the full graph.
"""

from __future__ import annotations

from catalogue.exchange.digest_addresses import address_of_picture
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked.addresses import address_of
from catalogue.reading import Observed, Picture, TeiDocument, Term, tei_document
from catalogue.record import Inscription, Layer, Part, Sighting, Transcript, Work
from catalogue.terms import concept, known, label

SAYS = (
    "TEI (EpiDoc): what stands on the backs, letter by letter, for editions and text archives."
)


def write(leaving: Leaving, sender: Sender) -> Files:
    """One file for each inscription with a reading: `<stem>-<inscription>.xml`, UTF-8."""
    record = leaving.record
    if not isinstance(record, Work):
        return
    for inscription in record.inscriptions:
        transcript = inscription.preferred()
        if transcript is not None:
            told = _document(record, inscription, transcript, sender)
            yield f"{leaving.stem}-{inscription.id}.xml", tei_document(told).encode()


def _document(
    work: Work, inscription: Inscription, transcript: Transcript, sender: Sender
) -> TeiDocument:
    latest = inscription.latest()
    notes = (*inscription.notes, *transcript.notes)
    return TeiDocument(
        markup=transcript.markup,
        address=address_of(f"#{inscription.id}", work.document, sender.base),
        kind=_term(inscription.kind),
        work=work.title(),
        work_address=address_of(work.document, work.document, sender.base),
        number=", ".join(filter(None, (work.number, inscription.number))),
        on=_bearer(work, inscription),
        techniques=tuple(map(_term, inscription.techniques)),
        hand=inscription.hand,
        languages=tuple(map(_language, inscription.languages)),
        turned=inscription.orientation,
        condition=_state(latest) if latest else None,
        pictures=_pictures(work, inscription),
        observed=tuple(_observed(each) for each in inscription.sightings),
        reader=sender.labels(transcript.by)[1] if transcript.by else None,
        read_on=transcript.on.iso if transcript.on else None,
        light=label(transcript.light) if transcript.light else None,
        remarks=tuple(note.text for note in notes),
    )


def _term(key: str) -> Term:
    if not known(key):
        return Term(key)
    found = concept(key)
    return Term(found.label, found.aat or found.iri)


def _language(tag: str) -> Term:
    key = f"language/{tag}"
    return Term(label(key) if known(key) else tag, tag)


def _bearer(work: Work, inscription: Inscription) -> str:
    """The words for what bears it: the side, and the part if it is one of its own."""
    borne: list[Part | Layer] = [*work.parts, *work.layers]
    borne = [each for each in borne if each.id == inscription.part]
    words = [label(inscription.face), *(label(each.kind) for each in borne)]
    materials = (label(key) for each in borne for key in each.materials)
    return ", ".join(dict.fromkeys((*words, *materials)))


def _state(sighting: Sighting) -> str:
    words = [label(sighting.state), sighting.covered_by]
    return ": ".join(filter(None, words))


def _observed(sighting: Sighting) -> Observed:
    return Observed(_state(sighting), sighting.on.iso if sighting.on else None)


def _pictures(work: Work, inscription: Inscription) -> tuple[Picture, ...]:
    """The photographs it is seen on, each with its regions, in the order of the regions."""
    shown = dict.fromkeys(region.photo for region in inscription.regions)
    found = []
    for photo in (work.photo(key) for key in shown):
        regions = tuple(r.corners for r in inscription.regions if r.photo == photo.id)
        found.append(
            Picture(
                address=address_of_picture(photo),
                number=photo.number,
                width=photo.width,
                height=photo.height,
                regions=regions,
            )
        )
    return tuple(found)
