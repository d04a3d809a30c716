"""The Object ID sheet: what tells this painting from every other, to keep in a safe place.

Ten headings and the photographs after the Object ID checklist of ICOM, with the five further ones that
it recommends. A blank says why it is blank and what to do about it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.handling import stands
from catalogue.argument.photo_set import Wanted, missing
from catalogue.argument.prose.lists import write_citations
from catalogue.documents.given import Given, size_said
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Paragraph,
    Picture,
    Pictures,
)
from catalogue.documents.seen import is_gone, ninths, photo_said
from catalogue.documents.sizes import in_cm_and_inches
from catalogue.documents.words import capital, day_said, joined, labels, number_said, words
from catalogue.record import Photo, Work
from catalogue.terms import label, within

CLOSE_UPS = (
    "view/detail",
    "view/label",
    "view/inscription",
    "view/damage",
    "view/frame",
    "view/part",
)


def object_id(given: Given) -> Document:
    """The sheet of one painting."""
    work, said = given.work, words("object-id")
    whole = _overall(work)
    close = _shown(given, [each for each in _close_ups(work) if each not in whole])
    blocks = (
        *_pictures(_shown(given, whole), "overall", "photographs"),
        Facts(tuple(_or_why(given, *row) for row in _ten(given))),
        Heading(said["further"]),
        Facts(tuple(_or_why(given, *row) for row in _further(given))),
        Paragraph(said["keep_title"], "strong"),
        Paragraph(said["keep"], "small"),
        *_pictures(close, "close_ups", "close_ups"),
        *_lacking(work),
        Paragraph(words("every")["advice"], "small"),
    )
    return given.document("object-id", work.number or "", None, blocks, compact=True)


def _or_why(given: Given, key: str, filled: str) -> tuple[str, str]:
    """A heading with what is known; where nothing is, with the reason and what to do."""
    said = words("object-id")
    return said["heading"][key], filled or said["missing"][key]


def _ten(given: Given) -> Iterator[tuple[str, str]]:
    """The ten headings of the checklist, in its order."""
    work = given.work
    yield "type", _type(work)
    yield "materials", _materials(work)
    yield (
        "measurements",
        "\n".join(f"{size_said(it)}; {in_cm_and_inches(it)}" for it in work.sizes),
    )
    yield "inscriptions", _inscriptions(work)
    yield "features", _features(work)
    yield "title", "\n".join(f"{each.text} ({label(each.kind)})" for each in work.titles)
    yield "subject", _noted(work, "note/subject")
    yield "date", work.made.written if work.made else ""
    yield "maker", given.maker(work)
    yield "description", _noted(work, "note/description")


def _further(given: Given) -> Iterator[tuple[str, str]]:
    """The five further headings that the checklist recommends."""
    work = given.work
    numbers = (f"{each.text} ({label(each.kind)})" for each in work.numbers)
    yield "number", joined((work.number or "", *numbers), "\n")
    papers = (joined((each.title, day_said(each.on))) for each in work.papers)
    yield "written", joined((*write_citations(work, given.name_of), *papers), "\n")
    yield "origin", _origin(work)
    related = dict.fromkeys(label(each.kind) for each in work.relations)
    told = "; ".join(words("object-id")["related"].format(how=how) for how in related)
    yield "related", capital(told)
    yield "documented", _documented(given)


def _type(work: Work) -> str:
    """What sort of thing it is, from the general to the narrow."""
    said = words("object-id")
    supports = [
        key for layer in work.layers if layer.kind == "layer/support" for key in layer.materials
    ]
    return said["type_on"].format(support=labels(supports)) if supports else str(said["type"])


def _materials(work: Work) -> str:
    parts = (
        joined((capital(label(each.kind)), labels(each.materials)), ": ")
        for each in work.parts
        if each.materials
    )
    whole = joined((capital(work.medium or ""), labels(work.materials)), "; ")
    return joined((whole, "; ".join(parts)), "\n")


def _inscriptions(work: Work) -> str:
    """Everything written, with where it stands, letter by letter as it was read."""
    said, where = words("object-id"), ninths(work)
    lines = []
    for each in work.inscriptions:
        shown = each.preferred()
        reads = shown.reading().diplomatic() if shown else words("standing")["unread"]
        one_line = " / ".join(line for line in reads.split("\n") if line.strip())
        place = where.get(each.id, label(each.face))
        what = joined((joined((each.number or "", label(each.kind)), " "), place))
        lines.append(said["inscription"].format(what=what, reads=one_line))
    return "\n".join(lines)


def _features(work: Work) -> str:
    """Damages, mended or not, and repairs: each tells the painting from its like."""
    where = ninths(work)
    told = [
        joined(
            (
                joined((each.number or "", label(each.kind)), " "),
                label(each.layer),
                where.get(each.id, ""),
                "" if stands(work, each) else words("object-id")["treated"],
            )
        )
        for each in work.findings
    ]
    told += [
        joined(
            (
                joined((each.number or "", label(each.kind)), " "),
                labels(each.materials),
                where.get(each.id, ""),
            )
        )
        for each in work.repairs
        if not is_gone(each)
    ]
    told += [
        joined(
            (
                joined((treatment.label(step), label(step.kind)), " "),
                where.get(step.id, ""),
                day_said(step.ended),
            )
        )
        for treatment in work.treatments
        for step in treatment.steps
        if step.began and within(step.kind, *words("object-id")["mends"])
    ]
    return "\n".join(told)


def _noted(work: Work, kind: str) -> str:
    return "\n".join(each.text for each in work.notes if each.kind == kind)


def _origin(work: Work) -> str:
    """Where it was made or found, as its provenance says."""
    places = (
        event.at or ""
        for event in work.provenance
        if event.kind in ("provenance/creation", "provenance/discovery")
    )
    return joined(places)


def _documented(given: Given) -> str:
    """The day of this sheet, and the last day on which somebody looked."""
    said = words("object-id")
    looked = max((each.on for each in given.work.checks), default=None)
    last = said["looked"].format(day=day_said(looked)) if looked else ""
    return joined((day_said(given.today), last), "\n")


# --- photographs -----------------------------------------------------------------------------------


def _overall(work: Work) -> list[Photo]:
    """The whole of each side, the latest in normal light."""
    found = []
    for face in ("face/front", "face/back"):
        of_face = [
            each
            for each in work.photos
            if each.face == face and each.view == "view/whole" and not each.mirrored
        ]
        found += sorted(of_face, key=_best)[-1:]
    return found


def _best(photo: Photo) -> tuple[bool, str, object]:
    day = photo.taken.iso if photo.taken else ""
    return within(photo.light, "light/normal", "light/daylight"), day, photo.rank


def _close_ups(work: Work) -> list[Photo]:
    """What shows a mark, a damage or a repair near by."""
    marked = {each.id for each in work.inscriptions}
    marked |= {each.id for each in work.findings} | {each.id for each in work.repairs}
    return [
        each
        for each in work.photos
        if not each.mirrored and (within(each.view, *CLOSE_UPS) or marked & set(each.about))
    ]


def _shown(given: Given, photos: Iterable[Photo]) -> tuple[Picture, ...]:
    said = words("object-id")
    found = []
    for photo in photos:
        scale = (
            said["scale"].format(mm=number_said(round(photo.mm_per_pixel * (photo.width or 0))))
            if photo.mm_per_pixel and photo.width
            else said["no_scale"]
        )
        found.append(given.shown(photo, joined((photo_said(photo), scale))))
    return tuple(each for each in found if each)


def _pictures(pictures: tuple[Picture, ...], which: str, why: str) -> Iterator[Block]:
    yield Heading(words("object-id")[which])
    if pictures:
        yield Pictures(pictures, small=True)
    else:
        yield Paragraph(words("object-id")["missing"][why])


def _lacking(work: Work) -> Iterator[Block]:
    """Photographs of the set that are still to be taken."""
    lacks = [each for each in missing(work) if each.wanted.level == "must"]
    if lacks:
        said = words("object-id")
        named = "; ".join(joined((each.of, *_how(each.wanted))) for each in lacks)
        yield Paragraph(said["lacking"].format(what=named), "small")


def _how(wanted: Wanted) -> Iterator[str]:
    """From where and in which light a photograph of the set is taken, in words."""
    yield label(wanted.view) if wanted.view else words("object-id")["near"]
    yield from map(label, wanted.lights[:1])
