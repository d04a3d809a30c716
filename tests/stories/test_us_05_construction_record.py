"""US-5: the layers of a painting from back to front, each seen, inferred or unknown (trade sheet 1.2)."""

import pytest

from catalogue.errors import BadData
from catalogue.linked import from_jsonld, to_jsonld
from catalogue.record import Layer, Part, Work

LAYERS = (
    Layer(kind="layer/varnish", position=6, basis="basis/ultraviolet"),
    Layer(kind="layer/support", position=1, materials=("material/linen",), basis="basis/seen"),
    Layer(
        kind="layer/paint", position=5, materials=("material/oil-paint",), basis="basis/seen"
    ),
    Layer(kind="layer/size", position=2, basis="basis/guessed"),
    Layer(kind="layer/ground", position=3),
)
WORK = Work(layers=LAYERS, parts=(Part(kind="part/stretcher", original=None),))


def test_layers_stand_from_back_to_front_however_they_were_entered():
    # the order of the checklist: support, size, ground, paint, varnish
    kinds = [each.kind for each in WORK.layers]
    assert kinds == [
        "layer/support",
        "layer/size",
        "layer/ground",
        "layer/paint",
        "layer/varnish",
    ]


def test_each_says_how_it_is_known_or_that_nobody_knows():
    known = {each.kind: each.basis for each in WORK.layers}
    assert known["layer/support"] == "basis/seen"
    assert known["layer/size"] == "basis/guessed"
    assert known["layer/ground"] is None


def test_it_comes_back_from_linked_data_as_it_was():
    assert from_jsonld(to_jsonld(WORK), document_id=WORK.document) == WORK


def test_whether_a_part_is_original_is_yes_no_or_unknown():
    assert {Part(kind="part/stretcher", original=told).original for told in (True, False, None)} == {
        True, False, None,
    }  # fmt: skip


def test_a_way_of_knowing_that_is_none_is_refused():
    with pytest.raises(BadData, match="basis"):
        Layer(kind="layer/ground", basis="basis/hearsay")
