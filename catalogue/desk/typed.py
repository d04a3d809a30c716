"""What stands in the blanks of a form: texts by their path ("notes.0.text"), and a value written out so.

A form is always drawn from what was typed, so that nothing is lost when something in it is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from catalogue.desk.layout import how, typed_fields
from catalogue.measure import DateSpan, Day
from catalogue.record import is_address, new_id
from catalogue.record.rules import FieldRule, fields_of
from catalogue.surface import Shape
from catalogue.terms import label, labelled

SHOWN = "shown"
"""The hidden blank that lists every path whose boxes were on the page: an empty one says nothing."""

BOX = ("x_mm", "y_mm", "width_mm", "height_mm")
OUTLINE = "outline"


@dataclass(frozen=True, slots=True)
class Typed:
    """Every blank of a form by its path. Line ends are the browser's no longer."""

    held: dict[str, list[str]]

    @classmethod
    def of(cls, fields: Iterable[tuple[str, list[str]]]) -> Typed:
        """What a form was sent with."""
        return cls(
            {
                name: [text.replace("\r\n", "\n").replace("\r", "\n") for text in texts]
                for name, texts in fields
            }
        )

    def one(self, path: str) -> str:
        """What was typed into one blank, without the blanks around it."""
        return next((text.strip() for text in self.held.get(path, ())), "")

    def all(self, path: str) -> list[str]:
        """Everything that was typed or ticked at a path, without what was left empty."""
        return [text.strip() for text in self.held.get(path, ()) if text.strip()]

    def mentions(self, path: str) -> bool:
        """Whether the form had a blank here, filled or not."""
        return (
            path in self.held
            or path in self.held.get(SHOWN, ())
            or any(name.startswith(f"{path}.") for name in self.held)
        )

    def places(self, path: str) -> list[int]:
        """The places at which values stand within a field, in order.

        >>> Typed({"notes.0.text": [], "notes.10.text": [], "notes.2.text": []}).places("notes")
        [0, 2, 10]
        """
        form = re.compile(rf"{re.escape(path)}\.(\d{{1,6}})\.")
        found = (form.match(name) for name in self.held)
        return sorted({int(each[1]) for each in found if each})

    def add(self, more: Mapping[str, list[str]]) -> None:
        """Write further blanks into the form."""
        self.held.update(more)


Wording = Callable[[str], str]
"""How a form writes a document: a party by name, a work by number."""


def written_out(kind: type, value: Any, prefix: str, wording: Wording) -> dict[str, list[str]]:
    """A value as a form has it, path by path; its id beside it."""
    found: dict[str, list[str]] = {}
    own = getattr(value, "id", None)
    if own is not None and prefix:
        found[f"{prefix}id"] = [own]
    for rule in typed_fields(kind):
        found.update(field_out(kind, rule, getattr(value, rule.name), prefix, wording))
    return found


def field_out(
    kind: type, rule: FieldRule, held: Any, prefix: str, wording: Wording
) -> dict[str, list[str]]:
    """One field as a form has it."""
    path = f"{prefix}{rule.name}"
    way = how(rule, kind.__name__)
    if way == "many":
        found: dict[str, list[str]] = {}
        for place, member in enumerate(held or ()):
            found.update(written_out(rule.kind, member, f"{path}.{place}.", wording))
        return found
    if way == "one":
        return {} if held is None else written_out(rule.kind, held, f"{path}.", wording)
    if way == "shape":
        return _shape_out(held, path)
    if held is None or held == () or held is False:
        return {path: ["no"]} if held is False and way == "yes-no" else {}
    texts = held if rule.many else (held,)
    return {path: [_text_out(each, way, wording) for each in texts]}


def _text_out(held: Any, way: str, wording: Wording) -> str:
    match held:
        case bool():
            return "yes"
        case Day():
            return held.iso
        case DateSpan():
            return held.written
        case int() | float():
            return f"{held:.10g}"
    if way in ("word", "words"):
        return _word(held)
    if way in ("party", "parties", "document"):
        return wording(held)
    return str(held)


def _word(key: str) -> str:
    """A term as it is typed: its label, where that leads back to it."""
    if is_address(key):
        return key
    words = label(key)
    found = labelled(words, key.partition("/")[0])
    return words if found and found.key == key else key


def _shape_out(shape: Shape | None, path: str) -> dict[str, list[str]]:
    if shape is None:
        return {}
    box = shape.box
    if box and shape == Shape.of_box(box):
        return {f"{path}.{name}": [f"{getattr(box, name):.10g}"] for name in BOX}
    if shape.kind == "point":
        ((across, down),) = shape.corners
        return {f"{path}.x_mm": [f"{across:.10g}"], f"{path}.y_mm": [f"{down:.10g}"]}
    return {f"{path}.{OUTLINE}": [shape.wkt()]}


def same(one: Iterable[str], other: Iterable[str]) -> bool:
    """Whether two blanks say the same, but for white space at the ends and line ends."""
    return _bare(one) == _bare(other)


def _bare(texts: Iterable[str]) -> list[str]:
    plain = (text.replace("\r\n", "\n").replace("\r", "\n").strip() for text in texts)
    return [text for text in plain if text]


def has_id(kind: Any) -> bool:
    """Whether values of a kind have an id of their own."""
    return any(rule.name == "id" for rule in fields_of(kind))


def new_member(kind: type, prefix: str) -> dict[str, list[str]]:
    """The id that a further value will have: sent twice, it is still one value."""
    return {f"{prefix}id": [new_id()]} if has_id(kind) else {}
