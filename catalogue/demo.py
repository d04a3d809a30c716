"""The studio of invented paintings: drawn, taken in and opened."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from catalogue.errors import CatalogueError, NotOnFile
from catalogue.places import folder
from catalogue.studio import Studio

Progress = Callable[[int, int], None]
WHO = "sample records"


@contextmanager
def open_demo(where: Path, progress: Progress) -> Iterator[Studio]:
    """The sample studio in a folder: as it was left the last time, or made now.

    Raises `NotOnFile` when what draws the photographs is not installed.
    """
    if (where / "ledger.sqlite").exists():
        with Studio.open(where) as studio:
            yield studio
        return
    records = folder("sample_records")
    where.mkdir(parents=True, exist_ok=True)
    pictures = where / "drawn-photos"
    draw(records, pictures, progress)
    with Studio.init(where) as studio:
        take_in(studio, records, pictures)
        yield studio


def draw(records: Path, pictures: Path, progress: Progress) -> None:
    """Draw the photographs that the sample records name; the script reports each on a line."""
    if importlib.util.find_spec("numpy") is None:
        raise NotOnFile(
            "the sample photographs are drawn with packages that are not installed",
            remedy="pip install 'dorse[demo]'",
        )
    script = [sys.executable, str(records / "draw.py"), str(pictures)]
    with subprocess.Popen(script, stdout=subprocess.PIPE, text=True) as drawing:
        assert drawing.stdout is not None
        for done, _ in enumerate(drawing.stdout, 1):
            progress(done, 0)
    if drawing.returncode:
        raise CatalogueError(
            "the sample photographs could not be drawn", remedy=" ".join(script)
        )


def take_in(studio: Studio, records: Path, pictures: Path) -> None:
    """The sample records with their pictures, into an empty studio."""
    parties, works, jobs = (records / name for name in ("parties", "works", "jobs"))
    for told in studio.import_((parties, works, jobs), who=WHO, pictures=pictures):
        if told.outcome != "new":
            raise CatalogueError(f"{told.source}: {'; '.join(told.said)}")
    studio.catch_up()
