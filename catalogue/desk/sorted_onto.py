"""The photographs of a card as somebody sorted them: which go to which work, taken in work by work.

Each work is saved as a whole or not at all. A file leaves the tray only after the change that keeps it,
and one that is on file already is never taken twice: so a crash in between loses and doubles nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from catalogue.card import Looked
from catalogue.desk.card_tray import Card
from catalogue.errors import BadData, CatalogueError, NotOnFile
from catalogue.sittings import Frame
from catalogue.studio import Studio
from catalogue.under_way import Progress

FACTS = ("view", "face", "light", "stage")
Typed = Mapping[str, Sequence[str]]


@dataclass(slots=True)
class Group:
    """What goes to one work: its document id, or the title of a new one; each file with what it shows."""

    work: str = ""
    title: str = ""
    chosen: list[tuple[Looked, datetime | None, dict[str, str]]] = field(default_factory=list)


class Unsorted(BadData):
    """Some sittings cannot be taken in as they are sorted; `refusals` says which and why."""

    def __init__(self, refusals: list[BadData]) -> None:
        super().__init__("nothing was taken in")
        self.refusals = refusals


def groups_chosen(
    studio: Studio,
    typed: Typed,
    sorted_out: Sequence[Sequence[Frame]],
    looked: Mapping[str, Looked],
) -> list[Group]:
    """What was chosen on the page, work by work. Raises `Unsorted` with every reason at once."""
    taken = set(typed.get("take", ()))
    groups: dict[tuple[str, str], Group] = {}
    refusals: list[BadData] = []
    for frames in sorted_out:
        chosen = [each for each in frames if each.key in taken]
        if not chosen:
            continue
        first = frames[0].key
        number, title = _said(typed, "work", first), _said(typed, "title", first)
        try:
            work = _work(studio, number, title, chosen)
        except BadData as refused:
            refusals.append(refused)
            continue
        group = groups.setdefault((work, "" if work else title), Group(work, title))
        group.chosen += [
            (looked[each.key], each.at, _facts(typed, each.key, first)) for each in chosen
        ]
    if refusals:
        raise Unsorted(refusals)
    if not groups:
        raise BadData("no photograph is ticked", remedy="tick those that are to be taken in")
    return list(groups.values())


def _work(studio: Studio, number: str, title: str, chosen: Sequence[Frame]) -> str:
    """The document of a work that was named by its number; "" for a new one."""
    which = f"{chosen[0].name} and {len(chosen) - 1} more" if chosen[1:] else chosen[0].name
    if number and title:
        raise BadData(
            f"{which}: of {number}, or of a new work?", remedy="leave one of the two empty"
        )
    if title:
        return ""
    if not number:
        raise BadData(
            f"{which}: nobody said of which work",
            remedy="give its number, or the title of a new work, or untick them",
        )
    try:
        return studio.work(number).document_id
    except NotOnFile:
        raise BadData(
            f"{which}: no work has the number {number!r}", remedy="look it up under Find"
        ) from None


def _facts(typed: Typed, key: str, first: str) -> dict[str, str]:
    """What a photograph shows: said of itself, else of its sitting; what nobody said is left open."""
    said = {
        name: _said(typed, name, key) or _said(typed, f"all-{name}", first) for name in FACTS
    }
    return {name: value for name, value in said.items() if value}


def _said(typed: Typed, name: str, key: str) -> str:
    values = typed.get(f"{name}-{key}", ())
    return values[0].strip() if values else ""


def take_in(
    studio: Studio,
    own: Card,
    groups: Sequence[Group],
    *,
    who: str,
    by: str | None,
    progress: Progress,
) -> list[str]:
    """Take in what was chosen, work by work; the digests of the photographs. What is refused stays there."""
    kept: list[str] = []
    for done, group in enumerate(groups):
        progress(done, len(groups))
        there = {each.key: each for each in own.looked()}
        new = [each for each in group.chosen if each[0].key in there]
        on_file = [each[0] for each in new if studio.on_file_as(each[0].sha256)]
        new = [each for each in new if each[0] not in on_file]
        row: dict[str, Any] = {
            "on_file": [each.name for each in on_file],
            "photos": [],
            "refused": "",
        }
        try:
            row |= _taken(studio, own, group, new, who, by) if new else {}
        except CatalogueError as refused:
            row["refused"] = f"{refused.args[0]} {refused.remedy}".strip()
        else:
            own.drop(each.key for each in on_file)
            own.drop(each[0].key for each in new)
            kept += [each[0].sha256 for each in new]
        own.tell(row)
    return kept


def _taken(
    studio: Studio, own: Card, group: Group, new: Sequence[Any], who: str, by: str | None
) -> dict[str, Any]:
    photos = [
        (looked.photo(at, by, **facts), own.path(looked.key)) for looked, at, facts in new
    ]
    if group.work:
        saved = studio.add_photos(studio.read(group.work), photos, who=who)
    else:
        saved = studio.new_work(title=group.title, who=who, photos=photos)
    named = {each.sha256: each.number for each in saved.record.photos}
    return {
        "work": saved.document_id,
        "number": saved.record.number,
        "title": str(saved.record.title()),
        "photos": [[looked.name, named.get(looked.sha256)] for looked, _, _ in new],
    }
