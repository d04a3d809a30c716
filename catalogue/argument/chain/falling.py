"""What falls when an inscription, paper or citation goes, or when an inscription is read anew.

Nothing here is done: it says beforehand what would lose its ground, so that a person can decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from catalogue.argument.chain import words
from catalogue.argument.chain.grades import NONE_CITED, best, cited, direct_stands
from catalogue.argument.chain.resting import Supported, source_of, supports
from catalogue.argument.statements import FoundStatement, find_statements
from catalogue.errors import BadData
from catalogue.measure import fold
from catalogue.reading import Reading, read
from catalogue.record import Evidence, Inscription, ProvenanceEvent, Statement, Transcript, Work
from catalogue.terms import label


@dataclass(frozen=True, slots=True, kw_only=True)
class Falls:
    """What would fall without a source. `fallen` has nothing else cited, `weakened` keeps something.

    `statements` are decisions about its readings, which go with it; `passages` the neighbours in the
    chain that would no longer be shown to have passed directly; `naming` whatever else points at it.
    """

    source: str
    fallen: tuple[Supported, ...]
    weakened: tuple[Supported, ...]
    statements: tuple[Supported, ...]
    passages: tuple[tuple[ProvenanceEvent, ProvenanceEvent], ...]
    naming: tuple[Supported, ...]

    @property
    def anything(self) -> bool:
        """Whether anything would fall or be weakened."""
        return bool(self.fallen or self.weakened or self.statements or self.passages)

    def says(self) -> tuple[str, ...]:
        """What would fall, in words, the heaviest first."""
        return tuple(_says(self))


@dataclass(frozen=True, slots=True)
class Reread:
    """A decision about a statement, held against a new reading.

    `there` is whether its letters are still to be found; `now` is what the new reading has of that kind where
    they are not, as far as one thing of the kind is new there.
    """

    statement: Statement
    there: bool
    now: FoundStatement | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rereading:
    """What a new reading of an inscription does to what rests on the old one."""

    fallen: tuple[Reread, ...]
    kept: tuple[Reread, ...]
    new: tuple[FoundStatement, ...]
    look_again: tuple[Supported, ...]

    def says(self) -> tuple[str, ...]:
        """What falls and what wants another look, in words."""
        return tuple(_says_of_reading(self))


def would_fall(work: Work, wanted: str) -> Falls:
    """What would lose its ground if an inscription, paper or citation (its number or id) went.

    Raises `NotOnFile`.
    """
    source = source_of(work, wanted)
    found = supports(work, wanted)
    borne = [each for each in found if each.sort in ("event", "exhibition", "citation")]
    after = without(work, source.id)
    was = {each.id: each for each in work.provenance}
    passages = tuple(
        (was[first.id], was[second.id])
        for first, second in zip(after.provenance, after.provenance[1:], strict=False)
        if direct_stands(was[first.id], was[second.id]) and not direct_stands(first, second)
    )
    return Falls(
        source=source.id,
        fallen=tuple(each for each in borne if each.alone),
        weakened=tuple(each for each in borne if not each.alone),
        statements=tuple(each for each in found if each.sort == "statement"),
        passages=passages,
        naming=tuple(each for each in found if each.sort == "other"),
    )


def without(work: Work, wanted: str) -> Work:
    """The work as it would be without a source (its number or id), and without resting on it.

    For working out what would follow: what else points at it is left as it is. Raises `NotOnFile`.
    """
    source = source_of(work, wanted)
    return replace(
        work,
        inscriptions=tuple(each for each in work.inscriptions if each.id != source.id),
        papers=tuple(each for each in work.papers if each.id != source.id),
        citations=tuple(
            _not_resting(each, source.id) for each in work.citations if each.id != source.id
        ),
        exhibitions=tuple(_not_resting(each, source.id) for each in work.exhibitions),
        provenance=tuple(_not_resting(each, source.id) for each in work.provenance),
    )


def read_as(work: Work, inscription: str, markup: str) -> Work:
    """The work as it would be if what is shown of an inscription were read like this.

    Decisions whose letters are gone go with them. Raises `NotOnFile`, and `BadData` as `re_read`.
    """
    found = re_read(work, inscription, markup)
    source = work.inscription(inscription)
    gone = {each.statement.id for each in found.fallen}
    new = Transcript(markup=markup, preferred=True)
    others = (replace(each, preferred=False) for each in source.transcripts)
    anew = replace(
        source,
        transcripts=(*others, new),
        statements=tuple(each for each in source.statements if each.id not in gone),
    )
    rest = (each for each in work.inscriptions if each.id != source.id)
    return replace(work, inscriptions=(*rest, anew))


def re_read(work: Work, inscription: str, markup: str) -> Rereading:
    """What of the decisions about an inscription still stands when it is read like this.

    A decision stands where its letters are seen in the new reading too, in capitals or not, anywhere
    on the label. Raises `NotOnFile`, and `BadData` for a number of something else.
    """
    source = source_of(work, inscription)
    if not isinstance(source, Inscription):
        raise BadData(f"{inscription} is not an inscription", remedy="only these are read")
    reading = read(markup)
    found = find_statements(reading)
    before = _said_before(source)
    new = tuple(each for each in found if (each.kind, fold(each.written)) not in before)
    held = [_reread(each, reading, found, new) for each in source.statements if each.stands]
    cites = tuple(
        each
        for each in supports(work, source.id)
        if each.sort in ("event", "exhibition", "citation")
    )
    return Rereading(
        fallen=tuple(each for each in held if not each.there),
        kept=tuple(each for each in held if each.there),
        new=new,
        look_again=cites if _seen_anew(source, reading) else (),
    )


def _reread(
    statement: Statement,
    reading: Reading,
    found: tuple[FoundStatement, ...],
    new: tuple[FoundStatement, ...],
) -> Reread:
    written = fold(statement.written)
    if any(fold(each.written) == written for each in found) or _stands_in(written, reading):
        return Reread(statement, there=True)
    alike = [each for each in new if each.kind == statement.kind]
    return Reread(statement, there=False, now=alike[0] if len(alike) == 1 else None)


def _stands_in(written: str, reading: Reading) -> bool:
    """Whether these words stand in a reading as words, not as a part of longer ones."""
    text = f" {' '.join(fold(reading.seen()).split())} "
    within = " ".join(written.split())
    at = text.find(within)
    while at > 0:
        end = at + len(within)
        if not (text[at - 1].isalnum() or text[end : end + 1].isalnum()):
            return True
        at = text.find(within, at + 1)
    return False


def _said_before(source: Inscription) -> set[tuple[str, str]]:
    shown = source.preferred()
    return {
        (each.kind, fold(each.written))
        for each in (find_statements(shown.reading()) if shown else ())
    }


def _seen_anew(source: Inscription, reading: Reading) -> bool:
    """Whether the new reading sees other letters than the one that is shown."""
    shown = source.preferred()
    return shown is None or fold(shown.reading().seen()) != fold(reading.seen())


def _not_resting(value: Any, source: str) -> Any:
    """An event, exhibition or citation without its evidence from one source."""
    left = tuple(each for each in value.evidence if each.source != source)
    if len(left) == len(value.evidence):
        return value
    if not cited(left) and isinstance(value, ProvenanceEvent):
        left = (Evidence(kind=NONE_CITED),)
    return replace(value, evidence=left)


def _says(falls: Falls) -> Iterator[str]:
    for each in falls.fallen:
        yield words.say("falls", each.sort, what=each.called)
    for first, second in falls.passages:
        numbers = {"first": first.number or "", "second": second.number or ""}
        yield words.say("falls", "passage", **numbers)
    for each in falls.weakened:
        grade = best(each.left)
        said = label(grade) if grade else words.table("falls")["ungraded"]
        yield words.say("falls", "weakened", what=each.called, left=len(each.left), grade=said)
    for each in falls.statements:
        yield words.say("falls", "statement", written=each.called)
    for each in falls.naming:
        yield words.say("falls", "points_here", what=each.called, field=each.field)


def _says_of_reading(found: Rereading) -> Iterator[str]:
    for each in found.fallen:
        yield words.say("falls", "letters_gone", written=each.statement.written)
        if each.now:
            yield words.say("falls", "letters_other", now=each.now.written)
    for cite in found.look_again:
        yield words.say("falls", "look_again", what=cite.called)
