"""The small forms of a work's folder: each makes the changed work from the one that was read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

from flask import request

from catalogue.desk import forms
from catalogue.desk.asking import at_work, reader, studio
from catalogue.errors import BadData, NotOnFile
from catalogue.record import Attribution, Note, Part, Size, Title, Work
from catalogue.record.common import SIZE_MEASURES

V = TypeVar("V", bound=Title | Attribution | Size | Part | Note)
UNKNOWN = "qualifier/unknown"


def title(work: Work) -> Work:
    """Add a title, change one, take one away."""
    before = _meant(work.titles)
    if forms.flag("remove"):
        return replace(work, titles=_without(work.titles, before))
    fields: dict[str, Any] = {
        "text": _needed("text"),
        "kind": _needed("kind"),
        "language": forms.text("language"),
        "preferred": forms.flag("preferred") or not work.titles,
    }
    after = replace(before, **fields) if before else Title(**fields)
    return replace(work, titles=_one_preferred(_with(work.titles, after), after))


def made(work: Work) -> Work:
    """Say when it was made, as one would write it."""
    typed = forms.text("made")
    if work.made is not None and typed == work.made.written:
        return work
    return replace(work, made=studio().date(typed) if typed else None)


def medium(work: Work) -> Work:
    """Say what it is made with, in words and as terms."""
    offered = set(request.form.getlist("offered"))
    # Terms from other people's vocabularies are not offered, so they can't be unticked either.
    others = tuple(each for each in work.materials if each not in offered)
    chosen = tuple(request.form.getlist("materials"))
    return replace(work, medium=forms.text("medium"), materials=(*others, *chosen))


def attribution(work: Work) -> Work:
    """Add an attribution, change one, take one away; who is named and not on file becomes a party."""
    before = _meant(work.attributions)
    if forms.flag("remove"):
        return replace(work, attributions=_without(work.attributions, before))
    qualifier, name = _needed("qualifier"), forms.text("artist")
    if name is None and qualifier != UNKNOWN:
        raise BadData("an attribution names somebody", remedy="or choose: unknown maker")
    said_by, on = forms.text("said_by"), forms.text("on")
    fields: dict[str, Any] = {
        "qualifier": qualifier,
        "artist": _named(name, before.artist if before else None),
        "said_by": _named(said_by, before.said_by if before else None),
        "on": studio().day(on) if on else None,
        "preferred": forms.flag("preferred") or not work.attributions,
    }
    after = replace(before, **fields) if before else Attribution(**fields)
    return replace(work, attributions=_one_preferred(_with(work.attributions, after), after))


def _named(name: str | None, before: str | None) -> str | None:
    """The party that a name in a form means: the one that was there, one on file, a new one."""
    if name is None or (before and name == studio().name_of(before)):
        return before if name else None
    return studio().artist(name, who=at_work()).document


def size(work: Work) -> Work:
    """Add a set of measures, change one, take one away."""
    before = _meant(work.sizes)
    if forms.flag("remove"):
        return replace(work, sizes=_without(work.sizes, before))
    measures: dict[str, Any] = {name: forms.number(name) for name in SIZE_MEASURES}
    if before:
        return replace(
            work, sizes=_with(work.sizes, replace(before, what=_needed("what"), **measures))
        )
    after = Size(what=_needed("what"), by=reader(), on=studio().today(), **measures)
    return replace(work, sizes=_with(work.sizes, after))


def part(work: Work) -> Work:
    """Add a physical part, or take one away that bears nothing."""
    before = _meant(work.parts)
    if forms.flag("remove"):
        return replace(work, parts=_without(work.parts, before))
    original = {"yes": True, "no": False}.get(forms.text("original") or "")
    if before:
        after = replace(before, kind=_needed("kind"), original=original)
        return replace(work, parts=_with(work.parts, after))
    return replace(work, parts=_with(work.parts, Part(kind=_needed("kind"), original=original)))


def note(work: Work) -> Work:
    """Add a note, change one (which takes its release back), take one away."""
    before = _meant(work.notes)
    if forms.flag("remove"):
        return replace(work, notes=_without(work.notes, before))
    fields: dict[str, Any] = {
        "text": _needed("text"),
        "kind": _needed("kind"),
        "visibility": _needed("visibility"),
    }
    after = (
        replace(before, **fields)
        if before
        else Note(by=reader(), on=studio().today(), **fields)
    )
    return replace(work, notes=_with(work.notes, after))


def release(work: Work) -> Work:
    """Let the very text that the page showed leave the house."""
    before = _meant(work.notes)
    if before is None:
        raise NotOnFile("there is no such note to release")
    after = studio().release(before, by=studio().name_of(at_work()))
    return replace(work, notes=_with(work.notes, after))


FACTS: dict[str, Callable[[Work], Work]] = {
    "title": title,
    "made": made,
    "medium": medium,
    "attribution": attribution,
    "size": size,
    "part": part,
    "note": note,
    "release": release,
}
"""Every small form by the last word of its address."""


def _needed(name: str) -> str:
    typed = forms.text(name)
    if typed is None:
        raise BadData(f"{name.replace('_', ' ')}: this must say something")
    return typed


def _meant(members: tuple[V, ...]) -> V | None:
    """The value that the form is about; None for a new one. Raises `NotOnFile`."""
    wanted = forms.text("value")
    if wanted is None:
        return None
    for each in members:
        if each.id == wanted:
            return each
    raise NotOnFile("what this form was about is no longer there", remedy="load the page again")


def _with(members: tuple[V, ...], value: V) -> tuple[V, ...]:
    kept = tuple(value if each.id == value.id else each for each in members)
    return kept if value in kept else (*kept, value)


def _without(members: tuple[V, ...], value: V | None) -> tuple[V, ...]:
    return tuple(each for each in members if value is None or each.id != value.id)


def _one_preferred(members: tuple[Any, ...], chosen: Any) -> tuple[Any, ...]:
    """The same values, of which only the chosen one is preferred if it is at all."""
    if not chosen.preferred:
        return members
    return tuple(
        replace(each, preferred=False) if each.preferred and each.id != chosen.id else each
        for each in members
    )
