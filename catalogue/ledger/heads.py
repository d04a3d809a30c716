"""How a document stands after an entry: the one rule, for saving and for verifying alike."""

from __future__ import annotations

from collections.abc import MutableMapping
from dataclasses import replace

from catalogue.ledger.values import Entry, Head


def move_on(heads: MutableMapping[str, Head], seq: int, place: int, entry: Entry) -> None:
    """Let `heads` say what is so after `entry`, which is number `place` of change `seq`.

    An entry about a document that `heads` does not hold moves nothing.

    >>> heads = {}
    >>> move_on(heads, 1, 1, Entry("save", document="work/7", revision=1))
    >>> move_on(heads, 2, 1, Entry("withdraw", document="work/7"))
    >>> heads["work/7"].revision, heads["work/7"].listed, heads["work/7"].touched
    (1, False, 2)
    """
    if entry.document is None:
        return
    head = heads.get(entry.document)
    if entry.act == "save":
        revision = entry.revision or 0
        heads[entry.document] = (
            Head(entry.document, revision, seq, place, seq)
            if head is None
            else replace(head, revision=revision, seq=seq, place=place, touched=seq)
        )
        return
    if head is None:
        return
    match entry.act:
        case "withdraw" | "reinstate":
            head = replace(head, withdrawn=entry.act == "withdraw")
        case "merge" | "unmerge":
            for other in (entry.target, head.merged_into):
                if other is not None and other in heads:
                    heads[other] = replace(heads[other], touched=seq)
            head = replace(head, merged_into=entry.target)
    heads[entry.document] = replace(head, touched=seq)
