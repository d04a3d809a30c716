"""What an event rests on, in the words of a footnote: what it is, where, when it was seen, its grade."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from catalogue.argument.chain.grades import cited, marks_alone, marks_of
from catalogue.argument.chain.words import day as day_in_words
from catalogue.argument.covering import side_of
from catalogue.argument.prose.wording import capital, words
from catalogue.record import Citation, Evidence, Inscription, Note, Paper, ProvenanceEvent, Work
from catalogue.surface import field_in_words, nine_field
from catalogue.terms import label

Names = Callable[[str], str]
LONGEST_QUOTE = 90
"""Letters of a reading that a footnote quotes; the whole stands in the record."""

_BAR = "face/stretcher-bar"


def footnotes(event: ProvenanceEvent, work: Work, names: Names) -> Iterator[str]:
    """The footnotes of an event, one for each thing it rests on; its notes stand with the last.

    One that rests on nothing, and is doubtful, says that why is not on record.
    """
    held = cited(event.evidence)
    said = [said_of(each, work, names) for each in held]
    if held and marks_alone(event, marks_of(work)):
        said[-1] = f"{said[-1]}; {words('notes')['presence']}"
    if not held:
        told = words("notes")
        doubtful = event.certainty in words("certainty")
        said.append(told["none_cited"] + (f"; {told['why_missing']}" if doubtful else ""))
    if event.certainty == "certainty/doubtful":
        said[-1] = f"{said[-1]}; {words('notes')['doubtful']}"
    yield from (_sentence(each) for each in said[:-1])
    yield " ".join((_sentence(said[-1]), *_texts(event.notes)))


def said_of(evidence: Evidence, work: Work, names: Names) -> str:
    """One piece of evidence in words, small at the beginning.

    >>> mark = Inscription(number="I1", kind="inscription/label", face="face/back")
    >>> held = Evidence(kind="evidence/inscription", source=mark.id, strength="strength/secondary")
    >>> from catalogue.record import Title
    >>> said_of(held, Work(titles=(Title(text="x", kind="title/descriptive"),), inscriptions=(mark,)), str)
    'label (I1), verso; secondary evidence'
    """
    told = words("notes")
    every: tuple[Inscription | Paper | Citation, ...] = (
        *work.inscriptions, *work.papers, *work.citations,
    )  # fmt: skip
    source = next((each for each in every if each.id == evidence.source), None)
    match source:
        case Inscription():
            what = inscription_said(source, work)
        case Paper():
            what = _paper(source, names)
        case Citation():
            what = citation_said(source)
        case _:
            what = "" if evidence.text else label(evidence.kind)
    strength = (
        told["strength"].format(strength=label(evidence.strength)) if evidence.strength else ""
    )
    text = evidence.text.rstrip(". ") if evidence.text else ""
    return "; ".join(each for each in (what, text, strength) if each)


def inscription_said(mark: Inscription, work: Work) -> str:
    """A label or mark: what it is, on which side and where, what it reads, when it was last seen."""
    told = words("notes")
    what = label(mark.kind) + (f" ({mark.number})" if mark.number else "")
    where = (told["faces"].get(f"face/{side_of(mark.face)}", ""), _position(mark, work))
    reads, read_on = "", None
    if (shown := mark.preferred()) is not None:
        reads, read_on = _quoted(shown.reading().diplomatic()), shown.on
    last = mark.latest()
    seen = (last.on if last else None) or read_on
    facts = (
        what,
        *where,
        told["reads"].format(text=reads) if reads else "",
        told["seen"].format(day=day_in_words(seen)) if seen else "",
    )
    return ", ".join(each for each in facts if each)


def citation_said(citation: Citation) -> str:
    """A book or archive, with its pages and whether it shows the painting."""
    told = words("citations")
    pages = citation.pages or ""
    if pages and pages[0].isdigit():
        pages = told["pages"].format(pages=pages)
    shown = told["illustrated"] if citation.illustrated else ""
    return ", ".join(each for each in (citation.text.rstrip(". "), pages, shown) if each)


def _position(mark: Inscription, work: Work) -> str:
    """Which bar, which part of the side, as far as it was measured."""
    sheet, side = work.sheet, side_of(mark.face)
    if mark.face == _BAR:
        return f"{_bar(mark, work)}{label(mark.face)}"
    named = "" if mark.face in ("face/front", "face/back") else label(mark.face)
    if named or mark.place is None or sheet is None:
        return named
    return field_in_words(mark.place, sheet, side)


def _bar(mark: Inscription, work: Work) -> str:
    if mark.place is None or work.sheet is None:
        return ""
    row, _, column = nine_field(mark.place, work.sheet).partition(" ")
    named: dict[str, str] = words("notes")["bars"]
    said = named.get(row) or named.get(column) or ""
    return f"{said} " if said else ""


def _quoted(text: str) -> str:
    """A reading in one line, cut where it is long."""
    line = " / ".join(part.strip() for part in text.splitlines() if part.strip())
    return line if len(line) <= LONGEST_QUOTE else f"{line[:LONGEST_QUOTE].rstrip()} …"


def _paper(paper: Paper, names: Names) -> str:
    what = label(paper.kind) + (f" ({paper.number})" if paper.number else "")
    sender = names(paper.sender) if paper.sender else ""
    day = day_in_words(paper.on) if paper.on else ""
    return ", ".join(each for each in (what, f"‘{paper.title}’", sender, day) if each)


def _texts(notes: Iterable[Note]) -> Iterator[str]:
    """Notes of an event; before strangers only those that a person released have come this far."""
    return (_sentence(each.text) for each in notes)


def _sentence(text: str) -> str:
    return capital(text) if text.endswith((".", "!", "?", "…")) else f"{capital(text)}."
