"""Redaction as tests ask for it: the nodes that are left of a document, and what stayed home."""

from __future__ import annotations

from catalogue.exchange.withholding.redaction import redacted


def redact(document, document_id, allowed, hidden, lives=None):
    """The nodes, None where the document may not leave, and everything that stayed home."""
    known = {} if lives is None else {"lives": lives}
    found = redacted(document, document_id, allowed, hidden, **known)
    return (found.node() if found.node else None), found.home
