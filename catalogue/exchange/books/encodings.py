"""In which letters a text file was written: by its mark, by what UTF-8 allows, else by the accents.

A guess is told as one. The old single-byte tables differ only above 127: the one under which those bytes
are letters that people write in Europe is taken.
"""

from __future__ import annotations

import codecs
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from catalogue.errors import BadDocument, BadSetting

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_OLD: Final = ("cp1252", "mac_roman", "latin-1", "cp1250", "cp850")
_LETTERS: Final = frozenset("éèêëàâäáåæçñóòôöøœßúùûüíìîïÉÈÀÄÖÜÅÆØÇ£€°½¼¾–—‘’“”«»×§")
_CHUNK: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class Encoding:
    """The name of an encoding, and whether it was `guessed`."""

    name: str
    guessed: bool = False


def encoding_of(source: Path, said: str = "") -> Encoding:
    """The encoding of a file; `said` is what a person says. Raises `BadSetting` for none."""
    if said:
        try:
            name = codecs.lookup(said).name
            "x".encode(name)
        except (LookupError, TypeError, UnicodeError):
            raise BadSetting(
                f"there is no encoding {said!r}",
                remedy="such as utf-8, utf-16, cp1252, latin-1, mac_roman; or leave it out",
            ) from None
        return Encoding("utf-8-sig" if name == "utf-8" else name)
    with source.open("rb") as file:
        start = file.read(_CHUNK)
        for mark, name in _MARKS:
            if start.startswith(mark):
                return Encoding(name)
        wide = _without_mark(start)
        if wide:
            return Encoding(wide, guessed=True)
        file.seek(0)
        decoder = codecs.getincrementaldecoder("utf-8")()
        counts = [0] * 256
        fits = True
        while chunk := file.read(_CHUNK):
            if fits:
                try:
                    decoder.decode(chunk)
                except UnicodeDecodeError:
                    fits = False
            for byte in set(chunk.translate(None, bytes(range(128)))):
                counts[byte] += chunk.count(bytes([byte]))
    if fits:
        return Encoding("utf-8")
    return Encoding(max(_OLD, key=lambda name: _fits(counts, name)), guessed=True)


def _without_mark(start: bytes) -> str:
    """UTF-16 without a mark: every second byte of ordinary text is nought."""
    some = start[:4096]
    if len(some) < 4:
        return ""
    if some[1::2].count(0) > 0.4 * len(some) / 2 and some[::2].count(0) == 0:
        return "utf-16-le"
    if some[::2].count(0) > 0.4 * len(some) / 2 and some[1::2].count(0) == 0:
        return "utf-16-be"
    return ""


def _fits(counts: list[int], name: str) -> int:
    """How many of the bytes above 127 are letters that people write, less those that are not."""
    score = 0
    for byte in range(128, 256):
        if counts[byte]:
            try:
                letter = bytes([byte]).decode(name)
            except UnicodeDecodeError:
                return -1_000_000_000
            score += counts[byte] * (
                1 if letter in _LETTERS else -1 if letter.isalpha() else -2
            )
    return score


def not_in(source: Path, encoding: str, wrong: UnicodeError) -> BadDocument:
    """The error for a file that is not in the encoding that it was said to be in."""
    where = f"byte {wrong.start}" if isinstance(wrong, UnicodeDecodeError) else ""
    return BadDocument(
        f"{source.name} is not in the encoding {encoding}",
        where=where,
        remedy="say another in the mapping, or none to have it found out",
    )
