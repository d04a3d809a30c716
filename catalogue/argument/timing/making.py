"""The making of a painting: its date, its artist's life, its materials, its layers and its parts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from catalogue.argument.dating import date_repair
from catalogue.argument.timing.claims import Event, Instant
from catalogue.argument.timing.dated import lasting
from catalogue.argument.timing.lives import life_id
from catalogue.argument.timing.proofs import Subject, of_materials
from catalogue.argument.timing.saying import (
    Said,
    after,
    called,
    claim,
    event,
    facts_of,
    is_one,
    named,
    terms,
)
from catalogue.record import Attribution, Layer, Part, Party, Work


def made(work: Work) -> Event:
    """The making of a painting, from its first day to its last."""
    what = "the painting"
    return event("made", f"{work.id}/made", what, what)


def making(work: Work, parties: Mapping[str, Party]) -> Iterator[Said]:
    """The making, its date, its artist, its materials; then its layers, then its parts."""
    own = made(work)
    yield own
    yield from lasting(own, work.made, work.id, own.called)
    yield from _by_its_artist(work, own, parties)
    # what a painting is made of can be older than it, and all of it was there when it was finished
    reasons = date_repair(work.materials).reasons
    yield from of_materials(
        reasons, own.ended, Subject(work.id, own.called, own.called), upper=False
    )
    yield from _layers(work, own)
    for part in work.parts:
        yield from _part(part, own)


# --- who made it ----------------------------------------------------------------------------------


def artist_of(work: Work) -> Attribution | None:
    """The attribution shown, where it names an artist who made the painting, or may have."""
    shown = work.attribution()
    if shown is None or shown.artist is None:
        return None
    own_hand = (*terms("made_by"), *terms("perhaps_made_by"))
    return shown if shown.qualifier in own_hand else None


def _by_its_artist(work: Work, own: Event, parties: Mapping[str, Party]) -> Iterator[Said]:
    shown = artist_of(work)
    artist = parties.get(shown.artist or "") if shown else None
    if shown is None or artist is None or artist.kind != "person":
        return
    kind = "made-in-life" if is_one(shown.qualifier, "made_by") else "perhaps-made-in-life"
    life = life_id(artist)
    bounds = (
        *after(Instant(life, "began"), own.began),
        *after(own.ended, Instant(life, "ended")),
    )
    yield claim(kind, work.id, bounds, (work.id, shown.id, artist.document), name=artist.name())


# --- its layers -----------------------------------------------------------------------------------


def _layers(work: Work, own: Event) -> Iterator[Said]:
    for layer in work.layers:
        laid = layer_event(layer)
        yield laid
        yield from lasting(laid, layer.applied, layer.id, named(layer))
        reasons = date_repair(layer.materials).reasons
        subject = Subject(layer.id, named(layer), laid.called)
        yield from of_materials(reasons, laid.began, subject, upper=False)
        if layer.original:
            bounds, kind = after(laid.began, own.ended), "layer-original"
        elif layer.original is False:
            bounds, kind = after(own.began, laid.began), "layer-later"
        else:
            continue
        yield claim(kind, layer.id, bounds, (layer.id,), **facts_of(layer))
    yield from _in_their_order(work.layers)


def layer_event(layer: Layer) -> Event:
    """The laying of a layer."""
    return event("layer", layer.id, called(layer), named(layer), moment=True)


def _in_their_order(layers: Iterable[Layer]) -> Iterator[Said]:
    """What lies higher was laid later; a lining, which lies behind, is not in this order.

    Of layers of one place in the order nothing is known, so each is held to those of the next.
    """
    levels: dict[int, list[Layer]] = {}
    for layer in layers:
        if layer.position is not None and is_one(layer.kind, "laid"):
            levels.setdefault(layer.position, []).append(layer)
    for lower, upper in pairwise(sorted(levels)):
        for above in levels[upper]:
            for below in levels[lower]:
                yield claim(
                    "laid-on", f"{above.id}:{below.id}",
                    after(layer_event(below).began, layer_event(above).began),
                    (above.id, below.id),
                    **facts_of(above), below=named(below),
                )  # fmt: skip


# --- its parts ------------------------------------------------------------------------------------


def part_event(part: Part) -> Event:
    """The fitting of a part."""
    return event("part", part.id, called(part), named(part), moment=True)


def part_made(part: Part) -> Event:
    """The making of a part, which may be old when it is fitted."""
    return event("part-made", f"{part.id}/made", called(part), named(part), moment=True)


def _part(part: Part, own: Event) -> Iterator[Said]:
    fitted, first = part_event(part), part_made(part)
    yield from (first, fitted)
    what = facts_of(part)
    yield claim("part-first", part.id, after(first.began, fitted.began), (part.id,), **what)
    yield from lasting(fitted, part.fitted, part.id, named(part))
    reasons = date_repair((*part.materials, part.kind)).reasons
    yield from of_materials(reasons, first.began, Subject(part.id, named(part), fitted.called))
    if part.original and is_one(part.kind, "made_on"):
        yield claim(
            "part-original",
            part.id,
            after(fitted.began, own.ended),
            (part.id,),
            **what,
        )
    elif part.original is False:
        yield claim("part-later", part.id, after(own.began, fitted.began), (part.id,), **what)
