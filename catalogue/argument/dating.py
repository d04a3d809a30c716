"""`date_label` and `date_repair`: from what stands on a mark, or went into a repair, to years.

A label dates the label, a repair material the repair; none of them dates the painting. A rule
fires only on letters that are seen, never on what the editor restored or completed, never across
a gap, and beside one only if the mark holds whatever stood there. What is doubtful, or can't be
told to come from the rule's country, is kept as soft and says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from re import Match
from typing import Final

from catalogue.argument.combining import combine
from catalogue.argument.dating_rules import (
    Rule,
    What,
    rules,
    rules_on,
    searchable,
)
from catalogue.argument.dating_words import (
    countries,
    fillers,
    sentence,
    table,
    taken_back,
)
from catalogue.argument.evidence import Dating, Reason
from catalogue.argument.known_addresses import KnownAddress, Met, met_in
from catalogue.argument.label_text import LabelText, stretches
from catalogue.argument.spans import Interval
from catalogue.argument.whereabouts import Origins
from catalogue.reading import GAP, Drawn, Foreign, Reading, SeenLetter, walk
from catalogue.terms import known, label, within

_BESIDE: Final = 40
"""How many letters around a mark are tried for what stood in a gap; no rule looks as far."""


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
    here = _Label(reading, tuple(techniques), countries(regions))
    found = [
        *here.by_rules(),
        *here.by_observation(),
        *here.by_techniques(),
        *here.by_addresses(addresses),
    ]
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
        _Mark(rule, written, 0, 0, "repair").reason()
        for each in told
        for rule, written in _of_material(each)
        if not rule.only_in or rule.only_in & here
    ]
    return combine(_firmest(found))


def _of_material(told: str) -> Iterator[tuple[Rule, str]]:
    if known(told):
        yield from ((rule, label(told)) for rule in rules() if rule.is_of(told))
        return
    searched = searchable(told)
    for rule in rules_on("description"):
        found = next(rule.found_in(told), None) if rule.may_be_in(searched) else None
        if found:
            yield rule, found[0]


@dataclass(slots=True)
class _Mark:
    """A rule that was met, on its way to a reason."""

    rule: Rule
    written: str
    start: int
    end: int
    dates: What
    doubtful: bool = False
    struck: bool = False
    nowhere: bool = False
    past: str = ""

    def reason(self) -> Reason:
        rule = self.rule
        soft = rule.strength == "soft" or self.doubtful or self.nowhere
        own, reach = rule.bounds(soft=soft, open_end=bool(self.past))
        said = [
            sentence("careful", why=rule.why) if rule.careful else rule.why,
            *self._remarks(),
        ]
        return Reason(
            rule=rule.key,
            written=self.written,
            start=self.start,
            end=self.end,
            earliest=own.earliest,
            latest=own.latest,
            soft_earliest=reach.earliest,
            soft_latest=reach.latest,
            strength="soft" if soft else "hard",
            dates=self.dates,
            why=" ".join(said),
            source=rule.source,
            verified=rule.verified,
            one_of=rule.stem if rule.has_alternatives else None,
        )

    def _remarks(self) -> Iterator[str]:
        if self.doubtful:
            yield sentence("doubtful")
        if self.struck:
            yield sentence("struck")
        if self.nowhere:
            yield sentence("nowhere", region=self.rule.region)
        if self.past:
            yield sentence("past", word=self.past)


class _Label:
    """One label under the rules."""

    def __init__(
        self, reading: Reading, techniques: tuple[str, ...], regions: frozenset[str]
    ) -> None:
        self.reading = reading
        self.techniques = techniques
        self.text = LabelText.of(reading)
        languages = [n.language for n in walk(reading.tree) if isinstance(n, Foreign)]
        self.origins = Origins(self.text.text, told=regions, languages=languages)

    def by_rules(self) -> Iterator[Reason]:
        """What the letters fire.

        Letters that a rule of the right country explains are not offered to those of others.
        """
        marks = list(self._marks())
        explained = {
            place
            for mark in marks
            if mark.rule.only_in and not mark.nowhere
            for place in range(mark.start, mark.end)
        }
        for mark in marks:
            if not mark.nowhere or explained.isdisjoint(range(mark.start, mark.end)):
                yield mark.reason()

    def _marks(self) -> Iterator[_Mark]:
        searched = searchable(self.text.text)
        for rule in rules_on("label"):
            if not rule.may_be_in(searched):
                continue
            for found in rule.found_in(self.text.text):
                start, end = _stands(found)
                origin = self.origins.of(rule, start)
                if origin != "elsewhere" and self._holds(rule, found):
                    yield self._mark(rule, start, end, nowhere=origin == "unsaid")

    def by_observation(self) -> Iterator[Reason]:
        """What the cataloguer saw of the hand or of a drawing: `@h(ball-point)`, `{{barcode}}`."""
        for stretch in stretches(self.text):
            if stretch.hand.medium is None and stretch.hand.technique != "typed":
                continue
            whole = f"{stretch.observed} {stretch.seen[:200]}"
            for rule, found in self._described(whole):
                if found.start() < len(stretch.observed):
                    written, hand = " ".join(found[0].split()), stretch.hand
                    dates = self._layer(rule, [hand.technique])
                    yield _Mark(rule, written, hand.start, hand.end, dates).reason()
        for node in walk(self.reading.tree):
            if isinstance(node, Drawn):
                for rule, found in self._described(node.words):
                    yield _Mark(rule, found[0], node.start, node.end, rule.dates).reason()

    def by_techniques(self) -> Iterator[Reason]:
        """What the technique says, whatever is written in it."""
        for each in self.techniques:
            dates_use = within(each, "technique/handwritten")
            for rule in rules():
                if rule.is_of(each) and self.origins.agree(rule):
                    dates: What = "use" if dates_use else rule.dates
                    yield _Mark(rule, label(each), 0, 0, dates).reason()

    def by_addresses(self, addresses: Iterable[KnownAddress]) -> Iterator[Reason]:
        """What is known of the firms whose addresses stand here."""
        for met in met_in(self.text, addresses):
            yield self._known(met)

    def _described(self, words: str) -> Iterator[tuple[Rule, Match[str]]]:
        searched = searchable(words)
        for rule in rules_on("description"):
            if rule.may_be_in(searched) and self.origins.agree(rule):
                found = next(rule.found_in(words), None)
                if found:
                    yield rule, found

    def _holds(self, rule: Rule, found: Match[str]) -> bool:
        """Whether the mark is there whatever stood in the gaps beside it."""
        if GAP in found[0]:
            return False
        if self.text.is_whole or rule.finder is None:
            return True
        text, (start, end) = self.text.text, found.span()
        before, after = text[max(0, start - _BESIDE) : start], text[end : end + _BESIDE]
        if GAP not in before and GAP not in after:
            return True
        for filler in fillers():
            left = before.replace(GAP, filler)
            tried = rule.finder.match(left + found[0] + after.replace(GAP, filler), len(left))
            if tried is None or tried[0] != found[0]:
                return False
        return True

    def _mark(self, rule: Rule, start: int, end: int, *, nowhere: bool) -> _Mark:
        letters = self.text.letters[start:end]
        first, last = self.text.place(start, end)
        return _Mark(
            rule,
            self.text.written(start, end),
            first,
            last,
            self._layer(
                rule, [self._technique(each) for each in letters if each.letter.strip()]
            ),
            doubtful=any(each.doubtful for each in letters),
            struck=any(each.struck for each in letters),
            nowhere=nowhere,
            past=taken_back(self.text.line_before(start)) if rule.not_after else "",
        )

    def _known(self, met: Met) -> Reason:
        letters = self.text.letters[met.start : met.end]
        first, last = self.text.place(met.start, met.end)
        doubtful = any(each.doubtful for each in letters)
        years = table()["known_address"]["margin"]
        own = Interval(met.address.earliest, met.address.latest)
        kind = "address" if met.address.text else "name"
        said = [sentence(f"known_{kind}", name=met.address.name, text=met.address.text)]
        said += [sentence("doubtful")] if doubtful else []
        said += [sentence("struck")] if any(each.struck for each in letters) else []
        return Reason(
            rule=f"{kind}:{met.address.party}",
            written=self.text.written(met.start, met.end),
            start=first,
            end=last,
            earliest=own.earliest,
            latest=own.latest,
            soft_earliest=own.earliest.years_on(-years) if own.earliest else None,
            soft_latest=own.latest.years_on(years) if own.latest else None,
            strength="soft" if doubtful else "hard",
            dates=self._filled_or_printed([self._technique(each) for each in letters]),
            why=" ".join(said),
            source=table()["known_address"]["source"],
            verified=table()["known_address"]["verified"],
            one_of=f"{kind} at {first}",
        )

    def _layer(self, rule: Rule, techniques: Iterable[str]) -> What:
        """What a rule of printing dates here: what is filled in dates the use."""
        return self._filled_or_printed(techniques) if rule.dates == "printing" else rule.dates

    def _filled_or_printed(self, techniques: Iterable[str]) -> What:
        filled = any(each == "handwritten" or each != self._base for each in techniques)
        return "use" if filled else "printing"

    def _technique(self, letter: SeenLetter) -> str:
        return letter.hand.technique if letter.hand else self._unsaid

    @cached_property
    def _unsaid(self) -> str:
        """The technique of what stands before any sign of a hand."""
        first = self.techniques[0] if self.techniques else "technique/printed"
        for each in ("handwritten", "typed", "stamped", "stencilled", "branded"):
            if within(first, f"technique/{each}"):
                return each
        return "printed"

    @cached_property
    def _base(self) -> str:
        """The technique in which the mark itself was made, not what was added to it."""
        used = [self._technique(each) for each in self.text.letters if each.letter.strip()]
        return "printed" if "printed" in used or not used else used[0]


def _stands(found: Match[str]) -> tuple[int, int]:
    """Where a mark stands, without the blanks around it and with the last point of its initials."""
    start, end = found.span()
    written = found[0]
    start += len(written) - len(written.lstrip())
    end -= len(written) - len(written.rstrip())
    is_initial = (
        end - start > 2 and found.string[end - 2] == "." and found.string[end - 1].isalpha()
    )
    if is_initial and found.string[end : end + 1] == ".":
        end += 1
    return start, end


def _firmest(found: Iterable[Reason]) -> list[Reason]:
    """Each rule once for each thing that it dates, where it stands firmest; in the label's order."""
    kept: dict[tuple[str, What, str | None], Reason] = {}
    for each in found:
        key = each.rule, each.dates, each.one_of
        if key not in kept or (kept[key].strength, each.strength) == ("soft", "hard"):
            kept[key] = each
    return sorted(kept.values(), key=lambda each: (each.start, each.end))
