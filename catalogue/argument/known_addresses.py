"""Where a firm is known to have been, and when: found again on a label."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from catalogue.argument.dating_words import sentence, table
from catalogue.argument.evidence import Reason
from catalogue.argument.label_text import LabelText, Layers
from catalogue.measure import Day, fold
from catalogue.reading import GAP


@dataclass(frozen=True, slots=True)
class KnownAddress:
    """A party's address with the days between which it was there; None = not known.

    `text` is the address as it is written, `name` the party's. Where `text` is "" it is the name
    that was in use between those days.
    """

    party: str
    name: str
    text: str
    earliest: Day | None
    latest: Day | None


class Met(NamedTuple):
    """A known address, and from where to where in a label's text it stands."""

    address: KnownAddress
    start: int
    end: int


def by_addresses(
    text: LabelText, layers: Layers, known: Iterable[KnownAddress]
) -> Iterator[Reason]:
    """What is known of the firms whose addresses stand on a label."""
    settings = table()["known_address"]
    years = settings["margin"]
    for address, start, end in met_in(text, known):
        kind = "address" if address.text else "name"
        doubtful = text.is_doubtful(start, end)
        said = [sentence(f"known_{kind}", name=address.name, text=address.text)]
        said += [sentence("doubtful")] if doubtful else []
        said += [sentence("struck")] if text.is_struck(start, end) else []
        place = text.place(start, end)
        yield Reason(
            rule=f"{kind}:{address.party}",
            written=text.written(start, end),
            start=place[0],
            end=place[1],
            earliest=address.earliest,
            latest=address.latest,
            soft_earliest=address.earliest.years_on(-years) if address.earliest else None,
            soft_latest=address.latest.years_on(years) if address.latest else None,
            strength="soft" if doubtful else "hard",
            dates=layers.dates(start, end),
            why=" ".join(said),
            source=settings["source"],
            verified=settings["verified"],
            one_of=f"{kind} at {place[0]}",
        )


def met_in(text: LabelText, known: Iterable[KnownAddress]) -> Iterator[Met]:
    """The known addresses that stand on a label: street and number, however they are spelt.

    >>> from catalogue.reading import read
    >>> known = KnownAddress("p1", "Morvane", "14 Tanner Street, Ghent", Day(1929, 1, 1), None)
    >>> [met.start for met in met_in(LabelText.of(read("Galerie M., 14, TANNER ST.")), [known])]
    [12]
    >>> list(met_in(LabelText.of(read("Galerie M., 1[...], Tanner St.")), [known]))
    []
    """
    known = tuple(known)
    words = list(_words(text.text)) if known else []
    begun: dict[str, list[int]] = {}
    for number, word in enumerate(words):
        begun.setdefault(word.folded, []).append(number)
    for address in known:
        for wanted in _ways(address):
            at = _first(words, begun, wanted)
            if at is not None:
                yield Met(address, words[at].start, words[at + len(wanted) - 1].end)
                break


class _Word(NamedTuple):
    folded: str
    start: int
    end: int


_WORD = re.compile(rf"[\w{GAP}]+")


def _words(text: str) -> Iterator[_Word]:
    for found in _WORD.finditer(text):
        yield _Word(_short(fold(found[0])), found.start(), found.end())


@cache
def _short_forms(which: str) -> dict[str, str]:
    return {fold(form): short for short, forms in table()[which].items() for form in forms}


def _short(word: str) -> str:
    """A word of an address in its one form: "street" as "st", "gerberstrasse" as "gerberst"."""
    whole = _short_forms("street_words").get(word)
    if whole:
        return whole
    for ending, short in _short_forms("street_endings").items():
        if word.endswith(ending):
            return word.removesuffix(ending) + short
    return word


def _ways(address: KnownAddress) -> Iterator[tuple[str, ...]]:
    """The words to look for: a number and a street, in either order; or a name."""
    if not address.text:
        name = tuple(word.folded for word in _words(address.name))
        if name:
            yield name
        return
    for part in re.split(r"[;\n]", address.text):
        pieces = [tuple(word.folded for word in _words(each)) for each in part.split(",")]
        for number, piece in enumerate(pieces):
            # "14, Tanner Street": the number may stand behind a comma of its own
            whole = (
                piece + pieces[number + 1]
                if len(piece) == 1 and pieces[number + 1 :]
                else piece
            )
            if len(whole) > 1 and _is_number(whole[0]):
                yield from (whole, (*whole[1:], whole[0]))
            elif len(whole) > 1 and _is_number(whole[-1]):
                yield from (whole, (whole[-1], *whole[:-1]))


def _is_number(word: str) -> bool:
    return word[:1].isdigit()


def _first(
    words: list[_Word], begun: dict[str, list[int]], wanted: tuple[str, ...]
) -> int | None:
    for at in begun.get(wanted[0], ()):
        if tuple(word.folded for word in words[at : at + len(wanted)]) == wanted:
            return at
    return None
