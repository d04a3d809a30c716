"""Sharing out: an index made anew by several processes, each reading and writing a share of it.

Where that is not to be had (one processor, few documents, a ledger that passes), nothing is done and
the caller does it alone.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from multiprocessing import get_context
from pathlib import Path
from queue import Empty

from catalogue.errors import CannotSave
from catalogue.ledger import Progress
from catalogue.projecting import share

WORTH_IT = 1500
"""Fewer documents are done sooner than other processes have started."""

MOST_PROCESSES = 8


def processes() -> int:
    """How many processes may work at once; `DORSE_PROCESSES` says otherwise."""
    asked = os.environ.get("DORSE_PROCESSES", "")
    available = (
        len(os.sched_getaffinity(0))
        if hasattr(os, "sched_getaffinity")
        else os.cpu_count() or 1
    )
    return max(1, min(int(asked) if asked.isdigit() else available, MOST_PROCESSES))


def shared_out(
    folder: Path, target: Path, documents: Sequence[tuple[str, int]], told: Progress
) -> bool:
    """Whether the documents were written to `target` as parts of an index, by several processes."""
    count = processes()
    if count < 2 or len(documents) < WORTH_IT:
        return False
    context = get_context("spawn")
    said = context.Queue()
    workers = [
        context.Process(
            target=share,
            args=(folder, target / f"share-{at}", documents[at::count], said),
            daemon=True,
        )
        for at in range(count)
    ]
    try:
        for worker in workers:
            worker.start()
        done, working = 0, count
        while working:
            try:
                word = said.get(timeout=1)
            except Empty:
                if any(worker.exitcode for worker in workers):
                    raise CannotSave(
                        "a process that made the index anew was stopped", remedy="try again"
                    ) from None
                continue
            if isinstance(word, str):
                raise CannotSave(word)
            working -= word is None
            done += word or 0
            told(done, len(documents))
        return True
    finally:
        for worker in workers:
            worker.terminate() if worker.is_alive() and working else worker.join()
            worker.join()
