"""What left the house: one line for every export, only ever added, each with the digest of the one before.

The lines lie beside the ledger, since they are about no record: they travel with a backup and leave in
no export. Each also holds the ledger's last digest at that moment, so that it says after which change
something was sent.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from datetime import UTC, datetime
from typing import Any, Final

from catalogue.errors import Busy
from catalogue.ledger import Fault, Ledger

_UNDER: Final = "sent/"
_NOTHING_BEFORE: Final = "0" * 64
_TRIES: Final = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """One export: what left, for whom, and who let it.

    `works` are the documents that were asked for, none where every work left. `digest` is over the
    files (`exchange.staging`), `allowed` the names let through the last scan with their reasons,
    `head` the ledger's last digest at that moment, `before` the digest of the line before.
    """

    number: int
    at: str
    who: str
    profile: str
    format: str
    works: tuple[str, ...]
    documents: int
    files: int
    recipient: str = ""
    reason: str = ""
    allowed: Mapping[str, str] = field(default_factory=dict)
    digest: str = ""
    head: str = ""
    before: str = _NOTHING_BEFORE

    @property
    def everything(self) -> bool:
        """Whether every work was asked for, not some by name."""
        return not self.works

    @property
    def own_digest(self) -> str:
        """The SHA-256 of the line as it is kept."""
        return hashlib.sha256(_line(self).encode()).hexdigest()


def note(ledger: Ledger, **facts: Any) -> Sent:
    """Write down an export (who, profile, format, works, documents, files, recipient ...).

    Raises `Busy` where others write down theirs all the time.
    """
    for _ in range(_TRIES):
        last = next(iter(reversed(ledger.settings(_UNDER).items())), None)
        number, before = 1, _NOTHING_BEFORE
        if last is not None:
            number = int(last[0].removeprefix(_UNDER)) + 1
            before = hashlib.sha256(last[1].encode()).hexdigest()
        now = datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        made = Sent(number=number, at=now, head=ledger.last()[1], before=before, **facts)
        if ledger.add_setting(_named(number), _line(made)):
            return made
    raise Busy("other exports are being written down", remedy="try again")


def listed(ledger: Ledger) -> tuple[Sent, ...]:
    """Every export, the first one first; a line that cannot be read is told by `faults`."""
    return tuple(made for _, _, made in _lines(ledger) if made is not None)


def faults(ledger: Ledger) -> Iterator[Fault]:
    """Where the lines are not what was written down."""
    before = _NOTHING_BEFORE
    for position, (name, line, made) in enumerate(_lines(ledger), 1):
        where = f"export {name.removeprefix(_UNDER)}"
        if made is None:
            yield Fault("export", where, "its line cannot be read")
        elif name != _named(position) or made.number != position:
            yield Fault("export", where, f"stands where {position} should: one was taken out")
            return
        elif made.before != before:
            message = "does not follow the line before it: that one was altered since"
            yield Fault("export", where, message)
        before = hashlib.sha256(line.encode()).hexdigest()


def _lines(ledger: Ledger) -> Iterator[tuple[str, str, Sent | None]]:
    for name, line in ledger.settings(_UNDER).items():
        yield name, line, _read(line)


def _named(number: int) -> str:
    return f"{_UNDER}{number:010d}"


def _line(made: Sent) -> str:
    told = {each.name: getattr(made, each.name) for each in fields(made)}
    return json.dumps(told, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def _read(line: str) -> Sent | None:
    try:
        told = json.loads(line)
        return Sent(**{**told, "works": tuple(told["works"])})
    except (ValueError, TypeError, KeyError):
        return None
