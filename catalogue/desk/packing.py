"""An export as one .zip: of a few works while one waits, of many in the background."""

from __future__ import annotations

import shutil
import zipfile
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import SpooledTemporaryFile, TemporaryDirectory
from typing import IO, Any, Final

from flask import send_file
from werkzeug.wrappers import Response

from catalogue.studio import Studio
from catalogue.under_way import Landing, Progress, Task

AT_ONCE: Final = 3
"""So many works leave while one waits."""
IN_MEMORY: Final = 16 * 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Parcel:
    """What is to leave: works by id (None for all of them), in which form, under which list, to whom.

    `allow` are the names that somebody lets leave this once, each with the reason; `longest_px` is 0
    where nobody bounds the copies of photographs. The file is called by its `stem`.
    """

    works: tuple[str, ...] | None
    format: str
    profile: str
    who: str
    recipient: str = ""
    reason: str = ""
    allow: dict[str, str] = field(default_factory=dict)
    pictures: str = ""
    longest_px: int = 0
    stem: str

    @property
    def file_name(self) -> str:
        """What its file is called.

        >>> Parcel(works=None, format="lido", profile="public", who="", stem="all-works").file_name
        'all-works-lido-public.zip'
        """
        return f"{self.stem}-{self.format}-{self.profile}.zip"

    @property
    def takes_long(self) -> bool:
        """Whether nobody should have to wait for it with a page before them."""
        return self.works is None or len(self.works) > AT_ONCE

    def called(self) -> str:
        """What is done, in words, for whoever looks how far it is.

        >>> Parcel(works=("work/1",) * 40, format="csv", profile="owner", who="", stem="").called()
        'Send 40 works as csv, for owner'
        """
        works = "every work" if self.works is None else f"{len(self.works)} works"
        return f"Send {works} as {self.format}, for {self.profile}"


def at_once(studio: Studio, parcel: Parcel) -> Response:
    """The parcel as an answer; it lies on the disk only while it is being sent."""
    with TemporaryDirectory(prefix="dorse-send-") as folder:
        _exported(studio, parcel, Path(folder), None)
        # closed by the server once it was sent
        packed = SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115
        _pack(Path(folder), packed)
    packed.seek(0)
    return send_file(
        packed, mimetype="application/zip", as_attachment=True, download_name=parcel.file_name
    )


def in_the_background(studio: Studio, parcel: Parcel) -> Task:
    """The errand that makes the parcel and leads on to its file."""

    def make(progress: Progress) -> Landing:
        progress.says("Writing the records, and looking through every finished file.")
        folder = progress.folder / "files"
        folder.mkdir()
        made = _exported(studio, parcel, folder, progress)
        # It stands in the list of what was sent by now: nobody stops it any more.
        progress.no_way_back("Packing the files.")
        file = progress.folder / parcel.file_name
        with file.open("wb") as packed:
            _pack(folder, packed)
        shutil.rmtree(folder)
        return Landing(
            says=f"{made.documents} record{'' if made.documents == 1 else 's'} in "
            f"{made.files} file{'' if made.files == 1 else 's'}; "
            f"{made.home} value{'' if made.home == 1 else 's'} stayed home.",
            file=file,
            file_name=parcel.file_name,
        )

    return make


def _exported(studio: Studio, parcel: Parcel, folder: Path, progress: Any) -> Any:
    # every form on the page is sent along, also for formats in which no photograph leaves
    pictures = studio.sends_pictures(parcel.format)
    return studio.export(
        parcel.format,
        parcel.profile,
        folder,
        parcel.works,
        progress,
        who=parcel.who,
        recipient=parcel.recipient,
        reason=parcel.reason,
        allow=parcel.allow,
        pictures=parcel.pictures if pictures else "",
        longest_px=(parcel.longest_px or None) if pictures else None,
    )


def _pack(folder: Path, packed: IO[bytes]) -> None:
    """Every file of an export in one zip; an export that is one already leaves as it is."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    if len(files) == 1 and files[0].suffix == ".zip":
        with files[0].open("rb") as whole:
            shutil.copyfileobj(whole, packed, 1 << 20)
        return
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as bundle:
        for path in files:
            bundle.write(path, path.relative_to(folder).as_posix())
