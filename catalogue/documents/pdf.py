"""A paper as PDF, tagged, by typst. Texts go in as data beside the template, never as part of it."""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

from catalogue import places
from catalogue.documents.codes import code_svg
from catalogue.documents.model import Document, Label, Notice, Picture
from catalogue.documents.words import words
from catalogue.errors import BadSetting

LONGEST_WORD = 24
"""Letters in a row after which a word may break anywhere, rather than run out of its column."""

_NO_SHAPE = "could not be displayed"
_TEMPLATE = "document.typ"
_PAPER = {"a4": "a4", "letter": "us-letter"}
_ENDINGS = {"image/jpeg": "jpg", "image/svg+xml": "svg"}
_LONG = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")
# Line ends stay; every other control, and half a character, becomes the mark for one that is lost.
_UNWRITABLE = re.compile("[\0-\x09\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_ZERO_WIDTH = "\N{ZERO WIDTH SPACE}"
_JOINING = "\N{ZERO WIDTH JOINER}"


def as_pdf(document: Document) -> bytes:
    """The paper as tagged PDF, marked as PDF/UA-1 (ISO 14289-1) where typst finds nothing against it.

    Where no typeface on this machine has the shape of a letter, the paper says so, for it shows an
    empty box. Raises `BadSetting` where typst is not installed.
    """
    try:
        from typst import TypstError
    except ImportError:
        raise BadSetting(
            "PDF is made by a package that is not installed",
            remedy="pip install 'dorse[pdf]'; or print it as HTML, which any browser prints",
        ) from None
    try:
        return _set(document, "ua-1")
    except TypstError as refused:
        if _NO_SHAPE in str(refused):
            said = words("every")
            warning = Notice(said["letters_title"], said["letters"])
            document = replace(document, blocks=(warning, *document.blocks))
    return _set(document, None)


def _set(document: Document, standard: Literal["ua-1"] | None) -> bytes:
    import typst

    files: dict[str, bytes] = {}
    told = _plain(document, files) | {
        "paper": _PAPER[document.page],
        "words": words("every"),
        "date": [int(part) for part in document.day.split("-")],
    }
    files["document.json"] = json.dumps(told, ensure_ascii=False).encode()
    files[_TEMPLATE] = (places.folder("templates") / "documents" / _TEMPLATE).read_bytes()
    issued = datetime.fromisoformat(document.day).replace(tzinfo=UTC)
    # Its files lie in a folder of their own, outside which it may not look.
    with TemporaryDirectory(prefix="dorse-") as named:
        folder = Path(named)
        for name, content in files.items():
            (folder / name).write_bytes(content)
        return typst.compile(
            folder / _TEMPLATE, root=folder, timestamp=issued, pdf_standards=standard
        )


def _plain(value: Any, files: dict[str, bytes]) -> Any:
    """A value as JSON has it, named by its kind; what is a picture goes into `files`."""
    match value:
        case str():
            return breakable(_UNWRITABLE.sub("\N{REPLACEMENT CHARACTER}", value))
        case tuple():
            return [_plain(each, files) for each in value]
        case Picture():
            name = f"picture-{len(files)}.{_ENDINGS[value.media_type]}"
            files[name] = value.content
            return {
                "file": name,
                "proportion": value.height / value.width,
                "alt": value.alt,
                "caption": _plain(value.caption, files),
            }
        case Label():
            name = f"code-{len(files)}.svg"
            files[name] = code_svg(value.code)
            return {
                "number": value.number,
                "lines": [_plain(line, files) for line in value.lines],
                "warning": value.warning,
                "code": name,
                "alt": value.code_alt,
            }
    if is_dataclass(value):
        told = {each.name: _plain(getattr(value, each.name), files) for each in fields(value)}
        return {"kind": type(value).__name__, **told}
    return value


def breakable(text: str) -> str:
    """The text with places to break in words too long for any column; short ones are untouched.

    >>> breakable("Sea Wall, Evening")
    'Sea Wall, Evening'
    >>> breakable("x" * 30).replace(_ZERO_WIDTH, "") == "x" * 30
    True
    """
    return _LONG.sub(lambda found: _with_breaks(found[0]), text)


def _with_breaks(word: str) -> str:
    pieces = [word[0]]
    for before, letter in pairwise(word):
        # What belongs to the letter before it stays with it.
        whole = unicodedata.category(letter).startswith("M") or _JOINING in (before, letter)
        pieces.append(letter if whole else _ZERO_WIDTH + letter)
    return "".join(pieces)
