"""A step whose place was told through the picture from the front covers what lies there on the back.

The place is the trade sheet's running example (C1, C2): a patch over a tear, a title beside it. Taken
as it stands, without the mirror, it would seem to miss the title.
"""

from __future__ import annotations

import pytest

from catalogue.argument.order import breaches
from catalogue.measure import Day
from catalogue.record import Inscription, Location, Size, Step, Treatment, Work
from catalogue.surface import Box, Shape

DAY = Day(2026, 3, 2)
TITLE = Box(395, 120, 150, 40)
FROM_THE_BACK = Shape.of_box(Box(415, 125, 90, 75))
FROM_THE_FRONT = Shape.of_box(Box(105, 125, 90, 75))
FAR = Shape.of_box(Box(20, 400, 30, 30))


def patched(shape, seen, *, measured=True):
    place = Location(face="face/back", shape=shape, seen=seen)
    step = Step(order=1, kind="step/patch", began=DAY, ended=DAY, location=place)
    return Work(
        sizes=(Size(what="size/support", width_mm=610, height_mm=500),) if measured else (),
        inscriptions=(
            Inscription(number="I1", kind="inscription/title", face="face/back", place=TITLE),
        ),
        treatments=(Treatment(number="T1", steps=(step,)),),
    )


@pytest.mark.parametrize(
    ("work", "stopped"),
    [
        (patched(FROM_THE_BACK, "seen/that-side"), True),
        (patched(FROM_THE_FRONT, "seen/through-front"), True),
        (patched(FROM_THE_BACK, "seen/through-front"), False),
        (patched(FROM_THE_FRONT, "seen/that-side"), False),
        # nobody knows: it may lie on the title
        (patched(FAR, "seen/unknown"), True),
        (patched(FAR, "seen/through-front", measured=False), True),
        (patched(FAR, "seen/that-side", measured=False), False),
    ],
)
def test_what_a_patch_covers_from_whichever_side_it_was_told(work, stopped):
    assert ("O13" in {each.rule.key for each in breaches(work)}) == stopped
