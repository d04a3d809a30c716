"""What was found: works with the statements that were hit, each marked and with the reason."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

OTHER_WORDS = "restored, struck out or otherwise spelled by a reader"
DAMAGED = "damaged word that could read so"
PHRASE = "phrase"

_OWN_TEXT = {
    "title": "title",
    "artist": "artist's name",
    "date": "date",
    "number": "number",
    "material": "material",
    "note": "word in a note",
    "address": "address",
    "party": "name",
    "reference": "name",
    "inscription": "word in the inscription",
    "layer": "word in a layer",
    "check": "word in a check",
    "finding": "word in a finding",
    "repair": "word in a prior repair",
    "test": "word in a test",
    "treatment": "word in a treatment",
    "step": "word in a step",
    "photo": "word of a photograph",
    "part": "word in a part",
    "job": "word in a job",
    "item": "word in a job",
    "proposal": "word in a proposal",
    "approval": "word in an approval",
    "departure": "word in a departure",
    "piece": "word on a bag",
    "provenance": "word in an event",
    "exhibition": "word in an exhibition",
    "citation": "word in a citation",
    "relation": "word in a tie to another work",
    "movement": "word in a movement",
    "inquiry": "word in an inquiry",
    "paper": "word in a paper",
}
_ELSEWHERE = {
    "title": "title",
    "artist": "artist's name",
    "number": "number",
    "place": "place",
    "damaged": DAMAGED,
}


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement that was hit.

    `html` is `text`, escaped, with <mark> around what was sought: the only tags in it. `photo` is the
    SHA-256 of the photograph that shows it, `corners` the part of that in upright pixels, `light` a
    term.
    """

    value: str
    where: str
    kind: str
    text: str
    html: str
    why: str
    score: float
    private: bool = False
    photo: str = ""
    corners: tuple[tuple[float, float], ...] = ()
    light: str = ""


@dataclass(frozen=True, slots=True)
class Hit:
    """One work, party or reference, its statements best first."""

    document: str
    number: str
    title: str
    score: float
    statements: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class Results:
    """One page of what was found.

    `total` counts works on all pages; `undated` those that a date filter left out because
    nothing is known of their date. `notes` are sentences for people (how the question was read,
    why the answer is wider than asked); `suggestions` are questions that would find something.
    `behind` is how many saves the index has not seen. `understood` says in sentences how the
    question was understood, `ignored` what of it was not; `facets` counts by field and value; with
    `exact` False there are at least `total`.
    """

    hits: tuple[Hit, ...] = ()
    total: int = 0
    page: int = 1
    limit: int = 20
    undated: int = 0
    notes: tuple[str, ...] = ()
    suggestions: tuple[str, ...] = ()
    behind: int = 0
    understood: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
    facets: Mapping[str, Sequence[tuple[str, int]]] = field(default_factory=dict)
    exact: bool = True


def reason(kind: str, fields: Iterable[str], phrase: bool) -> str:
    """Why one sought thing counts as found in a statement of this kind, in plain words.

    >>> reason("inscription/dealer-label", {"words"}, phrase=False)
    'restored, struck out or otherwise spelled by a reader'
    """
    found = set(fields)
    group = kind.partition("/")[0]
    if "text" in found:
        said = _OWN_TEXT.get(group, "word in the record")
        return f"{PHRASE}: {said.removeprefix('word ')}" if phrase else said
    # of a work as a whole, `words` repeats names and numbers: say rather which of them it was
    order = [*_ELSEWHERE]
    order.insert(0 if group in ("inscription", "note") else len(order) - 1, "words")
    first = next(field for field in order if field in found)
    if first != "words":
        return _ELSEWHERE[first]
    return OTHER_WORDS if group == "inscription" else "word in the record"
