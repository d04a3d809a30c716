"""What values, their fields and their contents are called: vocab/words.toml and vocab/terms, in words.

Histories, forms and messages ask here, so that the same thing has one name everywhere.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any

from catalogue.errors import BadSetting
from catalogue.measure import DateSpan, Day
from catalogue.places import folder
from catalogue.record import Release
from catalogue.surface import Box, Shape
from catalogue.terms import known, label

Naming = Callable[[str], str]
"""What to call an id: a party's name, a work's title, "I2" for a value's; the id itself when unknown."""

EVERY, ACTS = "every", "acts"
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip

_KEY = re.compile(r"[a-z][a-z0-9-]*/[a-z0-9][a-z0-9-]*")


@dataclass(frozen=True, slots=True)
class Word:
    """What something is called, a line for whoever fills it in, the unit it is measured in."""

    label: str
    hint: str = ""
    unit: str = ""
    many: str = ""


def kind_word(kind: str) -> Word:
    """What a kind of value is called.

    >>> kind_word("Transcript").label, kind_word("Inscription").many
    ('reading', 'inscriptions')
    """
    return _words().get((kind, ""), Word(_plain(kind)))


def field_word(kind: str, field: str) -> Word:
    """What a field of a value is called.

    >>> field_word("Size", "height_mm")
    Word(label='height', hint='', unit='mm', many='')
    """
    held = _words()
    return held.get((kind, field)) or held.get((EVERY, field)) or Word(_plain(field))


def has_word(kind: str, field: str) -> bool:
    """Whether vocab/words.toml says what a field is called."""
    return (kind, field) in _words() or (EVERY, field) in _words()


def act_said(act: str, what: object = "") -> str:
    """What a change did to a record as a whole.

    >>> act_said("join", "2026-007")
    'answers for 2026-007 from here on'
    """
    return _words()[ACTS, act].label.format(what=what)


def said(value: Any, naming: Naming = str, unit: str = "") -> str:
    """A value as one would say it; "" for nothing.

    >>> said(Day(2026, 3, 1)), said(61.50, unit="mm"), said(("face/back",)), said(None), said(False)
    ('1 March 2026', '61.5 mm', 'back', '', 'no')
    """
    match value:
        case None | () | "":
            return ""
        case bool():
            return "yes" if value else "no"
        case str():
            return said_text(value, naming)
        case int() | float():
            return f"{value:.10g}{'' if unit == '°' else ' '}{unit}".strip()
        case Day():
            return f"{value.day} {MONTHS[value.month - 1]} {value.year}"
        case DateSpan():
            return value.written
        case Box():
            return (
                f"{value.width_mm:.10g} × {value.height_mm:.10g} mm, {value.x_mm:.10g} mm from the"
                f" left and {value.y_mm:.10g} mm from the top"
            )
        case Shape():
            return _said_shape(value)
        case Release():
            return f"by {naming(value.by)}, {value.at[:10]}"
        case tuple():
            if all(isinstance(each, tuple) for each in value):
                return f"{len(value)} corners: " + ", ".join(
                    " ".join(f"{number:.10g}" for number in corner) for corner in value
                )
            return ", ".join(said(each, naming, unit) for each in value)
    return _said_whole(value, naming) if is_dataclass(value) else str(value)


def said_text(text: str, naming: Naming = str) -> str:
    """A text as it stands, a term by its label, an id by what it names."""
    if _KEY.fullmatch(text) and known(text):
        return label(text)
    return naming(text)


def _said_shape(shape: Shape) -> str:
    corners = ", ".join(f"{x:.10g} {y:.10g}" for x, y in shape.corners)
    return f"{shape.kind} at {corners} mm"


def _said_whole(value: Any, naming: Naming) -> str:
    """A value that belongs to another as a whole: what it says, field by field."""
    kind = type(value).__name__
    told = []
    for each in fields(value):
        word = field_word(kind, each.name)
        held = said(getattr(value, each.name), naming, word.unit)
        if held and each.name != "id":
            told.append(f"{word.label} {held}")
    return "; ".join(told)


def _plain(name: str) -> str:
    """A name of the program as words, for what vocab/words.toml does not know yet.

    >>> _plain("ConditionCheck"), _plain("length_mm")
    ('condition check', 'length mm')
    """
    return re.sub(r"(?<=[a-z])(?=[A-Z])|_", " ", name).lower()


@cache
def _words() -> dict[tuple[str, str], Word]:
    path = folder("vocab") / "words.toml"
    found: dict[tuple[str, str], Word] = {}
    try:
        held = tomllib.loads(path.read_text("utf-8"))
        for field, word in held.pop(EVERY).items():
            found[EVERY, field] = _word(word)
        for act, word in held.pop(ACTS).items():
            found[ACTS, act] = _word(word)
        for kind, own in held.items():
            for field, word in own.pop("fields").items():
                found[kind, field] = _word(word)
            found[kind, ""] = _word(own)
    except (tomllib.TOMLDecodeError, TypeError, KeyError, AttributeError) as wrong:
        raise BadSetting(
            f"{path}: {wrong!s}", remedy="see the lines at the top of that file"
        ) from None
    return found


def _word(held: str | dict[str, str]) -> Word:
    return Word(held) if isinstance(held, str) else Word(**held)
