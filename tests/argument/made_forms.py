"""Printed forms of invented firms, and labels printed from them: worn, stained, torn, filled in, misread.

Every firm has sister forms that differ in a house number, a street, a telephone or a town alone. They
are other forms: whoever takes them for one has them wrong.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from catalogue.argument.look_alikes import Seen, seen_of
from catalogue.record import Inscription, Transcript
from catalogue.surface import Box

SYLLABLES = [
    "Mor",
    "Hal",
    "Oos",
    "Har",
    "Lin",
    "Tal",
    "Pen",
    "Ver",
    "Bran",
    "Quil",
    "Os",
    "Keel",
    "Nor",
    "Vaux",
    "Tre",
    "San",
    "Bel",
    "Cor",
    "Dun",
    "Esk",
    "Far",
    "Gos",
    "Ing",
    "Jes",
    "Kirk",
    "Lor",
    "Mad",
    "Neth",
    "Orm",
    "Pad",
]
ENDINGS = [
    "vane",
    "wyck",
    "veen",
    "owell",
    "dth",
    "lis",
    "hale",
    "hulst",
    "dis",
    "lan",
    "trau",
    "by",
    "rish",
    "ley",
    "win",
    "hurst",
    "mont",
    "vey",
    "marrow",
    "dale",
    "rant",
    "ling",
    "ham",
    "sop",
    "bride",
    "imer",
    "dern",
    "cott",
    "sby",
    "stow",
]
NAMES = [a + b for a in SYLLABLES for b in ENDINGS]
KINDS = [
    "Fine Art Dealers",
    "Picture Framers and Gilders",
    "Galerie",
    "Kunsthandlung",
    "Carvers & Gilders",
    "Artists Colourmen",
    "Works of Art",
    "Old and Modern Pictures",
    "Packers and Carriers of Pictures",
    "Exhibition of Oil Paintings",
]
STREETS = [
    "Tanner",
    "Chapel",
    "Gannet",
    "Chandler",
    "Orchard",
    "Mill",
    "Castle",
    "Abbey",
    "Ropewalk",
    "Harbour",
    "Saddler",
    "Weaver",
    "Cooper",
    "Bishop",
    "Granary",
    "Priory",
    "Foundry",
    "Linden",
    "Market",
    "Garrow",
]
WAYS = ["Street", "Road", "Row", "Lane", "Place", "Square", "Gate", "Terrace"]
TOWNS = [
    "London",
    "York",
    "Bath",
    "Hull",
    "Ghent",
    "Antwerp",
    "Leeds",
    "Norwich",
    "Bristol",
    "Exeter",
    "Dublin",
    "Rouen",
    "Delft",
    "Basel",
    "Lyon",
    "Vienna",
]
SHAPES = ["rectangle", "rectangle", "rounded-rectangle", "oval", "cut-corners"]
PAPERS = ["cream", "white", "buff", "light-blue", "green", "grey"]
INKS = ["black", "black", "blue", "red", "brown"]
CAPTIONS = [["No", "Title"], ["Stock No"], ["No", "Artist"], ["Lot"], ["Ref", "Date"]]
MISREAD = {"rn": "m", "cl": "d", "u": "n", "e": "c", "h": "b", "i": "l", "a": "o"}


@dataclass(frozen=True)
class Made:
    """A form as it left the printer; `lines` are its words, `captions` what is filled in behind."""

    lines: tuple[str, ...]
    captions: tuple[str, ...]
    size: tuple[float, float]
    shape: str
    paper: str
    ink: str
    technique: str
    hash: int
    firm: int = 0
    """Sister forms have the same number."""


def forms(how_many: int, seed: int) -> list[Made]:
    """Forms, each third one the sister of the one before it."""
    chance = random.Random(seed)
    found: list[Made] = []
    while len(found) < how_many:
        found.append(replace(_form(chance), firm=len(found)))
        while len(found) < how_many and chance.random() < 0.3:
            found.append(_sister(found[-1], chance))
    return found


def _form(chance: random.Random) -> Made:
    name = f"{chance.choice(NAMES)} & {chance.choice(['Co', 'Son', 'Sons', *NAMES])}"
    lines = [name, chance.choice(KINDS), _address(chance), chance.choice(TOWNS)]
    if chance.random() < 0.5:
        lines.append(f"Telephone {chance.choice(NAMES)} {chance.randint(100, 9999)}")
    if chance.random() < 0.3:
        lines.append(f"Established {chance.randint(1790, 1930)}")
    return Made(
        tuple(lines), tuple(chance.choice(CAPTIONS)),
        (chance.randint(40, 120), chance.randint(25, 70)), chance.choice(SHAPES),
        chance.choice(PAPERS), chance.choice(INKS),
        chance.choice(["letterpress", "lithographed"]), chance.getrandbits(64),
    )  # fmt: skip


def _address(chance: random.Random) -> str:
    return f"{chance.randint(1, 199)} {chance.choice(STREETS)} {chance.choice(WAYS)}"


def _sister(made: Made, chance: random.Random) -> Made:
    """The same firm's next form: one thing in the text is another; the block of type mostly alike."""
    lines = list(made.lines)
    number, _, street = lines[2].partition(" ")
    what = chance.choice(["number", "street", "town", "telephone"])
    if what == "number":
        lines[2] = f"{(int(number) + chance.randint(1, 60))} {street}"
    elif what == "street":
        lines[2] = _address(chance)
    elif what == "town":
        lines[3] = chance.choice([each for each in TOWNS if each != lines[3]])
    elif len(lines) > 4 and lines[4].startswith("Tele"):
        lines[4] = f"{lines[4].rsplit(' ', 1)[0]} {chance.randint(100, 9999)}"
    else:
        lines.insert(4, f"Telephone {chance.choice(NAMES)} {chance.randint(100, 9999)}")
    if tuple(lines) == made.lines:
        return _sister(made, chance)
    flipped = made.hash
    for bit in chance.sample(range(64), chance.randint(4, 12)):
        flipped ^= 1 << bit
    return replace(made, lines=tuple(lines), hash=flipped)


def label(
    made: Made, sisters: list[Made], work: str, chance: random.Random
) -> tuple[Seen, bool]:
    """One label of a form, as somebody found, measured, photographed and read it on a painting.

    With it goes whether some line that sets it apart from each of its sisters was read without a
    doubt: where none was, nobody can tell of which form it is.
    """
    wear = chance.choice([0, 0.02, 0.05, 0.1])
    lines = [_read(line, chance, wear) for line in made.lines]
    torn = chance.random() < 0.12
    if torn:
        lines = _torn(lines, chance)
    filled = [f"@p {each} @h {_filling(chance)}" for each in made.captions]
    if torn and chance.random() < 0.5:
        filled = filled[:-1]
    markup = "\n".join([*lines, *filled])
    width, height = (each * chance.uniform(0.985, 1.015) for each in made.size)
    if torn:
        width *= chance.uniform(0.6, 0.95)
    turned = made.hash
    for bit in chance.sample(range(64), chance.randint(0, 10) + 6 * torn):
        turned ^= 1 << bit
    told = chance.random
    inscription = Inscription(
        kind="inscription/dealer-label",
        face="face/stretcher-bar",
        techniques=(f"technique/{made.technique}", "technique/ink") if told() < 0.7 else (),
        place=Box(10, 10, round(width, 1), round(height, 1)) if told() < 0.8 else None,
        shape=f"shape/{made.shape}" if told() < 0.8 else None,
        edge="edge/torn" if torn else None,
        paper=f"colour/{made.paper if told() < 0.85 else chance.choice(PAPERS)}"
        if told() < 0.8
        else None,
        colours=(f"colour/{made.ink}",) if told() < 0.8 else (),
        transcripts=(Transcript(markup=markup),),
    )
    told_apart = all(_told_apart(made, sister, lines, torn) for sister in sisters)
    return seen_of(work, inscription, (turned,) if told() < 0.7 else ()), told_apart


def _told_apart(made: Made, sister: Made, read: list[str], torn: bool) -> bool:
    own = any(
        clean not in sister.lines and not set(as_read) & set("[_")
        for clean, as_read in zip(made.lines, read, strict=True)
    )
    return own or (
        not torn and any(line not in made.lines for line in sister.lines[len(made.lines) :])
    )


def _filling(chance: random.Random) -> str:
    return chance.choice(
        [
            str(chance.randint(10, 9999)),
            f"{chance.choice(NAMES)} {chance.randint(1, 99)}",
            "Sea Wall",
        ]
    )


def _read(line: str, chance: random.Random, wear: float) -> str:
    """The line as read off worn paper: letters lost, doubted, restored; now and then misread."""
    found: list[str] = []
    at = 0
    while at < len(line):
        letter = line[at]
        if letter.isalnum() and chance.random() < wear:
            lost = chance.choice(["lost", "lost", "doubt", "restored", "misread"])
            if lost == "doubt":
                found.append(
                    f"{letter if chance.random() < 0.7 else chance.choice('aeinrst')}_"
                )
            elif lost == "restored":
                found.append(f"[{letter}]")
            elif lost == "misread" and letter.lower() in MISREAD:
                found.append(MISREAD[letter.lower()])
            else:
                run = min(chance.randint(1, 3), len(line[at:].split(" ")[0]))
                found.append(f"[{'.' * run}]")
                at += run - 1
        else:
            found.append({"[": "", "]": ""}.get(letter, letter))
        at += 1
    return "".join(found)


def _torn(lines: list[str], chance: random.Random) -> list[str]:
    """A corner gone: the ends of some lines, or the last line with it."""
    torn = list(lines)
    for number in range(len(torn) - 1, max(0, len(torn) - chance.randint(2, 4)), -1):
        words = torn[number].split(" ")
        kept = words[: chance.randint(0, max(0, len(words) - 1))]
        torn[number] = " ".join([*kept, "[---]"])
    return torn
