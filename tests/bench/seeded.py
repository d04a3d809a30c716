"""A seeded generator of works: the same n works on every machine, eleven statements each."""

from __future__ import annotations

import random
from collections.abc import Iterator
from uuid import UUID

from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    Inscription,
    Note,
    Number,
    Part,
    Party,
    PartyName,
    Record,
    Size,
    Title,
    Transcript,
    Work,
)
from catalogue.surface import Box

SYLLABLES = [
    "ba",
    "co",
    "dre",
    "fen",
    "gal",
    "har",
    "ith",
    "jo",
    "kel",
    "lum",
    "mor",
    "nan",
    "oss",
    "per",
    "quin",
    "ros",
    "sal",
    "tre",
    "ul",
    "ver",
    "wyn",
    "yar",
    "zel",
]
KINDS = ("signature", "dealer-label", "chalk-mark", "stamp", "exhibition-label", "price")
MATERIALS = ("canvas", "linen", "oak", "oil-paint", "paper")


def records(count: int, seed: int = 7) -> Iterator[Record]:
    """`count` works, and before them a twentieth as many artists."""
    chance = random.Random(seed)
    artists = [_artist(chance) for _ in range(max(1, count // 20))]
    yield from artists
    for number in range(count):
        yield _work(chance, artists, number)


def _uuid(chance: random.Random) -> str:
    return str(UUID(int=chance.getrandbits(128), version=4))


def _word(chance: random.Random) -> str:
    # Few words are common and most are rare, as in what people write.
    length = 2 + (chance.random() < 0.4)
    return "".join(chance.choices(SYLLABLES, weights=range(len(SYLLABLES), 0, -1), k=length))


def _words(chance: random.Random, least: int, most: int) -> str:
    return " ".join(_word(chance) for _ in range(chance.randint(least, most)))


def _artist(chance: random.Random) -> Party:
    name = f"{_word(chance).title()} {_word(chance).title()}"
    return Party(
        id=_uuid(chance),
        kind="person",
        names=(PartyName(id=_uuid(chance), text=name, preferred=True),),
        roles=("role/artist",),
    )


def _inscription(chance: random.Random, number: int, stretcher: str) -> Inscription:
    lines = "\n".join(_words(chance, 2, 6) for _ in range(chance.randint(1, 4)))
    return Inscription(
        id=_uuid(chance),
        number=f"I{number}",
        kind=f"inscription/{chance.choice(KINDS)}",
        face="face/back",
        part=stretcher if chance.random() < 0.5 else None,
        techniques=("technique/ink",),
        languages=("en",),
        place=Box(chance.randint(0, 400), chance.randint(0, 300), 80, 30),
        transcripts=(
            Transcript(
                id=_uuid(chance),
                markup=f"{lines} {_word(chance)[:-1]}_{_word(chance)[0]} [...]{_word(chance)}",
                on=Day(2026, chance.randint(1, 12), chance.randint(1, 28)),
                preferred=True,
            ),
        ),
    )


def _work(chance: random.Random, artists: list[Party], number: int) -> Work:
    stretcher = Part(id=_uuid(chance), kind="part/stretcher", materials=("material/pine",))
    return Work(
        id=_uuid(chance),
        number=f"{2000 + number // 5000}-{number % 5000 + 1:03d}",
        numbers=(
            Number(id=_uuid(chance), kind="number/stock", text=str(chance.randint(1, 9999))),
        ),
        titles=(
            Title(
                id=_uuid(chance),
                text=_words(chance, 1, 4).title(),
                kind="title/given",
                preferred=True,
            ),
        ),
        attributions=(
            Attribution(
                id=_uuid(chance), artist=chance.choice(artists).document, preferred=True
            ),
        ),
        made=read_date(f"c. {chance.randint(1780, 1960)}"),
        materials=tuple(f"material/{each}" for each in chance.sample(MATERIALS, 2)),
        medium="Oil on canvas",
        sizes=(
            Size(
                id=_uuid(chance),
                what="size/support",
                height_mm=chance.randint(200, 1500),
                width_mm=chance.randint(200, 1500),
            ),
        ),
        parts=(stretcher,),
        inscriptions=tuple(_inscription(chance, each, stretcher.id) for each in range(1, 7)),
        notes=(Note(id=_uuid(chance), text=_words(chance, 10, 40)),),
    )
