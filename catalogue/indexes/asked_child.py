"""One question to the graph, put in a process of its own, so that it can be stopped at any moment.

The engine cannot be interrupted while it looks for the next row. This file is run, not imported:
it knows nothing of the house, so that it starts quickly. The question comes as one JSON object; the
answer goes out as one JSON list a line, its first member saying what it is.
"""

from __future__ import annotations

import faulthandler
import json
import os
import sys
from collections.abc import Iterator
from itertools import islice
from typing import Any

from pyoxigraph import (
    BlankNode,
    Literal,
    NamedNode,
    QueryBoolean,
    QuerySolutions,
    Store,
    Triple,
)

_XSD = "http://www.w3.org/2001/XMLSchema#"
_WHOLE = {_XSD + name for name in ("integer", "int", "long", "short", "nonNegativeInteger")}
_FRACTION = {_XSD + name for name in ("double", "float", "decimal")}


def main() -> None:
    """Answer the question on the input."""
    asked = json.load(sys.stdin.buffer)
    # Whoever asked stops us; should they have died, nobody would.
    faulthandler.dump_traceback_later(
        asked["seconds"] + 5,
        exit=True,
        file=open(os.devnull, "w"),  # noqa: PTH123, SIM115
    )
    _within(asked["memory_mb"])
    try:
        for line in _answer(asked):
            _say(line)
    except SyntaxError as wrong:
        _say(["misread", str(wrong)])
    except (OSError, ValueError, RuntimeError) as broken:
        _say(["broken", str(broken)])


def _answer(asked: dict[str, Any]) -> Iterator[list[Any]]:
    store = Store.read_only(asked["store"]) if asked["store"] else Store()
    found = store.query(
        asked["question"], prefixes=asked["prefixes"], use_default_graph_as_union=True
    )
    if isinstance(found, QueryBoolean):
        yield ["truth", ["answer"]]
        yield ["row", [bool(found)]]
        yield ["end", False]
        return
    if isinstance(found, QuerySolutions):
        names = [each.value for each in found.variables]
        yield ["table", names]
        rows: Iterator[Any] = ([row[name] for name in names] for row in found)
    else:
        yield ["statements", ["subject", "predicate", "object"]]
        rows = ([each.subject, each.predicate, each.object] for each in found)
    for row in islice(rows, asked["limit"]):
        yield ["row", [_plain(value) for value in row]]
    yield ["end", next(rows, None) is not None]


def _plain(value: NamedNode | BlankNode | Literal | Triple | None) -> Any:
    """A value as JSON has it: numbers and truths as such, everything else as text."""
    if isinstance(value, Literal):
        kind = value.datatype.value
        try:
            if kind in _WHOLE:
                return int(value.value)
            if kind in _FRACTION:
                number = float(value.value)
                return number if abs(number) < float("inf") else value.value
        except ValueError:
            return value.value
        return value.value == "true" if kind == _XSD + "boolean" else value.value
    if isinstance(value, NamedNode):
        return value.value
    return None if value is None else str(value)


def _say(line: list[Any]) -> None:
    sys.stdout.buffer.write(json.dumps(line).encode() + b"\n")
    sys.stdout.buffer.flush()


def _within(memory_mb: int) -> None:
    """Take no more memory than that, where the system lets us promise it."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory_mb << 20, memory_mb << 20))


if __name__ == "__main__":
    main()
