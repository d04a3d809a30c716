"""What becomes of an export in which the last scan found something: refused, or allowed by name.

What stands in a released reading, in a published step of the provenance or, as a name, in the open
record of whom it belongs to is evidence as well as a secret: somebody may let it leave this once, with
a reason. Everything else is taken out of the record, or the export does not leave.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from catalogue.errors import BadSetting, MayNotLeave
from catalogue.exchange.scanning.last_scan import Hit, LastScan
from catalogue.exchange.scanning.secrets_in import Secret
from catalogue.exchange.scanning.words_in_files import all_words, words, words_of
from catalogue.places import table
from catalogue.record import (
    Attribution,
    PartyName,
    ProvenanceEvent,
    Record,
    Reference,
    Statement,
    Transcript,
)

_MAY_BE_ALLOWED = (Transcript, Statement, ProvenanceEvent, PartyName, Attribution)
SHOWN = 12


def checked(allow: Mapping[str, str]) -> dict[str, str]:
    """The allowances with tidy names. Raises `BadSetting` for one without a name or a reason."""
    found = {}
    for name, reason in allow.items():
        tidy, why = " ".join(name.split()), " ".join(reason.split())
        if not tidy or not why:
            raise BadSetting(
                f"the allowance {name!r} needs a name and a reason",
                remedy='such as "Hollis & Trewin=printed on the label that is exported"',
            )
        found[tidy] = why
    return found


def judge(
    scan: LastScan,
    leaving: Iterable[Record],
    allow: Mapping[str, str],
    called: Callable[[str], str],
) -> dict[str, str]:
    """The allowances that were made use of, by name, with their reasons.

    `leaving` are the records as they leave, `called` tells what a record is called in which a secret stands.
    Raises `MayNotLeave` where anything was found that is not allowed.
    """
    if not scan.found:
        return {}
    may = _may_be_allowed(scan, leaving)
    given = _given(scan, allow)
    used: dict[str, str] = {}
    refused: set[Secret] = set()
    for secret in scan.found:
        name = given.get(secret)
        if name is not None and secret in may:
            used[name] = allow[name]
        else:
            refused.add(secret)
    if refused:
        raise _refusal(scan, refused, may, called)
    return used


def _given(scan: LastScan, allow: Mapping[str, str]) -> dict[Secret, str]:
    """What somebody allowed, by the name they said: whoever allows one name of a party allows the others."""
    said = {tuple(sorted(words_of(name))): name for name in allow}
    named = {secret: said.get(tuple(sorted(words_of(secret.text)))) for secret in scan.found}
    parties = {secret.of: name for secret, name in named.items() if name and secret.of}
    found = {secret: name or parties.get(secret.of) for secret, name in named.items()}
    return {secret: name for secret, name in found.items() if name}


def _may_be_allowed(scan: LastScan, leaving: Iterable[Record]) -> set[Secret]:
    """What stands nowhere but where it is evidence."""
    names = {
        secret: frozenset(words_of(secret.text))
        for secret in scan.found
        if secret not in scan.in_names
    }
    evident: set[Secret] = set()
    elsewhere: set[Secret] = set()
    for record in leaving if names else ():
        for evidence, text in _texts(record):
            encoded = text.encode("utf-8", "replace")
            here = {*words(encoded), *all_words(encoded)}
            for secret, wanted in names.items():
                if wanted <= here:
                    (evident if evidence else elsewhere).add(secret)
    return evident - elsewhere


def _texts(value: Any, *, evidence: bool = False) -> Iterator[tuple[bool, str]]:
    """Every text of a record, and whether it is one in which a name may be allowed."""
    if isinstance(value, str):
        yield evidence, value
    elif isinstance(value, tuple):
        for each in value:
            yield from _texts(each, evidence=evidence)
    elif isinstance(value, Reference):
        yield False, str(value)
    elif is_dataclass(value):
        within = evidence or isinstance(value, _MAY_BE_ALLOWED)
        for each in fields(value):
            yield from _texts(getattr(value, each.name), evidence=within)


def _refusal(
    scan: LastScan, refused: set[Secret], may: set[Secret], called: Callable[[str], str]
) -> MayNotLeave:
    says, kinds = table("last_scan.toml")["says"], table("last_scan.toml")["kinds"]
    hits = [hit for hit in scan.hits if hit.secret in refused]
    hits = hits or [hit for secret, hit in scan.found.items() if secret in refused]

    def said(hit: Hit) -> str:
        told: str = says["hit"].format(
            file=hit.file,
            where=f", {hit.where}" if hit.where else "",
            kind=kinds[hit.secret.kind],
            text=hit.secret.text,
            stands_in=called(hit.secret.stands_in),
            around=hit.around,
        )
        return told

    lines = [said(hit) for hit in hits[:SHOWN]]
    if len(hits) > SHOWN:
        lines.append(says["more"].format(count=len(hits) - SHOWN))
    many = says["one"] if len(hits) == 1 else says["several"].format(count=len(hits))
    allowable = sorted({each.text for each in refused & may})
    remedy = says["mend"]
    if allowable:
        remedy = says["may"].format(names=", ".join(allowable)) + "; " + remedy
    return MayNotLeave(
        "\n  ".join([says["refused"].format(many=many), *lines]),
        hits=tuple(hits),
        allowable=tuple(allowable),
        remedy=remedy,
    )
