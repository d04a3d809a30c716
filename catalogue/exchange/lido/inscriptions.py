"""What stands on a thing, for LIDO: each inscription with its readings, its place, its state and notes."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.lido.pen import element, having, text
from catalogue.exchange.lido.terms import LANGUAGE, analog, field_label, iri_of, numbered, said
from catalogue.record import Inscription, Layer, Part, Sighting, Transcript, Work
from catalogue.surface.words import in_words
from catalogue.terms import label


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

    def told(
        field: str,
        words: str | None,
        kind: str,
        language: str | None = LANGUAGE,
        of: Transcript | None = None,
    ) -> str:
        attributes = having(lang=language, label=field_label(field), encodinganalog=field)
        whose = having(type=numbered("local"), encodinganalog="Transcript")
        return element(
            "inscriptionDescription",
            text("descriptiveNoteID", of.id, whose) if of else "",
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
    of_readings = ((note, each) for each in inscription.transcripts for note in each.notes)
    for note, reading in (*((note, None) for note in inscription.notes), *of_readings):
        field = analog("Note.text", note.id)
        yield told(field, note.text, note.kind, note.language, of=reading)


def _state(sighting: Sighting) -> str:
    """`2026-03-02: partly covered, paper tape R1`."""
    words = ", ".join(filter(None, (label(sighting.state), sighting.covered_by)))
    return f"{sighting.on.iso}: {words}" if sighting.on else words
