"""`date_label` and `date_repair`: from what stands on a mark, or went into a repair, to years.

A label dates the label, a repair material the repair; none of them dates the painting. A rule
fires only on letters that are seen, never on what the editor restored or completed, never across
a gap, and beside one only if the mark holds whatever stood there. What is doubtful, or can't be
told to come from the rule's country, is kept as soft and says so.
"""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.argument.combining import combine
from catalogue.argument.dating_words import countries
from catalogue.argument.evidence import Dating, Reason
from catalogue.argument.known_addresses import KnownAddress, by_addresses
from catalogue.argument.label_text import LabelText, Layers
from catalogue.argument.marks import by_material, by_technique, in_letters, observed
from catalogue.argument.whereabouts import Origins
from catalogue.argument.written_dates import by_dates
from catalogue.reading import Foreign, Reading, walk


def date_label(
    reading: Reading,
    *,
    regions: Iterable[str] = (),
    addresses: Iterable[KnownAddress] = (),
    techniques: Iterable[str] = (),
) -> Dating:
    """What a label, a stamp or any other writing says of its own date.

    `regions` are codes of the countries that it is known to come from ("GB"), beside those that
    it names itself. `techniques` are concepts of vocab/terms; the first is that of the letters
    before any sign of a hand, printed when there is none.

    >>> from catalogue.reading import read
    >>> dating = date_label(read("14 Tanner Street, London, W.1"))
    >>> dating.earliest.iso, dating.latest, dating.soft_latest.iso
    ('1917-03-01', None, '1989-12-31')
    >>> date_label(read("14 Tanner Street, London, W.[1]")).reasons
    ()
    """
    techniques = tuple(techniques)
    text = LabelText.of(reading)
    layers = Layers(text, techniques)
    languages = [node.language for node in walk(reading.tree) if isinstance(node, Foreign)]
    origins = Origins(text.text, told=countries(regions), languages=languages)
    marks = (
        *in_letters(text, layers, origins),
        *observed(reading, text, layers, origins),
        *by_technique(techniques, origins),
    )
    found = [mark.reason() for mark in marks]
    found += by_addresses(text, layers, addresses)
    found += by_dates(text, layers, found)
    return combine(_firmest(found))


def date_repair(
    materials: Iterable[str], *, kind: str | None = None, regions: Iterable[str] = ()
) -> Dating:
    """When a repair can have been made: not before its materials were to be had.

    `materials` are concepts of vocab/terms, or words that describe them; `kind` is the concept of
    the repair; `regions` as in `date_label`.

    >>> date_repair(["material/eva-adhesive", "linen"]).earliest.iso
    '1967-01-01'
    >>> date_repair(["stapled to the old stretcher"], kind="repair/restretching").soft_earliest.iso
    '1935-01-01'
    """
    told = [*materials, *([kind] if kind else [])]
    here = countries(regions)
    found = [
        mark.reason()
        for each in told
        for mark in by_material(each)
        if not mark.rule.only_in or mark.rule.only_in & here
    ]
    return combine(_firmest(found))


def _firmest(found: Iterable[Reason]) -> list[Reason]:
    """Each rule once for each thing that it dates, where it stands firmest; in the label's order."""
    kept: dict[tuple[object, ...], Reason] = {}
    for each in found:
        key = each.rule, each.dates, each.one_of, each.earliest, each.latest
        if key not in kept or (kept[key].strength, each.strength) == ("soft", "hard"):
            kept[key] = each
    return sorted(kept.values(), key=lambda each: (each.start, each.end))
