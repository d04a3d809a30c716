"""The JSON-LD contexts, from files on this machine: none is ever fetched.

The Linked Art context is read as data from the installed package that carries it byte for byte
(cromulent); our own terms come from vocab/context.json. Any other address is an error.
"""

from __future__ import annotations

import importlib.util
import json
from functools import cache
from pathlib import Path
from typing import Any

from catalogue.errors import BadDocument, NotOnFile, UnknownContext
from catalogue.places import folder
from catalogue.terms import AAT

LINKED_ART = "https://linked.art/ns/v1/linked-art.json"
OURS = "https://dorse.example/ns/1/context.json"


@cache
def context(address: str) -> dict[str, Any]:
    """The context document published under an address. Raises `UnknownContext` for a stranger's."""
    if address not in (LINKED_ART, OURS):
        raise UnknownContext(
            f"the context {address!r} is not on this machine, and dorse never fetches one",
            remedy="ask its sender for Linked Art, LIDO or a parcel, or for a file that holds its own terms",
        )
    source = _linked_art() if address == LINKED_ART else folder("vocab") / "context.json"
    found: dict[str, Any] = json.loads(source.read_text("utf-8"))
    return found


def _linked_art() -> Path:
    # The package is found, not imported: importing it would load an HTTP client we don't want.
    spec = importlib.util.find_spec("cromulent")
    folders = spec.submodule_search_locations if spec else None
    if not folders:
        raise NotOnFile(
            "the Linked Art context is missing",
            remedy="install dorse again: it needs cromulent",
        )
    return Path(next(iter(folders))) / "data" / "linked-art.json"


@cache
def prefixes() -> dict[str, str]:
    """What may stand before a colon in our documents (`crm`, `dorse`, `skos` ...), and before AAT ids."""
    listed = {**context(LINKED_ART)["@context"], **context(OURS)["@context"]}
    named = {
        key: said
        for key, said in listed.items()
        if isinstance(said, str) and said.endswith(("/", "#"))
    }
    return {**named, "aat": AAT}


def resolved(said: Any) -> list[Any]:
    """A document's `@context` with every address replaced by what it stands for."""
    listed = said if isinstance(said, list) else [said] if said is not None else []
    return [context(each)["@context"] if isinstance(each, str) else each for each in listed]


def check(document: Any) -> None:
    """Raise `UnknownContext` for a context anywhere in a document that would have to be fetched.

    `BadDocument` for one that is none at all.
    """
    pending: list[Any] = [document]
    while pending:
        here = pending.pop()
        if isinstance(here, dict):
            for key, held in here.items():
                if key == "@context":
                    _check_one(held)
                elif key == "@import":
                    context(str(held))
                pending.append(held)
        elif isinstance(here, list):
            pending += here


def _check_one(said: Any) -> None:
    for each in said if isinstance(said, list) else [said]:
        if isinstance(each, str):
            context(each)
        elif each is not None and not isinstance(each, dict):
            raise BadDocument(f"{each!r} is no context", where="/@context")
