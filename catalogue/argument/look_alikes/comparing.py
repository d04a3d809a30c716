"""Two labels compared: text of the print, size, image, looks; a score, a band, and the reasons.

The weights are those of the trade sheet's C7, in `vocab/look_alikes.toml`; a part that cannot be
compared leaves its weight to the others. Beyond C7, what is surely printed otherwise takes off: sister
forms of one firm differ in a house number and in nothing else. Nothing here decides: a person does.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from catalogue.argument.look_alikes.aligning import Alignment, Pair, align
from catalogue.argument.look_alikes.print_words import TABLE, Print, PrintWord, printed_words
from catalogue.places import table
from catalogue.reading import fold
from catalogue.record import Inscription
from catalogue.terms import label, within

Band = Literal["likely", "review", "no"]
PARTS = ("text", "size", "image", "looks")
_BITS = 64
_NUMBER = re.compile(r"\b\d{2,8}\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What is compared of one label: its print, its size, its looks, the hashes of its photograph.

    `work` and `inscription` are ids. `looks` is what is said of it by subject (shape, paper, ...).
    `hashes` are those of its photograph, upright first, the other ways round after it.
    """

    work: str
    inscription: str
    print: Print = ()
    numbers: tuple[int, ...] = ()
    size_mm: tuple[float, float] | None = None
    cut: bool = False
    looks: Mapping[str, frozenset[str]]
    hashes: tuple[int, ...] = ()

    @property
    def id(self) -> tuple[str, str]:
        """The work and the inscription."""
        return (self.work, self.inscription)


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """How alike two labels are: each part (None: not to be compared), the score, the band, why."""

    one: Seen
    other: Seen
    parts: Mapping[str, float | None]
    telling: int
    score: float
    band: Band
    why: tuple[str, ...]


def seen_of(work: str, inscription: Inscription, hashes: Iterable[int] = ()) -> Seen:
    """What is compared of an inscription of the work of this id."""
    transcript = inscription.preferred()
    reading = transcript.reading() if transcript else None
    size = _table()["size"]
    looks: dict[str, set[str | None]] = {
        "kind": {inscription.kind if inscription.kind != "inscription/label" else None} - {None},
        "shape": {inscription.shape} - {None},
        "paper": {inscription.paper} - {None},
        "colours": {*inscription.colours},
        "techniques": {each for each in inscription.techniques if not within(each, "technique/handwritten")},
    }  # fmt: skip
    complete = inscription.complete_percent
    return Seen(
        work=work,
        inscription=inscription.id,
        print=printed_words(reading, inscription.techniques) if reading else (),
        numbers=_numbers(reading.form().fillings) if reading else (),
        size_mm=inscription.size_mm(),
        cut=inscription.edge in size["edges_cut"]
        or (complete is not None and complete < size["whole_percent"]),
        looks={name: frozenset(map(str, held)) for name, held in looks.items() if held},
        hashes=tuple(hashes),
    )


def is_form(inscription: Inscription) -> bool:
    """Whether an inscription is of a kind that is printed from a form."""
    return within(inscription.kind, *_table()["forms"]["kinds"])


def _numbers(fillings: Iterable[Any]) -> tuple[int, ...]:
    """Stock and list numbers: what is filled in behind such a caption, or behind none at all.

    One that was struck and written anew counts as it stands now.
    """
    captions = _table()["numbers"]["captions"]
    return tuple(
        int(found)
        for each in fillings
        if not (said := re.findall(r"\w+", fold(each.caption))) or said[-1] in captions
        for found in _standing(each)[:1]
    )


def _standing(filling: Any) -> list[str]:
    left = set(_NUMBER.findall(filling.plain))
    return [each for each in _NUMBER.findall(filling.seen) if each in left]


def compare(one: Seen, other: Seen) -> Likeness:
    """How alike two labels are, and why."""
    laid = (
        align(one.print, other.print, (one.cut, other.cut))
        if one.print and other.print
        else None
    )
    differing = _telling(laid)
    parts: dict[str, float | None] = {
        "text": laid.likeness if laid and laid.most else None,
        "size": size_likeness(one, other),
        "image": image_likeness(one.hashes, other.hashes),
        "looks": _looks_likeness(one, other),
    }
    rules = _table()
    score = max(0.0, weighed(parts) - rules["telling"]["takes"] * len(differing))
    few = (
        laid is None
        or laid.letters < rules["least"]["letters"]
        or sum(each is not None for each in parts.values()) < rules["least"]["parts"]
    )
    band = banded(score)
    if few and band == "likely":
        band = "review"
    why = [*_why(one, other, laid, parts), *differing, *_neighbours(one, other)]
    if few:
        why.append(rules["why"]["few"]["few"])
    return Likeness(
        one=one, other=other, parts=parts, telling=len(differing), score=score, band=band,
        why=tuple(why),
    )  # fmt: skip


def fits(one: Seen, other: Seen) -> bool:
    """Whether nothing that is surely read speaks against one form, as far as the print of both is left."""
    if not one.print or not other.print:
        return False
    laid = align(one.print, other.print, (one.cut, other.cut))
    return laid.likeness > 0.9 and not any(telling(each) for each in laid.pairs)


def weighed(parts: Mapping[str, float | None]) -> float:
    """The score of the parts that could be compared; 0 where none could.

    >>> round(weighed({"text": 40 / 43, "size": 0.971, "image": 1 - 6 / 64, "looks": 0.75}), 3)
    0.918
    """
    weights = _table()["weights"]
    held = {name: value for name, value in parts.items() if value is not None}
    whole = sum(weights[name] for name in held)
    return sum(weights[name] * value for name, value in held.items()) / whole if whole else 0.0


def banded(score: float) -> Band:
    """The band of a score."""
    bands = _table()["bands"]
    if score >= bands["likely"]:
        return "likely"
    return "review" if score >= bands["review"] else "no"


def size_likeness(one: Seen, other: Seen) -> float | None:
    """Width by width, height by height; of a cut-down label only the sides that were left are held to it."""
    if one.size_mm is None or other.size_mm is None:
        return None
    ratios = [
        _ratio(mine, theirs, one.cut, other.cut)
        for mine, theirs in zip(one.size_mm, other.size_mm, strict=True)
    ]
    return ratios[0] * ratios[1]


def _ratio(mine: float, theirs: float, mine_cut: bool, theirs_cut: bool) -> float:
    if (mine_cut and mine < theirs) or (theirs_cut and theirs < mine):
        return 1.0
    return min(mine, theirs) / max(mine, theirs)


def image_likeness(one: tuple[int, ...], other: tuple[int, ...]) -> float | None:
    """1 less the share of the 64 bits that differ, the other label turned as fits best."""
    if not one or not other:
        return None
    apart = min((one[0] ^ turned).bit_count() for turned in other)
    return 1 - apart / _BITS


def _looks_likeness(one: Seen, other: Seen) -> float | None:
    both = one.looks.keys() & other.looks.keys()
    if not both:
        return None
    return sum(bool(one.looks[name] & other.looks[name]) for name in both) / len(both)


def _telling(laid: Alignment | None) -> list[str]:
    """What is read surely on both and is not the same, as sentences."""
    if laid is None:
        return []
    words = _table()["why"]["telling"]
    return [
        words[kind].format(one=_said(pair.one or pair.other), other=_said(pair.other))
        for pair in laid.pairs
        if (kind := telling(pair))
    ]


def telling(pair: Pair) -> str | None:
    """What kind of telling difference a pair of words is, None if it tells nothing."""
    rules = _table()["telling"]
    sides = [_whole(each) for each in (pair.one, pair.other)]
    if not all(each.text for each in sides):
        only = sides[0] if sides[0].text else sides[1]
        long = only.number or only.letters >= rules["letters"]
        return "only" if pair.cost >= 1 and long and not (only.lost or only.doubt) else None
    if pair.cost < 1:
        return None  # nothing, or no more than doubt and worn print explain
    if any(each.number for each in sides):
        return "number"
    # Of a damaged word only what is left of it can disagree.
    left = min(
        [each.letters for each in sides if each.lost] or [max(each.letters for each in sides)]
    )
    short, long_one = sorted((each.text for each in sides), key=len)
    if left < rules["letters"] or long_one.startswith(short) or long_one.endswith(short):
        return None  # an abbreviation, or a word cut short
    return "word" if 1 - pair.cost / left < rules["alike"] else None


def _whole(words: tuple[PrintWord, ...]) -> PrintWord:
    return PrintWord(
        "".join(each.text for each in words), int(any(each.doubt for each in words))
    )


def _said(words: Iterable[PrintWord]) -> str:
    return "‘" + " ".join(each.text for each in words) + "’"


def _why(
    one: Seen, other: Seen, laid: Alignment | None, parts: Mapping[str, float | None]
) -> Iterable[str]:
    said = _table()["why"]
    text, size, image, looks = (parts[name] for name in PARTS)
    if laid is None or text is None:
        yield said["text"]["none"]
    elif text > 0.999:
        damaged = any(each.lost for row in (one.print, other.print) for each in row)
        compared = f"{laid.letters} letters"
        yield said["text"]["part"].format(said=compared) if damaged else said["text"]["same"]
    else:
        odd = [pair for pair in laid.pairs if pair.cost]
        pairs = "; ".join(f"{_said(each.one)} / {_said(each.other)}" for each in odd[:4])
        yield said["text"]["near" if text > 0.85 else "far"].format(said=pairs)
    if size is None:
        yield said["size"]["none"]
    else:
        sizes = [" × ".join(f"{each:g}" for each in it.size_mm or ()) for it in (one, other)]
        key = "far" if size < 0.9 else "cut" if one.cut or other.cut else "same"
        yield said["size"][key].format(one=sizes[0], other=sizes[1])
    if image is None:
        yield said["image"]["none"]
    else:
        yield said["image"]["same" if image >= 0.85 else "near" if image >= 0.7 else "far"]
    yield _why_looks(one, other, looks)


def _why_looks(one: Seen, other: Seen, looks: float | None) -> str:
    said = _table()["why"]["looks"]
    if looks is None:
        return str(said["none"])
    agree, differ = [], []
    for name in sorted(one.looks.keys() & other.looks.keys()):
        mine, theirs = one.looks[name], other.looks[name]
        if mine & theirs:
            agree.append(", ".join(map(label, sorted(mine & theirs))))
        else:
            differ.append(
                "/".join(", ".join(map(label, sorted(each))) for each in (mine, theirs))
            )
    key = "far" if differ else "same"
    return str(said[key].format(agree="; ".join(agree) or "–", differ="; ".join(differ)))


def _neighbours(one: Seen, other: Seen) -> Iterable[str]:
    rules = _table()
    for mine in one.numbers:
        for theirs in other.numbers:
            if mine != theirs and abs(mine - theirs) <= rules["numbers"]["near"]:
                yield rules["why"]["numbers"]["near"].format(one=mine, other=theirs)


@cache
def _table() -> dict[str, Any]:
    return table(TABLE)
