"""Records whose every text tries to become markup: made from full records and their own field rules.

Each text is tagged with the field it stands in, so that whoever finds a piece of it loose knows where it came from.
"""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from itertools import count
from typing import Any

from made_records import ARTIST, CLIENT, full_job, full_work

from catalogue.errors import CatalogueError
from catalogue.record import Reference

TEXTS = (
    '"><img src=x onerror=ran()>', "'><svg onload=ran()><loose-{n}>", "</textarea><script>ran()</script><loose-{n}>",
    "</title></style></script><loose-{n} onclick=ran()>", "{{{{1234*4321}}}}<loose-{n}>", "javascript:ran()//<loose-{n}>",
    "\u2028\u2029<loose-{n} style=x:y>", "]]>--><loose-{n}><!--", "<iframe srcdoc='<script>ran()</script>'></iframe>", "&lt;loose-{n}&gt;&#60;loose-{n}&#62;",
    "' onmouseover='ran()' x='", "</option></select><loose-{n}>", "<a href='javascript:ran()'>{n}</a>", "\u202e<loose-{n}>\u2066",
)  # fmt: skip
"""Ways out of an element, an attribute, a script, a comment; into an address, a template, an event."""

TERM = re.compile(r"[a-z-]+/[a-z0-9-]+")
WORDS = frozenset({"materials", "techniques", "colours", "about"})
"""Fields in which words of other people's vocabularies stand, as addresses."""

ADDRESSES = (
    "https://elsewhere.example/\"><loose-{n}>", "https://elsewhere.example/'onclick='ran()'", "https://elsewhere.example/<loose-{n}>",
    "javascript:ran()", "data:text/html,<loose-{n}>",
)  # fmt: skip


class Hostile:
    """Puts such texts into every field of a record that takes them; `told` is which field got which."""

    def __init__(self) -> None:
        self.told: dict[int, str] = {}
        self._numbers = count(1)

    def record(self, value: Any) -> Any:
        """The same record, hostile wherever its rules allow it."""
        for each in fields(value):
            held = getattr(value, each.name)
            if each.name in ("id", "visibility") or held is None:
                continue  # who may see it is one of three words, and is told by no other
            if isinstance(held, str):
                if not TERM.fullmatch(held):  # a word of ours is told by no other
                    value = self._text(value, each.name, held)
            elif each.name in WORDS and held:
                strange = ADDRESSES[next(self._numbers) % 3].format(n=0)
                value = _or_else(value, each.name, (*held, strange))
            elif isinstance(held, tuple) and held and not isinstance(held[0], str):
                members = tuple(self.record(one) if is_dataclass(one) else one for one in held)
                value = _or_else(value, each.name, members)
            elif is_dataclass(held) and not isinstance(held, type):
                value = _or_else(value, each.name, self.record(held))
        return value

    def _text(self, value: Any, name: str, held: str) -> Any:
        number = next(self._numbers)
        at = number % len(TEXTS)
        choices = (*TEXTS[at:], *TEXTS[:at], *ADDRESSES)
        for text in choices:
            changed = _or_else(value, name, text.format(n=number))
            if changed is not value:
                self.told[number] = f"{type(value).__name__}.{name}"
                return changed
        return value


def _or_else(value: Any, name: str, held: Any) -> Any:
    """The value with this field, or as it was where its rules refuse it."""
    try:
        return replace(value, **{name: held})
    except (CatalogueError, ValueError, TypeError):
        return value


def hostile_records() -> tuple[dict[str, Any], dict[int, str]]:
    """A work, its commission, two parties and a reference, hostile in every field; and which text is whose."""
    hostile = Hostile()
    work = full_work()
    made = {
        "artist": ARTIST, "client": CLIENT, "work": work, "job": full_job(work),
        "reference": Reference(
            id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a77", address="https://elsewhere.example/0", types=("Place",), labels=("Porthmellow",),
        ),
    }  # fmt: skip
    return {name: hostile.record(record) for name, record in made.items()}, hostile.told
