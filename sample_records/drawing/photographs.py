"""Every photograph that the sample works name, and how each is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import parse
from catalogue.record import Photo, Work
from drawing.backs import back, loose_label
from drawing.dressing import Dressing, dressings
from drawing.fronts import front
from drawing.lights import photograph
from drawing.sight import camera, loose
from drawing.texture import seeded


@dataclass(frozen=True, slots=True)
class Wanted:
    """One photograph to draw."""

    work: Work
    photo: Photo
    dressing: Dressing


def wanted(folder: Path) -> Iterator[Wanted]:
    """The photographs of all works in a folder, in the order of the files."""
    for path in sorted(folder.glob("*.json")):
        work = from_jsonld(parse(path.read_bytes()))
        assert isinstance(work, Work)
        for photo in work.photos:
            if photo.file_name:
                yield Wanted(work, photo, dressings()[path.stem])


def draw(each: Wanted, width: int) -> Image.Image:
    """The photograph, `width` pixels wide: full size is what the record says."""
    work, photo, dressing = each.work, each.photo, each.dressing
    view = camera(work, photo, dressing).resized(width)
    if loose(work, photo, dressing):
        bench = loose_label(work, photo, view, dressing)
    elif photo.face == "face/front":
        bench = front(work, photo, view, dressing)
    else:
        bench = back(work, photo, view, dressing)
    return photograph(bench, photo.light, seeded(photo.id, "light"))
