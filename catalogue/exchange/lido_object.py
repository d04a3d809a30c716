"""What LIDO says of the thing itself: titles, what stands on it, its numbers, sizes and materials.

The order of these is the schema's; each function gives one of its wraps, "" where there is nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.lido_pen import element, having, text
from catalogue.exchange.lido_terms import LANGUAGE, analog, field_label, numbered, said, term
from catalogue.record import Inscription, Layer, Note, Part, Size, Transcript, Work
from catalogue.record.common import SIZE_MEASURES
from catalogue.record.inscription import Sighting
from catalogue.surface.words import in_words
from catalogue.terms import concept, known, label

ABOUT_RIGHTS = ("note/rights", "note/credit-line")
"""Kinds of note that LIDO keeps with the rights."""


def classified() -> str:
    """What kind of thing it is: a painting, as everything that the studio keeps a record of."""
    return element(
        "objectClassificationWrap",
        element("objectWorkTypeWrap", term("objectWorkType", "object/painting")),
    )


def titles(work: Work) -> str:
    """The titles, the one to show first; LIDO asks for one, so a work without is called untitled."""
    sets = [
        element(
            "titleSet",
            text(
                "appellationValue",
                each.text,
                having(
                    pref="preferred" if each.preferred else None,
                    lang=each.language,
                    encodinganalog=analog("Title.text", each.id),
                ),
            ),
            attributes=having(type=iri_of(each.kind), sortorder=place),
        )
        for place, each in enumerate(work.titles, 1)
    ]
    if not sets:
        words = text("appellationValue", said("no_title"), having(lang=LANGUAGE, label="none"))
        sets = [element("titleSet", words)]
    return element("titleWrap", *sets)


def inscriptions(work: Work) -> str:
    """Everything that stands on it, in the order of its numbers."""
    return element(
        "inscriptionsWrap",
        *(
            element(
                "inscriptions",
                *_texts(each),
                *_described(work, each),
                attributes=having(type=iri_of(each.kind), sortorder=place),
            )
            for place, each in enumerate(work.inscriptions, 1)
        ),
    )


def _texts(inscription: Inscription) -> Iterator[str]:
    """Each reading as the eye sees it, as it reads, and with its signs; the one to show comes first."""
    first = inscription.preferred()
    language = inscription.languages[0] if len(inscription.languages) == 1 else None
    for each in sorted(inscription.transcripts, key=lambda each: each is not first):
        yield from _text_of(each, language)


def _text_of(transcript: Transcript, language: str | None) -> Iterator[str]:
    reading = transcript.reading()
    seen = reading.diplomatic()
    told = {"as_it_stands": seen}
    if (plain := reading.plain()) != seen:
        told["as_it_reads"] = plain
    if transcript.markup != seen:
        told["as_typed"] = transcript.markup
    preferred = "preferred" if transcript.preferred else "markup"
    for which, words in told.items():
        attributes = having(
            lang=language,
            label=said(which),
            encodinganalog=analog(f"Transcript.{preferred}", transcript.id),
        )
        yield text("inscriptionTranscription", words, attributes)


def _described(work: Work, inscription: Inscription) -> Iterator[str]:
    """Where and how it is written and what became of it, one short text each, then notes."""

    def told(field: str, words: str | None, kind: str, language: str | None = LANGUAGE) -> str:
        attributes = having(lang=language, label=field_label(field), encodinganalog=field)
        return element(
            "inscriptionDescription",
            text("descriptiveNoteValue", words, attributes),
            attributes=having(type=iri_of(kind)),
        )

    own = having(type=numbered("local"), encodinganalog=analog("Inscription", inscription.id))
    yield element(
        "inscriptionDescription",
        text("descriptiveNoteID", inscription.number or inscription.id, own),
        text("descriptiveNoteValue", label(inscription.kind), having(lang=LANGUAGE)),
    )
    yield told("Inscription.face", label(inscription.face), "note/position")
    pieces: list[Part | Layer] = [*work.parts, *work.layers]
    borne = [each for each in pieces if each.id == inscription.part]
    for each in borne:
        where = analog("Inscription.part", each.id)
        yield told(where, label(each.kind), "note/position")
    if inscription.place:
        words = in_words(inscription.place, work.sheet, label(inscription.face))
        yield told("Inscription.place", words, "note/position")
    for field, keys in (
        ("techniques", inscription.techniques),
        ("materials", inscription.materials),
        ("colours", inscription.colours),
    ):
        for key in keys:
            yield told(f"Inscription.{field}", label(key), "note/mark")
    for field, key_or_none in (
        ("shape", inscription.shape),
        ("edge", inscription.edge),
        ("paper", inscription.paper),
        ("adhesive", inscription.adhesive),
    ):
        if key_or_none:
            yield told(f"Inscription.{field}", label(key_or_none), "note/mark")
    if len(inscription.languages) > 1:
        for tag in inscription.languages:
            yield told("Inscription.languages", tag, "note/mark")
    yield told("Inscription.hand", inscription.hand, "note/mark")
    for sighting in inscription.sightings:
        field = analog("Sighting", sighting.id)
        yield told(field, _state(sighting), "note/condition")
    for note in (
        *inscription.notes,
        *(each for transcript in inscription.transcripts for each in transcript.notes),
    ):
        yield told(analog("Note.text", note.id), note.text, note.kind, note.language)


def _state(sighting: Sighting) -> str:
    """`2026-03-02: partly covered, paper tape R1`."""
    words = ", ".join(filter(None, (label(sighting.state), sighting.covered_by)))
    return f"{sighting.on.iso}: {words}" if sighting.on else words


def numbers(work: Work) -> str:
    """The studio's own number and all others, each with its kind."""
    own = having(type=iri_of("number/studio"), encodinganalog="Work.number")
    return element(
        "repositoryWrap",
        element(
            "repositorySet",
            text("workID", work.number, own),
            *(
                text(
                    "workID",
                    each.text,
                    having(
                        type=iri_of(each.kind), encodinganalog=analog("Number.text", each.id)
                    ),
                )
                for each in work.numbers
            ),
        ),
    )


def descriptions(work: Work) -> str:
    """The notes about the whole, but for those about rights, which have a place of their own."""
    return element(
        "objectDescriptionWrap",
        *(
            element(
                "objectDescriptionSet",
                note_value(each),
                attributes=having(type=iri_of(each.kind)),
            )
            for each in work.notes
            if each.kind not in ABOUT_RIGHTS
        ),
    )


def note_value(note: Note) -> str:
    """The text of a note, with its language and id."""
    return text(
        "descriptiveNoteValue",
        note.text,
        having(lang=note.language, encodinganalog=analog("Note.text", note.id)),
    )


def sizes(work: Work) -> str:
    """Every set of measures, in words and in millimetres."""
    return element("objectMeasurementsWrap", *map(_size, work.sizes))


def _size(size: Size) -> str:
    measures = [
        (name.removesuffix("_mm"), getattr(size, name))
        for name in SIZE_MEASURES
        if getattr(size, name) is not None
    ]
    words = f"{label(size.what)}: {' x '.join(_figure(value) for _, value in measures)} mm"
    day = f" ({size.on.iso})" if size.on else ""
    shown = having(lang=LANGUAGE, encodinganalog=analog("Size", size.id))
    return element(
        "objectMeasurementsSet",
        text("displayObjectMeasurements", words + day, shown),
        element(
            "objectMeasurements",
            *(
                element(
                    "measurementsSet",
                    term("measurementType", f"dimension/{name}"),
                    term("measurementUnit", "unit/millimetre"),
                    text("measurementValue", _figure(value)),
                )
                for name, value in measures
            ),
            term("extentMeasurements", size.what),
        ),
    )


def _figure(value: float) -> str:
    """The shortest decimal: 610, 45.25.

    >>> _figure(610.0), _figure(45.25)
    ('610', '45.25')
    """
    return str(int(value)) if value == int(value) else repr(value)


def materials(work: Work) -> str:
    """What the whole is made of, then what its parts and layers are made of."""
    kinds = having(lang=LANGUAGE, encodinganalog="Work.medium")
    whole = element(
        "objectMaterialsTechSet",
        text("displayMaterialsTech", work.medium, kinds),
        element("materialsTech", *map(_material, work.materials)),
    )
    pieces: list[Part | Layer] = [*work.parts, *work.layers]
    return element("objectMaterialsTechWrap", whole, *map(_piece, pieces))


def _material(key: str) -> str:
    return term("termMaterialsTech", key, type=numbered("material"))


def _piece(piece: Part | Layer) -> str:
    kind = type(piece).__name__
    ours = {True: said("original"), False: said("not_original"), None: None}[piece.original]
    words = [label(piece.kind), *map(label, piece.materials), ours]
    if isinstance(piece, Layer):
        words[1:1] = [piece.colour]
        if piece.position:
            # counted from the back
            words[0] = f"{piece.position}. {words[0]}"
    shown = having(lang=LANGUAGE, encodinganalog=analog(kind, piece.id))
    return element(
        "objectMaterialsTechSet",
        text("displayMaterialsTech", ", ".join(filter(None, words)), shown),
        element(
            "materialsTech",
            *map(_material, piece.materials),
            term("extentMaterialsTech", piece.kind),
            *(
                text(
                    "sourceMaterialsTech",
                    each.text,
                    having(lang=each.language, encodinganalog=analog("Note.text", each.id)),
                )
                for each in piece.notes
            ),
        ),
    )


def iri_of(key: str) -> str:
    """The address of a term that most receivers know: the AAT's, else ours."""
    return concept(key).aat or concept(key).iri if known(key) else key
