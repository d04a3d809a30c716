"""Places on a painting in millimetres, front and back."""

from __future__ import annotations

from catalogue.surface.boxes import Box, mirror, mirror_degrees, nine_field

__all__ = ["Box", "mirror", "mirror_degrees", "nine_field"]
