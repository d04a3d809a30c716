"""JSON text to nodes and back, without touching what it says.

A document goes through here and nowhere else: `45.70` stays `45.70`, and what cannot be read is
refused with its place. Nodes are plain dicts and lists.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from decimal import Decimal
from json.encoder import encode_basestring as _quoted
from typing import Any, NoReturn

from catalogue.errors import BadDocument

Node = dict[str, Any]

DEEPEST = 100
"""How deep nodes may nest: no record of ours goes beyond 15; what goes beyond 100 is an attack."""

_LONGEST = 300
"""Digits of a whole number: no count and no address in numbers comes near."""

_HOLD_MORE = frozenset((dict, list))
"""What else may nest; asking for the very type takes a third of `isinstance`, for every value read."""

_MARK = "\ue000"
_MARKED = re.compile(f'"{_MARK}([^"]*){_MARK}"')


def parse(text: bytes | str) -> Node:
    """The document that this JSON text holds. Raises `BadDocument` with the line where it broke."""
    try:
        found = json.loads(
            text,
            parse_float=_exact,
            parse_int=_whole,
            parse_constant=_no_constant,
            object_pairs_hook=_once_each,
        )
    except UnicodeDecodeError as broken:
        raise BadDocument(
            f"byte {broken.start} is not UTF-8",
            remedy="save the file as UTF-8 and import again",
        ) from None
    except json.JSONDecodeError as broken:
        raise BadDocument(
            f"this is not JSON, or it breaks off: line {broken.lineno}, column {broken.colno}",
            remedy="ask for the file again",
        ) from None
    except RecursionError:
        raise BadDocument(f"nodes nest deeper than {DEEPEST} levels") from None
    except ValueError as broken:
        raise BadDocument(str(broken)) from None
    if not isinstance(found, dict):
        raise BadDocument("a document is one JSON object ({...})")
    _check_depth(found)
    return found


def write(node: Node) -> bytes:
    """The canonical text of a document: UTF-8, no white space, keys in the order they stand."""
    text = json.dumps(node, ensure_ascii=False, separators=(",", ":"), default=_marked)
    return _unmarked(text).encode()


def write_readable(node: Node) -> bytes:
    """The same for people: one indented line a value, and a line end at the end.

    >>> print(write_readable({"id": "#1", "content": "Ebb", "value": Decimal("45.70")}).decode())
    {
     "id": "#1",
     "content": "Ebb",
     "value": 45.70
    }
    <BLANKLINE>
    """
    return (_readable(node, "\n") + "\n").encode()


def _readable(value: Any, line: str) -> str:
    """What `json.dumps` with an indent of 1 writes, in a third of its time; `line` begins a line here.

    json leaves its fast writer for one in Python as soon as it has to indent.
    """
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, dict):
        if not value:
            return "{}"
        inner = line + " "
        held = [
            f"{_quoted(key)}: {_quoted(each) if type(each) is str else _readable(each, inner)}"
            for key, each in value.items()
        ]
        return f"{{{inner}{f',{inner}'.join(held)}{line}}}"
    if isinstance(value, list):
        if not value:
            return "[]"
        inner = line + " "
        return f"[{inner}{f',{inner}'.join([_readable(each, inner) for each in value])}{line}]"
    return str(value) if isinstance(value, Decimal) else json.dumps(value)


def copy_of(value: Any) -> Any:
    """The same nodes, lists and values, none of them shared."""
    if isinstance(value, dict):
        return {key: copy_of(held) for key, held in value.items()}
    if isinstance(value, list):
        return [copy_of(held) for held in value]
    return value


def _exact(written: str) -> float | Decimal:
    """A number as the float that is written the same way, else as the decimal that is."""
    number = float(written)
    if math.isinf(number):
        raise ValueError(f"{written[:40]} is too large for a number")
    return number if repr(number) == written else Decimal(written)


def _whole(written: str) -> int:
    if len(written) > _LONGEST:
        raise ValueError(f"a number of {len(written)} digits is too long")
    return int(written)


def _marked(value: object) -> str:
    """json cannot write a Decimal: it goes out as a marked text and loses its quotes afterwards."""
    if isinstance(value, Decimal):
        return f"{_MARK}{value}{_MARK}"
    raise TypeError(f"{type(value).__name__} has no place in a document")


def _unmarked(text: str) -> str:
    return _MARKED.sub(r"\1", text) if _MARK in text else text


def _no_constant(written: str) -> NoReturn:
    raise ValueError(f"{written} is not a number that JSON can hold")


def _once_each(pairs: list[tuple[str, Any]]) -> Node:
    node = dict(pairs)
    if len(node) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(f"the key {twice!r} stands twice in one node")
    return node


def _check_depth(document: Node) -> None:
    level: list[Any] = [document]
    for _ in range(DEEPEST):
        level = [
            child
            for each in level
            for child in (each.values() if type(each) is dict else each)
            if type(child) in _HOLD_MORE
        ]
        if not level:
            return
    raise BadDocument(f"nodes nest deeper than {DEEPEST} levels")


def nodes_within(document: Node) -> Iterator[Node]:
    """Every node below the root of a document, in no order; its context is no node."""
    pending: list[Any] = [value for key, value in document.items() if key != "@context"]
    while pending:
        here = pending.pop()
        kind = type(here)
        if kind is dict:
            yield here
            pending += here.values()
        elif kind is list:
            pending += here


def pointer_to(document: Any, wanted: object) -> str | None:
    """The JSON pointer of the very object `wanted` within a document, None when it is not in it."""
    pending: list[tuple[str, Any]] = [("", document)]
    while pending:
        pointer, here = pending.pop()
        if here is wanted:
            return pointer or "/"
        if isinstance(here, dict):
            pending += [(f"{pointer}/{_escape(key)}", child) for key, child in here.items()]
        elif isinstance(here, list):
            pending += [(f"{pointer}/{index}", child) for index, child in enumerate(here)]
    return None


def _escape(key: str) -> str:
    return key.replace("~", "~0").replace("/", "~1")
