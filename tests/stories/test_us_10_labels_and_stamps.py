"""US-10, labels and stamps: print and handwriting apart, its size, what it is on, and whose that is.

The story and its acceptance facts are those of the trade sheet, section 1.3. Left out: the search for the
same printed form on save (C7), which is a work of its own.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from painting_0_1 import MEMBER, WHO, page, painting

from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.record import Inscription, Part, Sighting, Transcript
from catalogue.surface import Box

LABEL = "@p FELL & AMBRY|@p 14 Sorrel Place|@p No. @h 217"


def labelled(original):
    bar = Part(kind="part/stretcher", original=original)
    label = Inscription(
        number="I1", kind="inscription/dealer-label", face="face/stretcher-bar", part=bar.id,
        techniques=("technique/printed", "technique/pen"), place=Box(40, 3, 92, 34),
        transcripts=(Transcript(markup=LABEL, by=MEMBER, on=Day(2026, 2, 3)),),
        sightings=(Sighting(state="state/damaged", on=Day(2026, 2, 3)),),
    )  # fmt: skip
    return painting(parts=(bar,), inscriptions=(label,))


def test_what_is_printed_and_what_is_filled_in_are_told_apart(empty_studio):
    label = empty_studio.save(labelled(None), who=WHO).record.inscription("I1")
    html = label.preferred().reading().html()
    assert "hand-printed" in html
    assert "hand-handwritten" in html


def test_it_keeps_its_size_its_state_and_the_part_that_bears_it(empty_studio):
    work = empty_studio.save(labelled(None), who=WHO).record
    label = work.inscription("I1")
    assert (label.place.width_mm, label.place.height_mm) == (92, 34)
    assert label.latest().state == "state/damaged"
    assert label.part == work.parts[0].id
    assert "stretcher bar; back, upper left, 40 mm from the left edge" in page(
        empty_studio, work, "map"
    )


@pytest.mark.parametrize("original", [True, False, None])
def test_the_part_says_whether_it_belongs_to_the_picture_from_the_start(empty_studio, original):
    kept = empty_studio.save(labelled(original), who=WHO)
    assert empty_studio.read(kept.document_id).record.parts[0].original is original


def test_a_label_cannot_hang_on_a_part_that_is_not_there(empty_studio):
    work = labelled(None)
    with pytest.raises(BadData, match="part"):
        replace(work, parts=())
