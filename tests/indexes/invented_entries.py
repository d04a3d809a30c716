"""Invented works for the index, the same every time, and a plain reading of them.

The scan knows nothing of the index: it takes a text apart at everything that is no letter or
figure and looks at every entry in turn.
"""

from __future__ import annotations

import random
import re
import unicodedata

from catalogue.indexes.words import Entry

ARTISTS = ("Orla Fenwick-Dray", "Jens Tälberg", "Marguerite Ozanne", "Unknown")
# fmt: off
WORDS = [
    "dealer", "in", "pictures", "harbour", "harbours", "haven", "harbinger", "view", "of",
    "the", "a", "by", "evening", "carver", "gilder", "picture", "frame", "maker", "lot",
    "no", "from", "late", "to", "sold", "received", "moonlit", "Genève", "café", "größe",
    "plate", "colour", "coloured", "colourman", "canvas", "stretcher", "14", "41", "1899",
    "1902", "quay", "quayside", "and", "J", "H", "old", "label",
]
# fmt: on
KINDS = (
    "inscription/dealer-label",
    "inscription/stamp",
    "inscription/chalk-mark",
    "note",
    "title",
)
PLACES = ("back stretcher", "back lining", "front", "frame")


def invented(count: int = 75, seed: int = 7) -> list[tuple[str, list[Entry]]]:
    """So many works with four entries each: the whole, and three statements."""
    chance = random.Random(seed)
    return [(f"work/{number:04}", _entries(number, chance)) for number in range(count)]


def _entries(number: int, chance: random.Random) -> list[Entry]:
    title = " ".join(chance.sample(WORDS, 3))
    base = {
        "document": f"work/{number:04}",
        "number": f"2031-{number:03}",
        "title": title,
        "artist": chance.choice(ARTISTS),
        "patterns": (),
    }
    whole = Entry(
        **base,
        value=f"{number:04}",
        where="work",
        kind="work",
        text=title,
        words="",
        place="",
        **_days(chance),
    )
    return [whole, *(_statement(f"{number:04}-{part}", base, chance) for part in range(3))]


def _statement(value: str, base: dict[str, object], chance: random.Random) -> Entry:
    return Entry(
        **base,
        value=value,
        where="on the back",
        kind=chance.choice(KINDS),
        text=", ".join(chance.choices(WORDS, k=chance.randint(2, 12))).capitalize(),
        words=" ".join(chance.choices(WORDS, k=chance.randint(0, 2))),
        place=chance.choice(PLACES),
        **_days(chance),
    )


def _days(chance: random.Random) -> dict[str, int | None]:
    first = chance.choice([None, *range(690_000, 694_000, 90)])
    last = chance.choice([None, (first or 691_000) + chance.randint(0, 2000)])
    return {"earliest": first, "latest": last}


def plain_words(text: str) -> list[str]:
    """The words of a text without capitals and accents, in order."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return re.findall(r"[a-z0-9]+", "".join(c for c in apart if not unicodedata.combining(c)))


def fields(entry: Entry) -> list[list[str]]:
    """The words of an entry, field by field, its own text and words first."""
    texts = (entry.text, entry.words, entry.title, entry.artist, entry.number, entry.place)
    return [plain_words(text) for text in texts]
