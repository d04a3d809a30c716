"""The digests of the ledger, and how to work them out by hand.

Every digest is a SHA-256 in lower-case hexadecimal. *Canonical JSON* is JSON in UTF-8 with
the keys of every object in alphabetical order, no white space, and every character written as
itself that JSON allows to be (no `\\u` but for control characters).

**A change** has the digest of the canonical JSON of an object with these keys:

    seq      its number: 1 for the first change, then one more each time
    at       UTC, to the millisecond, such as 2026-11-25T10:14:14.123Z
    zone     the studio's zone, such as Europe/Vienna
    who, why
    format   the format of its documents, a whole number
    before   the digest of the change before; 64 zeros for the first
    entries  a list, in order, of one object an entry, with those of the keys act, document,
             revision, digest, source, target, scope, number that have a value

**A revision** has as the `digest` of its `save` entry that of its salt followed by its bytes.
The salt is 32 random bytes; salt and bytes lie in the table `bodies`, under the numbers of
change and entry.

**A file** has as the `digest` of its `file` entry that of its salt followed by the canonical
JSON of {media_type, name, sha256, size}: these and the salt lie in the table `files`, the
contents in files/ab/<sha256>. The `source` of a `save` entry is that salted digest.

So the chain tells nothing of what a text said once its salt and bytes are deleted, and still
holds. The last digest stands for everything before it: who keeps it elsewhere can later show
that nothing was altered, taken out or cut off.

By hand, for the first change of a ledger:

>>> import hashlib, json
>>> text = json.dumps(
...     {"seq": 1, "at": "2026-11-25T10:14:14.123Z", "zone": "UTC", "who": "N. Feld",
...      "why": "first day", "format": 1, "before": "0" * 64,
...      "entries": [{"act": "number", "scope": "work:2026", "number": 1}]},
...     sort_keys=True, ensure_ascii=False, separators=(",", ":"))
>>> text[:44]
'{"at":"2026-11-25T10:14:14.123Z","before":"0'
>>> hashlib.sha256(text.encode("utf-8")).hexdigest() == digest_of_change(
...     seq=1, at="2026-11-25T10:14:14.123Z", zone="UTC", who="N. Feld", why="first day",
...     written_in=1, before=NOTHING_BEFORE,
...     entries=[Entry("number", scope="work:2026", number=1)])
True
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from operator import attrgetter

from catalogue.ledger.values import Entry

NOTHING_BEFORE = "0" * 64
"""What stands in the first change for the digest of the change before."""

SALT_BYTES = 32

ENTRY_KEYS = ("act", "document", "revision", "digest", "source", "target", "scope", "number")
_entry_values = attrgetter(*ENTRY_KEYS)


def canonical(value: Mapping[str, object]) -> bytes:
    """The one way to write `value` as JSON.

    >>> print(canonical({"why": "café", "seq": 2}).decode())
    {"seq":2,"why":"café"}
    """
    text = json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    # what verify finds in a damaged column may be no UTF-8; its bytes are digested as they are
    return text.encode("utf-8", "surrogateescape")


def salted(salt: bytes, content: bytes) -> str:
    """The digest that stands in the chain for some bytes, and tells nothing of them.

    >>> salted(bytes(32), b"{}")[:16]
    'fb1634c4e6cd4b1f'
    """
    return hashlib.sha256(salt + content).hexdigest()


def digest_of_file(salt: bytes, *, sha256: str, size: int, media_type: str, name: str) -> str:
    """The digest that stands in the chain for a file, bound to its contents by `sha256`."""
    facts = {"sha256": sha256, "size": size, "media_type": media_type, "name": name}
    return salted(salt, canonical(facts))


def digest_of_change(
    *,
    seq: int,
    at: str,
    zone: str,
    who: str,
    why: str,
    written_in: int,
    before: str,
    entries: Iterable[Entry],
) -> str:
    """The digest of a change, as the page above tells; `written_in` is its format."""
    whole = {
        "seq": seq,
        "at": at,
        "zone": zone,
        "who": who,
        "why": why,
        "format": written_in,
        "before": before,
        "entries": [
            {
                key: value
                for key, value in zip(ENTRY_KEYS, _entry_values(entry), strict=True)
                if value is not None
            }
            for entry in entries
        ],
    }
    return hashlib.sha256(canonical(whole)).hexdigest()
