"""The full graph as JSON-LD: everything that a profile lets out, with our terms explained inside.

The stored text is the export but for its addresses, so it is rewritten as text: that is what makes
ten thousand records leave in seconds. A quote within a JSON text is escaped, so `"id":"` can only
be a key and its value.
"""

from __future__ import annotations

import re
from functools import cache

from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked.addresses import absolute
from catalogue.linked.contexts import LINKED_ART, OURS, context
from catalogue.linked.documents import CONTEXTS
from catalogue.linked.node import many
from catalogue.linked.text import Node, parse
from catalogue.linked.text import write as write_text
from catalogue.record.rules import KINDS, UUID

SAYS = "Full-graph JSON-LD: all that dorse knows, in CIDOC CRM terms, with our own terms explained."

_ANY_KIND = "|".join(KINDS)
_ROOT = re.compile(rf'"id":"((?:{_ANY_KIND})/({UUID}))","type":"(\w+)"')
_ACTOR = re.compile(rf'\{{"id":"(party/{UUID})","type":"Actor"\}}')
_WITHIN = re.compile(rf'"id":"#({UUID})/')
_ELSEWHERE = re.compile(rf'"id":"({_ANY_KIND})/({UUID})(#{UUID}[^"]*)"')
_TOLD = re.compile(rf'"id":"(?:{_ANY_KIND})/{UUID}#({UUID})(/?)')
_TYPES = {
    "work": "HumanMadeObject",
    "party": "Actor",
    "job": "Activity",
    "reference": "InformationObject",
}
_DOCUMENT = re.compile(rf'"id":"(?:{_ANY_KIND})/({UUID})"')
_STORED_CONTEXT = write_text({"@context": CONTEXTS}).decode()[:-1] + ","
_STORED_CONTEXTS = _STORED_CONTEXT[: -len("],")]
"""How a document begins that has our terms and perhaps those of others."""


def write(leaving: Leaving, sender: Sender) -> Files:
    """One file for each document: `<stem>.json`, one line, UTF-8."""
    text = leaving.body.decode()
    ours = text.startswith(_STORED_CONTEXT) and '"equivalent"' not in text
    content = (
        _as_text(text, sender)
        if ours
        else write_text(_explained(named(leaving, sender), leaving, sender)).decode()
    )
    return [(f"{leaving.stem}.json", (content + "\n").encode())]


@cache
def _inline_context() -> str:
    """The opening of an export: the published context by address, our own terms in full."""
    return write_text({"@context": [LINKED_ART, context(OURS)["@context"]]}).decode()[:-1] + ","


def _as_text(text: str, sender: Sender) -> str:
    text = _filled_in(text, sender)
    body = text[len(_STORED_CONTEXT) :]
    root = _ROOT.match(body)
    if root and sender.base:
        # What was sent out under urn:uuid: earlier must be known again.
        same = f',"equivalent":[{{"id":"urn:uuid:{root[2]}","type":"{root[3]}"}}]'
        body = body[: root.end()] + same + body[root.end() :]
    if sender.base:
        base = sender.base.rstrip("/") + "/"
        own = f"{base}{root[1]}" if root else base
        body = body.replace('"id":"#', f'"id":"{own}#')
        for kind in KINDS:
            body = body.replace(f'"id":"{kind}/', f'"id":"{base}{kind}/')
    else:
        body = _WITHIN.sub(r'"id":"urn:uuid:\1#', body)
        body = _TOLD.sub(lambda of: f'"id":"urn:uuid:{of[1]}{"#" if of[2] else ""}', body)
        body = body.replace('"id":"#', '"id":"urn:uuid:')
        body = _DOCUMENT.sub(r'"id":"urn:uuid:\1"', body)
    return _inline_context() + body


def _filled_in(text: str, sender: Sender) -> str:
    """The text with what others cannot look up: names, and without a base whose values are spoken of.

    A value of another document goes by its own UUID then, which does not say where it stands.
    """
    text = _ACTOR.sub(lambda found: _named(found[1], sender), text)
    return text if sender.base else _ELSEWHERE.sub(_with_its_document, text)


def _with_its_document(found: re.Match[str]) -> str:
    kind, uuid, value = found.groups()
    within = f'{{"id":"{kind}/{uuid}","type":"{_TYPES[kind]}"}}'
    return f'"id":"{kind}/{uuid}{value}","within":{within}'


def _named(party: str, sender: Sender) -> str:
    """A reference to a party with the type and the name that its own document has."""
    kind, label = sender.labels(party)
    return write_text({"id": party, "type": kind, "_label": label}).decode()


def named(leaving: Leaving, sender: Sender) -> Node:
    """The document as it leaves, node by node, its ids still those of the studio.

    Whom it speaks of is named; under a base it says what it is called without one.
    """
    text = leaving.body.decode()
    ours = text.startswith(_STORED_CONTEXTS)
    document = parse(_filled_in(text, sender)) if ours else leaving.document
    own = str(document.get("id", ""))
    if sender.base is None or own != leaving.document_id:
        return document
    same = {"id": f"urn:uuid:{own.partition('/')[2]}", "type": many(document, "type")[0]}
    said = [each for each in many(document, "equivalent") if each != same]
    first = ("@context", "id", "type", "equivalent")
    head: Node = {key: document[key] for key in first[:3] if key in document}
    rest = {key: held for key, held in document.items() if key not in first}
    return {**head, "equivalent": [same, *said], **rest}


def _explained(document: Node, leaving: Leaving, sender: Sender) -> Node:
    """The same for a document in another shape than ours: full addresses, our terms written out."""
    document = absolute(document, sender.base, leaving.document_id)
    said = document.get("@context")
    if isinstance(said, list) and OURS in said:
        inline = [context(OURS)["@context"] if each == OURS else each for each in said]
        document = {**document, "@context": inline}
    return document
