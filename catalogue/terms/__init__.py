"""The studio's vocabulary: concepts from vocab/terms, their labels, AAT matches and look-up."""

from __future__ import annotations

from catalogue.terms.cautions import Caution, cautions, standing
from catalogue.terms.cautions import rows as every_caution
from catalogue.terms.concepts import (
    Concept,
    concept,
    group,
    group_said,
    groups,
    in_order,
    known,
    label,
    labelled,
    of_iri,
    within,
)
from catalogue.terms.hazards import hazard_says, precaution_says
from catalogue.terms.turtle import AAT, NAMESPACE

__all__ = [
    "AAT",
    "NAMESPACE",
    "Caution",
    "Concept",
    "cautions",
    "concept",
    "every_caution",
    "group",
    "group_said",
    "groups",
    "hazard_says",
    "in_order",
    "known",
    "label",
    "labelled",
    "of_iri",
    "precaution_says",
    "standing",
    "within",
]
