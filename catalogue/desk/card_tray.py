"""Cards of photographs that wait on a tray of the studio's until they are sorted and taken in.

Each card is a folder under a name that nobody can guess: the files, each with a note of what it was
called, what was found when it was looked at, how it was sorted so far, and what became of it. A file
goes only after the change that keeps it is written; nothing here is swept away with photographs in it,
for the card that they came from may be empty by now.
"""

from __future__ import annotations

import json
import re
import secrets
import shutil
import time
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from werkzeug.datastructures import FileStorage

from catalogue import card
from catalogue.errors import BadData, CannotSave, NotOnFile
from catalogue.places import table
from catalogue.sittings import FILE

FOLDER: Final = "cards"
EMPTY_KEPT_SECONDS: Final = 24 * 3600
"""So long an empty card is remembered for the sake of what it tells of where its photographs went."""
_TOKEN = re.compile(r"[0-9a-f]{32}")
_KEY = re.compile(r"[0-9a-f]{16}")
_CARD, _SORTING, _TOLD, _DOINGS = "card.json", "sorting.json", "told.json", "doings.json"


@dataclass(frozen=True, slots=True)
class Card:
    """One card on the tray: who laid it there, when; `folder` is where it lies."""

    token: str
    who: str
    begun: str
    folder: Path

    @property
    def files(self) -> Path:
        """Where its files lie."""
        return self.folder / "files"

    def keys(self) -> list[str]:
        """The keys of all that lies there, refused files among them."""
        return sorted(each.stem for each in self.files.glob("*.json"))

    def path(self, key: str) -> Path:
        """Where one file lies. Raises `NotOnFile`."""
        if not _KEY.fullmatch(key) or not (self.files / f"{key}.json").is_file():
            raise _gone()
        return self.files / key

    def note(self, key: str) -> dict[str, Any]:
        """What is written down about one file. Raises `NotOnFile`."""
        self.path(key)
        return _read(self.files / f"{key}.json")

    def looked(self) -> list[card.Looked]:
        """What was found in those files that were looked at, by their names."""
        found = [
            card.from_data(note["looked"])
            for note in self._notes().values()
            if note.get("looked")
        ]
        return card.without_doubles(
            sorted(found, key=lambda each: (each.folder, each.name, each.key))
        )

    def not_looked_at(self) -> list[str]:
        """The keys of the files that nobody looked at yet."""
        return sorted(key for key, note in self._notes().items() if not note.get("looked"))

    def _notes(self) -> dict[str, dict[str, Any]]:
        return {each.stem: _read(each) for each in self.files.glob("*.json")}

    def keep_looked(self, looked: card.Looked) -> None:
        """Write down what was found in a file."""
        note = self.note(looked.key)
        _write(self.files / f"{looked.key}.json", {**note, "looked": card.as_data(looked)})

    def drop(self, keys: Iterable[str]) -> None:
        """Take files off the tray: the picture first, so that a note never outlives the wish."""
        for key in keys:
            self.path(key).unlink(missing_ok=True)
            (self.files / f"{key}.json").unlink(missing_ok=True)

    def sorting(self) -> dict[str, Any]:
        """How it was sorted so far: `ahead`, `cuts`, `joins`, `typed`."""
        return {
            "ahead": 0,
            "cuts": [],
            "joins": [],
            "typed": {},
            **_read(self.folder / _SORTING),
        }

    def keep_sorting(self, **changed: Any) -> None:
        """Write down how it is sorted."""
        _write(self.folder / _SORTING, {**self.sorting(), **changed})

    def doings(self) -> list[dict[str, Any]] | None:
        """What was known of the days of these photographs when it was last asked; None: not asked yet."""
        found = _read(self.folder / _DOINGS)
        return found.get("doings")

    def keep_doings(self, doings: list[dict[str, Any]] | None) -> None:
        """Write down what is known; None has it asked anew."""
        _write(self.folder / _DOINGS, {"doings": doings})

    def told(self) -> list[dict[str, Any]]:
        """What became of the photographs that were taken in, work by work."""
        return list(_read(self.folder / _TOLD).get("told", ()))

    def tell(self, row: Mapping[str, Any]) -> None:
        """Write down what became of some."""
        _write(self.folder / _TOLD, {"told": [*self.told(), dict(row)]})

    def clear(self) -> None:
        """Throw it off the tray."""
        shutil.rmtree(self.folder, ignore_errors=True)


def lay_down(studio: Path, who: str) -> Card:
    """A new card on the tray, with nothing on it yet."""
    _sweep(studio)
    token = secrets.token_hex(16)
    folder = studio / FOLDER / token
    begun = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    try:
        (folder / "files").mkdir(parents=True)
    except OSError as refused:
        raise _full(folder, refused) from refused
    _write(folder / _CARD, {"who": who, "begun": begun})
    return Card(token, who, begun, folder)


def lying(studio: Path, token: str) -> Card:
    """The card under a name. Raises `NotOnFile`."""
    folder = studio / FOLDER / token
    if not _TOKEN.fullmatch(token) or not (folder / _CARD).is_file():
        raise _gone()
    facts = _read(folder / _CARD)
    return Card(token, str(facts.get("who", "")), str(facts.get("begun", "")), folder)


def waiting(studio: Path) -> list[Card]:
    """Every card that has something on it, the latest first."""
    tray = studio / FOLDER
    found = [
        lying(studio, each.name)
        for each in (tray.iterdir() if tray.is_dir() else ())
        if _TOKEN.fullmatch(each.name) and (each / _CARD).is_file()
    ]
    return sorted((each for each in found if each.keys()), key=lambda each: each.begun)[::-1]


def put(own: Card, file: FileStorage, written: float | None) -> str:
    """Lay one file on a card, straight to the disk; its key.

    A name that no machine should hold is told with the file, whose bytes are not kept. Raises
    `BadData` where the tray is full.
    """
    _refuse_too_many(own)
    key = secrets.token_hex(8)
    name, folder, refused = card.called(file.filename or "")
    note: dict[str, Any] = {"name": name, "folder": folder, "written": written}
    if refused:
        note["looked"] = card.as_data(
            card.Looked(key=key, name=name, refused=refused[0], remedy=refused[1])
        )
    else:
        half = own.files / f"{key}.part"
        try:
            file.save(half)
            half.replace(own.files / key)
        except OSError as wrong:
            half.unlink(missing_ok=True)
            raise _full(own.folder, wrong) from wrong
    _write(own.files / f"{key}.json", note)
    own.keep_doings(None)
    return key


def _refuse_too_many(own: Card) -> None:
    rows = table(FILE)
    files = [each for each in own.files.iterdir() if not each.suffix]
    if len(files) >= rows["most_files"]:
        raise BadData(
            f"{rows['most_files']} photographs lie on this tray already",
            remedy="take these in first, then hand over the others",
        )
    if sum(each.stat().st_size for each in files) > rows["most_gigabytes"] * 1024**3:
        raise BadData(
            f"{rows['most_gigabytes']} GB lie on this tray already",
            remedy="take these in first, then hand over the others",
        )


def _read(path: Path) -> dict[str, Any]:
    try:
        found = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _write(path: Path, held: Mapping[str, Any]) -> None:
    half = path.with_name(f"{path.name}.{secrets.token_hex(4)}.part")
    try:
        half.write_text(json.dumps(held, ensure_ascii=False), "utf-8")
        half.replace(path)
    except OSError as refused:
        raise _full(path.parent, refused) from refused


def _full(where: Path, refused: OSError) -> CannotSave:
    return CannotSave(
        f"{where}: {refused.strerror}", remedy="free some space, then hand the files over again"
    )


def _gone() -> NotOnFile:
    return NotOnFile(
        "this does not lie on the tray any more", remedy="hand the files over again"
    )


def _sweep(studio: Path) -> None:
    """Cards with nothing on them any more, and a day old, go."""
    tray = studio / FOLDER
    for folder in tray.iterdir() if tray.is_dir() else ():
        with suppress(OSError):
            old = time.time() - folder.stat().st_mtime > EMPTY_KEPT_SECONDS
            if old and not any((folder / "files").glob("*")):
                shutil.rmtree(folder, ignore_errors=True)
