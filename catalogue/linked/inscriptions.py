"""Inscriptions ⇄ the thing that bears the writing, and the text it carries.

A label is an object that is part of the stretcher, frame or canvas; writing, paint, chalk and
stamps are features of it. Either way the bearer occupies a place and `carries` the text, and the
text is what a number, the readings, the states and the photographs speak of.
"""

from __future__ import annotations

import re

from catalogue.linked import concepts, names, spans, statements
from catalogue.linked.fields import (
    day,
    document,
    form,
    in_document,
    notes,
    party,
    term,
    value_elsewhere,
    visibility,
)
from catalogue.linked.node import (
    Misplaced,
    actor,
    actor_of,
    each,
    is_a,
    node,
    nodes,
    number,
    one,
    own_id,
    recognised,
    text,
    truth,
    whole,
)
from catalogue.linked.text import Node
from catalogue.record import Comparison, Inscription, Region, Sighting, Transcript
from catalogue.surface import Box, Shape
from catalogue.terms import concept, within

TRANSCRIPTION = "note/transcription"
_MARKUP = "text/vnd.dorse.markup"
_MEDIA_FRAGMENTS = "http://www.w3.org/TR/media-frags/"
_NUMBER = r"-?\d+(?:\.\d+)?"
_XYWH = re.compile(rf"xywh=(?:pixel:)?({_NUMBER}),({_NUMBER}),({_NUMBER}),({_NUMBER})")
_POINTS = re.compile(r"<polygon points=['\"]([-\d., ]+)['\"]\s*/>")

COMPARISON = in_document(
    form(
        Comparison,
        "AttributeAssignment",
        None,
        {
            "other": value_elsewhere("compared_with"),
            "work": document("other_work", "HumanMadeObject"),
            "verdict": term("verdict", "assigned"),
            "by": party("carried_out_by"),
            "on": day(),
            "notes": notes(),
            "visibility": visibility(),
        },
    ),
    "work",
    ("compared_with",),
)


def is_object(inscription: Inscription) -> bool:
    """Whether what bears the writing is a thing of its own (a label, a plaque), not the surface."""
    return within(inscription.kind, "inscription/label", "inscription/plaque")


def describe_bearer(inscription: Inscription) -> Node:
    """What a part has as `part` (a label) or `bears` (writing): the place it occupies, the text."""
    own = f"#{inscription.id}"
    bearer = f"{own}/bearer"
    return node(
        id=bearer,
        type="HumanMadeObject" if is_object(inscription) else "HumanMadeFeature",
        classified_as=concepts.describe_all((inscription.shape, inscription.edge)),
        made_of=concepts.describe_all(inscription.materials, "Material"),
        stuck_with=concepts.describe_all((inscription.adhesive,), "Material"),
        paper_colour=concepts.describe_all((inscription.paper,)),
        print_colour=concepts.describe_all(inscription.colours),
        complete_percent=whole(inscription.complete_percent),
        occupies=[_describe_place(inscription, f"{own}/place")],
        carries=[describe(inscription)],
    )


def _describe_place(inscription: Inscription, at: str) -> Node:
    place = inscription.place
    return node(
        id=at,
        type="Place",
        classified_as=[concepts.describe(inscription.face)],
        defined_by=Shape.of_box(place).wkt() if place else None,
    )


def _recognise_box(place: Node | None) -> Box | None:
    said = text(place, "defined_by") if place else None
    if said is None:
        return None
    try:
        box = Shape.from_wkt(said).box
    except ValueError as wrong:
        raise Misplaced(place, str(wrong)) from None
    if box is None:
        raise Misplaced(
            place, f"{said!r} is not the outline POLYGON ((x y, ...)) of a box in mm"
        )
    return box


def describe(inscription: Inscription) -> Node:
    """The text that a bearer `carries`."""
    own = f"#{inscription.id}"
    return node(
        id=own,
        type="LinguisticObject",
        classified_as=concepts.describe_all(
            (inscription.kind, inscription.written_by_certainty)
        ),
        identified_by=names.describe_own(own, "inscription", inscription.number),
        language=[
            found for tag in inscription.languages for found in concepts.describe_language(tag)
        ],
        created_by=names.describe_creation(
            inscription.id,
            by=inscription.written_by,
            on=None,
            technique=concepts.describe_all(inscription.techniques),
        ),
        hand=inscription.hand,
        orientation=inscription.orientation or None,
        lies_over=[{"id": f"#{below}"} for below in inscription.lies_over],
        runs_across=[{"id": f"#{joined}"} for joined in inscription.across],
        shown_in=[_describe_region(region) for region in inscription.regions],
        compared=COMPARISON.describe_all(inscription.compared),
        attributed_by=[
            *(describe_sighting(sighting) for sighting in inscription.sightings),
            *(statements.describe(statement) for statement in inscription.statements),
        ],
        referred_to_by=[
            *(_describe_transcript(transcript) for transcript in inscription.transcripts),
            *(names.describe_note(note) for note in inscription.notes),
        ],
        visibility=concepts.describe_visibility(inscription.visibility),
    )


def recognise_all(here: Node, part: str | None = None) -> tuple[Inscription, ...]:
    """Every inscription that an object bears, and that its parts bear in turn."""
    found: list[Inscription] = []
    for key in ("part", "bears"):
        for bearer in nodes(here, key):
            if str(bearer.get("id", "")).endswith("/bearer"):
                found += (
                    recognised(carried, lambda it, b=bearer: _recognise(it, b, part))  # type: ignore[misc]
                    for carried in nodes(bearer, "carries")
                )
            elif key == "part" and str(bearer.get("id", "")).startswith("#"):
                found += recognise_all(bearer, own_id(bearer))
    return tuple(found)


def _recognise(here: Node, bearer: Node, part: str | None) -> Inscription:
    place = one(bearer, "occupies")
    made = one(here, "created_by") or {}
    return Inscription(
        id=own_id(here),
        number=names.recognise_own(here, "inscription"),
        kind=concepts.first(here, "classified_as", "inscription") or "inscription/other",
        face=(concepts.first(place, "classified_as", "face") if place else None) or "face/back",
        part=part,
        techniques=concepts.all_of(made, "technique", "technique"),
        languages=concepts.recognise_languages(here),
        hand=text(here, "hand"),
        written_by=actor_of(made, "carried_out_by"),
        written_by_certainty=concepts.first(here, "classified_as", "certainty"),
        orientation=int(number(here, "orientation") or 0),
        place=_recognise_box(place),
        regions=each(here, "shown_in", _recognise_region, lambda it: is_a(it, "Annotation")),
        transcripts=each(here, "referred_to_by", _recognise_transcript, _is_transcript),
        statements=each(here, "attributed_by", statements.recognise, statements.is_statement),
        sightings=each(here, "attributed_by", recognise_sighting, is_sighting),
        lies_over=tuple(own_id(below) for below in nodes(here, "lies_over")),
        across=tuple(own_id(joined) for joined in nodes(here, "runs_across")),
        shape=concepts.first(bearer, "classified_as", "shape"),
        edge=concepts.first(bearer, "classified_as", "edge"),
        materials=concepts.all_of(bearer, "made_of", "material"),
        paper=next(iter(concepts.all_of(bearer, "paper_colour", "colour")), None),
        colours=concepts.all_of(bearer, "print_colour", "colour"),
        adhesive=next(iter(concepts.all_of(bearer, "stuck_with", "material")), None),
        complete_percent=number(bearer, "complete_percent"),
        compared=COMPARISON.recognise_all(here, "compared"),
        notes=each(here, "referred_to_by", names.recognise_note, _is_note),
        visibility=concepts.recognise_visibility(here),
    )


def _describe_transcript(transcript: Transcript) -> Node:
    return node(
        id=f"#{transcript.id}",
        type="LinguisticObject",
        classified_as=concepts.describe_all((TRANSCRIPTION, transcript.certainty)),
        content=transcript.markup,
        format=_MARKUP,
        created_by=names.describe_creation(
            transcript.id,
            by=transcript.by,
            on=spans.describe_day(transcript.on, f"#{transcript.id}/made"),
            technique=concepts.describe_all((transcript.light,)),
        ),
        preferred=transcript.preferred or None,
        referred_to_by=[names.describe_note(note) for note in transcript.notes],
        visibility=concepts.describe_visibility(transcript.visibility),
    )


def _recognise_transcript(here: Node) -> Transcript:
    made = one(here, "created_by") or {}
    return Transcript(
        id=own_id(here),
        markup=text(here, "content") or "",
        by=actor_of(made, "carried_out_by"),
        on=spans.recognise_day(one(made, "timespan")),
        light=concepts.first(made, "technique", "light"),
        certainty=concepts.first(here, "classified_as", "certainty"),
        preferred=truth(here, "preferred") or False,
        notes=each(here, "referred_to_by", names.recognise_note, names.is_note),
        visibility=concepts.recognise_visibility(here),
    )


def _is_transcript(here: Node) -> bool:
    wanted = concept(TRANSCRIPTION)
    addresses = (wanted.iri, wanted.aat)
    return any(found.get("id") in addresses for found in nodes(here, "classified_as"))


def _is_note(here: Node) -> bool:
    return names.is_note(here) and not _is_transcript(here)


def describe_sighting(sighting: Sighting) -> Node:
    """What state something was in: an assignment of the state, on one day, by one person."""
    own = f"#{sighting.id}"
    return node(
        id=own,
        type="AttributeAssignment",
        assigned_property="classified_as",
        assigned=[concepts.describe(sighting.state)],
        carried_out_by=actor(sighting.by),
        timespan=spans.describe_day(sighting.on, own),
        referred_to_by=names.describe_statement(
            own, "covered-by", "note/condition", sighting.covered_by
        ),
        visibility=concepts.describe_visibility(sighting.visibility),
    )


def recognise_sighting(here: Node) -> Sighting:
    """The state of something that an assignment says."""
    return Sighting(
        id=own_id(here),
        state=concepts.first(here, "assigned", "state") or "",
        on=spans.recognise_day(one(here, "timespan")),
        by=actor_of(here, "carried_out_by"),
        covered_by=names.recognise_statement(here, "covered-by"),
        visibility=concepts.recognise_visibility(here),
    )


def is_sighting(here: Node) -> bool:
    """Whether an assignment assigns a state."""
    return concepts.first(here, "assigned", "state") is not None


def _describe_region(region: Region) -> Node:
    own = f"#{region.id}"
    return node(
        id=own,
        type="Annotation",
        motivation="identifying",
        target={
            "id": f"{own}/target",
            "type": "SpecificResource",
            "source": {"id": f"#{region.photo}", "type": "DigitalObject"},
            "selector": {"id": f"{own}/selector", **_selector(region)},
        },
        visibility=concepts.describe_visibility(region.visibility),
    )


def _selector(region: Region) -> Node:
    """An upright box as a media fragment, anything else as the polygon of an SVG selector."""
    xs, ys = zip(*region.corners, strict=True)
    left, top, right, bottom = min(xs), min(ys), max(xs), max(ys)
    upright = ((left, top), (right, top), (right, bottom), (left, bottom))
    if region.corners == upright:
        box = (left, top, round(right - left, 4), round(bottom - top, 4))
        return {
            "type": "FragmentSelector",
            "conforms_to": [{"id": _MEDIA_FRAGMENTS, "type": "InformationObject"}],
            "value": f"xywh=pixel:{','.join(str(whole(each)) for each in box)}",
        }
    points = " ".join(f"{whole(x)},{whole(y)}" for x, y in region.corners)
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg"><polygon points="{points}"/></svg>'
    return {"type": "SvgSelector", "value": drawing}


def _recognise_region(here: Node) -> Region:
    target = one(here, "target") or {}
    source = one(target, "source") or {}
    selector = one(target, "selector") or {}
    said = text(selector, "value") or ""
    return Region(
        id=own_id(here),
        photo=own_id(source),
        corners=_recognise_corners(selector, said),
        visibility=concepts.recognise_visibility(here),
    )


def _recognise_corners(selector: Node, said: str) -> tuple[tuple[float, float], ...]:
    box = _XYWH.fullmatch(said)
    if box:
        left, top, width, height = (float(value) for value in box.groups())
        # Binary sums drift in the last place; four decimals are far finer than a pixel.
        right, bottom = round(left + width, 4), round(top + height, 4)
        return ((left, top), (right, top), (right, bottom), (left, bottom))
    drawn = _POINTS.search(said)
    if drawn:
        try:
            pairs = [pair.split(",") for pair in drawn[1].split()]
            return tuple((float(x), float(y)) for x, y in pairs)
        except ValueError:
            pass
    raise Misplaced(selector, f"{said!r} is neither xywh=pixel:x,y,w,h nor an SVG polygon")
