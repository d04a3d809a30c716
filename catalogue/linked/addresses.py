"""Ids within the studio ⇄ addresses that mean the same everywhere.

Inside, a document is `work/<uuid>` and its values are `#<uuid>`. Outside, the base of the studio is
put before them; a studio without a base uses `urn:uuid:<uuid>` for both. A full address that the
studio gave out earlier is known again when it comes back.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from urllib.parse import urljoin

from catalogue.linked.text import Node, nodes_within
from catalogue.record.rules import DOCUMENT_ID, UUID

_DOCUMENT = re.compile(rf"{DOCUMENT_ID}(#.*)?")
_URN = re.compile(rf"urn:uuid:({UUID})(?:#(.*))?")
_SENT = re.compile(rf"([a-z][a-z0-9+.-]*:.*/){DOCUMENT_ID}(?:#.*)?")
_NODES = frozenset((dict, list))
ADDRESS_KEYS = ("id", "@id", "visibility")


def address_of(own: str, document_id: str, base: str | None) -> str:
    """The full address of an id as it stands in the document `document_id`.

    A value of another document is written with that document before it.

    >>> uuid = "2f1c1a1e-9d6c-4a57-8f3e-0c5d0b6c9a11"
    >>> address_of(f"work/{uuid}", f"work/{uuid}", None)
    'urn:uuid:2f1c1a1e-9d6c-4a57-8f3e-0c5d0b6c9a11'
    >>> address_of(f"#{uuid}/made", "work/w", "https://backs.example/")
    'https://backs.example/work/w#2f1c1a1e-9d6c-4a57-8f3e-0c5d0b6c9a11/made'
    >>> address_of(f"work/w#{uuid}", "job/j", None)
    'urn:uuid:2f1c1a1e-9d6c-4a57-8f3e-0c5d0b6c9a11'
    """
    if base is not None:
        root = base if base.endswith("/") else base + "/"
        return f"{root}{document_id}{own}" if own.startswith("#") else f"{root}{own}"
    if "#" in own:
        uuid, slash, rest = own.partition("#")[2].partition("/")
        return f"urn:uuid:{uuid}#{rest}" if slash else f"urn:uuid:{uuid}"
    return f"urn:uuid:{own.partition('/')[2]}"


def is_own(value: str) -> bool:
    """Whether this is an id as documents of the studio write it."""
    return value[:1] == "#" or (value[:4] != "http" and _DOCUMENT.fullmatch(value) is not None)


def absolute(document: Node, base: str | None, within: str | None = None) -> Node:
    """The same document with every id of ours as a full address.

    `within` is the document that a record taken out of it belongs to.
    """
    own = within or str(document.get("id", ""))

    def resolve(value: str, here: Node) -> str:
        return address_of(value, own, base) if is_own(value) else value

    return mapped(document, resolve)


def mapped(document: Node, change: Callable[[str, Node], str]) -> Node:
    """The same document with `change` applied to every id and its node; the context is left alone."""

    def visit(value: Any) -> Any:
        if isinstance(value, list):
            return [visit(held) if type(held) in _NODES else held for held in value]
        made: Node = {}
        for key, held in value.items():
            if isinstance(held, str):
                made[key] = change(held, value) if key in ADDRESS_KEYS else held
            elif type(held) in _NODES and key != "@context":
                made[key] = visit(held)
            else:
                made[key] = held
        return made

    changed: Node = visit(document)
    return changed


def uuid_in(address: str, base: str | None) -> str | None:
    """The UUID of a document of ours in an address given out earlier, or None for a stranger's."""
    urn = _URN.fullmatch(address)
    if urn and not urn[2]:
        return urn[1]
    rest = _under(address, base)
    found = _DOCUMENT.fullmatch(rest) if rest else None
    return found[2] if found and not found[3] else None


def relative(
    document: Node,
    base: str | None,
    kinds: Callable[[str], str | None],
    *,
    strict: bool = False,
) -> Node:
    """A document that was sent out earlier, with the ids as the studio writes them inside.

    A node that says more than its type and label is a value of this very document, wherever else it
    is spoken of. For any other, `kinds` tells which kind of document its UUID names here ("work"),
    None for none: then it is another document by its type, or a value that did not come along. The
    root's own id is for the caller to set. In a `strict` document the values are records by
    themselves, which keep the addresses that they came with.
    """
    root = _under(str(document.get("id", "")), base)
    values = {str(here.get("id")) for here in nodes_within(document) if not _is_reference(here)}
    contact = document.get("contact")
    if isinstance(contact, dict):
        # One in which nothing is filled in yet looks like a reference.
        values.add(str(contact.get("id")))

    def change(value: str, here: Node) -> str:
        urn = _URN.fullmatch(value)
        if urn and strict:
            # By its type alone: what is on file by now must not decide how a file is read.
            person = not urn[2] and str(here.get("type")) in _PEOPLE
            return f"party/{urn[1]}" if person else value
        if urn:
            if urn[2]:
                return f"#{urn[1]}/{urn[2]}"
            kind = (
                None
                if value in values
                else kinds(urn[1]) or _REFERENCES.get(str(here.get("type")))
            )
            return f"{kind}/{urn[1]}" if kind else f"#{urn[1]}"
        rest = _under(value, base)
        found = _DOCUMENT.fullmatch(rest) if rest else None
        if found and not (strict and found[3]):
            named = f"{found[1]}/{found[2]}"
            # A value of this document goes by its own id, one of another by that document's as well.
            return found[3] if found[3] and named == root else named + (found[3] or "")
        return value

    return mapped(document, change)


_PEOPLE = ("Person", "Group")
_REFERENCES = {
    "Person": "party", "Group": "party", "Actor": "party", "HumanMadeObject": "work",
    "Place": "reference", "InformationObject": "reference", "PhysicalObject": "reference",
}  # fmt: skip


def sent_under(address: str) -> str | None:
    """The base of the studio that gave out this address, of a document or of a value; None for `urn:uuid:`.

    >>> uuid = "2f1c1a1e-9d6c-4a57-8f3e-0c5d0b6c9a11"
    >>> sent_under(f"https://backs.example/s/work/{uuid}#{uuid}/place")
    'https://backs.example/s/'
    >>> sent_under(f"urn:uuid:{uuid}"), sent_under("https://museum.example/77")
    (None, None)
    """
    found = _SENT.fullmatch(address)
    return found[1] if found else None


def full_address(document: Node) -> str | None:
    """The address of a document as its context completes it, None where it has none.

    >>> full_address({"@context": [{"@base": "https://museum.example/"}], "id": "object/7"})
    'https://museum.example/object/7'
    """
    address = document.get("id", document.get("@id"))
    if not isinstance(address, str):
        return None
    said = document.get("@context")
    for each in said if isinstance(said, list) else [said]:
        if isinstance(each, dict) and isinstance(each.get("@base"), str):
            address = urljoin(each["@base"], address)
    return address


def _is_reference(here: Node) -> bool:
    return here.keys() <= {"id", "type", "_label"}


def _under(address: str, base: str | None) -> str | None:
    if base is None:
        return None
    root = base if base.endswith("/") else base + "/"
    return address.removeprefix(root) if address.startswith(root) else None
