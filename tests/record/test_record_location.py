"""A place on its own face, whichever way it was seen; the tear is the trade sheet's (C1, geometry)."""

from __future__ import annotations

import pytest

from catalogue.record import Location
from catalogue.surface import Box, Shape, Sheet

PICTURE = Sheet(610, 500)
TEAR = Shape.of_box(Box(120, 140, 60, 45))
TWIN = Shape.of_box(Box(430, 140, 60, 45))


@pytest.mark.parametrize(
    ("face", "seen", "sheet", "found"),
    [
        ("face/back", "seen/that-side", PICTURE, TEAR),
        ("face/back", "seen/that-side", None, TEAR),
        ("face/front", "seen/that-side", PICTURE, TEAR),
        ("face/back", "seen/through-front", PICTURE, TWIN),
        ("face/lining", "seen/through-front", PICTURE, TWIN),
        ("face/front", "seen/through-front", None, TEAR),
        ("face/back", "seen/through-front", None, None),
        ("face/back", "seen/unknown", PICTURE, None),
        ("face/front", "seen/unknown", PICTURE, None),
    ],
)
def test_a_place_on_its_own_face(face, seen, sheet, found):
    assert Location(face=face, seen=seen, shape=TEAR).on_its_face(sheet) == found


def test_what_has_no_outline_has_none_on_its_face():
    assert Location(face="face/back").on_its_face(PICTURE) is None
