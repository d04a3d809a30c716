"""Where drafts lie: beside the other pictures that can be made again, a file each, never in a record.

One is known by the photograph, the part of it and the engine: asked for again it is read, not made.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from catalogue.drafting.draft import MachineDraft, read_back, written
from catalogue.drafting.engine import NAME, engine_version, lines_on
from catalogue.drafting.upright import Corner, cut_out
from catalogue.errors import NotOnFile

_MADE_BY: Final = (
    1  # counts up when drafts begin to be made otherwise; old ones then lie unused
)
_KEY: Final = re.compile(r"[0-9a-f]{32}")
_DIGEST: Final = re.compile(r"[0-9a-f]{64}")


def drafted_from(
    original: Path,
    sha256: str,
    size: tuple[int, int],
    folder: Path,
    corners: Sequence[Corner] = (),
    *,
    turn: int = 0,
    on: str,
) -> MachineDraft:
    """The draft of a part of a photograph (`corners` in upright pixels; none: all of it), made or read.

    `on` is the day it is made. Raises `BadSetting` where no engine is installed, `BadPicture` where the
    photograph cannot be shown.
    """
    version = engine_version()
    part = tuple((round(x, 2), round(y, 2)) for x, y in corners)
    turn = 0 if len(part) == 4 else turn % 360
    named = repr((_MADE_BY, sha256, part, turn, NAME, version))
    key = hashlib.sha256(named.encode()).hexdigest()[:32]
    try:
        return drafted(folder, sha256, key)
    except NotOnFile:
        pass
    picture = cut_out(original, part, turn, size)
    draft = MachineDraft(
        key=key, photo=sha256, corners=part, turn=turn, width=picture.width, height=picture.height,
        engine=NAME, version=version, on=on, lines=lines_on(picture),
    )  # fmt: skip
    file = _file(folder, sha256, key)
    file.parent.mkdir(parents=True, exist_ok=True)
    picture.save(file.with_suffix(".jpg"), quality=88)
    half = file.with_suffix(".new")
    half.write_text(written(draft), "utf-8")
    half.replace(file)
    return draft


def drafted(folder: Path, sha256: str, key: str) -> MachineDraft:
    """A draft that was made before. Raises `NotOnFile`."""
    file = _file(folder, sha256, key)
    try:
        return read_back(file.read_text("utf-8"))
    except (OSError, ValueError, KeyError, TypeError):
        raise NotOnFile(
            "that draft is not kept any more", remedy="have it made again"
        ) from None


def drafted_picture(folder: Path, sha256: str, key: str) -> Path:
    """The picture that was read, set upright. Raises `NotOnFile`."""
    picture = _file(folder, sha256, key).with_suffix(".jpg")
    if not picture.is_file():
        raise NotOnFile("that draft is not kept any more", remedy="have it made again")
    return picture


def _file(folder: Path, sha256: str, key: str) -> Path:
    if not (_DIGEST.fullmatch(sha256) and _KEY.fullmatch(key)):
        raise NotOnFile("there is no such draft", remedy="have it made from the slip")
    return folder / sha256[:2] / f"{sha256}-draft-{key}.json"
