"""What a LIDO record says stands on a thing: each inscription with its readings, face, state and notes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from catalogue.exchange.lido.source import Piece, of_word
from catalogue.exchange.lido.taken import Taking, day_of, markup_of, term_of
from catalogue.exchange.lido.terms import said as our_word
from catalogue.record import Inscription, Note, Sighting, Transcript
from catalogue.surface import read_place


def inscriptions(taking: Taking, wrap: Piece) -> Iterator[Inscription]:
    """Everything that stands on it."""
    for each in wrap.each("inscriptionsWrap", "inscriptions"):
        found = _Marks(taking, each).inscription()
        if found is not None:
            yield found


@dataclass(slots=True)
class _Marks:
    """One inscription being read; what its descriptions say by field, and notes."""

    taking: Taking
    piece: Piece
    said: dict[str, Any] = field(default_factory=dict)
    of_readings: dict[str, list[Note]] = field(default_factory=dict)
    words: list[str] = field(default_factory=list)

    def inscription(self) -> Inscription | None:
        typed = self.piece.attribute("type")
        transcripts = tuple(self._transcripts())
        for each in self.piece.each("inscriptionDescription"):
            self._description(each)
        if not (transcripts or self.of_readings or self.said):
            return None
        transcripts = tuple(
            replace(each, notes=tuple(self.of_readings.pop(each.id, ())))
            for each in transcripts
        )
        kind = term_of(typed, "inscription") or self._kind_in_words()
        face = self.said.pop("face", None) or self._face_in_words()
        languages = {
            each.language
            for each in self.piece.each("inscriptionTranscription")
            if each.language
        }
        self.said.setdefault("languages", tuple(sorted(languages)))
        first = transcripts[0].markup if transcripts else ""
        own = self.said.pop("id", None) or self.taking.ids.of("inscription", kind, first)
        return Inscription(
            id=own,
            kind=kind,
            face=face,
            transcripts=transcripts,
            notes=tuple(note for notes in self.of_readings.values() for note in notes),
            **self.said,
        )

    def _transcripts(self) -> Iterator[Transcript]:
        """Each text is a reading; of ours the one with its signs stands for all three."""
        ours: dict[str, dict[str, Piece]] = {}
        for each in self.piece.each("inscriptionTranscription"):
            text = each.text()
            field_name, own = each.analog()
            if not text:
                continue
            if self.taking.ours and own and field_name.startswith("Transcript."):
                ours.setdefault(own, {})[each.attribute("label")] = each
                continue
            markup = markup_of(text)
            yield Transcript(id=self.taking.ids.of("transcript", text), markup=markup)
        for own, texts in ours.items():
            typed, seen = texts.get(our_word("as_typed")), texts.get(our_word("as_it_stands"))
            told = typed or seen or next(iter(texts.values()))
            markup = str(told.element.text)
            yield Transcript(
                id=own,
                markup=markup if told in (typed, seen) else markup_of(markup),
                preferred=told.analog()[0] == "Transcript.preferred",
            )

    def _description(self, piece: Piece) -> None:
        whose = ""
        for known_as in piece.each("descriptiveNoteID"):
            text = known_as.text()
            field_name, own = known_as.analog()
            if self.taking.ours and field_name == "Inscription" and own:
                self.said["id"] = own
                if re.fullmatch(r"I[1-9]\d*", text):
                    self.said["number"] = text
                piece.whole()
                return
            if self.taking.ours and field_name == "Transcript":
                whose = text
            else:
                known_as.read.discard(known_as.element)
        kind = term_of(piece.attribute("type"), "note") or "note/inscription"
        for value in piece.each("descriptiveNoteValue"):
            field_name = value.analog()[0] if self.taking.ours else ""
            if field_name.startswith(("Inscription.", "Sighting")):
                self._field(field_name, value)
            elif note := self.taking.note(value, kind):
                self.of_readings.setdefault(whose, []).append(note)
                self.words.append(note.text)

    def _field(self, name: str, value: Piece) -> None:
        """One field of an inscription of ours."""
        text = value.text()
        _, _, which = name.partition(".")
        if name == "Sighting":
            day, words = day_of(text.partition(":")[0]), text.rpartition(": ")[2]
            state, _, by = words.partition(", ")
            seen = Sighting(
                id=value.analog()[1] or self.taking.ids.of("sighting", text),
                state=of_word(state, "state") or "state/present",
                on=day,
                covered_by=by or None,
            )
            self.said["sightings"] = (*self.said.get("sightings", ()), seen)
        elif which == "part":
            self.said["part"] = value.analog()[1]
        elif which in ("techniques", "materials", "colours"):
            group = {"techniques": "technique", "materials": "material", "colours": "colour"}
            if key := of_word(text, group[which]):
                self.said[which] = (*self.said.get(which, ()), key)
        elif which in ("face", "shape", "edge", "paper", "adhesive"):
            group = {"paper": "colour", "adhesive": "material"}
            self.said[which] = of_word(text, group.get(which, which))
        elif which == "languages":
            self.said["languages"] = (*self.said.get("languages", ()), text)
        elif which == "hand":
            self.said["hand"] = text
        else:
            # where it is in millimetres is told in words only: say so
            value.read.discard(value.element)

    def _kind_in_words(self) -> str:
        first = (each.split(":")[0].split(",")[0] for each in self.words)
        found = (of_word(each, "inscription") for each in first)
        return next(filter(None, found), "inscription/inscription")

    def _face_in_words(self) -> str:
        found = (read_place(each).face for each in self.words)
        return next(filter(None, found), "face/other")
