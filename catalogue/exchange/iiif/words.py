"""What a manifest says in words: labels, the facts beside the photographs, the headings of sides."""

from __future__ import annotations

import html
from collections.abc import Iterator

from catalogue.exchange.outgoing import Sender
from catalogue.linked.text import Node
from catalogue.places import table
from catalogue.record import Photo, Size, Work
from catalogue.record.common import SIZE_MEASURES
from catalogue.terms import label

_UNSAID = "qualifier/by"


def said(section: str, key: str) -> str:
    """A word of `vocab/iiif.toml`."""
    word: str = table("iiif.toml")[section][key]
    return word


def sides() -> tuple[str, ...]:
    """The headings that photographs are listed under, in order."""
    return tuple(table("iiif.toml")["sides"])


def side_of(photo: Photo) -> str:
    """The heading that a photograph belongs to, by the side that it shows."""
    side: str = table("iiif.toml")["sides_of"].get(photo.face or "", "other")
    return side


def told(text: str) -> str:
    """A text so that no viewer takes it for HTML (Presentation 3.0, section 4.5).

    >>> told("Low Tide"), told("<b>Low Tide</b>")
    ('Low Tide', '<span>&lt;b&gt;Low Tide&lt;/b&gt;</span>')
    """
    bare = text.strip()
    if bare.startswith("<") and bare.endswith(">"):
        return f"<span>{html.escape(text, quote=False)}</span>"
    return text


def label_of(work: Work) -> Node:
    """The title to show in its own language, behind the studio's number."""
    shown = f"{work.number}, {work.title()}" if work.number else work.title()
    language = work.titles[0].language if work.titles else "en"
    return {language or "none": [shown]}


def canvas_label(photo: Photo) -> str:
    """What a photograph is called: `P1, back, raking light`."""
    words = [label(photo.face or photo.view)]
    if photo.light != "light/normal":
        words.append(label(photo.light))
    return ", ".join(filter(None, (photo.number, *words)))


def work_facts(work: Work, sender: Sender) -> Iterator[Node]:
    """The facts of a work that stand beside its photographs."""
    yield from _fact("manifest", "maker", _makers(work, sender))
    others = work.titles[1:]
    yield from _fact("manifest", "titles", [each.text for each in others], "none")
    yield from _fact("manifest", "made", [work.made.written] if work.made else [], "none")
    materials = [work.medium] if work.medium else [label(each) for each in work.materials]
    yield from _fact("manifest", "medium", materials)
    yield from _fact("manifest", "size", [_size(each) for each in work.sizes])
    numbers = [work.number] if work.number else []
    numbers += [f"{each.text} ({label(each.kind)})" for each in work.numbers]
    yield from _fact("manifest", "numbers", numbers, "none")


def canvas_facts(photo: Photo) -> Iterator[Node]:
    """The facts of one photograph."""
    for key, words in (
        ("number", photo.number),
        ("view", label(photo.view)),
        ("side", label(photo.face) if photo.face else None),
        ("light", label(photo.light)),
        ("stage", label(photo.stage) if photo.stage else None),
        ("day", photo.taken.iso if photo.taken else None),
    ):
        yield from _fact("canvas", key, [words] if words else [])
    if photo.mm_per_pixel:
        scale = said("canvas", "mm_per_pixel").format(n=f"{photo.mm_per_pixel:.10g}")
        yield from _fact("canvas", "scale", [scale])
    if photo.mirrored:
        yield from _fact("canvas", "mirrored", [said("canvas", "swapped")])


def _fact(section: str, key: str, values: list[str], language: str = "en") -> Iterator[Node]:
    if values:
        yield {
            "label": {"en": [said(section, key)]},
            "value": {language: [told(each) for each in values]},
        }


def _makers(work: Work, sender: Sender) -> list[str]:
    """Who is said to have made it: the attribution to show alone, for the others may be given up."""
    shown = work.attribution()
    if shown is None:
        return []
    if shown.artist is None:
        return [label(shown.qualifier)]
    name = sender.labels(shown.artist)[1]
    return [name if shown.qualifier == _UNSAID else f"{label(shown.qualifier)} {name}"]


def _size(size: Size) -> str:
    measures = [getattr(size, name) for name in SIZE_MEASURES]
    figures = " × ".join(f"{each:.10g}" for each in measures if each is not None)
    return said("manifest", "figure").format(measures=figures, what=label(size.what))
