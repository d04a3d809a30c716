"""What is kept about a place is known without loading the packages that clip and fit."""

from __future__ import annotations

import subprocess
import sys

import pytest

import catalogue.surface

HEAVY = "numpy", "shapely"


def loaded_by(code):
    told = subprocess.run(
        [sys.executable, "-c", f"import sys\n{code}\nprint(*sys.modules)"],
        check=True,
        capture_output=True,
        text=True,
    )
    return set(told.stdout.split())


@pytest.mark.parametrize(
    "code",
    [
        "import catalogue.record, catalogue.command",
        "from catalogue.surface import Box, Sheet, mirror, in_words, read_place, from_scale_bar\n"
        "mirror(Box(1, 2, 3, 4), Sheet(10, 10))",
    ],
)
def test_keeping_turning_and_wording_load_neither(code):
    assert not loaded_by(code) & {*HEAVY}


def test_covering_loads_shapely_when_it_is_asked_for():
    assert "shapely" in loaded_by("from catalogue.surface import covers")


def test_every_name_of_the_room_is_there():
    for name in catalogue.surface.__all__:
        assert hasattr(catalogue.surface, name)
    with pytest.raises(AttributeError, match="no attribute 'covering_all'"):
        _ = catalogue.surface.covering_all
