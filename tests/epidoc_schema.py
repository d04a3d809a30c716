"""EpiDoc's own RELAX NG, found through DORSE_SCHEMAS, and what it misses as assertions of ours.

The schema is that of 2017-03-06 (EpiDoc collaborative, GPL-3): outside the project and never copied
into it.
"""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

TEI = "{http://www.tei-c.org/ns/1.0}"
_SCHEMAS = os.environ.get("DORSE_SCHEMAS")
needs_schema = pytest.mark.skipif(
    not _SCHEMAS, reason="DORSE_SCHEMAS is not set: the EpiDoc schema is no part of dorse"
)
# closed lists of the schema
_GAP_REASONS = {"lost", "illegible", "omitted", "ellipsis"}
_SUPPLIED_REASONS = {"lost", "omitted", "subaudible", "explanation", "undefined"}


@cache
def epidoc():
    return etree.RelaxNG(etree.parse(Path(_SCHEMAS or "") / "epidoc" / "epidoc.rng"))


def what_the_schema_misses(root):
    """Assertions of our own, for what RELAX NG accepts and the Guidelines do not."""
    ids = root.xpath("//@xml:id")
    assert len(ids) == len(set(ids)), "one xml:id for two elements"
    for attribute in ("facs", "new", "datingMethod"):
        for element in root.xpath(f"//*[@{attribute}]"):
            for pointed in element.get(attribute).split():
                assert pointed.removeprefix("#") in ids, f"{pointed} points nowhere"
    for gap in root.iter(f"{TEI}gap", f"{TEI}space"):
        sizes = [name for name in ("quantity", "extent", "atLeast") if gap.get(name)]
        assert len(sizes) == 1, "a gap has one size (att.dimensions)"
        assert bool(gap.get("atLeast")) == bool(gap.get("atMost"))
    reasons = {gap.get("reason") for gap in root.iter(f"{TEI}gap")}
    assert reasons <= _GAP_REASONS
    assert {each.get("reason") for each in root.iter(f"{TEI}supplied")} <= _SUPPLIED_REASONS
    lines = [int(each.get("n")) for each in root.iter(f"{TEI}lb")]
    assert lines == list(range(1, len(lines) + 1))
