"""What another process does to a ledger, told on its standard output; run by the tests.

python ledger_child.py write FOLDER WHO TIMES     saves so often, a number each
python ledger_child.py fork FOLDER                a line on stdin: a child that saves on and on
python ledger_child.py small FOLDER BYTES         saves with a limit on the size of a file
python ledger_child.py reader FOLDER              saves as somebody who may only read
"""

from __future__ import annotations

import os
import resource
import sys
from contextlib import suppress
from itertools import count
from pathlib import Path

from catalogue.errors import CatalogueError
from catalogue.ledger import Ledger


def tell(*said: object) -> None:
    # one write, so that a kill leaves a whole line or none
    os.write(1, (" ".join(map(str, said)) + "\n").encode())


def write(folder: Path, who: str, times: str) -> None:
    with Ledger.open(folder) as ledger:
        for _ in range(int(times)):
            with ledger.change(who=who, why="two desks at once") as change:
                number = change.number("work:2026")
                change.save(f"work/{number}", b"{}", expected=None)
            tell(number)


def save_on_and_on(folder: Path) -> None:
    """Each change new works, an edit and a file, told once it was acknowledged."""
    with Ledger.open(folder) as ledger:
        for turn in count():
            mark = f"{os.getpid()}-{turn}"
            with ledger.change(who="desk", why=mark) as change:
                number = change.number("work:2026")
                photo = change.keep_file(mark.encode(), name=mark, media_type="text/plain")
                body = f'{{"mark": "{mark}", "pad": "{"x" * 5000}"}}'.encode()
                change.save(f"work/{number}", body, expected=None, source=photo)
                if turn:
                    change.save(f"work/{number - 1}", body, expected=1)
            tell(change.seq, f"work/{number}", mark, photo)


def fork(folder: Path) -> None:
    for _ in sys.stdin:
        child = os.fork()
        if child == 0:
            save_on_and_on(folder)
        tell("pid", child)
        os.waitpid(child, 0)
        tell("gone", child)


def attempt(folder: Path) -> None:
    """Save until it is refused, then say with which words."""
    try:
        with Ledger.open(folder) as ledger:
            for turn in range(200):
                with ledger.change(who="desk", why="a large one") as change:
                    change.keep_file(b"%d" % turn * 20_000, name="a", media_type="text/plain")
                    change.save(f"work/{turn}", b"x" * 20_000, expected=None)
                tell("saved", change.seq)
    except CatalogueError as refused:
        tell(type(refused).__name__, str(refused).replace("\n", " "))


def small(folder: Path, limit: str) -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(limit), resource.RLIM_INFINITY))
    attempt(folder)


def reader(folder: Path) -> None:
    if os.getuid() == 0:  # root may write anywhere
        os.setuid(65534)
    with suppress(BrokenPipeError):
        attempt(folder)


if __name__ == "__main__":
    verb, where, *rest = sys.argv[1:]
    {"write": write, "fork": fork, "small": small, "reader": reader}[verb](Path(where), *rest)
