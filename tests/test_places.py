"""Tables of vocab/ as a curator left them: what cannot be read, or is missing, is said with its place."""

from __future__ import annotations

import pytest

from catalogue import places
from catalogue.errors import BadSetting


@pytest.fixture
def vocabulary(tmp_path, monkeypatch):
    """A vocabulary of one's own, read afresh before and after."""
    places.table.cache_clear()
    monkeypatch.setattr(places, "folder", lambda name: tmp_path)
    yield tmp_path
    places.table.cache_clear()


def test_a_row_that_is_missing_is_told_with_its_table(vocabulary):
    (vocabulary / "trees.toml").write_text(
        '[oak]\nsays = "oak"\n[[row]]\nname = "ash"\n', "utf-8"
    )
    assert places.table("trees.toml")["oak"]["says"] == "oak"
    assert places.table("trees.toml").get("elm") is None
    with pytest.raises(BadSetting, match=r"vocab/trees\.toml lacks “elm”"):
        places.table("trees.toml")["elm"]
    with pytest.raises(BadSetting, match=r"vocab/trees\.toml \[oak\] lacks “grows”"):
        places.table("trees.toml")["oak"]["grows"]
    with pytest.raises(BadSetting, match=r"vocab/trees\.toml \[row\] lacks “grows”"):
        places.table("trees.toml")["row"][0]["grows"]


def test_a_table_that_is_spoilt_is_told_with_its_line(vocabulary):
    (vocabulary / "trees.toml").write_text("[oak\n", "utf-8")
    with pytest.raises(BadSetting, match=r"trees\.toml cannot be read.*line 1"):
        places.table("trees.toml")
