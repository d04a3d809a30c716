"""Lines put into one order, each once, however many they are: sorted runs on disk, then merged.

Statements of ten thousand records don't fit into the memory that an export may take.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from pathlib import Path

RUN = 24 * 1024 * 1024
"""How many bytes of lines are sorted in memory at once."""

MOST_RUNS = 100
"""How many runs lie beside each other: each is an open file when they are merged."""


class SortedLines:
    """Lines on their way into one file. They are bytes without a line end; `folder` is for the runs."""

    def __init__(self, folder: Path, run: int = RUN, most_runs: int = MOST_RUNS) -> None:
        self._folder = folder
        self._run = run
        self._most_runs = most_runs
        self._waiting: list[bytes] = []
        self._size = 0
        self._runs: list[Path] = []
        self._written = 0

    def add(self, lines: Iterable[bytes]) -> None:
        """Take in lines."""
        for line in lines:
            self._waiting.append(line)
            self._size += len(line)
        if self._size > self._run:
            self._put_down()

    def into(self, target: Path) -> Path:
        """The finished file; nothing more can be added."""
        _write(target, self.lines())
        return target

    def lines(self) -> Iterator[bytes]:
        """Every line in order, for a file that has more in it; nothing more can be added."""
        self._put_down()
        yield from self._merged()
        self._forget()

    def _put_down(self) -> None:
        """What waits becomes a run; too many runs become one."""
        if self._waiting:
            self._runs.append(self._new(sorted(set(self._waiting))))
            self._waiting, self._size = [], 0
        if len(self._runs) > self._most_runs:
            longer = self._new(self._merged())
            self._forget()
            self._runs = [longer]

    def _new(self, lines: Iterable[bytes]) -> Path:
        self._written += 1
        path = self._folder / f"run-{self._written}"
        _write(path, lines)
        return path

    def _merged(self) -> Iterator[bytes]:
        with ExitStack() as opened:
            files = [opened.enter_context(path.open("rb")) for path in self._runs]
            last = None
            for line in heapq.merge(*((line[:-1] for line in file) for file in files)):
                if line != last:
                    yield line
                last = line

    def _forget(self) -> None:
        for path in self._runs:
            path.unlink()
        self._runs = []


def _write(path: Path, lines: Iterable[bytes]) -> None:
    with path.open("wb") as file:
        for line in lines:
            file.write(line)
            file.write(b"\n")
