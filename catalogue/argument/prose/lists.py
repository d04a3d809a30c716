"""Where a painting was shown and what was written about it, a line each, in the order of the trade."""

from __future__ import annotations

from dataclasses import replace

from catalogue.argument.prose.dates_said import say_when
from catalogue.argument.prose.evidence_said import Names, citation_said, said_of
from catalogue.argument.prose.wording import words
from catalogue.record import Citation, Evidence, Exhibition, Work


def write_exhibitions(work: Work, names: Names) -> tuple[str, ...]:
    """The showings, earliest first: town, organiser, title, days, number, and whether a label tells of it.

    >>> from catalogue.measure import read_date
    >>> from catalogue.record import Title
    >>> shown = Exhibition(title="Coast and Harbour", at="Hull", when=read_date("3 March 1928"),
    ...                    catalogue_number="17", shown_as="The Wall")
    >>> called = (Title(text="x", kind="title/descriptive"),)
    >>> write_exhibitions(Work(titles=called, exhibitions=(shown,)), str)
    ('Hull, ‘Coast and Harbour’, 3 March 1928, no. 17, as ‘The Wall’.',)
    """
    return tuple(_exhibition(each, work, names) for each in work.exhibitions)


def write_citations(work: Work, names: Names) -> tuple[str, ...]:
    """Books, catalogues, articles and archives that speak of it."""
    return tuple(_citation(each, work, names) for each in work.citations)


def _exhibition(each: Exhibition, work: Work, names: Names) -> str:
    told = words("exhibitions")
    organiser = names(each.organiser) if each.organiser else ""
    # a place that the organiser's name already says is not said again
    at = each.at if each.at and each.at not in organiser else ""
    facts = (
        at,
        organiser,
        told["title"].format(title=each.title),
        say_when(each.when) if each.when else "",
        told["number"].format(number=each.catalogue_number) if each.catalogue_number else "",
        told["shown_as"].format(title=each.shown_as) if each.shown_as else "",
        told["lent"].format(name=names(each.lender))
        if each.lender and names(each.lender)
        else "",
    )
    return _ended(", ".join(filter(None, facts)), each.evidence, work, names)


def _citation(each: Citation, work: Work, names: Names) -> str:
    return _ended(citation_said(each), each.evidence, work, names)


def _ended(said: str, evidence: tuple[Evidence, ...], work: Work, names: Names) -> str:
    """The line with its evidence in short: "(label I1)", and what else tells of it."""
    marks = {each.id: each.number or "" for each in work.inscriptions}
    numbers = [marks[each.source] for each in evidence if each.source in marks]
    told = [
        said_of(replace(each, strength=None), work, names)
        for each in evidence
        if each.source not in marks and each.kind != "evidence/none-cited"
    ]
    # what the line itself begins with is not said again
    cited = [each for each in told if not said.startswith(each)]
    if numbers:
        label: str = words("exhibitions")["by_label"]
        cited.insert(0, label.format(numbers=", ".join(filter(None, numbers))).strip())
    return f"{said} ({'; '.join(cited)})." if cited else f"{said}."
