"""A cataloguer's prose about what is written on a picture → one item for each mark, and the rest.

A line end or a semicolon begins another mark; so does a sentence or a phrase that has a place or a
kind of its own. What stands in quotation marks or brackets is never cut. The words are in
vocab/inscription_fields.toml. An item says what the cataloguer says, no more: a kind that nobody
names is told from the text only where its form leaves little doubt.
"""

from __future__ import annotations

from catalogue.argument.inscription_fields.field import (
    FieldMark,
    InscriptionField,
    read_inscriptions,
)

__all__ = ["FieldMark", "InscriptionField", "read_inscriptions"]
