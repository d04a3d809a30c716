"""Look-alike labels of families made with other habits than those that the rules were chosen on.

A printer's own forms: several languages, long and short ones, sister forms (another house number,
another telephone, another line), and copies that were worn, cut and filled in each in its own way. The
aim is precision and recall of 0.95 each, and is not reached here. The first and only run over 200
families (seed 1931) found 0.891 and 0.925 of "likely", and 0.996 of all pairs with those to look at;
nothing was tuned on it. The test runs over fewer, with floors a little below.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from catalogue.argument.look_alikes import Shelf, seen_of
from catalogue.record import Inscription, Transcript
from catalogue.surface import Box

FAMILIES = 200
SURNAMES = [
    "Abberdine",
    "Brockhollow",
    "Celdrane",
    "Dunthorpe",
    "Eskermann",
    "Falgarde",
    "Gravenhout",
    "Hessling",
    "Iverlake",
    "Jorrick",
    "Kellandt",
    "Lomastro",
    "Merrivane",
    "Nordwyck",
    "Ostrelli",
    "Pallimore",
    "Quastel",
    "Rivendahl",
    "Stockmere",
    "Trovano",
]
TRADES = {
    "en": ["Picture Dealers", "Carvers, Gilders & Printsellers", "Restorers of Old Paintings", "Artists' Colourmen"],
    "fr": ["Marchand de tableaux", "Doreur, encadreur", "Objets d'art & curiosités", "Toiles et couleurs fines"],
    "de": ["Kunsthandlung", "Vergolderei und Rahmenfabrik", "Gemälde-Salon", "Malutensilien"],
    "it": ["Negoziante di quadri", "Cornici dorate", "Oggetti d'arte antica", "Colori e tele"],
}  # fmt: skip
STREETS = {
    "en": ["Copperas Row", "Fennel Lane", "Old Wharf Road", "Bishop's Walk"],
    "fr": ["rue du Pont-Neuf", "quai des Célestins", "boulevard du Midi", "passage Vert"],
    "de": ["Lindenstraße", "Am Markt", "Brückengasse", "Neuer Wall"],
    "it": ["via della Rosa", "piazza del Grano", "corso Vecchio", "vicolo Stretto"],
}
TOWNS = {"en": ["Bath", "Leeds"], "fr": ["Rouen", "Nantes"], "de": ["Kassel", "Ulm"], "it": ["Pisa", "Turin"]}  # fmt: skip
BLANKS = {"en": ["Stock No", "Title", "Frame"], "fr": ["N°", "Titre", "Cadre"], "de": ["Nr.", "Titel", "Rahmen"], "it": ["N.", "Titolo", "Cornice"]}  # fmt: skip


@dataclass(frozen=True)
class Form:
    family: int
    lines: tuple[str, ...]
    size: tuple[int, int]
    paper: str


def forms(chance: random.Random, families: int) -> list[Form]:
    """A form, and for half of the firms one or two sister forms that are told as families of their own."""
    made: list[Form] = []
    while len({each.family for each in made}) < families:
        tongue = chance.choice(list(TRADES))
        firm = chance.choice(SURNAMES) + chance.choice(["", " & Cie", " & Co.", f"-{chance.choice(SURNAMES)}", " Frères", " Söhne"])  # fmt: skip
        number = chance.randint(1, 199)
        lines = [firm, chance.choice(TRADES[tongue]), f"{number} {chance.choice(STREETS[tongue])}", chance.choice(TOWNS[tongue])]  # fmt: skip
        if chance.random() < 0.4:
            lines.append(f"Tel. {chance.randint(100, 9999)}")
        lines += [f"{each} {{}}" for each in BLANKS[tongue][: chance.randint(1, 3)]]
        size = (chance.randint(60, 160), chance.randint(35, 100))
        paper = chance.choice(["colour/white", "colour/cream", "colour/green", "colour/blue"])
        made.append(Form(len(made), tuple(lines), size, paper))
        for _ in range(chance.choice([0, 0, 1, 2])):
            sister = list(lines)
            way = chance.choice(["house", "town", "trade", "telephone"])
            if way == "house":
                sister[2] = sister[2].replace(
                    str(number), str(number + chance.randint(1, 40)), 1
                )
            elif way == "town":
                sister[3] = next(each for each in TOWNS[tongue] if each != lines[3])
            elif way == "trade":
                sister[1] = next(each for each in TRADES[tongue] if each != lines[1])
            else:
                sister.insert(4, f"Tel. {chance.randint(10000, 99999)}")
            made.append(Form(len(made), tuple(sister), size, paper))
    return made[:families]


def worn(chance: random.Random, line: str) -> str:
    """A line as a reader types what is left of it."""
    if chance.random() > 0.3 or len(line) < 6:
        return line
    at = chance.randrange(1, len(line) - 3)
    end = min(len(line), at + chance.randint(1, 4))
    if "{" in line[at:end] or "}" in line[at:end]:
        return line
    match chance.choice(["restored", "lost", "doubted", "torn", "misread"]):
        case "restored":
            return f"{line[:at]}[{line[at:end]}]{line[end:]}"
        case "lost":
            return f"{line[:at]}[{'.' * (end - at)}]{line[end:]}"
        case "doubted" if line[at].isalpha():
            return f"{line[:at]}_{line[at:]}"
        case "torn" if "{" not in line:
            return f"{line[:end]}[---]"
        case "misread" if "n" in line[:-2]:
            return line.replace("n", "u", 1)
    return line


def copy(chance: random.Random, form: Form) -> Inscription:
    """One label as it was found: filled in by hand, worn here and there, measured by somebody."""
    rows = []
    for line in form.lines:
        filled = str(chance.randint(1, 9000)) if line == form.lines[-1] or chance.random() < 0.5 else chance.choice(["Marine", "Nu assis", "Stilleben", "a Mill"])  # fmt: skip
        typed = worn(chance, line)
        rows.append("@p " + (typed.replace("{}", f"@h {filled}")))
    width, height = (round(each * chance.uniform(0.985, 1.015), 1) for each in form.size)
    cut = chance.random() < 0.15
    if cut:
        height = round(height * chance.uniform(0.7, 0.95), 1)
    return Inscription(
        kind="inscription/label", face="face/back", techniques=("technique/printed",),
        shape="shape/rectangle" if chance.random() < 0.6 else None,
        edge="edge/trimmed" if cut else None,
        paper=form.paper if chance.random() < 0.7 else None,
        place=Box(10, 10, width, height) if chance.random() < 0.8 else None,
        transcripts=(Transcript(markup="\n".join(rows), preferred=True),),
    )  # fmt: skip


def score(seed: int, families: int = FAMILIES) -> tuple[float, float, float]:
    """Precision and recall of "likely"; and recall where "look at both" counts as found."""
    chance = random.Random(seed)
    family: dict[tuple[str, str], int] = {}
    shelf = Shelf()
    for form in forms(chance, families):
        for _ in range(chance.randint(2, 4)):
            label = seen_of(f"work/{len(family)}", copy(chance, form))
            family[label.id] = form.family
            shelf.add(label)
    pairs: dict[frozenset[tuple[str, str]], str] = {}
    for label in shelf:
        for each in shelf.like(label):
            pair = frozenset((label.id, each.other.id))
            if pairs.get(pair) != "likely":
                pairs[pair] = each.band

    def same(pair):
        one, other = pair
        return family[one] == family[other]

    sizes = list(family.values())
    true = sum(sizes.count(each) * (sizes.count(each) - 1) // 2 for each in set(sizes))
    likely = [pair for pair, band in pairs.items() if band == "likely"]
    right = sum(map(same, likely))
    return right / len(likely), right / true, sum(map(same, pairs)) / true


def test_fresh_families_are_found_as_well_as_when_they_were_first_tried():
    precision, recall, looked_at = score(1931, 60)
    assert precision >= 0.85
    assert recall >= 0.87
    assert looked_at >= 0.97
