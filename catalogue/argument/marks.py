"""Where the rules of dating meet a label: in its letters, in what was observed of it, in its technique."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from re import Match
from typing import Final

from catalogue.argument.dating_rules import Rule, What, rules, rules_on, searchable
from catalogue.argument.dating_words import fillers, sentence, taken_back
from catalogue.argument.evidence import Reason
from catalogue.argument.label_text import LabelText, Layers, stretches
from catalogue.argument.whereabouts import Origins
from catalogue.reading import GAP, Drawn, Reading, walk
from catalogue.terms import known, label, within

_BESIDE: Final = 40
"""How many letters around a mark are tried for what stood in a gap; no rule looks as far."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A rule that was met, on its way to a reason.

    `start` and `end` are places in the markup; `nowhere` says that nothing tells where it comes
    from, `past` is the word beside it that makes it a thing of the past, "" for none.
    """

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
        """The reason that it is."""
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
            one_of=self._one_of(),
        )

    def _one_of(self) -> str | None:
        """What it is an alternative of; a picture may have been in several places, one after another."""
        if self.rule.has_alternatives:
            return self.rule.stem
        return "presence" if self.dates == "presence" else None

    def _remarks(self) -> Iterator[str]:
        if self.doubtful:
            yield sentence("doubtful")
        if self.struck:
            yield sentence("struck")
        if self.nowhere:
            yield sentence("nowhere", region=self.rule.region)
        if self.past:
            yield sentence("past", word=self.past)


def in_letters(text: LabelText, layers: Layers, origins: Origins) -> Iterator[Mark]:
    """What the letters fire.

    Letters that a rule of the right country explains are not offered to those of others.
    """
    marks = list(_marks(text, layers, origins))
    explained = {
        place
        for mark in marks
        if mark.rule.only_in and not mark.nowhere
        for place in range(mark.start, mark.end)
    }
    for mark in marks:
        if not mark.nowhere or explained.isdisjoint(range(mark.start, mark.end)):
            yield mark


def _marks(text: LabelText, layers: Layers, origins: Origins) -> Iterator[Mark]:
    searched = searchable(text.text)
    for rule in rules_on("label"):
        if not rule.may_be_in(searched):
            continue
        for found in rule.found_in(text.text):
            start, end = _stands(found)
            origin = origins.of(rule, start)
            if origin != "elsewhere" and _holds(text, found):
                first, last = text.place(start, end)
                yield Mark(
                    rule,
                    text.written(start, end),
                    first,
                    last,
                    layers.dates(start, end) if rule.dates == "printing" else rule.dates,
                    doubtful=text.is_doubtful(start, end),
                    struck=text.is_struck(start, end),
                    nowhere=origin == "unsaid",
                    past=taken_back(text.line_before(start)) if rule.not_after else "",
                )


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


def _holds(text: LabelText, found: Match[str]) -> bool:
    """Whether the mark is there whatever stood in the gaps beside it."""
    if GAP in found[0]:
        return False
    if text.is_whole:
        return True
    start, end = found.span()
    before, after = text.text[max(0, start - _BESIDE) : start], text.text[end : end + _BESIDE]
    if GAP not in before and GAP not in after:
        return True
    for filler in fillers():
        left = before.replace(GAP, filler)
        tried = found.re.match(left + found[0] + after.replace(GAP, filler), len(left))
        if tried is None or tried[0] != found[0]:
            return False
    return True


def observed(
    reading: Reading, text: LabelText, layers: Layers, origins: Origins
) -> Iterator[Mark]:
    """What the cataloguer saw of a hand or of a drawing: `@h(ball-point)`, `{{barcode}}`."""
    for stretch in stretches(text):
        hand = stretch.hand
        if hand.medium is None and hand.technique != "typed":
            continue
        for rule, found in _described(f"{stretch.observed} {stretch.seen[:200]}", origins):
            if found.start() < len(stretch.observed):
                later = layers.is_later(hand.technique) and rule.dates == "printing"
                written = " ".join(found[0].split())
                yield Mark(rule, written, hand.start, hand.end, "use" if later else rule.dates)
    for node in walk(reading.tree):
        if isinstance(node, Drawn):
            for rule, found in _described(node.words, origins):
                yield Mark(rule, found[0], node.start, node.end, rule.dates)


def _described(words: str, origins: Origins) -> Iterator[tuple[Rule, Match[str]]]:
    searched = searchable(words)
    for rule in rules_on("description"):
        found = next(rule.found_in(words), None) if rule.may_be_in(searched) else None
        if found and origins.agree(rule):
            yield rule, found


def by_technique(techniques: Sequence[str], origins: Origins) -> Iterator[Mark]:
    """What the technique says, whatever is written in it."""
    for each in techniques:
        by_hand = within(each, "technique/handwritten")
        for rule in rules():
            if rule.is_of(each) and origins.agree(rule):
                yield Mark(rule, label(each), 0, 0, "use" if by_hand else rule.dates)


def by_material(told: str) -> Iterator[Mark]:
    """What a material or a kind of repair says: a concept of vocab/terms, or words about it."""
    if known(told):
        for rule in rules():
            if rule.is_of(told):
                yield Mark(rule, label(told), 0, 0, "repair")
        return
    searched = searchable(told)
    for rule in rules_on("description"):
        found = next(rule.found_in(told), None) if rule.may_be_in(searched) else None
        if found:
            yield Mark(rule, found[0], 0, 0, "repair")
