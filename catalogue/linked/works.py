"""A painting ⇄ its HumanMadeObject: names, maker, date, materials, measures, parts, what it bears."""

from __future__ import annotations

from uuid import NAMESPACE_URL, uuid5

from catalogue.linked import (
    concepts,
    condition,
    inscriptions,
    names,
    photos,
    provenance,
    sizes,
    spans,
    treatments,
)
from catalogue.linked.fields import (
    Field,
    count,
    form,
    join,
    materials,
    notes,
    term,
    visibility,
    words,
    yes,
)
from catalogue.linked.node import (
    PART_TYPE,
    actor,
    actor_of,
    each,
    is_a,
    node,
    nodes,
    one,
    own_id,
    recognised,
    text,
    truth,
)
from catalogue.linked.papers import PAPER
from catalogue.linked.text import Node
from catalogue.measure import DateSpan
from catalogue.record import Attribution, Layer, Part, Work

_PAINTING = ("object/painting", "object/work-of-art")
_GROUP_OF = (
    "workshop-of", "studio-of", "circle-of", "follower-of", "pupil-of", "school-of",
)  # fmt: skip
_AFTER = ("manner-of", "style-of", "after")
BY_A_GROUP = frozenset(f"qualifier/{word}" for word in _GROUP_OF)
BY_INFLUENCE = frozenset(f"qualifier/{word}" for word in _AFTER)


def describe(work: Work) -> Node:
    """The document of a painting, with ids relative to it."""
    own = f"#{work.id}"
    return node(
        id=work.document,
        type="HumanMadeObject",
        classified_as=concepts.describe_all(_PAINTING),
        identified_by=[
            *names.describe_own(own, "studio", work.number),
            *(names.describe_title(title) for title in work.titles),
            *(names.describe_number(number) for number in work.numbers),
        ],
        produced_by=_describe_production(work, f"{own}/production"),
        made_of=concepts.describe_all(work.materials, "Material"),
        dimension=sizes.describe(work.sizes),
        referred_to_by=[
            *names.describe_statement(own, "medium", "note/materials", work.medium),
            *(names.describe_note(note) for note in work.notes),
        ],
        part=[
            *(_describe_part(part, work) for part in work.parts),
            *(_describe_layer(layer, work) for layer in work.layers),
            *_borne(work, None, objects=True),
        ],
        bears=[
            *_borne(work, None, objects=False),
            *condition.FINDING.describe_all(work.findings),
        ],
        assessed_by=condition.CHECK.describe_all(work.checks),
        used_for=[
            *treatments.TEST.describe_all(work.tests),
            *provenance.INQUIRY.describe_all(work.inquiries),
        ],
        modified_by=[
            *treatments.REPAIR.describe_all(work.repairs),
            *treatments.TREATMENT.describe_all(work.treatments),
        ],
        present_at=provenance.describe_events(work),
        moved_by=provenance.describe_movements(work),
        attributed_by=provenance.RELATION.describe_all(work.relations),
        subject_of=[
            *provenance.CITATION.describe_all(work.citations),
            *PAPER.describe_all(work.papers),
        ],
        representation=[photos.describe(photo) for photo in work.photos],
    )


def _borne(work: Work, part: str | None, *, objects: bool) -> list[Node]:
    """What one part bears: labels and plaques, or writing and stamps."""
    return [
        inscriptions.describe_bearer(inscription)
        for inscription in work.inscriptions
        if inscription.part == part and inscriptions.is_object(inscription) is objects
    ]


def is_painting(document: Node) -> bool:
    """Whether an object is said to be a painting."""
    return "object/painting" in concepts.all_of(document, "classified_as", "object")


def recognise(document: Node, uuid: str) -> Work:
    """The painting of a document, under the id that the ledger keeps it by."""
    production = one(document, "produced_by") or {}
    return Work(
        id=uuid,
        number=names.recognise_own(document, "studio"),
        numbers=each(document, "identified_by", names.recognise_number, names.is_number),
        titles=each(document, "identified_by", names.recognise_title, names.is_name),
        attributions=_recognise_attributions(production),
        made=spans.recognise(one(production, "timespan")),
        materials=concepts.all_of(document, "made_of", "material"),
        medium=names.recognise_statement(document, "medium"),
        sizes=sizes.recognise(document),
        parts=each(document, "part", _recognise_part, _is_part),
        layers=_LAYER.recognise_all(document, "part"),
        inscriptions=inscriptions.recognise_all(document),
        checks=condition.CHECK.recognise_all(document, "assessed_by"),
        findings=condition.FINDING.recognise_all(document, "bears"),
        repairs=treatments.REPAIR.recognise_all(document, "modified_by"),
        tests=treatments.TEST.recognise_all(document, "used_for"),
        treatments=treatments.TREATMENT.recognise_all(document, "modified_by"),
        provenance=provenance.recognise_provenance(document),
        exhibitions=provenance.recognise_exhibitions(document),
        citations=provenance.CITATION.recognise_all(document, "subject_of"),
        relations=provenance.RELATION.recognise_all(document, "attributed_by"),
        movements=provenance.recognise_movements(document),
        inquiries=provenance.INQUIRY.recognise_all(document, "used_for"),
        photos=photos.recognise_all(document),
        papers=PAPER.recognise_all(document, "subject_of"),
        notes=each(document, "referred_to_by", names.recognise_note, names.is_note),
    )


def _describe_part(part: Part, work: Work) -> Node:
    return node(
        id=f"#{part.id}",
        type="HumanMadeObject",
        classified_as=[{**concepts.describe(part.kind), "classified_as": [PART_TYPE]}],
        made_of=concepts.describe_all(part.materials, "Material"),
        original=part.original,
        added_by=_describe_addition(part.fitted, f"#{part.id}"),
        referred_to_by=[names.describe_note(note) for note in part.notes],
        part=_borne(work, part.id, objects=True),
        bears=_borne(work, part.id, objects=False),
        visibility=concepts.describe_visibility(part.visibility),
    )


def _recognise_part(here: Node) -> Part:
    return Part(
        id=own_id(here),
        kind=concepts.first(here, "classified_as", "part") or "part/other",
        materials=concepts.all_of(here, "made_of", "material"),
        original=truth(here, "original"),
        fitted=_recognise_addition(here),
        notes=each(here, "referred_to_by", names.recognise_note, names.is_note),
        visibility=concepts.recognise_visibility(here),
    )


def _describe_addition(when: DateSpan | None, own: str) -> list[Node]:
    """When a part or a layer came to the painting."""
    if when is None:
        return []
    at = f"{own}/added"
    return [{"id": at, "type": "PartAddition", "timespan": spans.describe(when, at)}]


def _recognise_addition(here: Node) -> DateSpan | None:
    for addition in nodes(here, "added_by"):
        if is_a(addition, "PartAddition"):
            return spans.recognise(one(addition, "timespan"))
    return None


def _is_part(here: Node) -> bool:
    address = str(here.get("id", ""))
    return (
        is_a(here, "HumanMadeObject")
        and address.startswith("#")
        and "/" not in address
        and not _LAYER.wanted(here)
    )


_LAYER = form(
    Layer,
    "HumanMadeObject",
    # A frame is a part and a layer may be one: the AAT has one word for both, so a layer says so.
    "object/layer",
    {
        "kind": term("layer"),
        "position": count("position"),
        "materials": materials("made_of"),
        "colour": words("colour"),
        "original": yes("original"),
        "basis": term("basis"),
        "applied": Field(
            lambda held, own: {"added_by": _describe_addition(held, own)}, _recognise_addition
        ),
        "notes": notes(),
        "visibility": visibility(),
    },
)


def _describe_layer(layer: Layer, work: Work) -> Node:
    """A layer is a part like any other, so that others know it for one."""
    described = _LAYER.describe(layer)
    mark, kind, *basis = described["classified_as"]
    described["classified_as"] = [{**kind, "classified_as": [PART_TYPE]}, mark, *basis]
    join(
        described,
        node(
            part=_borne(work, layer.id, objects=True),
            bears=_borne(work, layer.id, objects=False),
        ),
    )
    return described


def _describe_production(work: Work, at: str) -> Node | None:
    made = node(
        id=at,
        type="Production",
        timespan=spans.describe(work.made, at),
        attributed_by=[_describe_attribution(each) for each in work.attributions],
    )
    return made if len(made) > 2 else None


def _describe_attribution(attribution: Attribution) -> Node:
    own = f"#{attribution.id}"
    return node(
        id=own,
        type="AttributeAssignment",
        classified_as=[concepts.describe(attribution.qualifier)],
        identified_by=[{"id": f"{own}/written", "type": "Name", "content": attribution.written}]
        if attribution.written
        else [],
        assigned_property="part",
        assigned=[
            node(
                id=f"{own}/production",
                type="Production",
                **_describe_maker(attribution, own),
            )
        ],
        carried_out_by=actor(attribution.said_by),
        timespan=spans.describe_day(attribution.on, own),
        preferred=attribution.preferred or None,
        visibility=concepts.describe_visibility(attribution.visibility),
    )


def _describe_maker(attribution: Attribution, own: str) -> dict[str, list[Node]]:
    """Who made it in the sense of the qualifier: the artist, a group around them, or their model."""
    if attribution.artist is None:
        return {}
    if attribution.qualifier in BY_INFLUENCE:
        return {"influenced_by": actor(attribution.artist)}
    if attribution.qualifier in BY_A_GROUP:
        formation = {
            "id": f"{own}/formation",
            "type": "Formation",
            "influenced_by": actor(attribution.artist),
        }
        group = {
            "id": f"{own}/group",
            "type": "Group",
            "classified_as": [concepts.describe(attribution.qualifier)],
            "formed_by": formation,
        }
        return {"carried_out_by": [group]}
    return {"carried_out_by": actor(attribution.artist)}


def _recognise_attributions(production: Node) -> tuple[Attribution, ...]:
    """The attributions of a production; a maker that it names outright counts as `by`."""
    found = each(production, "attributed_by", _recognise_attribution, _is_attribution)
    outright = [
        recognised(maker, lambda it: _outright(it, production))
        for maker in nodes(production, "carried_out_by")
        if isinstance(maker.get("id"), str)
    ]
    return (*found, *outright)


def _is_attribution(here: Node) -> bool:
    return is_a(here, "AttributeAssignment") and one(here, "assigned") is not None


def _outright(maker: Node, production: Node) -> Attribution:
    address = str(maker["id"])
    return Attribution(
        id=str(uuid5(NAMESPACE_URL, f"{production.get('id')} {address}")),
        artist=address,
        written=text(maker, "_label"),
        preferred=True,
    )


def _recognise_attribution(here: Node) -> Attribution:
    assigned = one(here, "assigned") or {}
    written = one(here, "identified_by")
    group = one(assigned, "carried_out_by") or {}
    formation = one(group, "formed_by")
    artist = (
        actor_of(formation, "influenced_by")
        if formation
        else actor_of(assigned, "carried_out_by") or actor_of(assigned, "influenced_by")
    )
    return Attribution(
        id=own_id(here),
        qualifier=concepts.first(here, "classified_as", "qualifier")
        or ("qualifier/by" if artist else "qualifier/unknown"),
        artist=artist,
        written=text(written, "content") if written else None,
        said_by=actor_of(here, "carried_out_by"),
        on=spans.recognise_day(one(here, "timespan")),
        preferred=truth(here, "preferred") or False,
        visibility=concepts.recognise_visibility(here),
    )
