"""Files that came inside a parcel with a record: untouched photographs and papers, copies of photographs.

Originals lie there by their digest, copies by the id of the photograph. What is not what its name says is
not kept.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from catalogue.copies_kept import kept_copy, key_of
from catalogue.errors import BadPicture
from catalogue.keeping import media_type_of
from catalogue.ledger import Ledger, OpenChange
from catalogue.record import Job, Paper, Photo, Record, Work

ORIGINALS, PAPERS, COPIES = "originals", "papers", "pictures"


@dataclass(slots=True)
class CameAlong:
    """What came along with some records: ids of photographs and papers that are here now, and copies.

    `copies` are the digests of copies by `copies_kept.key_of`, to be noted once all is saved; `new`
    counts the originals that were not here before.
    """

    here: set[str] = field(default_factory=set)
    copies: dict[str, str] = field(default_factory=dict)
    said: list[str] = field(default_factory=list)
    new: int = 0


def lacks_files(ledger: Ledger, record: Record) -> bool:
    """Whether the untouched file of a photograph or paper of a record on file is not here."""
    if not isinstance(record, Work | Job):
        return False
    photos = record.photos if isinstance(record, Work) else ()
    held: tuple[Photo | Paper, ...] = (*photos, *record.papers)
    return any(each.sha256 and not ledger.has_file(each.sha256) for each in held)


def keep_what_came(
    ledger: Ledger, change: OpenChange, record: Record, folder: Path, stem: str
) -> CameAlong:
    """Keep the files of a record that came in `folder`; `stem` is how names of its copies begin."""
    along = CameAlong()
    if isinstance(record, Work):
        for photo in record.photos:
            _keep_photo(ledger, change, photo, folder, stem, along)
    if isinstance(record, Work | Job):
        for paper in record.papers:
            if _keep_original(ledger, change, paper, folder / PAPERS, along):
                along.here.add(paper.id)
    return along


def _keep_photo(
    ledger: Ledger, change: OpenChange, photo: Photo, folder: Path, stem: str, along: CameAlong
) -> None:
    if _keep_original(ledger, change, photo, folder / ORIGINALS, along):
        along.here.add(photo.id)
        return
    copy = next(
        (
            found
            for ending in (".jpg", ".png", ".webp")
            if (found := folder / COPIES / f"{stem}-{photo.id}{ending}").is_file()
        ),
        None,
    )
    if copy is None:
        return
    try:
        along.copies[key_of(photo)] = kept_copy(change, copy)
    except BadPicture as refused:
        along.said.append(f"{copy.name}: {refused}")
        return
    along.here.add(photo.id)


def _keep_original(
    ledger: Ledger,
    change: OpenChange,
    held: Photo | Paper,
    folder: Path,
    along: CameAlong,
) -> bool:
    """Whether the untouched file of a photograph or paper is here, kept now or earlier."""
    if held.sha256 is None:
        return False
    if ledger.has_file(held.sha256):
        return True
    path = _by_stem(folder).get(held.sha256)
    if path is None or _digest(path) != held.sha256:
        return False
    name = held.file_name or path.name
    change.keep_file(path, name=name, media_type=held.media_type or media_type_of(name))
    along.new += 1
    return True


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


@cache
def _by_stem(folder: Path) -> dict[str, Path]:
    """The files of a folder of a parcel, which is there for one import alone, by name without ending."""
    return {path.stem: path for path in folder.iterdir()} if folder.is_dir() else {}
