"""vocab/checks.toml and vocab/shapes, spoilt: refused with the file named, before anything is checked."""

from __future__ import annotations

import pytest

from catalogue import places
from catalogue.checking import remark, shapes
from catalogue.errors import BadSetting

GOOD = (places.folder("vocab") / "checks.toml").read_text("utf-8")


@pytest.fixture
def vocabulary(tmp_path, monkeypatch):
    """A vocabulary of one's own, read afresh before and after."""
    for read in (remark.rows, shapes.shapes):
        read.cache_clear()
    monkeypatch.setattr(remark, "folder", lambda name: tmp_path)
    monkeypatch.setattr(shapes, "folder", lambda name: tmp_path)
    yield tmp_path
    for read in (remark.rows, shapes.shapes):
        read.cache_clear()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('kind = "missing"', 'kind = "dreadful"'),
        ('"damage/tear"', '"damage/teer"'),
        ("[words]", "[words"),
        ('key = "tear.length"', 'keyword = "tear.length"'),
        ("[[check]]", "[[chek]]"),
    ],
)
def test_a_spoilt_row_is_refused_with_its_file(vocabulary, old, new):
    assert old in GOOD
    (vocabulary / "checks.toml").write_text(GOOD.replace(old, new), "utf-8")
    with pytest.raises(BadSetting, match=r"checks\.toml"):
        remark.rows()


def test_a_spoilt_shape_is_refused_with_its_file(vocabulary):
    (vocabulary / "shapes").mkdir()
    (vocabulary / "shapes" / "works.ttl").write_text(
        "@prefix sh: <http://x#> .\nsh:a sh:b", "utf-8"
    )
    with pytest.raises(BadSetting, match=r"works\.ttl"):
        shapes.shapes()


def test_a_shape_that_means_nothing_is_refused_as_a_setting(vocabulary):
    (vocabulary / "shapes").mkdir()
    (vocabulary / "shapes" / "works.ttl").write_text(
        "@prefix sh: <http://www.w3.org/ns/shacl#> .\n<urn:x> a sh:NodeShape ; sh:targetNode <urn:y> ;"
        ' sh:property [ sh:path <urn:z> ; sh:minCount "one" ] .',
        "utf-8",
    )
    with pytest.raises(BadSetting, match="vocab/shapes"):
        shapes.faults({"id": "urn:y", "type": "Place"})
