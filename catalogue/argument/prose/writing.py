"""Provenance as prose: entries in, sentences with footnotes out, by the rules of the trade.

A semicolon says that it passed directly and needs evidence, a full stop says nothing of that kind. Who
stays unnamed still stands in the chain, so that what is withheld is not taken for what is not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Literal

from catalogue.argument.chain.grades import DIRECT
from catalogue.argument.prose.blocks import Style, block, main_party
from catalogue.argument.prose.entries import CERTAIN, Entry, EntryNote
from catalogue.argument.prose.numbering import Numbering
from catalogue.argument.prose.open_years import (
    Open,
    open_years,
    windows_that_matter,
    without_lines,
)
from catalogue.argument.prose.wording import (
    BRACKETS,
    FORMS,
    Brackets,
    Form,
    capital,
    holds_heavy_words,
    raised,
    words,
)
from catalogue.argument.spans import Interval
from catalogue.errors import BadSetting, NeedsDocument
from catalogue.measure import Day
from catalogue.terms import label

Undocumented = Literal["refuse", "neutral"]


@dataclass(frozen=True, slots=True)
class Written:
    """A provenance in words. `says` explains how it is written and is printed under it.

    `notes` are its footnotes in the order of their figures, `remarks` what whoever keeps the record
    should know: a full stop that stands for a semicolon, a doubt without a reason.
    """

    text: str
    notes: tuple[EntryNote, ...]
    says: str
    remarks: tuple[str, ...] = ()

    @property
    def whole(self) -> str:
        """The prose and its footnotes as one text, as one would paste it into a catalogue."""
        if not self.notes:
            return self.text
        notes = "\n".join(f"{raised(each.mark)} {each.text}" for each in self.notes)
        return f"{self.text}\n\n{words('notes')['heading']}:\n{notes}"


def write_provenance(
    entries: Iterable[Entry],
    profile: Brackets = "life",
    form: Form = "public",
    *,
    notes: Iterable[EntryNote] = (),
    windows: Iterable[Interval] | None = None,
    searched: Day | None = None,
    today: Day | None = None,
    undocumented: Undocumented = "refuse",
) -> Written:
    """The prose of a chain, earliest owner first.

    `profile` is the habit of brackets: "life" has life dates in square ones and dealers in round
    ones, "dealer" the other way round. In `form` "public" nobody is named who is withheld, no price
    is told, and a stretch that touches one of the `windows` (else those of vocab/windows.toml)
    carries a footnote; "internal" says it in a line, with the day on which registers were last
    `searched`. Raises `NeedsDocument` for words that need a document which is not cited; "neutral"
    writes them without those words and remarks it.
    """
    if profile not in BRACKETS or form not in FORMS:
        raise BadSetting(
            f"there is no such way to write a provenance: {profile!r}, {form!r}",
            remedy=f"brackets: {', '.join(BRACKETS)}; form: {', '.join(FORMS)}",
        )
    style = Style(profile, form, today or _today())
    remarks: list[str] = []
    told, lines = without_lines(entries)
    chain = tuple(_documented(each, undocumented, remarks) for each in told)
    asked = windows_that_matter() if windows is None else windows
    gaps = {each.before: each for each in open_years(chain, asked)}
    if form == "internal":
        lines = {place: gap.line(searched) for place, gap in gaps.items()} | lines
    text, kept = _composed(chain, Numbering(notes), gaps, lines, style, remarks)
    return Written(text, kept, words("brackets")[profile]["says"], tuple(remarks))


def _composed(
    chain: Sequence[Entry],
    numbering: Numbering,
    gaps: dict[int, Open],
    lines: dict[int, str],
    style: Style,
    remarks: list[str],
) -> tuple[str, tuple[EntryNote, ...]]:
    withheld = _last_of_each_run(chain, style)
    said: list[str] = []
    joined = False
    for place, entry in enumerate(chain):
        before = chain[place - 1] if place and joined else None
        told = block(entry, style, before)
        said.append(told if joined else capital(told))
        joined = _joins(chain, place, gaps, remarks)
        marks = [numbering.cited(mark) for mark in entry.notes]
        _remark_doubt(entry, remarks)
        if place in withheld:
            marks.append(numbering.own(_withheld_note(chain, style)))
        if style.form == "public" and (gap := gaps.get(place - 1)):
            marks.append(numbering.own(gap.note()))
        stop = ";" if joined else "" if told.endswith(".") else "."
        said[-1] += stop + _raised(marks)
        if style.form == "internal" and place in lines:
            gap = gaps.get(place)
            said.append(lines[place] + (raised(numbering.own(gap.note())) if gap else ""))
    return " ".join(said), numbering.notes()


def _joins(
    chain: Sequence[Entry], place: int, gaps: dict[int, Open], remarks: list[str]
) -> bool:
    """Whether a semicolon may stand behind an entry: direct, borne by evidence, over no open window."""
    entry, told = chain[place], words("remarks")
    if entry.passage != DIRECT or place == len(chain) - 1:
        return False
    names = {"before": _called(entry), "after": _called(chain[place + 1])}
    if place in gaps:
        window = gaps[place].window_years
        remarks.append(told["over_window"].format(window=window, **names))
        return False
    if entry.evidenced is False:
        remarks.append(told["downgraded"].format(**names))
        return False
    return True


def _documented(entry: Entry, undocumented: Undocumented, remarks: list[str]) -> Entry:
    """The entry as it may be told: heavy words need a document and a date."""
    needs, told = words("needs"), words("refused")
    heavy = holds_heavy_words(entry.phrase or "")
    if entry.documented is None or not (entry.kind in needs["kinds"] or heavy):
        return entry
    said = entry.phrase or label(entry.kind)
    undated = entry.kind in needs["dated"] and entry.when is None and entry.until is None
    if entry.documented and not undated:
        return entry
    if undocumented == "refuse":
        which = "needs_day" if entry.documented else "needs_document"
        raise NeedsDocument(
            told[which].format(words=said, name=_called(entry)), remedy=told[f"{which}_remedy"]
        )
    remarks.append(words("remarks")["undocumented"].format(what=capital(said)))
    plain = words("phrases")["undocumented"]
    return replace(entry, kind="provenance/unknown", phrase=plain, parties=(), price=None)


def _remark_doubt(entry: Entry, remarks: list[str]) -> None:
    if entry.certainty != CERTAIN and not entry.notes:
        word = words("certainty").get(entry.certainty, label(entry.certainty))
        remarks.append(
            words("remarks")["unnoted"].format(name=capital(_called(entry)), word=word)
        )


def _last_of_each_run(chain: Sequence[Entry], style: Style) -> frozenset[int]:
    """The last of each run of entries whose holder is withheld: there the footnote stands."""
    hidden = [any(style.hides(each) for each in entry.parties) for entry in chain]
    return frozenset(
        place
        for place, here in enumerate(hidden)
        if here and not any(hidden[place + 1 : place + 2])
    )


def _withheld_note(chain: Sequence[Entry], style: Style) -> str:
    many = sum(style.hides(each) for entry in chain for each in entry.parties) > 1
    return str(words("notes")["withheld_many" if many else "withheld"])


def _called(entry: Entry) -> str:
    """What to call an entry in a remark."""
    main = main_party(entry)
    return main.name if main else entry.phrase or label(entry.kind)


def _raised(marks: Iterable[str]) -> str:
    # a space that no line end parts: "¹²" would be the twelfth
    return "\N{NARROW NO-BREAK SPACE}".join(raised(each) for each in dict.fromkeys(marks))


def _today() -> Day:
    now = datetime.now(UTC)
    return Day(now.year, now.month, now.day)
