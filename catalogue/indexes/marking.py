"""What was sought, laid against what was found: the marks in its text, and why it was found.

A thing sought is a word with everything it was widened to, or several words in a row. The same terms that
the engine joined are looked for in the entry, so that a mark and a reason never say anything else.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from html import escape

from catalogue.indexes.answer import reason
from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import Token
from catalogue.indexes.stored import TEXTS
from catalogue.indexes.tree import FACT, All, Either, Hit, Row, Terms, Tree
from catalogue.indexes.wholes import all_words
from catalogue.places import table
from catalogue.reading import fold

DAMAGED = "damaged"


@dataclass(frozen=True)
class Sought:
    """One thing that was sought: a word (one step), or words in a row; `apart` as in a `Row`."""

    steps: tuple[Terms, ...]
    apart: int = 0

    @cached_property
    def hits(self) -> dict[tuple[str, str], Hit]:
        """Everything that is looked for, by field and term."""
        return {(hit.field, hit.term): hit for step in self.steps for hit in step.hits}

    @cached_property
    def fields(self) -> tuple[str, ...]:
        """The fields of text that it is looked for in."""
        held = {field for field, _ in self.hits}
        return tuple(name for name in TEXTS if name in held)

    @cached_property
    def damaged(self) -> set[str]:
        """The damaged words that are looked for."""
        return {term for field, term in self.hits if field == DAMAGED}

    @cached_property
    def _wanted(self) -> dict[str | None, list[set[str]]]:
        return {}

    def wanted(self, field: str | None) -> list[set[str]]:
        """The words of each step, in a field or (None) in any."""
        if field not in self._wanted:
            self._wanted[field] = [_terms(step, field) for step in self.steps]
        return self._wanted[field]

    @cached_property
    def every(self) -> set[str]:
        """The words of all steps."""
        return set().union(*self.wanted(None))

    @property
    def written(self) -> str:
        """What was typed."""
        return " ".join(step.written for step in self.steps)

    def spans(self, words: Sequence[Token], field: str | None = None) -> list[tuple[int, int]]:
        """Where in a text with these words it stands; of a field only what is sought there."""
        wanted = self.wanted(field)
        if self.apart or len(wanted) == 1:
            every = self.every if field is None else set().union(*wanted)
            found = [(each.start, each.end) for each in words if _forms(each) & every]
            return found if self.apart == 0 or _near(words, wanted, self.apart) else []
        # a row is laid along the words one by one; one that is written as a whole has a row of its own
        words = [each for each in words if not each.whole]
        return [
            (words[at].start, words[at + len(wanted) - 1].end)
            for at in range(len(words) - len(wanted) + 1)
            if all(_forms(words[at + step]) & each for step, each in enumerate(wanted))
        ]


def sought_in(tree: Tree) -> Iterator[Sought]:
    """Everything that a tree looks for and does not refuse; words of a row only in that row."""
    match tree:
        case Terms():
            yield Sought((tree,))
        case Row(steps, apart):
            yield Sought(steps, apart)
        case All(parts) | Either(parts):
            rows = [step.hits for each in parts if isinstance(each, Row) for step in each.steps]
            for each in parts:
                if not (isinstance(each, Terms) and each.hits in rows):
                    yield from sought_in(each)
        case _:
            return


def marked(text: str, looked_for: Iterable[Sought], patterns: Iterable[str] = ()) -> str:
    """The text as HTML, what was sought in <mark>; whatever the text holds stays text.

    `patterns` are the damaged words of the entry.

    >>> from catalogue.indexes.tree import Hit
    >>> smith = Sought((Terms("smith", (Hit("text", "smith", 1.0),)),))
    >>> marked("<b> Smith & Co", [smith])
    '&lt;b&gt; <mark>Smith</mark> &amp; Co'
    """
    looked_for = [each for each in looked_for if each.fields or each.damaged]
    words = list(all_words(text)) if looked_for else []
    known = set(patterns)
    spans: list[tuple[int, int]] = []
    for each in looked_for:
        spans += each.spans(words)
        for pattern in sorted(known & each.damaged):
            spans += _damaged_spans(text, pattern)
    pieces: list[str] = []
    at = 0
    for start, end in _joined(sorted(spans)):
        pieces.append(escape(text[at:start]))
        pieces.append(f"<mark>{escape(text[start:end])}</mark>")
        at = end
    pieces.append(escape(text[at:]))
    return "".join(pieces)


def reasons(entry: Entry, looked_for: Iterable[Sought]) -> str:
    """Why an entry was found, in plain words, thing by thing."""
    said = [said for each in looked_for if (said := _reason(entry, each))]
    return "; ".join(dict.fromkeys(said))


def _reason(entry: Entry, sought: Sought) -> str:
    if len(sought.steps) > 1:
        fields = [
            name
            for name in sought.fields
            if sought.spans(list(all_words(getattr(entry, name))), name)
        ]
        return _where(entry, fields, phrase=True)
    facts = {(f"{FACT}{name}", key) for name, key in entry.facts}
    held = {(name, form) for name in sought.fields for form in _forms_in(getattr(entry, name))}
    held |= {(DAMAGED, pattern) for pattern in entry.patterns} | facts
    hits = [sought.hits[each] for each in sorted(held & sought.hits.keys())]
    if not hits:
        return ""
    best = max(hits, key=lambda hit: hit.strength)
    where = _where(entry, [hit.field for hit in hits if not hit.is_fact], False)
    how = _why().get(best.why, "") if best.why not in ("word", "pattern", DAMAGED) else ""
    return ": ".join(filter(None, (where, how))) or best.field.removeprefix(FACT)


def _where(entry: Entry, fields: Sequence[str], phrase: bool) -> str:
    seen = ["text" if name == "seen" else name for name in fields]
    return reason(entry.kind, seen, phrase) if seen else ""


@cache
def _why() -> dict[str, str]:
    names = table("names_alike.toml").get("why", {})
    found: dict[str, str] = dict(table("finding.toml").get("why", {}))
    return found | {f"name-{key}": said for key, said in names.items()}


def _terms(step: Terms, field: str | None) -> set[str]:
    return {
        hit.term
        for hit in step.hits
        if hit.field != DAMAGED and not hit.is_fact and (field is None or hit.field == field)
    }


def _forms(word: Token) -> set[str]:
    return {*word.forms, *word.parts}


@lru_cache(maxsize=4_000)
def _forms_in(text: str) -> frozenset[str]:
    """Every form of every word of a text; titles and artists come with each statement of a work."""
    return frozenset(form for token in all_words(text) for form in _forms(token))


def _near(words: Sequence[Token], wanted: Sequence[set[str]], apart: int) -> bool:
    """Whether a word of each step stands within so many words somewhere."""
    places = [[w.position for w in words if _forms(w) & each] for each in wanted]
    return any(
        all(any(start <= at <= start + apart for at in each) for each in places)
        for start in set().union(*places)
    )


def _damaged_spans(text: str, pattern: str) -> list[tuple[int, int]]:
    """Where a damaged word stands in a text that shows its gaps with one sign for a letter."""
    folded = fold(text)
    compiled = _compiled(pattern)
    if compiled is None or len(folded) != len(text):
        return []
    found = (compiled.fullmatch(folded, *each.span()) for each in re.finditer(r"\S+", folded))
    return [hit.span(1) for hit in found if hit]


@lru_cache(maxsize=5_000)
def _compiled(pattern: str) -> re.Pattern[str] | None:
    try:
        return re.compile(rf"\W*?({pattern})\W*", re.DOTALL)
    except re.error:
        # one that is no pattern finds nothing; the entry's own text is still searched
        return None


def _joined(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans that overlap, as one; they come sorted."""
    joined: list[tuple[int, int]] = []
    for start, end in spans:
        if joined and start < joined[-1][1]:
            joined[-1] = joined[-1][0], max(end, joined[-1][1])
        else:
            joined.append((start, end))
    return joined
