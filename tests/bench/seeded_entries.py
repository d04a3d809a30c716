"""A seeded catalogue made straight as entries: the same n works on every machine, ten or eleven entries each.

What is on the backs is written with words of which few are common and most are rare, as on labels;
names come in variants, one inscription in six has a damaged word in the markup of readings. The ledger
is left out: these entries are for timing what finds them. Every word is invented.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date
from functools import cache
from itertools import accumulate
from uuid import UUID

from catalogue.indexes.entry import Entry
from catalogue.reading import read

Document = tuple[str, tuple[Entry, ...]]

# fmt: off
BEGINS = ["b", "bl", "br", "c", "ch", "cl", "cr", "d", "dr", "f", "fl", "g", "gr", "h", "j", "k", "l", "m", "n",
          "p", "pr", "r", "s", "sh", "st", "str", "t", "th", "tr", "v", "w", "wh", "y", "", "", ""]
VOWELS = ["a", "e", "i", "o", "u", "ea", "ee", "oo", "ou", "ai"]
ENDS = ["n", "r", "t", "l", "s", "d", "ck", "ll", "tt", "ng", "nd", "st", "rt", "m", "p", "rn", "ld", "", "", ""]
LASTS = ["", "", "", "s", "er", "ing", "ed", "y", "ton", "ham", "ley", "well", "son", "ford", "by", "ett"]
COMMON = [
    "the", "of", "and", "no", "to", "by", "from", "street", "london", "label", "oil", "canvas", "painted", "view",
    "dealer", "gallery", "road", "frame", "maker", "sold", "lot", "exhibition", "artist", "title", "price", "gns",
    "carver", "gilder", "works", "art", "colourman", "landscape", "portrait", "son", "sons", "co", "house", "square",
    "received", "removed", "returned", "varnish", "lining", "stretcher", "tear", "blue", "evening", "river", "old",
]
GIVEN = ["Ada", "Bertram", "Clement", "Dorothea", "Edwin", "Flora", "Gideon", "Hester", "Ivor", "Juliana", "Kester",
         "Letitia", "Magnus", "Nora", "Oswin", "Petra", "Quentin", "Rosamund", "Silas", "Tamsin", "Ursula", "Walter"]
TOWNS = ["London", "Bath", "Ghent", "Lyon", "Leeds", "Bristol", "Edinburgh", "Köln", "München", "Zürich", "Amsterdam",
         "Antwerp", "Paris", "Rouen", "Genève", "York", "Exeter", "Glasgow", "Dublin", "Wien"]
KINDS = ["inscription/signature", "inscription/dealer-label", "inscription/chalk-mark", "inscription/stamp",
         "inscription/exhibition-label", "inscription/price"]
TECHNIQUES = ["technique/ink", "technique/pencil", "technique/chalk", "technique/print", "technique/stamped"]
MATERIALS = ["material/canvas", "material/linen", "material/oak", "material/oil-paint", "material/paper"]
STATES = ["state/legible", "state/partly-legible", "state/illegible"]
# fmt: on
VOCABULARY = 60_000
FLAT_UNTIL = 2.7
"""The rank below which words stop getting more common (Mandelbrot's constant)."""


@cache
def vocabulary() -> tuple[tuple[str, ...], tuple[float, ...]]:
    """Every word, the commonest first, and the sums of their shares up to each."""
    chance = random.Random(11)
    words = dict.fromkeys(COMMON)
    while len(words) < VOCABULARY:
        words[_invented(chance)] = None
    # as in any language, the common words tend to be the short ones
    made = sorted(list(words)[len(COMMON) :], key=lambda word: len(word) + 8 * chance.random())
    shares = (1 / (rank + FLAT_UNTIL) ** 1.05 for rank in range(VOCABULARY))
    return (*COMMON, *made), tuple(accumulate(shares))


def _invented(chance: random.Random) -> str:
    syllables = 1 + (chance.random() < 0.75) + (chance.random() < 0.2)
    made = "".join(
        chance.choice(BEGINS) + chance.choice(VOWELS) + chance.choice(ENDS)
        for _ in range(syllables)
    )
    return made + chance.choice(LASTS)


@cache
def artists(count: int) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """So many parties, each with its variants, the full name first."""
    chance = random.Random(12)
    found = []
    for _ in range(count):
        given, other = chance.sample(GIVEN, 2)
        last = _invented(chance).title() + chance.choice(
            ["", "", "", " " + _invented(chance).title()]
        )
        full = f"{given} {last}" if chance.random() < 0.6 else f"{given} {other} {last}"
        initials = " ".join(f"{name[0]}." for name in full.split()[: -len(last.split())])
        found.append(
            (f"party/{_uuid(chance)}", (full, f"{initials} {last}", f"{last}, {given}"))
        )
    return tuple(found)


def how_many_artists(works: int) -> int:
    return max(20, works // 12)


def catalogue(works: int, seed: int = 7) -> Iterator[Document]:
    """Every document and its entries, the one for the whole first."""
    chance = random.Random(seed)
    known = artists(how_many_artists(works))
    for number in range(works):
        yield _work(chance, number, known[int(len(known) * chance.random() ** 1.5)])


def parties(works: int) -> Iterator[Document]:
    """The artists as documents of their own, with every form of their names."""
    for party, names in artists(how_many_artists(works)):
        yield (
            party,
            (
                Entry(document=party, number="", title=names[0], value=party.partition("/")[2],
                      where="artist", kind="party", text="; ".join(names), words="", patterns=(),
                      artist="", place="", earliest=None, latest=None, facts=(("kind", "party"),)),
            ),
        )  # fmt: skip


def _uuid(chance: random.Random) -> str:
    return str(UUID(int=chance.getrandbits(128), version=4))


def some_words(chance: random.Random, count: int) -> list[str]:
    words, sums = vocabulary()
    return chance.choices(words, cum_weights=sums, k=count)


def damaged(chance: random.Random, word: str) -> str:
    """A word in the markup of readings, with about a third of its letters lost or doubtful."""
    lost = max(1, len(word) // 3)
    at = chance.randrange(len(word) - lost + 1)
    before, middle, after = word[:at], word[at : at + lost], word[at + lost :]
    return chance.choice(
        [
            f"{before}[{'.' * lost}]{after}",
            f"{before}{'+' * lost}{after}",
            f"{before}[{middle}]{after}",
            f"{before}{''.join(sign + chr(0x323) for sign in middle)}{after}",
        ]
    )


def _work(chance: random.Random, number: int, artist: tuple[str, tuple[str, ...]]) -> Document:
    uuid, (party, names) = _uuid(chance), artist
    title = " ".join(some_words(chance, chance.randint(2, 4))).title()
    made = date(chance.randint(1780, 1960), 1, 1).toordinal()
    shared = {
        "document": f"work/{uuid}",
        "number": f"{2000 + number // 5000}-{number % 5000 + 1:03d}",
        "title": title,
        "artist": " · ".join(names),
        "earliest": made - 365 * chance.randint(0, 5) if chance.random() < 0.93 else None,
        "latest": made + 365 * chance.randint(1, 6),
        "touched": chance.randint(1, 10_000_000),
    }
    if shared["earliest"] is None:
        shared["latest"] = None
    materials = tuple(("material", each) for each in chance.sample(MATERIALS, 2))
    of_work = (("artist", party), *materials, ("place", chance.choice(TOWNS).casefold()))
    figures = (("width", chance.randint(150, 2000)), ("height", chance.randint(150, 2000)))
    whole = _entry(
        shared, uuid, "work", f"{title}. {names[0]}. Oil on canvas", of_work, figures
    )
    found = [whole, _entry(shared, _uuid(chance), "title", title, of_work)]
    found.append(_entry(shared, _uuid(chance), "artist", names[0], of_work))
    found += [_inscription(chance, shared, of_work, at, names) for at in range(1, 7)]
    note = " ".join(some_words(chance, chance.randint(10, 40)))
    found.append(_entry(shared, _uuid(chance), "note", note, of_work))
    if chance.random() < 0.7:
        done = " ".join(some_words(chance, chance.randint(8, 20)))
        day = date(chance.randint(1995, 2026), chance.randint(1, 12), 1).toordinal()
        hours = (("hours", chance.randint(1, 80) / 2),)
        found.append(
            _entry(shared, _uuid(chance), "treatment", done, of_work, hours, (day, day))
        )
    return f"work/{uuid}", tuple(found)


def _entry(shared, value, kind, text, facts, figures=(), own=(None, None), **more) -> Entry:  # type: ignore[no-untyped-def]
    return Entry(
        **shared,
        value=value,
        kind=kind,
        text=text,
        facts=(("kind", kind), *facts),
        figures=tuple((name, float(figure)) for name, figure in figures),
        own_earliest=own[0],
        own_latest=own[1],
        **{"where": kind, "words": "", "patterns": (), "place": "", **more},
    )


def _inscription(chance, shared, of_work, at, names) -> Entry:  # type: ignore[no-untyped-def]
    kind = chance.choice(KINDS)
    words = some_words(chance, chance.randint(3, 14))
    town = chance.choice(TOWNS)
    facts = [("kind", "inscription"), ("technique", chance.choice(TECHNIQUES))]
    facts.append(("state", STATES[int(3 * chance.random() ** 2)]))
    figures = [("width", chance.randint(20, 180)), ("height", chance.randint(10, 90))]
    own: tuple[int | None, int | None] = (None, None)
    if kind.endswith("label"):
        words += [str(chance.randint(1, 300)), *some_words(chance, 1), "street", town]
        facts.append(("town", town.casefold()))
        first = date(chance.randint(1820, 1960), 1, 1).toordinal()
        own = (first, first + 365 * chance.randint(1, 30))
    elif kind.endswith("price"):
        price = chance.randint(2, 900)
        words += [str(price), "gns"]
        facts.append(("unit", "gns"))
        figures.append(("price", price))
    if chance.random() < 0.3:
        words += chance.choice(names).split()
    text, more = " ".join(words), {}
    if chance.random() < 1 / 6:
        which = chance.choice([n for n, word in enumerate(words) if len(word) > 3] or [0])
        if len(words[which]) > 3:
            words[which] = damaged(chance, words[which])
            reading = read(" ".join(words))
            said, text = reading.words(), reading.plain()
            more["patterns"] = tuple(word.pattern for word in said if word.pattern)
            more["words"] = " ".join(dict.fromkeys(word.text for word in said))
            more["seen"] = reading.seen()
    place = chance.choice(["back stretcher", "back lining", "back canvas", "front"])
    more = {"seen": text, "place": place} | more
    more["words"] = more.get("words", "")
    return _entry(shared, _uuid(chance), kind, text, (*facts, *of_work), figures, own,
                  **{**more, "where": f"I{at} {kind.rpartition('/')[2]}, {place}"})  # fmt: skip
