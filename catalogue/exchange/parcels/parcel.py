"""A parcel: one zip with records in several formats, copies of photographs, checksums, a page to read.

It is a bag (BagIt, RFC 8493) whose payload is an RO-Crate. The same records give the same parcel, byte for
byte, whoever sends it and whenever; so its date is the last day that the records tell of.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

from catalogue import places
from catalogue.exchange.outgoing import Files, Leaving, Sender, Writing
from catalogue.exchange.parcels import bag, crate
from catalogue.exchange.parcels import page as parcel_page
from catalogue.exchange.parcels.copies import Copied, Copying
from catalogue.exchange.parcels.page import Entry, Shown
from catalogue.exchange.parcels.spool import Spool
from catalogue.exchange.withholding.profiles import profile
from catalogue.measure import Day
from catalogue.record import Job, Loan, Offer, Paper, Photo, Work

SAYS = (
    "A parcel: one zip with records, photographs, checksums and a page to read in any browser."
)

FOLDERS: Mapping[str, str] = {
    "full-graph": "records",
    "linked-art-whole": "linked-art",
    "lido": "lido",
    "tei": "tei",
    "iiif": "pictures",
}
"""The formats that a parcel holds, and the folder of each; a manifest lies with its pictures.

Linked Art is one file for all: ten files a painting would only be in the way of who opens the folder.
"""

PROFILE = "Parcel-Profile"
"""The line of `bag-info.txt` that says by which list it left."""

RECORDS = FOLDERS["full-graph"]

_PLANNED = frozenset(("due", "valid_until", "until", "expires"))
_AGREEMENTS = (Loan, Offer)
"""What may lie ahead, by a field or wholly: it says nothing about when a record was last worked on."""


class Parcel:
    """One parcel being filled; `inner` begins the formats whose files go into it."""

    def __init__(
        self, sender: Sender, inner: Mapping[str, Callable[[Sender], Writing]]
    ) -> None:
        scratch = sender.needed_scratch()
        self._sender = sender
        self._spool = Spool(scratch / "parcel")
        self._sections = Spool(scratch / "parcel-page")
        self._entries: dict[str, Entry] = {}
        self._copying = Copying(sender)
        self._copies: dict[str, Path] = {}
        self._latest = ""
        self._inner: dict[str, Writing] = {}
        for name in FOLDERS:
            if name in inner:
                own = scratch / f"of-{name}"
                own.mkdir()
                self._inner[name] = inner[name](
                    replace(sender, scratch=own, picture=self._picture)
                )

    def add(self, leaving: Leaving) -> Files:
        """Take in one document."""
        record = leaving.record
        self._latest = max(self._latest, last_day(record))
        if isinstance(record, Work | Job):
            self._keep_originals(record)
        if isinstance(record, Work):
            for copied in self._copying.add(leaving, record):
                self._finish(copied)
        else:
            self._write(leaving)
        return ()

    def close(self) -> Files:
        """The parcel."""
        for copied in self._copying.close():
            self._finish(copied)
        for name, writing in self._inner.items():
            self._keep(FOLDERS[name], writing.close())
        sender = self._sender
        day = self._latest or sender.changed
        page = parcel_page.page(self._sections, self._entries, sender, day, self._spool)
        self._spool.put("index.html", _laid_down(page, sender.needed_scratch() / "index.html"))
        title = parcel_page.title(list(self._entries.values()))
        path = self._packed(title, day)
        return [(path.name, path)]

    def _packed(self, title: str, day: str | None) -> Path:
        sender, scratch = self._sender, self._sender.needed_scratch()
        root = {
            "name": title,
            "description": f"{parcel_page.from_whom(sender)}. {profile(sender.profile).says}",
            **({"datePublished": day} if day else {}),
        }
        says = places.table("parcel.toml")["files"]
        metadata = crate.describe(self._spool, root, says, scratch / crate.NAME)
        self._spool.put(crate.NAME, metadata)
        folder = f"parcel-{sender.profile}"
        facts = (
            ("Source-Organization", sender.studio),
            ("External-Description", title),
            ("Bagging-Date", day or ""),
            (PROFILE, sender.profile),
        )
        said = [(name, value) for name, value in facts if value]
        return bag.write(self._spool, said, folder, scratch / f"{folder}.zip")

    def _write(self, leaving: Leaving) -> list[str]:
        """One document in every format of the parcel; the names of its files."""
        names: list[str] = []
        for name, writing in self._inner.items():
            names += self._keep(FOLDERS[name], writing.add(leaving))
        return names

    def _keep(self, folder: str, ready: Files) -> list[str]:
        names = []
        for name, content in ready:
            self._spool.put(f"{folder}/{name}", content)
            names.append(f"{folder}/{name}")
        return names

    def _keep_originals(self, record: Work | Job) -> None:
        """The untouched files of a record, where everything may leave."""
        photos = record.photos if isinstance(record, Work) else ()
        held: tuple[Photo | Paper, ...] = (*photos, *record.papers)
        for each in held:
            path = self._sender.original(each)
            if path is not None:
                folder = "originals" if isinstance(each, Photo) else "papers"
                ending = Path(each.file_name or "").suffix.lower()
                self._spool.put(f"{folder}/{each.sha256}{ending}", path)

    def _picture(self, photo: Photo) -> Path | None:
        """The copy of a photograph of the work that is being written."""
        return self._copies.get(photo.id)

    def _finish(self, copied: Copied) -> None:
        """Put a painting whose copies are made into the parcel and on the page."""
        work, stem = copied.work, copied.leaving.stem
        self._copies = {copy.photo.id: copy.path for copy in copied.copies}
        names = self._write(copied.leaving)
        pictures: list[tuple[Photo, Shown]] = []
        for copy in copied.copies:
            whole = f"pictures/{stem}-{copy.photo.id}{copy.path.suffix}"
            small = f"small/{stem}-{copy.photo.id}{copy.ending}"
            self._spool.put(whole, copy.path)
            self._spool.put(small, copy.small)
            shown = Shown(whole, small, parcel_page.caption(copy.photo))
            pictures.append((copy.photo, shown))
        key = f"{work.number or '~'} {work.id}"
        section = parcel_page.section(work, self._sender, pictures, names, last_day(work))
        self._sections.put(key, section)
        self._entries[key] = parcel_page.entry_of(work, self._sender)


def _laid_down(pieces: Iterable[bytes], out: Path) -> Path:
    with out.open("wb") as file:
        file.writelines(pieces)
    return out


def last_day(value: Any) -> str:
    """The last day on which anybody looked at, read or did something, as a record tells; "" for none."""
    if isinstance(value, tuple):
        return max(map(last_day, value), default="")
    if isinstance(value, Day):
        return value.iso
    if not is_dataclass(value) or not hasattr(value, "id") or isinstance(value, _AGREEMENTS):
        return ""
    held = (getattr(value, each.name) for each in fields(value) if each.name not in _PLANNED)
    return max(map(last_day, held), default="")


def begin(sender: Sender, inner: Mapping[str, Callable[[Sender], Writing]]) -> Writing:
    """The writing of a parcel; of the formats `inner`, those of `FOLDERS` go into it."""
    return Parcel(sender, inner)
