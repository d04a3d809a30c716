"""The studio's own keys to dealers' price codes: kept beside the ledger, never in a record or an export.

A key is a setting: it travels with a backup, since that is the studio itself, and with nothing else.
"""

from __future__ import annotations

import json
from typing import Final

from catalogue.errors import BadSetting, NotOnFile
from catalogue.ledger import Ledger
from catalogue.measure import CodeReading, PriceKey, decode, why_no_code

_SETTING: Final = "price keys"


def names(ledger: Ledger) -> tuple[str, ...]:
    """What the keys are called, by alphabet; the keys themselves are not told."""
    return tuple(sorted(_kept(ledger)))


def keep(ledger: Ledger, name: str, key: PriceKey) -> None:
    """Keep a key under a name, such as the dealer's; one of that name is replaced."""
    if not name.strip():
        raise BadSetting("a key needs a name", remedy="such as the dealer's")
    told = {
        "word": key.word, "repeaters": key.repeaters, "from_nought": key.from_nought
    }  # fmt: skip
    ledger.set_setting(_SETTING, json.dumps({**_kept(ledger), name.strip(): told}))


def drop(ledger: Ledger, name: str) -> None:
    """Forget a key. Raises `NotOnFile` where none has that name."""
    kept = _kept(ledger)
    _named(kept, name)
    ledger.set_setting(
        _SETTING, json.dumps({each: key for each, key in kept.items() if each != name})
    )


def readings(
    ledger: Ledger, written: str, name: str | None = None
) -> dict[str, tuple[CodeReading, ...]]:
    """What a code may mean by each key, or by one, by the key's name; keys that do not fit are left out.

    Raises `NotOnFile` where there is no such key, `BadSetting` where the one asked for does not fit.
    """
    kept = _kept(ledger)
    asked = {name: _named(kept, name)} if name else {each: _named(kept, each) for each in kept}
    found = {each: decode(written, key) for each, key in asked.items()}
    if name and not found[name]:
        raise BadSetting(
            f"{written!r} is no price by the key {name!r}: {why_no_code(written, asked[name])}",
            remedy="read the letters again, or try another key",
        )
    return {each: several for each, several in found.items() if several}


def _kept(ledger: Ledger) -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = json.loads(ledger.setting(_SETTING) or "{}")
    return found


def _named(kept: dict[str, dict[str, object]], name: str) -> PriceKey:
    if name not in kept:
        raise NotOnFile(
            f"no key is called {name!r}",
            remedy="dorse code --keys lists them; dorse code --keep NAME keeps one",
        )
    told = kept[name]
    return PriceKey(str(told["word"]), str(told["repeaters"]), bool(told["from_nought"]))
