"""What a piece of a photograph is called in a selector: a media fragment for an upright box, else a polygon.

Sources: W3C Web Annotation Data Model, sections 4.2.1 and 4.2.5; Media Fragments URI 1.0, section 4.2.2.
"""

from __future__ import annotations

from math import ceil, floor

from catalogue.linked.text import Node
from catalogue.record import Region

MEDIA_FRAGMENTS = "http://www.w3.org/TR/media-frags/"

Pixels = tuple[int, int]
"""How wide and how high a picture is."""


def upright(region: Region) -> bool:
    """Whether a region is a box whose sides are those of the photograph.

    >>> corners = ((1, 2), (9, 2), (9, 6), (1, 6))
    >>> upright(Region(photo="1b4e28ba-2fa1-4d1e-8b1e-0c0ffee00001", corners=corners))
    True
    """
    across = [x for x, _ in region.corners]
    down = [y for _, y in region.corners]
    left, top, right, bottom = min(across), min(down), max(across), max(down)
    return region.corners == ((left, top), (right, top), (right, bottom), (left, bottom))


def box(region: Region, size: Pixels | None) -> str:
    """The box around a region in whole pixels, none of it outside the picture: `xywh=1,2,8,4`.

    >>> corners = ((-3.5, 2.2), (9, 2.2), (9, 6.5), (-3.5, 6.5))
    >>> box(Region(photo="1b4e28ba-2fa1-4d1e-8b1e-0c0ffee00001", corners=corners), (8, 100))
    'xywh=0,2,8,5'
    """
    across = [x for x, _ in region.corners]
    down = [y for _, y in region.corners]
    wide, high = size or (ceil(max(across)), ceil(max(down)))
    left, right = _within(floor(min(across)), ceil(max(across)), wide)
    top, bottom = _within(floor(min(down)), ceil(max(down)), high)
    return f"xywh={left},{top},{right - left},{bottom - top}"


def _within(begins: int, ends: int, most: int) -> tuple[int, int]:
    """A stretch that lies within the picture and is at least a pixel long."""
    begins = min(max(begins, 0), max(most - 1, 0))
    return begins, max(min(ends, most), begins + 1)


def selector(region: Region, size: Pixels | None) -> Node:
    """The selector of a region: of a box a fragment, of anything else the very polygon that was drawn."""
    if upright(region):
        return {
            "type": "FragmentSelector",
            "conformsTo": MEDIA_FRAGMENTS,
            "value": box(region, size),
        }
    points = " ".join(f"{_figure(x)},{_figure(y)}" for x, y in _clipped(region, size))
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg"><polygon points="{points}"/></svg>'
    return {"type": "SvgSelector", "value": drawing}


def _clipped(region: Region, size: Pixels | None) -> list[tuple[float, float]]:
    """The corners, those beyond the edge of the picture put onto it."""
    if size is None:
        return list(region.corners)
    wide, high = size
    return [(min(max(x, 0), wide), min(max(y, 0), high)) for x, y in region.corners]


def _figure(pixels: float) -> str:
    return f"{pixels:.2f}".rstrip("0").rstrip(".")
