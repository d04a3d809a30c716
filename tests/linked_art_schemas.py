"""The Linked Art 1.0 JSON Schemas, from the folder that DORSE_SCHEMAS names."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

SCHEMAS = os.environ.get("DORSE_SCHEMAS")
needs_schemas = pytest.mark.skipif(
    not SCHEMAS, reason="DORSE_SCHEMAS is not set: the Linked Art 1.0 schemas are not at hand"
)
_PROVENANCE = "http://vocab.getty.edu/aat/300055863"
_SCHEMA_OF = {
    "HumanMadeObject": "object", "LinguisticObject": "text", "DigitalObject": "digital",
    "Person": "person", "Group": "group", "Place": "place", "Type": "concept",
    "Material": "concept", "Language": "concept", "MeasurementUnit": "concept",
    "Currency": "concept", "Activity": "event",
}  # fmt: skip


def schema_of(record) -> str:
    """The name of the schema for a record; events in the history of a thing have one of their own."""
    classes = {each.get("id") for each in record.get("classified_as", ())}
    if record["type"] == "Activity" and _PROVENANCE in classes:
        return "provenance"
    return _SCHEMA_OF[record["type"]]


def schema_validators():
    """The schemas as published (repository linked-art/linked.art, docs/api/1.0/schema, CC BY 4.0)."""
    from jsonschema import Draft202012Validator, FormatChecker
    from referencing import Registry, Resource

    registry, schemas = Registry(), {}
    for source in Path(SCHEMAS, "linked-art-1.0").glob("*.json"):
        schema = json.loads(source.read_text("utf-8"))
        schemas[source.stem] = schema
        resource = Resource.from_contents(schema)
        own = f"https://linked.art/api/1.0/schema/{source.name}"
        registry = registry.with_resource(schema["$id"], resource).with_resource(own, resource)
    return {
        name: Draft202012Validator(schema, registry=registry, format_checker=FormatChecker())
        for name, schema in schemas.items()
    }
