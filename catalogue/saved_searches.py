"""Searches that somebody wants again: a name and the text of the question, kept beside the ledger.

Each is a setting of its own: it survives a restart, travels with a backup, and two people who keep
one at the same moment both do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from catalogue.errors import BadData, NotOnFile
from catalogue.ledger import Ledger

_UNDER: Final = "search/"
LONGEST_NAME: Final = 80
LONGEST_TEXT: Final = 4_000


@dataclass(frozen=True, slots=True, order=True)
class SavedSearch:
    """One kept question; its text says everything, the order of the answer too (`sort:newest`)."""

    name: str
    text: str


def saved(ledger: Ledger) -> tuple[SavedSearch, ...]:
    """Every kept search, by name."""
    kept = ledger.settings(_UNDER)
    found = (SavedSearch(name.removeprefix(_UNDER), text) for name, text in kept.items())
    return tuple(sorted(found, key=lambda each: (each.name.casefold(), each.name)))


def named(ledger: Ledger, name: str) -> SavedSearch:
    """The search of that name. Raises `NotOnFile`."""
    tidy = " ".join(name.split())
    text = ledger.setting(_UNDER + tidy)
    if text is None:
        raise NotOnFile(
            f"no search is kept as {tidy[:LONGEST_NAME]!r}", remedy="dorse searches lists them"
        )
    return SavedSearch(tidy, text)


def keep(ledger: Ledger, name: str, text: str) -> SavedSearch:
    """Keep a search under a name; what was kept under it before is replaced.

    Raises `BadData` without a name or a question.
    """
    made = SavedSearch(_name(name), " ".join(text.split()))
    if not made.text:
        raise BadData("an empty question finds nothing", remedy="ask first, then keep it")
    if len(made.text) > LONGEST_TEXT:
        raise BadData(
            f"the question has {len(made.text):,} letters; {LONGEST_TEXT:,} are kept at most"
        )
    ledger.set_setting(_UNDER + made.name, made.text)
    return made


def rename(ledger: Ledger, name: str, new: str) -> SavedSearch:
    """Give a kept search another name. Raises `BadData` where that name is taken."""
    before = named(ledger, name)
    wanted = _name(new)
    if wanted == before.name:
        return before
    if ledger.setting(_UNDER + wanted) is not None:
        raise BadData(
            f"another search is kept as {wanted!r}",
            remedy="choose another name, or remove that one first",
        )
    made = keep(ledger, wanted, before.text)
    ledger.unset(_UNDER + before.name)
    return made


def remove(ledger: Ledger, name: str) -> SavedSearch:
    """Forget a kept search, and say what it was. Raises `NotOnFile`."""
    before = named(ledger, name)
    ledger.unset(_UNDER + before.name)
    return before


def _name(typed: str) -> str:
    tidy = " ".join(typed.split())
    if not tidy:
        raise BadData(
            "a search needs a name to be kept under", remedy="such as “open questions”"
        )
    if len(tidy) > LONGEST_NAME:
        raise BadData(
            f"the name of a search has at most {LONGEST_NAME} letters, not {len(tidy)}"
        )
    return tidy
