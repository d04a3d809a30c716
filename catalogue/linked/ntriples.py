"""How N-Triples writes an address, a text, and a node that has no address."""

from __future__ import annotations

import re
from hashlib import sha256

from catalogue.linked.text import Node

_FULL = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:[^\x00-\x20<>\"{}|^`\\]*")
_ESCAPED = str.maketrans({"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r"})
_HALF = re.compile("[\ud800-\udfff]")


def nameless(document: Node) -> str:
    """What the names of nodes without an address begin with: other documents' begin otherwise."""
    own = str(document.get("id", document.get("@id", "")))
    return f"_:b{sha256(own.encode(errors='replace')).hexdigest()[:24]}n"


def full(address: str) -> str | None:
    """An address as N-Triples writes it; None for one that is relative or no address at all."""
    return f"<{address}>" if _FULL.fullmatch(address) else None


def quoted(text: str) -> str:
    """A text as N-Triples writes it; half a sign, which only a broken import brings, is marked."""
    if not text.isascii():
        text = _HALF.sub("\ufffd", text)
    return f'"{text.translate(_ESCAPED)}"'
