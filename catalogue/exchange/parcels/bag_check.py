"""A bag (BagIt, RFC 8493) held to its own lists: every file there, every digest right, nothing unlisted.

The zip is gone through once, file by file: what is wanted of it is laid down while its digest is taken.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from zipfile import ZipFile

from catalogue.errors import BadDocument, CannotSave
from catalogue.exchange import zips
from catalogue.exchange.parcels.bag import unescaped

ALGORITHMS = ("sha512", "sha256", "sha1", "md5")
"""What digests may be of: RFC 8493 names these four."""

_MANIFEST = re.compile(rf"manifest-({'|'.join(ALGORITHMS)})\.txt")
_LINE = re.compile(r"([0-9A-Fa-f]{32,128})\s+\*?(.+)")
_OXUM = re.compile(r"(\d+)\.(\d+)")
_MOST_OF_A_LIST = 64 * 1024 * 1024
_TOLD = 5
_CHUNK = 1 << 20

Digests = dict[str, dict[str, str]]
"""Of each file, by its name in the bag, the digest by each algorithm."""


@dataclass(frozen=True, slots=True)
class Bag:
    """A bag within a zip: the folder before every name ("" or "parcel/"), its facts, what is listed."""

    folder: str
    facts: Mapping[str, str]
    payload: Digests
    tags: Digests


def bag_in(packed: ZipFile) -> Bag | None:
    """The bag of a zip, None where it is none. Raises `BadDocument` for one that is not whole."""
    names = [each for each in packed.namelist() if each.rpartition("/")[2] == "bagit.txt"]
    tops = [each for each in names if each.count("/") <= 1]
    if not tops:
        return None
    folder = tops[0].removesuffix("bagit.txt")
    _check_declaration(zips.content(packed, tops[0], _MOST_OF_A_LIST))
    inside = _inside(packed, folder)
    if "fetch.txt" in inside and zips.content(packed, f"{folder}fetch.txt", 1 << 20).strip():
        raise BadDocument(
            "it leaves files to be fetched from elsewhere, and nothing is ever fetched here",
            remedy="ask the sender for the whole parcel",
        )
    facts = {}
    if "bag-info.txt" in inside:
        facts = _facts(_text(packed, f"{folder}bag-info.txt"))
    payload = _listed(packed, folder, inside, "")
    if not payload and not any(_MANIFEST.fullmatch(each) for each in inside):
        raise BadDocument(
            f"it has no list of digests that is understood ({', '.join(ALGORITHMS)})",
            remedy="ask the sender for one with manifest-sha256.txt",
        )
    bag = Bag(folder, facts, payload, _listed(packed, folder, inside, "tag"))
    _check_names(bag, inside)
    _check_oxum(bag, packed)
    return bag


def unpack(packed: ZipFile, bag: Bag, into: Path, wanted: Callable[[str], bool]) -> None:
    """Hold every file to its digests, and lay those of the payload that are `wanted` under `into`.

    Raises `BadDocument` naming the files that are not as they were sent.
    """
    wrong: list[str] = []
    for name, digests in (*bag.tags.items(), *bag.payload.items()):
        target = into / name.removeprefix("data/") if name in bag.payload else None
        if target is None or not wanted(name.removeprefix("data/")):
            target = None
        if not _is_whole(packed, bag.folder + name, digests, target):
            wrong.append(name)
    if wrong:
        raise BadDocument(
            f"not as {'it was' if len(wrong) == 1 else 'they were'} sent: {_some(wrong)}",
            remedy="something changed or was damaged on the way; ask the sender for it again",
        )


def lay_down(packed: ZipFile, name: str, target: Path) -> None:
    """One entry of a zip as a file."""
    _is_whole(packed, name, {}, target)


def _is_whole(packed: ZipFile, name: str, digests: dict[str, str], target: Path | None) -> bool:
    taking = {each: hashlib.new(each, usedforsecurity=False) for each in digests}
    for piece in _pieces(packed, name, target):
        for each in taking.values():
            each.update(piece)
    return all(taking[each].hexdigest() == digests[each] for each in digests)


def _pieces(packed: ZipFile, name: str, target: Path | None) -> Iterator[bytes]:
    """The content of an entry piece by piece, laid down on the way where it has a target."""
    if target is None:
        with zips.reading(packed, name) as entry:
            while piece := entry.read(_CHUNK):
                yield piece
        return
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("xb") as file:
            for piece in _pieces(packed, name, None):
                file.write(piece)
                yield piece
    except (FileExistsError, NotADirectoryError, IsADirectoryError):
        raise BadDocument(f"{name}: a file and a folder in it have one name") from None
    except OSError as refused:
        raise CannotSave(
            f"{name} cannot be unpacked: {refused.strerror}", remedy="make room and try again"
        ) from None


def _inside(packed: ZipFile, folder: str) -> dict[str, int]:
    """The files of a bag, by their names in it, with their sizes."""
    return {
        each.filename.removeprefix(folder): each.file_size
        for each in packed.infolist()
        if each.filename.startswith(folder) and not each.is_dir()
    }


def _check_declaration(content: bytes) -> None:
    told = _facts(content.decode("utf-8", "replace"))
    version = told.get("BagIt-Version", "")
    if not re.fullmatch(r"0\.9[3-7]|1\.\d+", version):
        raise BadDocument(f"bagit.txt: the version {version[:20]!r} is not understood")
    coding = told.get("Tag-File-Character-Encoding", "").upper()
    if coding != "UTF-8":
        raise BadDocument(f"bagit.txt: its lists are in {coding[:20]!r}, read is only UTF-8")


def _text(packed: ZipFile, name: str) -> str:
    try:
        return zips.content(packed, name, _MOST_OF_A_LIST).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadDocument(f"{name} is not UTF-8") from None


def _facts(text: str) -> dict[str, str]:
    """What lines of the form `Label: value` say; a line that begins with a space goes on."""
    found: dict[str, str] = {}
    last = ""
    for line in text.splitlines():
        if line[:1] in (" ", "\t") and last:
            found[last] += " " + line.strip()
            continue
        label, colon, value = line.partition(":")
        if colon:
            last = label.strip()
            found[last] = value.strip()
    return found


def _listed(packed: ZipFile, folder: str, inside: Mapping[str, int], which: str) -> Digests:
    """What the lists of digests (`which` is "" for the payload, "tag" for the rest) say."""
    found: Digests = {}
    lists = [
        (match[1], name)
        for name in sorted(inside)
        if name.startswith(f"{which}manifest-")
        and (match := _MANIFEST.fullmatch(name.removeprefix(which)))
    ]
    for algorithm, name in lists:
        for number, line in enumerate(_text(packed, folder + name).splitlines(), 1):
            if not line.strip():
                continue
            said = _LINE.fullmatch(line.strip())
            if said is None:
                raise BadDocument(f"{name}, line {number}: no digest and file name")
            file = unescaped(said[2]).removeprefix("./")
            before = found.setdefault(file, {}).setdefault(algorithm, said[1].lower())
            if before != said[1].lower():
                raise BadDocument(f"{name}, line {number}: {file!r} stands there twice")
    return found


def _check_names(bag: Bag, inside: Mapping[str, int]) -> None:
    payload = {name for name in inside if name.startswith("data/")}
    missing = sorted((set(bag.payload) | set(bag.tags)) - set(inside))
    if missing:
        raise BadDocument(
            f"missing, though listed: {_some(missing)}",
            remedy="ask the sender for the whole parcel",
        )
    strange = sorted(payload - set(bag.payload)) + sorted(set(bag.payload) - payload)
    if strange:
        raise BadDocument(
            f"there, though in no list: {_some(strange)}",
            remedy="somebody put it in after the parcel was made; ask the sender",
        )


def _check_oxum(bag: Bag, packed: ZipFile) -> None:
    said = _OXUM.fullmatch(bag.facts.get("Payload-Oxum", ""))
    if said is None:
        return
    octets = sum(packed.getinfo(bag.folder + name).file_size for name in bag.payload)
    if (octets, len(bag.payload)) != (int(said[1]), int(said[2])):
        raise BadDocument(
            f"it should hold {said[2]} files of {said[1]} bytes in all,"
            f" and holds {len(bag.payload)} of {octets}",
            remedy="ask the sender for it again",
        )


def _some(names: list[str]) -> str:
    more = f" and {len(names) - _TOLD} more" if len(names) > _TOLD else ""
    return ", ".join(each[:200] for each in names[:_TOLD]) + more
