"""Square codes that a camera reads, as drawings. They hold what they are given and nothing else."""

from __future__ import annotations

from io import BytesIO

import segno


def code_svg(held: str) -> bytes:
    """A QR code (ISO/IEC 18004) with this text, as SVG of one unit a module, its quiet zone included."""
    drawn = BytesIO()
    segno.make_qr(held, error="m").save(
        drawn, kind="svg", xmldecl=False, svgns=True, nl=False, omitsize=True, border=4
    )
    return drawn.getvalue()
