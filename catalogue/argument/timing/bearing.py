"""What bears a mark - the painting, a part, a layer - and what follows from that for both.

Nothing is written on what has not been made. But a part may be old when it is fitted, and so may what
stands on it; and the mark of whoever made or sold the support was there before the painting.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from catalogue.argument.timing.claims import Claim, Event, Instant
from catalogue.argument.timing.making import made, part_event, part_made
from catalogue.argument.timing.saying import after, called, claim, facts_of, is_one, named
from catalogue.argument.timing.stages import written_event
from catalogue.record import Inscription, Layer, Part, Work

_BACK = (
    "face/back", "face/tacking-edge-top", "face/tacking-edge-right", "face/tacking-edge-bottom",
    "face/tacking-edge-left",
)  # fmt: skip


def bearing(work: Work, mark: Inscription, events: Mapping[str, Event]) -> Iterator[Claim]:
    """What follows for a mark from where it stands, and for the painting from the mark being there."""
    at, own = written_event(mark).began, made(work)
    carrier = carrier_of(work, mark)
    about = facts_of(mark)
    if is_one(mark.kind, "maker"):
        if on_the_painting(mark, carrier):
            lined = carrier is None and _is_lined(work)
            kind = "stamped-lined" if lined else "stamped-first"
            yield claim(kind, mark.id, after(at, own.began), (mark.id,), **about)
    elif on_the_painting(mark, carrier):
        kind = "on-front" if mark.face == "face/front" else "on-back"
        yield claim(kind, mark.id, after(own.began, at), (mark.id,), **about)
    if is_one(mark.kind, "finished"):
        bounds = after(own.ended, at)
        yield claim("finished-first", mark.id, bounds, (mark.id,), **about)
    there = events.get(f"{mark.id}/there")
    if there:
        bounds = after(own.ended, there.began)
        yield claim("there-finished", mark.id, bounds, (mark.id,), **about)
    if any(is_one(seen.state, "moved") for seen in mark.sightings):
        return  # it came from another place, and may be older than what it stands on now
    if isinstance(carrier, Part):
        yield from _on_a_part(work, mark, carrier, at, about)
    elif isinstance(carrier, Layer) and not (
        is_one(mark.kind, "maker") or is_one(carrier.kind, "itself")
    ):
        kind = "on-lining" if is_one(carrier.kind, "lining") else "on-layer"
        laid = Instant(carrier.id, "began")
        rests = (mark.id, carrier.id)
        yield claim(kind, mark.id, after(laid, at), rests, below=named(carrier), **about)


def _on_a_part(
    work: Work, mark: Inscription, part: Part, at: Instant, about: dict[str, str]
) -> Iterator[Claim]:
    """Not older than the part itself. A part may be old when it is fitted, and so may what stands on it.

    Only what is cited for this painting's history must have been put on while the part belonged to it.
    """
    below = named(part)
    rests = (mark.id, part.id)
    bounds = after(part_made(part).began, at)
    yield claim("on-part", mark.id, bounds, rests, below=below, **about)
    if is_one(mark.kind, "maker"):
        return
    citing = [
        each
        for each in work.provenance
        if any(evidence.source == mark.id for evidence in each.evidence)
    ]
    bounds = after(part_event(part).began, at)
    if citing:
        yield claim(
            "cited-after-fitting", mark.id, bounds, (*rests, *(e.id for e in citing)),
            below=below, cited=", ".join(map(called, citing)), **about,
        )  # fmt: skip
    else:
        yield claim("after-fitting", mark.id, bounds, rests, below=below, **about)


def carrier_of(work: Work, mark: Inscription) -> Part | Layer | None:
    """The part or layer that bears a mark."""
    held: tuple[Part | Layer, ...] = (*work.parts, *work.layers)
    return next((each for each in held if each.id == mark.part), None)


def on_the_painting(mark: Inscription, carrier: Part | Layer | None) -> bool:
    """Whether a mark stands on the painting itself, as far as the record says."""
    if carrier is not None:
        return is_one(carrier.kind, "itself")
    return mark.face in ("face/front", *_BACK)


def _is_lined(work: Work) -> bool:
    kinds = [each.kind for each in work.layers] + [each.kind for each in work.parts]
    return any(is_one(kind, "lining") for kind in kinds) or any(
        is_one(each.kind, "lined") for each in work.repairs
    )
