"""The LIDO schemas as published, 1.0 and 1.1, and the Schematron rules that stand inside 1.1.

From the folder that DORSE_SCHEMAS names (repository nfdi4objects/lido-schema, CC BY 4.0).
"""

from __future__ import annotations

import os
import warnings
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

SCHEMAS = os.environ.get("DORSE_SCHEMAS")
needs_lido = pytest.mark.skipif(
    not SCHEMAS, reason="DORSE_SCHEMAS is not set: the LIDO schemas are not at hand"
)
LIDO = "{http://www.lido-schema.org}"


@cache
def schema(version: str = "1.1"):
    """The XML Schema of a version."""
    return etree.XMLSchema(etree.parse(Path(SCHEMAS, "lido", f"lido-v{version}.xsd")))


@cache
def rules():
    """The Schematron rules of 1.1, which XML Schema does not run."""
    from lxml import isoschematron

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return isoschematron.Schematron(
            etree.parse(Path(SCHEMAS, "lido", "lido-v1.1.xsd")), store_report=True
        )


def faults(content: bytes, version: str = "1.1") -> list[str]:
    """What a receiver would say of a file: the schema's errors, then those of the rules."""
    tree = etree.fromstring(content)
    found = []
    if not schema(version).validate(tree):
        found += [f"{each.line}: {each.message}" for each in schema(version).error_log]
    if version == "1.1" and not rules().validate(tree):
        report = rules().validation_report
        ns = {"svrl": "http://purl.oclc.org/dsdl/svrl"}
        failed = report.xpath("//svrl:failed-assert | //svrl:successful-report", namespaces=ns)
        found += [" ".join("".join(each.itertext()).split()) for each in failed]
    return found
