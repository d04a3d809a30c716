"""Provenance on paper: the chain with its notes, showings, literature, what was asked, what is open.

Its pieces are functions of their own, for papers of sale and of loan to take up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.chain import words as chain_words
from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.diligence import Asked, diligence
from catalogue.argument.chain.holders import tenures
from catalogue.argument.chain.windows import default_windows
from catalogue.argument.prose.lists import write_citations, write_exhibitions
from catalogue.argument.prose.told import provenance_told
from catalogue.argument.prose.wording import Brackets, Form, is_withheld, raised
from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Notice,
    Paragraph,
    Points,
    Table,
)
from catalogue.documents.words import capital, told, words


def provenance(given: Given) -> Document:
    """The provenance of a work for whoever may buy, lend or print it."""
    return given.document(
        "provenance", given.work.number or "", None, tuple(_body(given, "public"))
    )


def provenance_internal(given: Given) -> Document:
    """The provenance of a work with everything that is on record, for the studio."""
    said = words("provenance")
    blocks = (
        Notice(said["inside_title"], said["inside"]),
        *_body(given, "internal"),
    )
    return given.document("provenance-internal", given.work.number or "", None, blocks)


def _body(given: Given, form: Form) -> Iterator[Block]:
    yield Facts(told(given.identity(given.work)))
    yield from the_chain(given, form)
    yield certifies_nothing()
    yield from exhibited(given)
    yield from literature(given)
    yield from years(given)
    yield from what_was_asked(given, form)
    yield Paragraph(words("every")["advice"], "small")


def the_chain(given: Given, form: Form, brackets: Brackets = "life") -> Iterator[Block]:
    """The prose with its notes and the sentence on how it is written; for the studio, what to look at."""
    said = words("provenance")
    yield Heading(said["chain"])
    if not given.work.provenance:
        yield Paragraph(said["none"])
        return
    written = provenance_told(
        given.work, given.party, today=given.today, brackets=brackets, form=form
    )
    yield Paragraph(written.text)
    if written.notes:
        yield Heading(said["notes"], 2)
        notes = (f"{raised(each.mark)} {each.text}" for each in written.notes)
        yield Paragraph("\n".join(notes), "small")
    yield Paragraph(written.says, "small")
    if form == "internal" and written.remarks:
        yield Heading(said["remarks"], 2)
        yield Points(written.remarks)


def exhibited(given: Given) -> Iterator[Block]:
    """The showings, numbered; nothing where there are none."""
    said = words("provenance")
    shown = write_exhibitions(given.work, given.name_of)
    yield from _numbered(said["exhibited"], said["showing"], shown)


def literature(given: Given) -> Iterator[Block]:
    """What speaks of the work, numbered; nothing where nothing does."""
    said = words("provenance")
    cited = write_citations(given.work, given.name_of)
    yield from _numbered(said["literature"], said["cited"], cited)


def years(given: Given) -> Iterator[Block]:
    """How far each window of years is accounted for, in words that accuse nobody."""
    work, said = given.work, words("provenance")
    held = tenures(work, given.name_of)
    asked = [coverage(held, each, work.made) for each in default_windows()]
    if asked:
        yield Heading(said["windows"])
        yield Facts(tuple((each.window.name, _lines(each.says()[:-1])) for each in asked))
        # what a gap is not, once for all of them
        yield Paragraph(asked[0].says()[-1], "small")
    if any(is_withheld(role.written) for event in work.provenance for role in event.parties):
        yield Paragraph(said["withheld"], "small")


def what_was_asked(given: Given, form: Form) -> Iterator[Block]:
    """The list of questions with the facts on file and their days."""
    work, said = given.work, words("provenance")
    asked = diligence(work, tenures(work, given.name_of), given.name_of)
    if asked:
        yield Heading(said["asked"])
        yield Paragraph(said["asked_says"], "small")
        yield Table(
            (said["question"], said["on_file"]),
            tuple((each.question, _on_file(each, form)) for each in asked),
            (5, 8),
        )
        yield Paragraph(chain_words.say("diligence", "always"), "small")


def _on_file(asked: Asked, form: Form) -> str:
    """The facts about one question; how far its years are known stands under the years.

    Before strangers it is not said that nothing is on file: it may be that nothing may be told.
    """
    facts = [each.says for each in asked.facts]
    if asked.coverage:
        facts.append(words("provenance")["see_years"].format(name=asked.coverage.window.name))
    nothing = (
        words("provenance")["nothing"]
        if form == "public"
        else chain_words.say("diligence", "nothing")
    )
    return _lines(facts or [nothing])


def _lines(sentences: Iterable[str]) -> str:
    return "\n".join(map(capital, sentences))


def certifies_nothing() -> Notice:
    """What none of this says, in a frame."""
    said = words("provenance")
    return Notice(said["certifies_title"], said["certifies"])


def _numbered(heading: str, what: str, lines: tuple[str, ...]) -> Iterator[Block]:
    if lines:
        yield Heading(heading)
        yield Table(
            (words("provenance")["number"], what),
            tuple((str(place), line) for place, line in enumerate(lines, 1)),
            (1, 14),
        )
