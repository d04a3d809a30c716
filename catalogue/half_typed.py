"""What is half typed in a form: which page it belongs to, what stood in its blanks, how it is kept as text.

A place is the address of the page, and the form on it where there are several: "/work/<uuid>#note".
The draft belongs to the record of that page: it is as confidential as the record, is thrown away when the
record is forgotten, and is never part of the history, of an index or of an export.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from catalogue.errors import BadData
from catalogue.record.rules import UUID

LARGEST = 2 * 1024 * 1024
"""How many letters of one form are kept: a label has at most 1 MB, and a page holds two."""

MOST = 200
"""How many half typed forms one person may have; nothing is thrown away to make room."""

TRAY = "tray/new"
NEW_RECORDS = frozenset({"work/new", "job/new", "party/new", TRAY})
"""What drafts belong to whose record is not on file yet."""

_KINDS = {"work": "work", "jobs": "job", "people": "party"}
_PLACE = re.compile(
    rf"/(?:(work|jobs|people)/(new|{UUID})|take-in/[A-Za-z0-9_-]{{1,80}})"
    rf"(?:/[A-Za-z0-9-]{{1,40}})*(?:\#[a-z-]{{1,30}}(?::{UUID})?)?"
)
_ADDRESS = re.compile(rf"(?:[a-z]+/)?{UUID}")
_TERM = re.compile(r"[a-z-]+/[a-z0-9-]+")
_FOR_THE_DESK = frozenset(
    {"csrf_token", "draft", "draft_place", "draft_from", "draft_called", "look", "more", "remove", "known"}
)  # fmt: skip
"""Blanks that say nothing of the record: keys, tokens, and which button was pressed."""


@dataclass(frozen=True, slots=True)
class HalfTyped:
    """A form as it stood. `called` is what the page calls it; `fields` are its blanks by name."""

    called: str
    fields: dict[str, list[str]] = field(default_factory=dict)

    @classmethod
    def of(cls, called: str, sent: Iterable[tuple[str, list[str]]]) -> HalfTyped:
        """What a form would send, without what only the desk needs."""
        kept = {name: list(texts) for name, texts in sent if name not in _FOR_THE_DESK}
        return cls(called[:120], kept)

    def text(self) -> str:
        """As it is kept. Raises `BadData` for more than can be."""
        written = json.dumps({"called": self.called, "fields": self.fields}, ensure_ascii=False)
        if len(written) > LARGEST:
            raise BadData(
                "this is too long to be kept as a draft",
                remedy="save it in parts; a label has at most 1 MB",
            )
        return written

    @property
    def revision(self) -> int | None:
        """The state of the record that the form had been made from."""
        said = "".join(self.fields.get("revision", ()))
        return int(said) if said.isascii() and said.isdigit() and len(said) < 10 else None

    def says(self) -> str:
        """The longest text in it, by which one knows it again.

        >>> HalfTyped("note", {"kind": ["note/description"], "text": ["The tape lifts."]}).says()
        'The tape lifts.'
        """
        texts = (
            text.strip()
            for name, held in self.fields.items()
            if name != "shown"
            for text in held
        )
        said = (
            text for text in texts if not _ADDRESS.fullmatch(text) and not _TERM.fullmatch(text)
        )
        return max(said, key=len, default="")[:200]


def read(text: str) -> HalfTyped:
    """A draft as it was kept; one that is no form says nothing.

    >>> read(HalfTyped("note", {"text": ["The tape lifts."]}).text()).fields
    {'text': ['The tape lifts.']}
    >>> read("Holl").fields
    {}
    """
    try:
        held = json.loads(text)
        return HalfTyped(
            str(held["called"]),
            {
                str(name): [str(each) for each in texts]
                for name, texts in held["fields"].items()
            },
        )
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return HalfTyped("")


def document_of(place: str) -> str:
    """The record that a place belongs to. Raises `BadData` for a place where nothing is typed.

    >>> document_of("/people/new"), document_of("/take-in/k3J")
    ('party/new', 'tray/new')
    >>> document_of("/jobs/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01/edit")
    'job/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01'
    """
    found = _PLACE.fullmatch(place) if len(place) < 400 else None
    if found is None:
        raise BadData("no draft can be kept for this page", remedy="save before you leave it")
    kind, uuid = found[1], found[2]
    return f"{_KINDS[kind]}/{uuid}" if kind else TRAY


def page_of(place: str) -> str:
    """The address of the page, without the form on it.

    >>> page_of("/people/new"), page_of("/work/x#note")
    ('/people/new', '/work/x')
    """
    return place.partition("#")[0]
