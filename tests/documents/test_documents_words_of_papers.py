"""What a paper says is for whoever reads it: no words of our workshop, no commands, no codes."""

from __future__ import annotations

import re

import pytest

from catalogue.places import folder

OURS = re.compile(r"trade sheet|\bdorse \w|\bUS-\d|\(RK\)|\(DET\)", re.IGNORECASE)


@pytest.mark.parametrize(
    "name", ["borders.toml", "retention.toml", "documents.toml", "aftercare.toml"]
)
def test_no_reader_of_a_paper_meets_our_own_shorthand(name):
    for number, line in enumerate((folder("vocab") / name).read_text("utf-8").splitlines(), 1):
        said = line.partition("#")[0] if line.lstrip().startswith("#") else line
        assert not OURS.search(said), (name, number, line)
