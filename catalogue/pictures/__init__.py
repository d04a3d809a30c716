"""Pictures of what was worked out, as SVG: from values, for the desk and for documents alike."""
