"""Taking in a zip: a parcel of ours, a bag of somebody else's, or a plain zip of records.

A bag is checked whole before anything of it is read. A parcel carries the list by which it left: only one
that holds everything restores what it does not hold of a record already on file, and none ever deletes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from tempfile import mkdtemp
from zipfile import ZipFile

from catalogue.errors import BadDocument, CatalogueError
from catalogue.exchange import zips
from catalogue.exchange.incoming import Arrival, Reads, Receiver, Refusal
from catalogue.exchange.parcels import bag_check, crate
from catalogue.exchange.parcels.parcel import PROFILE, RECORDS
from catalogue.record.rules import KINDS, UUID

LIMITS = zips.Limits(entries=200_000, all_bytes=50_000_000_000, one_bytes=2_000_000_000)
"""The most that a parcel may hold: a studio's whole holdings with photographs are some gigabytes."""

EVERYTHING = "full"

_OWN_NAME = re.compile(rf"({'|'.join(KINDS)})-({UUID})\.json")
_ALONG = ("pictures/", "originals/", "papers/")
_NOT_RECORDS = ("__MACOSX/",)
_ZIP = ".zip"


def documents(
    source: Path,
    receiver: Receiver,
    files_to_read: Callable[[Path], Iterable[Path]],
    read: Reads,
) -> Iterator[Arrival | Refusal]:
    """The documents within a zip; `files_to_read` finds them in the unpacked folder, `read` reads one."""
    try:
        folder, profile, said = _unpacked(source, receiver)
        files = list(files_to_read(folder / RECORDS if profile else folder))
        if not files:
            raise BadDocument(f"{source.name} holds no records", remedy="look what it is")
    except CatalogueError as error:
        yield Refusal(source, error)
        return
    kinds = {match[2]: match[1] for file in files if (match := _OWN_NAME.fullmatch(file.name))}
    within = replace(receiver, kinds=lambda uuid: kinds.get(uuid) or receiver.kinds(uuid))
    for file in files:
        if file.suffix.lower() == _ZIP:
            inner = BadDocument(
                f"{file.name}: a zip within a zip is not opened",
                remedy="unpack it, and import what is in it",
            )
            yield Refusal(source, inner)
            continue
        if file.name == crate.NAME:
            continue
        for found in read(file, within):
            if isinstance(found, Refusal):
                yield replace(found, error=_told_within(found.error, folder), came_in=source)
                continue
            yield replace(found, came_in=source, folder=folder, said=(*found.said, *said))
            said = ()


def _told_within(error: CatalogueError, folder: Path) -> CatalogueError:
    """The error by the name of the file within the zip: where it is read was never seen by anybody."""
    error.args = tuple(str(each).replace(f"{folder}/", "") for each in error.args)
    return error


def _unpacked(source: Path, receiver: Receiver) -> tuple[Path, str, tuple[str, ...]]:
    """The folder with what is wanted of a zip, the list it left by ("" for not ours), what to say."""
    into = Path(mkdtemp(prefix="parcel-", dir=receiver.scratch))
    with zips.opened(source, LIMITS) as packed:
        try:
            bag = bag_check.bag_in(packed)
            if bag is None:
                _lay_down_all(packed, into)
                return into, "", (_NO_BAG,)
            profile = bag.facts.get(PROFILE, "")
            bag_check.unpack(packed, bag, into, _wanted if profile else lambda _name: True)
        except BadDocument as wrong:
            raise BadDocument(
                f"{source.name} is not whole: {str(wrong).partition(chr(10))[0].removeprefix('/: ')}",
                remedy=wrong.remedy,
            ) from None
    said = () if profile in ("", EVERYTHING) else (_LEFT_OUT.format(profile=profile),)
    return into, profile, said


_NO_BAG = "the zip carries no checksums, so nobody can tell whether it is whole"
_LEFT_OUT = (
    "the parcel left by the list “{profile}”: what it does not hold was left out, and is not taken"
    " for deleted"
)


def _wanted(name: str) -> bool:
    return name.startswith((f"{RECORDS}/", *_ALONG))


def _lay_down_all(packed: ZipFile, into: Path) -> None:
    for entry in packed.infolist():
        if not entry.is_dir() and not entry.filename.startswith(_NOT_RECORDS):
            bag_check.lay_down(packed, entry.filename, into / entry.filename)
