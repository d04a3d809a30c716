"""Records of ours that come back: known for what they are, and never added to what is on file a second time."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import WHO

from catalogue.record import Size, Title, Work
from catalogue.record.compare import as_known


@pytest.mark.parametrize("format_name", ["linked-art", "full-graph", "lido", "tei"])
@pytest.mark.parametrize("profile_name", ["full", "public"])
def test_what_comes_back_adds_no_value_twice(studio, tmp_path, format_name, profile_name):
    before = studio.work("2026-041").record
    studio.rehearse(format_name, profile_name, tmp_path / "out")
    list(studio.import_([tmp_path / "out"], who=WHO, add=True))
    after = studio.work("2026-041").record
    for field in ("titles", "attributions", "sizes", "parts", "inscriptions", "provenance"):
        assert len(getattr(after, field)) == len(getattr(before, field)), field


def test_a_value_under_another_id_that_says_no_more_is_the_one_on_file():
    mine = Title(text="Low Water", kind="title/inscribed", language="en", preferred=True)
    size = Size(what="size/support", height_mm=500, width_mm=610.5)
    on_file = Work(titles=(mine,), sizes=(size,))
    back = Work(
        id=on_file.id,
        titles=(Title(text="Low Water", kind="title/inscribed"),),
        sizes=(Size(what="size/support", height_mm=500),),
    )
    assert as_known(back, on_file).titles == (mine,)
    assert as_known(back, on_file).sizes == (size,)


def test_a_value_that_says_something_else_stays_its_own():
    on_file = Work(titles=(Title(text="Low Water", kind="title/inscribed"),))
    other = Title(text="Low Waters", kind="title/inscribed")
    back = Work(id=on_file.id, titles=(other,))
    assert as_known(back, on_file).titles == (other,)
    # two that say the same are two
    twice = replace(back, titles=(replace(on_file.titles[0], id=other.id), *on_file.titles))
    assert len(as_known(twice, on_file).titles) == 2
