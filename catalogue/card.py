"""A card of photographs: each file looked at where it lies.

Nothing is taken in here. A file that is no photograph is told with the reason, one that is on file
already with where.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

from catalogue.errors import BadPicture
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.photos import clean_name, inspect
from catalogue.places import table
from catalogue.record import Photo, Work
from catalogue.sittings import FILE, Clock, Frame

PASSED_OVER: Final = frozenset({"thumbs.db", "desktop.ini"})
"""Files that other programs leave on every card, told by nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """A file of a card after it was looked at: the facts of the photograph, or why it is `refused`.

    `on_file` says where the very same file is already ("2026-041 as P3"). `at` is in the studio's time;
    `doubled` says that it is refused because the same lies there under another name.
    """

    key: str
    name: str
    folder: str = ""
    size: int = 0
    sha256: str = ""
    media_type: str = ""
    width: int = 0
    height: int = 0
    at: datetime | None = None
    clock: Clock = ""
    notes: tuple[str, ...] = ()
    on_file: str = ""
    refused: str = ""
    remedy: str = ""
    doubled: bool = False

    @property
    def fits(self) -> bool:
        """Whether it can be taken in and is not there yet."""
        return not (self.refused or self.on_file)

    @property
    def frame(self) -> Frame:
        """What it is sorted by."""
        return Frame(
            key=self.key, name=self.name, folder=self.folder, at=self.at, clock=self.clock
        )

    def photo(self, at: datetime | None, by: str | None = None, **facts: Any) -> Photo:
        """The photograph as it would be kept; `at` is when it was taken by a clock put right."""
        return Photo(
            file_name=self.name,
            sha256=self.sha256,
            media_type=self.media_type,
            width=self.width,
            height=self.height,
            taken=Day(at.year, at.month, at.day) if at else None,
            by=by,
            **{"view": "view/not-said", "light": "light/not-said", **facts},
        )


def look(
    ledger: Ledger, path: Path, *, name: str, key: str, folder: str, written: float | None,
    limit_megapixels: float,
) -> Looked:  # fmt: skip
    """One file looked at; `written` is the time of the file on the card, None where nobody knows it."""
    size = 0
    try:
        size = path.stat().st_size
        facts = inspect(path.read_bytes(), name=name, limit_megapixels=limit_megapixels)
    except BadPicture as refused:
        return Looked(
            key=key, name=name, folder=folder, size=size,
            refused=str(refused.args[0]), remedy=refused.remedy,
        )  # fmt: skip
    except OSError as refused:
        return Looked(
            key=key, name=name, folder=folder, refused=f"{name}: {refused.strerror}",
            remedy="copy it again from the camera or the card",
        )  # fmt: skip
    zone = ZoneInfo(ledger.setting("zone") or "UTC")
    at: datetime | None = facts.taken
    clock: Clock = "camera"
    if at is None and written is not None:
        with suppress(ValueError, OverflowError, OSError):
            at, clock = datetime.fromtimestamp(written, zone), "file"
    if at is not None and at.tzinfo is not None:
        at = at.astimezone(zone).replace(tzinfo=None)
    return Looked(
        key=key,
        name=name,
        folder=folder,
        size=size,
        sha256=facts.sha256,
        media_type=facts.media_type,
        width=facts.width,
        height=facts.height,
        at=at,
        clock=clock if at else "",
        notes=facts.notes,
        on_file=where(ledger, facts.sha256),
    )


def called(said: str) -> tuple[str, str, tuple[str, str] | None]:
    """What a file is called and in which folder of the card it lay; why not, where it cannot be kept.

    >>> called("DCIM/101/IMG_0031.JPG"), called("back.jpg")
    (('IMG_0031.JPG', 'DCIM/101', None), ('back.jpg', '', None))
    >>> called("../../back.jpg")[2][0]
    "the name '../../back.jpg' carries a path"
    """
    parts = said.split("/")
    plain = all(part not in ("", ".", "..") and part.isprintable() for part in parts[:-1])
    folder = "/".join(parts[:-1]) if plain else ""
    try:
        return clean_name(parts[-1] if plain else said), folder[:200], None
    except BadPicture as refused:
        shown = "".join(
            each if each.isprintable() else "\N{REPLACEMENT CHARACTER}" for each in said
        )
        return shown[:80], "", (str(refused.args[0]), refused.remedy)


def where(ledger: Ledger, sha256: str) -> str:
    """Where the very same photograph is already: "2026-041 as P3"; "" where it is not."""
    if not ledger.has_file(sha256):
        return ""
    for document in ledger.mentioning(sha256, "work"):
        work: Work = as_read(ledger.read(document)).record
        for photo in work.photos:
            if photo.sha256 == sha256:
                return f"{work.number} as {photo.number}"
    return ""


def without_doubles(looked: Iterable[Looked]) -> list[Looked]:
    """Every file, of those with the same contents all but the first refused, with which it is."""
    seen: dict[str, str] = {}
    found: list[Looked] = []
    for each in looked:
        if each.fits and each.sha256 in seen:
            says = table(FILE)["words"]["double"]
            each = replace(
                each, refused=says.format(name=each.name, other=seen[each.sha256]), doubled=True
            )
        elif each.fits:
            seen[each.sha256] = each.name
        found.append(each)
    return found


def files_below(paths: Iterable[Path]) -> Iterator[tuple[Path, str]]:
    """Every file that is named or lies below a folder that is named, and its folder as seen from there.

    What is hidden, what other programs leave behind and what is no plain file is passed over.
    """
    for path in paths:
        if path.is_dir():
            for inside, folders, names in os.walk(path):
                folders[:] = sorted(each for each in folders if not each.startswith("."))
                for name in sorted(names):
                    if name.startswith(".") or name.lower() in PASSED_OVER:
                        continue
                    found = Path(inside) / name
                    with suppress(OSError):
                        if stat.S_ISREG(found.lstat().st_mode):
                            yield found, str(Path(path.name) / Path(inside).relative_to(path))
        else:
            yield path, path.absolute().parent.name


def as_data(looked: Looked) -> dict[str, Any]:
    """A file that was looked at, so that it can be written down."""
    data = {name: getattr(looked, name) for name in looked.__dataclass_fields__}
    return {
        **data,
        "at": looked.at.isoformat() if looked.at else None,
        "notes": [*looked.notes],
    }


def from_data(data: Mapping[str, Any]) -> Looked:
    """What was written down, `from_data(as_data(looked)) == looked`."""
    at = datetime.fromisoformat(data["at"]) if data["at"] else None
    return Looked(**{**data, "at": at, "notes": tuple(data["notes"])})
