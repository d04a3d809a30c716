"""Provenance as museums publish it → entries, notes, and what found no place.

The text is parted into steps and notes (`notes`, `cutting`), a step is read word by word (`step`, with
`naming`, `dated` and `money`), and `whole` puts together what they tell. The words are in
vocab/provenance_prose.toml; a curator adds one there, and no code.
"""

from __future__ import annotations

from catalogue.argument.prose.reading.plain_words import told_plainly
from catalogue.argument.prose.reading.whole import read_provenance

__all__ = ["read_provenance", "told_plainly"]
