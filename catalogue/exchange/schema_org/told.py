"""The description of a work for a web page: what schema.org has no property for, in plain sentences."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.outgoing import Sender
from catalogue.places import table
from catalogue.record import (
    Attribution,
    Citation,
    Exhibition,
    Inscription,
    PartyRole,
    ProvenanceEvent,
    Work,
)
from catalogue.record.rules import is_address
from catalogue.terms import label

_EXACTLY = "qualifier/by"


def qualified(attribution: Attribution) -> bool:
    """Whether the words say less than that it is by them."""
    return attribution.qualifier != _EXACTLY


def described(work: Work, sender: Sender) -> str:
    """All sentences about the work, a paragraph each."""
    return "\n\n".join(_paragraphs(work, sender))


def _paragraphs(work: Work, sender: Sender) -> Iterator[str]:
    words = table("schema_org.toml")["words"]
    shown = work.attribution()
    if shown is not None and qualified(shown):
        yield _sentence(_attributed(shown, sender))
    if work.made is not None:
        yield words["made"].format(date=work.made.written or work.made.edtf)
    left_out = (*table("schema_org.toml")["credit"], *table("schema_org.toml")["rights"])
    yield from (each.text for each in work.notes if each.kind not in left_out)
    for which, parts in (
        ("marks", (_mark(each) for each in work.inscriptions)),
        ("provenance", (_step(each, sender) for each in work.provenance)),
        ("exhibited", map(_shown, work.exhibitions)),
        ("published", (_listed(each.text, _pages(each)) for each in work.citations)),
    ):
        told = "; ".join(filter(None, parts))
        if told:
            yield words[which].format(all=told)


def _attributed(attribution: Attribution, sender: Sender) -> str:
    words = table("schema_org.toml")["words"]
    if attribution.written:
        return attribution.written
    if attribution.artist is None:
        unknown: str = words["unknown"]
        return unknown
    name = _called(attribution.artist, sender)
    told: str = words["attribution"].format(qualifier=label(attribution.qualifier), name=name)
    return told


def _mark(inscription: Inscription) -> str:
    words = table("schema_org.toml")["words"]
    preferred = inscription.preferred()
    text = (
        " / ".join(filter(str.strip, preferred.reading().diplomatic().splitlines()))
        if preferred
        else ""
    )
    kind, face = label(inscription.kind), label(inscription.face)
    told: str = words["marked" if text else "unread"].format(kind=kind, face=face, text=text)
    return told


def _step(event: ProvenanceEvent, sender: Sender) -> str:
    """`1911: sale, seller Ada Penhale, buyer private collection, Ghent (probable)`."""
    words = table("schema_org.toml")["words"]
    when = (event.when.written or event.when.edtf) if event.when else None
    told = _listed(
        label(event.kind), *(_in_role(each, sender) for each in event.parties), event.at
    )
    if event.certainty not in (None, "certainty/certain"):
        told = words["doubt"].format(told=told, certainty=label(event.certainty or ""))
    return words["dated"].format(date=when, told=told) if when else told


def _in_role(somebody: PartyRole, sender: Sender) -> str:
    name = somebody.written or (_called(somebody.party, sender) if somebody.party else "")
    role = None if somebody.role == "capacity/unknown" else label(somebody.role)
    return " ".join(filter(None, (role, name))) if name else ""


def _shown(shown: Exhibition) -> str:
    words = table("schema_org.toml")["words"]
    when = (shown.when.written or shown.when.edtf) if shown.when else None
    number = shown.catalogue_number and words["number"].format(number=shown.catalogue_number)
    return _listed(shown.title, shown.at, when, number)


def _pages(citation: Citation) -> str | None:
    """Pages as one cites them; what is no page ("lot 118") stands as it is."""
    pages = citation.pages
    if pages is None or not pages[:1].isdigit():
        return pages
    told: str = table("schema_org.toml")["words"]["pages"].format(pages=pages)
    return told


def _called(party: str, sender: Sender) -> str:
    return party if is_address(party) else sender.labels(party)[1]


def _listed(*parts: str | None) -> str:
    return ", ".join(filter(None, parts))


def _sentence(told: str) -> str:
    return f"{told[:1].upper()}{told[1:]}".rstrip(".") + "."
