"""A question put to the graph in a process of its own, and what came back before the time was up."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Event, Timer
from typing import IO

from catalogue.errors import BadData
from catalogue.indexes.generations import NeedsRebuild
from catalogue.indexes.sparql import misread

MEMORY_MB = 3072
"""What a question may take; half of it is room that the engine reserves and rarely uses."""

_CHILD = Path(__file__).with_name("asked_child.py")
_PLACE = re.compile(r"error at ([0-9]+):([0-9]+)")

_COUNT = "SELECT (COUNT(*) AS ?statements) WHERE { GRAPH ?document { ?s ?p ?o } }"
"""Goes through everything, and takes no more memory than the engine does at rest."""

_COUNT_MB = 3072

Cell = str | int | float | bool | None
"""A number, a truth or a text (addresses and days among them); None where nothing is known."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a question found.

    `form` is "table", "truth" (one row, one cell) or "statements". `cut` says why there may be
    more: "rows" or "time" when that limit was reached, "" when this is all. `behind` is how many
    documents were saved that the answer doesn't know of.
    """

    form: str = "table"
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    cut: str = ""
    behind: int = 0


def put(
    question: str,
    store: Path | None,
    *,
    prefixes: Mapping[str, str],
    limit: int,
    seconds: float,
    memory_mb: int | None = None,
) -> Answer:
    """The answer of a store (None: an empty one), within these limits.

    Raises `BadData` for a question that cannot be read, or takes more memory than it may, and
    `NeedsRebuild` for a store that is damaged.
    """
    most_mb = memory_mb or MEMORY_MB
    request = {
        "question": question, "store": str(store) if store else None, "limit": limit,
        "seconds": seconds, "prefixes": dict(prefixes), "memory_mb": most_mb,
    }  # fmt: skip
    child = subprocess.Popen(
        [sys.executable, "-P", str(_CHILD)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    late = Event()

    def stop() -> None:
        late.set()
        child.kill()

    timer = Timer(seconds, stop)
    timer.start()
    with child:
        try:
            assert child.stdin is not None
            assert child.stdout is not None
            _ask(child.stdin, request)
            answer, ended = _heard(child.stdout, question, store)
        finally:
            timer.cancel()
            child.kill()
    if ended:
        return answer
    if late.is_set():
        return replace(answer, cut="time")
    if store is not None and question != _COUNT:
        # It died of its question, or of a file that is damaged: the plainest question tells which.
        put(_COUNT, store, prefixes={}, limit=1, seconds=seconds, memory_mb=_COUNT_MB)
    if question == _COUNT:
        raise NeedsRebuild(store or Path(), "cannot be read to its end")
    raise BadData(
        f"the question takes more than the {most_mb} MB it may",
        remedy="ask for less at once: join the patterns, leave out ORDER BY, or set LIMIT",
    )


def _ask(to: IO[bytes], request: Mapping[str, object]) -> None:
    try:
        to.write(json.dumps(request).encode())
        to.close()
    except BrokenPipeError:
        pass  # it died at once; that nothing is heard says so


def _heard(said: IO[bytes], question: str, store: Path | None) -> tuple[Answer, bool]:
    """What the other process says, and whether it came to the end of it."""
    form, columns, rows = "table", (), []
    for line in said:
        if not line.endswith(b"\n"):
            break
        what, *rest = json.loads(line)
        if what == "row":
            rows.append(tuple(rest[0]))
        elif what == "end":
            cut = "rows" if rest[0] else ""
            return Answer(form, columns, tuple(rows), cut), True
        elif what == "misread":
            place = _PLACE.search(rest[0])
            raise misread(question, *map(int, place.groups())) if place else BadData(rest[0])
        elif what == "broken":
            raise NeedsRebuild(store or Path(), f"cannot be read ({rest[0]})")
        else:
            form, columns = what, tuple(rest[0])
    return Answer(form, columns, tuple(rows)), False
