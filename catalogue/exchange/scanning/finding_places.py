"""Where in a file something stands, for a person who wants to look: a JSON pointer, or a line."""

from __future__ import annotations

import re
from typing import Any

from catalogue.errors import CatalogueError
from catalogue.exchange.scanning.words_in_files import all_words, words, words_of
from catalogue.linked.text import parse

_JSON = (".json", ".jsonld")


def place_of(secret: str, text: bytes, kind: str, at: re.Match[bytes]) -> str:
    """The place of a secret in the text of a file: its pointer in JSON, else the line of the match.

    >>> import re
    >>> text = b'{"carries": [{"content": "For Mrs Quillan"}]}'
    >>> place_of("Mrs Quillan", text, ".json", re.search(b"Mrs", text))
    '/carries/0/content'
    """
    if kind in _JSON:
        try:
            found = _pointer(parse(text), set(words_of(secret)))
        except CatalogueError:
            found = None
        if found:
            return found
    return f"line {at.string.count(10, 0, at.start()) + 1}"


def _pointer(value: Any, wanted: set[bytes], here: str = "") -> str | None:
    """The first text or number of a document that has all the words, else a text that has one of them."""
    if isinstance(value, dict):
        inner = (
            (key.replace("~", "~0").replace("/", "~1"), held) for key, held in value.items()
        )
    elif isinstance(value, list):
        inner = ((str(number), held) for number, held in enumerate(value))
    else:
        text = str(value).encode("utf-8", "replace")
        return here if wanted <= {*words(text), *all_words(text)} else None
    for key, held in inner:
        found = _pointer(held, wanted, f"{here}/{key}")
        if found:
            return found
    return None
