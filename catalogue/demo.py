"""The studio of invented paintings: drawn, taken in and opened."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import rmtree

from catalogue.errors import CatalogueError, NotOnFile
from catalogue.places import folder
from catalogue.studio import Studio
from catalogue.under_way import Landing
from catalogue.under_way import Progress as UnderWay

Progress = Callable[[int, int], None]
WHO = "sample records"


@contextmanager
def open_demo(where: Path, progress: Progress) -> Iterator[Studio]:
    """The sample studio in a folder: as it was left the last time, or made now.

    Raises `NotOnFile` when what draws the photographs is not installed.
    """
    if (where / "ledger.sqlite").exists():
        with Studio.open(where) as studio:
            if studio.sample() is None:
                studio.know_sample(brought_in(studio))
            yield studio
        return
    records = folder("sample_records")
    where.mkdir(parents=True, exist_ok=True)
    pictures = where / "drawn-photos"
    draw(records, pictures, progress)
    with Studio.init(where) as studio:
        take_in(studio, records, pictures)
        yield studio


def brought_in(studio: Studio) -> frozenset[str]:
    """The records that the sample's own changes brought, of a studio that was made before they were noted."""
    return frozenset(
        entry.document
        for change in studio.history()
        if change.who == WHO
        for entry in change.entries
        if entry.document and entry.act == "save"
    )


def bring_in(studio: Studio, progress: UnderWay) -> Landing:
    """The sample into a studio that is open: its photographs drawn, its records taken in."""
    records = folder("sample_records")
    pictures = progress.folder / "photos"
    pictures.mkdir()
    progress.says("Drawing the photographs.")
    draw(records, pictures, progress)
    progress.no_way_back("Taking the records in.")
    take_in(studio, records, pictures)
    rmtree(pictures)
    return Landing(says="The sample studio is here.", where="/")


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
        for line in drawing.stdout:
            done, _, total = line.partition(":")[0].partition(" of ")
            progress(int(done), int(total))
    if drawing.returncode:
        raise CatalogueError(
            "the sample photographs could not be drawn", remedy=" ".join(script)
        )


def take_in(studio: Studio, records: Path, pictures: Path) -> None:
    """The sample records with their pictures, into a studio that has none of them yet."""
    parties, works, jobs = (records / name for name in ("parties", "works", "jobs"))
    came = []
    for told in studio.import_((parties, works, jobs), who=WHO, pictures=pictures):
        if told.outcome not in ("new", "same"):
            raise CatalogueError(f"{told.source}: {'; '.join(told.said)}")
        came.append(told.document_id)
    studio.know_sample(came)
    studio.catch_up()
