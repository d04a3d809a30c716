"""Editing is a patch: only the nodes of values that changed are touched in a stored document.

`merge(document, before, after)` describes both records and carries over, key by key, what differs.
Whatever dorse does not know stays as it stood, and so does every value that nobody changed.
"""

from __future__ import annotations

from typing import Any

from catalogue.linked.adoption import Adopted, adopt
from catalogue.linked.contexts import LINKED_ART, OURS, context
from catalogue.linked.documents import as_today, describe
from catalogue.linked.text import Node, nodes_within
from catalogue.record import Record

_SAME_THING = ("content", "value", "_label")


def merge(document: Node, before: Record, after: Record) -> Node:
    """The document with what differs between the two records carried into it; `document` is untouched."""
    old, new = describe(before), describe(after)
    if old == new:
        return document
    adopted = adopt(as_today(document), copy=True)
    patch = _Patch(adopted, old)
    patch.node(adopted.document, old, new)
    return _with_our_terms(adopted.released(patch.changed), document)


def _with_our_terms(changed: Node, before: Node) -> Node:
    """The changed document with our terms in its context, where it came without them and has some now.

    They stand before the terms of whoever wrote it. A key of theirs that we would define and they
    didn't still means nothing.
    """
    said = changed.get("@context")
    listed = said if isinstance(said, list) else [] if said is None else [said]
    if OURS in listed:
        return changed
    ours = context(OURS)["@context"].keys() - context(LINKED_ART)["@context"].keys()
    theirs = _keys(before) & ours
    if not (_keys(changed) - theirs) & ours:
        return changed
    linked_art = [LINKED_ART] if LINKED_ART in listed else []
    nothing = [dict.fromkeys(sorted(theirs))] if theirs else []
    others = [each for each in listed if each != LINKED_ART]
    return {**changed, "@context": [*linked_art, OURS, *nothing, *others]}


def _keys(document: Node) -> set[str]:
    return {key for here in (document, *nodes_within(document)) for key in here}


class _Patch:
    """One merge under way: where stored nodes can be found again when they move."""

    def __init__(self, adopted: Adopted, old: Node) -> None:
        self.changed: set[str] = set()
        self._given = adopted.given
        self._stored = _by_id(adopted.document)
        self._old = _by_id(old)

    def node(self, stored: Node, old: Node, new: Node) -> None:
        """Carry what differs between `old` and `new` into `stored`, key by key."""
        for key in dict.fromkeys((*old, *new)):
            was, shall = old.get(key), new.get(key)
            if was == shall or key == "id":
                continue
            if key not in new:
                self._remove(stored, key, was)
            elif isinstance(shall, list):
                self._list(stored, key, was if isinstance(was, list) else [], shall)
            elif (
                isinstance(was, dict)
                and isinstance(shall, dict)
                and was.get("id") == shall.get("id")
                and isinstance(stored.get(key), dict)
            ):
                self.node(stored[key], was, shall)
            else:
                stored[key] = shall
                self._touched(stored)

    def _list(self, stored: Node, key: str, old: list[Any], new: list[Any]) -> None:
        held = stored.get(key)
        items: list[Any] = held if isinstance(held, list) else [] if held is None else [held]
        were = {_name(item): item for item in old}
        shall = {_name(item) for item in new}
        for item in new:
            was = were.get(_name(item))
            if was == item:
                continue
            place = _by_name(items, item) if was is None else self._find(items, was)
            if place is None:
                items.append(self._arrived(item))
            elif isinstance(items[place], dict):
                self.node(items[place], was if was is not None else {}, item)
            self._touched(stored)
        for item in old:
            if _name(item) not in shall:
                place = self._find(items, item)
                if place is not None:
                    del items[place]
                    self._touched(stored)
        if items:
            stored[key] = items[0] if isinstance(held, dict) and len(items) == 1 else items
        else:
            stored.pop(key, None)

    def _arrived(self, item: Any) -> Any:
        """A node that is new in this place: when it only moved here, all it holds moves with it."""
        address = item.get("id") if isinstance(item, dict) else None
        if not address or address not in self._stored or address not in self._old:
            return item
        moved = self._stored[address]
        self.node(moved, self._old[address], item)
        return moved

    def _remove(self, stored: Node, key: str, was: Any) -> None:
        if isinstance(was, list):
            self._list(stored, key, was, [])
        elif isinstance(was, dict) and isinstance(stored.get(key), dict) and not _is_value(was):
            self._strip(stored, key, was)
        else:
            # A value that goes takes its node along, and whatever else was said there.
            stored.pop(key, None)
        self._touched(stored)

    def _strip(self, stored: Node, key: str, was: Node) -> None:
        """Take out of a single node what we knew of it; drop it when nothing else is said there."""
        held = stored[key]
        for known in was:
            if known not in ("id", "type"):
                self._remove(held, known, was[known])
        if not held.keys() - {"id", "type", "_label"}:
            del stored[key]

    def _find(self, items: list[Any], known: Any) -> int | None:
        """Where an item that was there before stands: by its id, else as the foreign node saying the same."""
        place = _by_name(items, known)
        if place is None and isinstance(known, dict):
            for place, item in enumerate(items):
                if (
                    isinstance(item, dict)
                    and self._is_foreign(item)
                    and _says_the_same(item, known)
                ):
                    return place
            return None
        return place

    def _is_foreign(self, item: Node) -> bool:
        return item.get("id") is None or item["id"] in self._given

    def _touched(self, stored: Node) -> None:
        self.changed.add(str(stored.get("id")))


def _by_id(document: Node) -> dict[str, Node]:
    """The nodes that say more than a reference does, by their ids."""
    found: dict[str, Node] = {}
    for here in nodes_within(document):
        if isinstance(here.get("id"), str) and len(here) > 2:
            found.setdefault(here["id"], here)
    return found


def _is_value(here: Node) -> bool:
    """Whether this is a value's own node (`#<uuid>`), not one that belongs to another."""
    address = str(here.get("id", ""))
    return address.startswith("#") and "/" not in address


def _name(item: Any) -> Any:
    """What an item of a list is known by: its id, else itself."""
    if isinstance(item, dict):
        return item.get("id") or repr(sorted(item.items(), key=repr))
    return item


def _by_name(items: list[Any], wanted: Any) -> int | None:
    """Where an item of that id, or that very item, stands in a list; None where it doesn't."""
    name = _name(wanted)
    return next((place for place, item in enumerate(items) if _name(item) == name), None)


def _says_the_same(item: Node, wanted: Node) -> bool:
    if item.get("type") != wanted.get("type"):
        return False
    return any(key in wanted and item.get(key) == wanted[key] for key in _SAME_THING)
