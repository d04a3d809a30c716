"""Before something is covered or taken away: what stands there, how far it is hit, what is not recorded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from catalogue.places import table
from catalogue.record import Inscription, Work
from catalogue.surface import Box, Cover, Shape, covers
from catalogue.terms import within


@dataclass(frozen=True, slots=True)
class Covered:
    """One inscription under a planned region: how far it is hit, and what has to be recorded first.

    `cover` is None where its place in mm, or that of the region, is not known: then it may be hit.
    `lacks` are keys of [lacks] in vocab/covering.toml: "photo", "scale", "reading", "reader",
    "place", "ink test". `needs_approval` says that it is a signature, a date, a price or an address.
    """

    inscription: Inscription
    cover: Cover | None
    lacks: tuple[str, ...]
    needs_approval: bool

    @property
    def level(self) -> str:
        """hit, near or clear; "unknown" where nobody knows."""
        return self.cover.level if self.cover else "unknown"


def before_covering(
    work: Work,
    region: Box | Shape | None,
    face: str,
    *,
    wet: bool = False,
    margin: float | None = None,
) -> tuple[Covered, ...]:
    """Every inscription on the side of a face that a region hits, or comes near; the worst first.

    `region` is in mm as seen on that side, None for all of it (a lining, a backing board). `wet` asks
    for a test of the ink too. What lies on another side is not covered: mirror the region first.
    """
    here = [each for each in present(work) if same_side(each.face, face)]
    placed = [each for each in here if each.place and region]
    known = {}
    if region is not None and placed:
        told = covers(
            region,
            [each.place for each in placed if each.place],
            margin_mm() if margin is None else margin,
        )
        known = dict(zip((each.id for each in placed), told, strict=True))
    tested = {each.inscription for each in work.tests}
    found = [
        Covered(
            each,
            known.get(each.id),
            (*lacking(each, work), *(("ink test",) if wet and each.id not in tested else ())),
            within(each.kind, *table("covering.toml")["needs_approval"]),
        )
        for each in here
    ]
    return tuple(sorted((each for each in found if each.level != "clear"), key=_worst))


def _worst(covered: Covered) -> tuple[float, str]:
    fraction = covered.cover.with_margin if covered.cover else 2.0
    return (-fraction, covered.inscription.number or covered.inscription.id)


def present(work: Work) -> Iterator[Inscription]:
    """The inscriptions that are still on the work."""
    for each in work.inscriptions:
        state = each.latest()
        if state is None or not within(state.state, *table("covering.toml")["gone"]):
            yield each


def lacking(inscription: Inscription, work: Work) -> tuple[str, ...]:
    """What is not on record of an inscription and could not be recorded once it is gone.

    >>> lacking(Inscription(kind="inscription/signature", face="face/front"), Work())
    ('photo', 'reading', 'place')
    """
    photos = [work.photo(each.photo) for each in inscription.regions]
    photos += [each for each in work.photos if inscription.id in each.about]
    missing = []
    if not photos:
        missing.append("photo")
    elif not any(each.mm_per_pixel for each in photos):
        missing.append("scale")
    if not inscription.transcripts:
        missing.append("reading")
    elif not any(each.by for each in inscription.transcripts):
        missing.append("reader")
    if inscription.place is None and not inscription.regions:
        missing.append("place")
    return tuple(missing)


def margin_mm() -> float:
    """How near to a patch, or to moisture, an inscription is told of."""
    return float(table("covering.toml")["near"]["margin_mm"])


def in_words(lacks: tuple[str, ...]) -> str:
    """What is missing, in words: "no photograph with a scale, no reading"."""
    return ", ".join(table("covering.toml")["lacks"][each] for each in lacks)


def same_side(one: str, other: str) -> bool:
    """Whether two faces lie on the same side: a stretcher bar is on the back."""
    return side_of(one) == side_of(other)


def side_of(face: str) -> str:
    """The side of a face, front or back; a face that is a side of its own is that side."""
    sides: dict[str, list[str]] = table("covering.toml")["sides"]
    return next((side for side, faces in sides.items() if face in faces), face)
