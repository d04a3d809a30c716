"""Size sets ⇄ Dimensions: one node a measure, tied together by the measuring that gave them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from uuid import NAMESPACE_URL, uuid5

from catalogue.linked import concepts, spans
from catalogue.linked.node import (
    Misplaced,
    actor,
    actor_of,
    is_a,
    node,
    nodes,
    number,
    one,
    recognised,
    whole,
)
from catalogue.linked.text import Node
from catalogue.record import Size

_MEASURES = ("height", "width", "depth", "diameter")
_IN_MM = {"unit/millimetre": 1.0, "unit/centimetre": 10.0, "unit/inch": 25.4}


def describe(sizes: Iterable[Size]) -> list[Node]:
    """The Dimensions of a painting: one for each measure, each naming its measuring `#<size>`."""
    return [each for size in sizes for each in _dimensions(size)]


def _dimensions(size: Size) -> Iterator[Node]:
    measuring = node(
        id=f"#{size.id}",
        type="AttributeAssignment",
        technique=[concepts.describe(size.what)],
        carried_out_by=actor(size.by),
        timespan=spans.describe_day(size.on, f"#{size.id}"),
        visibility=concepts.describe_visibility(size.visibility),
    )
    for measure in _MEASURES:
        value = getattr(size, f"{measure}_mm")
        if value is not None:
            yield {
                "id": f"#{size.id}/{measure}",
                "type": "Dimension",
                "classified_as": [concepts.describe(f"dimension/{measure}")],
                "value": whole(value),
                "unit": concepts.describe("unit/millimetre"),
                "assigned_by": [measuring],
            }


def recognise(here: Node) -> tuple[Size, ...]:
    """The size sets among the Dimensions of a painting, brought to millimetres.

    Measures that name no measuring of ours are taken together as one set of the support.
    """
    sets: dict[str, tuple[Node, dict[str, float]]] = {}
    for dimension in nodes(here, "dimension"):
        measure = concepts.first(dimension, "classified_as", "dimension")
        unit = one(dimension, "unit")
        factor = _IN_MM.get(concepts.recognise(unit, "unit") or "") if unit else None
        value = number(dimension, "value")
        if not is_a(dimension, "Dimension") or not measure or factor is None or value is None:
            continue
        measuring = one(dimension, "assigned_by") or {}
        key = str(measuring.get("id") or here.get("id"))
        _, found = sets.setdefault(key, (measuring, {}))
        name = f"{measure.partition('/')[2]}_mm"
        if name in found and found[name] != value * factor:
            raise Misplaced(dimension, f"this set of measures has two of one kind ({name})")
        found[name] = round(value * factor, 4)
    return tuple(
        recognised(here, lambda _, k=key, m=measuring, f=found: _size(k, m, f))  # type: ignore[misc]
        for key, (measuring, found) in sets.items()
    )


def _size(key: str, measuring: Node, found: dict[str, float]) -> Size:
    return Size(
        id=key[1:] if key.startswith("#") else str(uuid5(NAMESPACE_URL, f"{key} measures")),
        what=concepts.first(measuring, "technique", "size") or "size/support",
        by=actor_of(measuring, "carried_out_by"),
        on=spans.recognise_day(one(measuring, "timespan")),
        visibility=concepts.recognise_visibility(measuring),
        **found,
    )
