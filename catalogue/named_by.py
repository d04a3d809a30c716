"""Which listed records name another one, kept up with the ledger: nobody looks through all texts for it."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping
from threading import Lock
from typing import Final

from catalogue.following import Following
from catalogue.ledger import Ledger, Revision
from catalogue.linked.text import parse
from catalogue.record.rules import DOCUMENT_ID
from catalogue.terms import AAT, NAMESPACE

_CONTEXTS: Final = (
    "https://linked.art/ns/v1/linked-art.json",
    NAMESPACE.removesuffix("#") + "/",
)
_IN_EVERY_TEXT: Final = (NAMESPACE, AAT, *_CONTEXTS)
"""Addresses that begin so are terms: nearly every text has them, and no record is called so."""

_NOT_THOSE: Final = "|".join(map(re.escape, _IN_EVERY_TEXT))
_CALLED: Final = re.compile(
    rf'"((?:{DOCUMENT_ID})|(?!{_NOT_THOSE})(?:https?:|urn:)[^"\\]*)"'.encode()
)
_FOLLOWED: Final = ("work", "job", "party")


class NamedBy:
    """Who names whom among the records of a studio. Any thread may ask.

    >>> from catalogue.linked.documents import to_jsonld
    >>> from catalogue.linked.text import write
    >>> from catalogue.record import Attribution, Party, PartyName, Work
    >>> her = Party(kind="person", names=(PartyName(text="Ada Penhale"),))
    >>> mill = Work(attributions=(Attribution(artist=her.document, qualifier="qualifier/by"),))
    >>> with Ledger.create(None) as ledger:
    ...     with ledger.change(who="N. Feld", why="a work and its painter") as change:
    ...         for each in (her, mill):
    ...             _ = change.save(each.document, write(to_jsonld(each)), expected=None)
    ...     NamedBy(ledger).naming(her.document) == [mill.document]
    True
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._of_kind = {kind: _Namings(ledger, kind) for kind in _FOLLOWED}

    def naming(self, document_id: str, kind: str = "work") -> list[str]:
        """The listed documents of a kind that name a record, or one that it answers for.

        One that came from elsewhere is named by its address as well.
        """
        found: set[str] = set()
        address = parse(self._ledger.read(document_id).body).get("id")
        for each in {document_id, str(address), *self._ledger.answering_for(document_id)}:
            found.update(self._saying(each, kind))
        found.discard(document_id)
        return sorted(found)

    def get_ready(self) -> None:
        """Look at what was not looked at yet, so that nobody waits for it."""
        for each in self._of_kind.values():
            each.saying("")

    def _saying(self, called: str, kind: str) -> Iterator[str]:
        quoted = f'"{called}"'
        if kind in self._of_kind and _CALLED.fullmatch(quoted.encode()):
            return iter(self._of_kind[kind].saying(called))
        return iter(self._ledger.mentioning(quoted, kind))


class _Namings:
    """The documents of one kind by what they name."""

    def __init__(self, ledger: Ledger, kind: str) -> None:
        self._named = Following(ledger, kind, named_in)
        self._lock = Lock()
        self._turned: Mapping[str, frozenset[str]] = {}
        self._by_name: dict[str, set[str]] = {}

    def saying(self, called: str) -> tuple[str, ...]:
        """The listed documents whose text has this id or address."""
        with self._lock:
            self._keep_up(self._named.now())
            return tuple(self._by_name.get(called, ()))

    def _keep_up(self, named: Mapping[str, frozenset[str]]) -> None:
        before = self._turned
        if named is before:
            return
        for document in before.keys() - named.keys():
            self._let_go(document, before[document])
        for document, names in named.items():
            known = before.get(document)
            if known is not names:
                self._let_go(document, known or frozenset())
                for each in names:
                    self._by_name.setdefault(each, set()).add(document)
        self._turned = named

    def _let_go(self, document: str, names: frozenset[str]) -> None:
        for each in names:
            saying = self._by_name[each]
            saying.discard(document)
            if not saying:
                del self._by_name[each]


def named_in(revision: Revision) -> frozenset[str]:
    """The ids of documents and the addresses elsewhere that a text has, its own among them."""
    # The same few thousand ids stand in all texts: each is held once.
    return frozenset(sys.intern(each[0].decode()) for each in _CALLED.findall(revision.body))
