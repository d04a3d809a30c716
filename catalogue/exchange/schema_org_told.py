"""The description of a work for a web page: what schema.org has no property for, in plain sentences."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.outgoing import Sender
from catalogue.places import table
from catalogue.record import Attribution, Inscription, ProvenanceEvent, Work
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
        (
            "exhibited",
            (
                _listed(
                    each.title,
                    each.at,
                    each.when.written if each.when else None,
                    each.catalogue_number
                    and words["number"].format(number=each.catalogue_number),
                )
                for each in work.exhibitions
            ),
        ),
        (
            "published",
            (
                _listed(each.text, each.pages and words["pages"].format(pages=each.pages))
                for each in work.citations
            ),
        ),
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
    text = " / ".join(preferred.reading().diplomatic().splitlines()) if preferred else ""
    kind, face = label(inscription.kind), label(inscription.face)
    told: str = words["marked" if text else "unread"].format(kind=kind, face=face, text=text)
    return told


def _step(event: ProvenanceEvent, sender: Sender) -> str:
    names = (
        each.written or (_called(each.party, sender) if each.party else None)
        for each in event.parties
    )
    when = (event.when.written or event.when.edtf) if event.when else None
    sure = (
        None if event.certainty in (None, "certainty/certain") else label(event.certainty or "")
    )
    return _listed(*names, event.at, label(event.kind), when, sure)


def _called(party: str, sender: Sender) -> str:
    return party if is_address(party) else sender.labels(party)[1]


def _listed(*parts: str | None) -> str:
    return ", ".join(filter(None, parts))


def _sentence(told: str) -> str:
    return f"{told[:1].upper()}{told[1:]}".rstrip(".") + "."
