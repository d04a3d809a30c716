"""What a LIDO record says of the thing itself, as values: titles, inscriptions, numbers, sizes, materials."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from catalogue.exchange.lido_source import Piece, of_word
from catalogue.exchange.lido_taken import Taking, day_of, markup_of, term_of
from catalogue.exchange.lido_terms import said as our_word
from catalogue.measure import read_sizes
from catalogue.places import table
from catalogue.record import (
    Inscription,
    Layer,
    Movement,
    Note,
    Number,
    Part,
    Sighting,
    Size,
    Title,
    Transcript,
)
from catalogue.surface import read_place
from catalogue.terms import label

_COUNTED = re.compile(r"([1-9]\d{0,2})\. ")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


def titles(taking: Taking, wrap: Piece) -> Iterator[Title]:
    """The titles, each translation a title of its own."""
    preferred = table("lido.toml")["terminology"]["preferred"]
    for each in wrap.each("titleWrap", "titleSet"):
        kind = term_of(each.attribute("type"), "title") or "title/given"
        shown = each.attribute("pref") in preferred
        for value in each.each("appellationValue"):
            text = value.text()
            if not text or value.attribute("label") == "none":
                continue
            yield Title(
                id=taking.id_of(value, "title", kind, text),
                text=text,
                kind=kind,
                language=value.language,
                preferred=shown or value.attribute("pref") in preferred,
            )


def numbers(taking: Taking, wrap: Piece) -> tuple[str | None, tuple[Number, ...]]:
    """Our own number where the record is of ours, and all numbers that it has elsewhere."""
    own: str | None = None
    found: list[Number] = []
    for each in wrap.each("repositoryWrap", "repositorySet", "workID"):
        text = each.text()
        if not text:
            continue
        if taking.ours and each.analog()[0] == "Work.number":
            own = text
            continue
        kind = term_of(each.attribute("type"), "number") or "number/inventory"
        found.append(Number(id=taking.id_of(each, "number", kind, text), kind=kind, text=text))
    return own, tuple(found)


def keepers(taking: Taking, wrap: Piece) -> Iterator[Movement]:
    """Where the thing is kept, as far as the record says: it stays in the house like any whereabouts."""
    for each in wrap.each("repositoryWrap", "repositorySet"):
        name = each.told("repositoryName", "legalBodyName", "appellationValue")
        place = each.told("repositoryLocation", "namePlaceSet", "appellationValue")
        shown = each.told("displayRepository")
        told = ", ".join(dict.fromkeys(filter(None, (name or shown, place))))
        if told:
            yield Movement(id=taking.ids.of("keeper", told), to=told)


def inscriptions(taking: Taking, wrap: Piece) -> Iterator[Inscription]:
    """Everything that stands on it."""
    for each in wrap.each("inscriptionsWrap", "inscriptions"):
        found = _Marks(taking, each).inscription()
        if found is not None:
            yield found


@dataclass(slots=True)
class _Marks:
    """One inscription being read; what its descriptions say by field."""

    taking: Taking
    piece: Piece
    said: dict[str, Any] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    def inscription(self) -> Inscription | None:
        typed = self.piece.attribute("type")
        transcripts = tuple(self._transcripts())
        for each in self.piece.each("inscriptionDescription"):
            self._description(each)
        if not (transcripts or self.notes or self.said):
            return None
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
            notes=tuple(self.notes),
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
        for known_as in piece.each("descriptiveNoteID"):
            text = known_as.text()
            field_name, own = known_as.analog()
            if self.taking.ours and field_name == "Inscription" and own:
                self.said["id"] = own
                if re.fullmatch(r"I[1-9]\d*", text):
                    self.said["number"] = text
                piece.whole()
                return
        kind = term_of(piece.attribute("type"), "note") or "note/inscription"
        for value in piece.each("descriptiveNoteValue"):
            field_name = value.analog()[0] if self.taking.ours else ""
            if field_name.startswith(("Inscription.", "Sighting")):
                self._field(field_name, value)
            elif note := self.taking.note(value, kind):
                self.notes.append(note)
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


def descriptions(taking: Taking, wrap: Piece) -> Iterator[Note]:
    """The notes about the whole."""
    for each in wrap.each("objectDescriptionWrap", "objectDescriptionSet"):
        kind = term_of(each.attribute("type"), "note") or "note/description"
        for value in each.each("descriptiveNoteValue"):
            if note := taking.note(value, kind):
                yield note


def sizes(taking: Taking, wrap: Piece) -> tuple[Size, ...]:
    """The sets of measures; what stands in several sets of one thing belongs together."""
    found: list[Size] = []
    for each in wrap.each("objectMeasurementsWrap", "objectMeasurementsSet"):
        shown = next(each.each("displayObjectMeasurements"), None)
        text = shown.text() if shown else ""
        measured = dict(_measured(each))
        what = _what(each, text)
        if measured:
            if shown and not taking.ours and not _same_figures(text, each):
                shown.read.discard(shown.element)
            own = shown.analog()[1] if shown and taking.ours else None
            size = Size(
                id=own
                or taking.ids.of("size", what or "", *map(str, sorted(measured.items()))),
                what=what or "size/support",
                on=day_of(text) if own else None,
                **measured,
            )
            if not own and found and _belong_together(found[-1], size):
                found[-1] = _joined(found[-1], size)
            else:
                found.append(size)
        else:
            found += _as_written(taking, text, what)
        if what is None and (measured or text):
            taking.remarks.append(str(table("lido.toml")["arriving"]["size_of_what"]))
    return tuple(found)


def _measured(piece: Piece) -> Iterator[tuple[str, Any]]:
    """Each measure that can be told, in millimetres."""
    words = table("lido.toml")
    measures = {word: name for name, listed in words["measures"].items() for word in listed}
    for each in piece.each("objectMeasurements", "measurementsSet"):
        kind, unit = each.one("measurementType"), each.one("measurementUnit")
        value = each.one("measurementValue")
        if kind is None or unit is None or value is None:
            continue
        dimension = kind.concept("dimension")
        name = (
            f"{dimension.partition('/')[2]}_mm"
            if dimension
            else measures.get(kind.words().casefold())
        )
        known_unit = unit.concept("unit")
        per_unit = words["units"].get(
            known_unit.partition("/")[2] if known_unit else unit.words().casefold()
        )
        figure = _NUMBER.fullmatch(str(value.element.text or "").strip())
        if name not in Size.__dataclass_fields__ or not per_unit or not figure:
            for untold in (kind, unit, value):
                untold.read.discard(untold.element)
            continue
        for told in (kind, unit, value):
            told.whole()
        mm = round(float(figure[0].replace(",", ".")) * per_unit, 4)
        yield name, int(mm) if mm == int(mm) else mm


def _same_figures(text: str, piece: Piece) -> bool:
    """Whether the words shown have no other figures than the measures beside them."""
    values = set(piece.every("objectMeasurements", "measurementsSet", "measurementValue"))
    figures = set(_NUMBER.findall(text))
    return bool(figures) and figures <= {each.replace(".", ",") for each in values} | values


def _what(piece: Piece, text: str) -> str | None:
    """What was measured: by the extent, else by the words shown."""
    listed = table("lido.toml")["extents"]
    for each in piece.each("objectMeasurements", "extentMeasurements"):
        key: str | None = each.concept("size") or listed.get(each.words().casefold())
        if key:
            return key
        each.read.discard(each.element)
    written = next((size.what for size in read_sizes(text) if size.what), None)
    return f"size/{written}" if written else None


def _as_written(taking: Taking, text: str, what: str | None) -> list[Size]:
    return [
        Size(
            id=taking.ids.of("size", each.written),
            what=f"size/{each.what}" if each.what else what or "size/support",
            height_mm=each.height_mm,
            width_mm=each.width_mm,
            depth_mm=each.depth_mm,
            diameter_mm=each.diameter_mm,
        )
        for each in read_sizes(text)
        if not each.doubt
    ]


_MEASURES = ("height_mm", "width_mm", "depth_mm", "diameter_mm")


def _belong_together(one: Size, other: Size) -> bool:
    both = (
        (getattr(one, name) is None) or (getattr(other, name) is None) for name in _MEASURES
    )
    return one.what == other.what and all(both)


def _joined(one: Size, other: Size) -> Size:
    more = {
        name: getattr(other, name) for name in _MEASURES if getattr(other, name) is not None
    }
    return replace(one, **more)


@dataclass(slots=True)
class Made:
    """What the thing and its parts are made of."""

    medium: str | None = None
    materials: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    layers: tuple[Layer, ...] = ()

    def take(self, taking: Taking, sets: Iterator[Piece]) -> None:
        """Add what these sets of materials say."""
        for each in sets:
            shown = next(each.each("displayMaterialsTech"), None)
            field_name, own = shown.analog() if shown and taking.ours else ("", None)
            if own and field_name in ("Part", "Layer"):
                self._piece(taking, each, field_name, own)
                continue
            text = each.told("displayMaterialsTech")
            if text:
                self.medium = f"{self.medium}; {text}" if self.medium else text
            for term in each.each("materialsTech", "termMaterialsTech"):
                if key := term.concept("material"):
                    self.materials = (*self.materials, key)
                elif text and term.words().casefold() in text.casefold():
                    term.whole()
                else:
                    term.read.discard(term.element)

    def _piece(self, taking: Taking, piece: Piece, kind: str, own: str) -> None:
        shown = piece.told("displayMaterialsTech").split(", ")
        known = {our_word("original"): True, our_word("not_original"): False}
        terms = piece.each("materialsTech", "termMaterialsTech")
        materials = tuple(key for each in terms if (key := each.concept("material")))
        extents = list(piece.each("materialsTech", "extentMaterialsTech"))
        notes = [
            note
            for each in piece.each("materialsTech", "sourceMaterialsTech")
            if (note := taking.note(each))
        ]
        said: dict[str, Any] = {
            "id": own,
            "materials": materials,
            "original": known.get(shown[-1]),
            "notes": tuple(notes),
        }
        for each in extents:
            if kind == "Part" and (key := each.concept("part")):
                self.parts = (*self.parts, Part(kind=key, **said))
            elif kind == "Layer" and (key := each.concept("layer")):
                told = {*map(label, materials), *known}
                colour = next((word for word in shown[1:] if word not in told), None)
                counted = _COUNTED.match(shown[0])
                position = int(counted[1]) if counted else None
                layer = Layer(kind=key, colour=colour, position=position, **said)
                self.layers = (*self.layers, layer)
