"""The studio's password, for whoever opens the desk from another machine of the studio.

A scrypt hash of it lies in a file beside the desk's key, which only its owner may read. It is no
setting of the ledger, so no export and no backup ever carries it: a studio that was brought back from
a backup has none, and opens to other machines only after somebody sets one anew.
"""

from __future__ import annotations

import json
import os
import secrets
import tempfile
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Final

from werkzeug.security import check_password_hash, generate_password_hash

from catalogue.errors import BadData, BadSetting, CannotSave

FILE: Final = "desk.password"
SHORTEST, LONGEST = 10, 200
HOURS: Final = 12
MOST_HOURS: Final = 24 * 31


@dataclass(frozen=True, slots=True)
class Password:
    """What is kept of the password: its hash, who may stay (`round`), and for how many hours.

    Whoever entered holds the round in which they did: a new round sends everybody out.
    """

    hashed: str
    round: str
    hours: int = HOURS


def kept(folder: Path) -> Password | None:
    """What is kept of this studio's password, None where nobody set one. Raises `BadSetting`."""
    path = folder / FILE
    try:
        found = json.loads(path.read_text("utf-8"))
        if not isinstance(found["round"], str) or not 1 <= int(found["hours"]) <= MOST_HOURS:
            raise ValueError
        return Password(str(found["hashed"]), found["round"], int(found["hours"]))
    except FileNotFoundError:
        return None
    except (OSError, ValueError, KeyError, TypeError):
        raise BadSetting(
            f"{path} cannot be read: nobody can enter from another machine",
            remedy="set the password anew with: dorse password",
        ) from None


def choose(folder: Path, typed: str, hours: int | None = None) -> Password:
    """Keep a new password; everybody who entered with the old one is sent out. Raises `BadData`."""
    _refuse_weak(typed)
    before = None if hours else _kept_or_none(folder)
    chosen = Password(
        generate_password_hash(typed, method="scrypt"),
        secrets.token_hex(16),
        _fitting(hours or (before.hours if before else HOURS)),
    )
    return _write(folder, chosen)


def set_hours(folder: Path, hours: int) -> Password:
    """Change for how many hours one may stay without entering again. Raises `BadSetting`."""
    return _write(folder, replace(_demanded(folder), hours=_fitting(hours)))


def send_everybody_out(folder: Path) -> Password:
    """Begin a new round: whoever entered from another machine has to enter again."""
    return _write(folder, replace(_demanded(folder), round=secrets.token_hex(16)))


def fits(password: Password, typed: str) -> bool:
    """Whether this is the password; compared in the same time, right or wrong.

    >>> own = Password(generate_password_hash("low water at dusk", method="scrypt"), "r")
    >>> fits(own, "low water at dusk"), fits(own, "low water at dawn"), fits(own, "x" * 5000)
    (True, False, False)
    """
    return len(typed) <= LONGEST and check_password_hash(password.hashed, typed)


def _refuse_weak(typed: str) -> None:
    if len(typed) < SHORTEST:
        raise BadData(
            f"the password is shorter than {SHORTEST} letters",
            remedy="take three or four words that nobody in the studio would guess",
        )
    if len(typed) > LONGEST:
        raise BadData(f"the password is longer than {LONGEST} letters")
    if len(set(typed)) < 4:
        raise BadData("the password is one letter over and over", remedy="take several words")


def _fitting(hours: int) -> int:
    if not 1 <= hours <= MOST_HOURS:
        raise BadSetting(
            f"nobody can stay for {hours} hours", remedy=f"1 to {MOST_HOURS} hours can be set"
        )
    return hours


def _kept_or_none(folder: Path) -> Password | None:
    try:
        return kept(folder)
    except BadSetting:
        return None  # a file that cannot be read is what the new password mends


def _demanded(folder: Path) -> Password:
    found = kept(folder)
    if found is None:
        raise BadSetting("this studio has no password yet", remedy="set one: dorse password")
    return found


def _write(folder: Path, password: Password) -> Password:
    """Put it in place whole; `mkstemp` makes files that only their owner may read."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{FILE}-", dir=folder)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(asdict(password), file)
                file.flush()
                os.fsync(file.fileno())
            Path(name).replace(folder / FILE)
        except OSError:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as refused:
        raise CannotSave(
            f"{folder / FILE}: {refused.strerror}",
            remedy="check who may write to the studio's folder",
        ) from refused
    return password
