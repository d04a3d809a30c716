"""What a LIDO record says a thing and its parts are made of."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from catalogue.exchange.lido.source import Piece
from catalogue.exchange.lido.taken import Taking
from catalogue.exchange.lido.terms import said as our_word
from catalogue.record import Layer, Part
from catalogue.terms import label

_COUNTED = re.compile(r"([1-9]\d{0,2})\. ")


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
