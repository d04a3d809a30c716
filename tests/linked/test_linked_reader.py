"""Strict records read by somebody else's reader: cromulent's, which knows every class and property.

Outside check: the reader of the package cromulent 1.0.1 (Apache-2.0). It refuses a key, class or
value that the model does not allow where it stands. What it refuses without being right is listed.
"""

from __future__ import annotations

import json

import pytest
from cromulent.model import DataError
from cromulent.reader import Reader
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, full_work, works

from catalogue.linked import strict
from catalogue.linked.addresses import absolute
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import nodes_within

KNOWN_REFUSALS = {"assigned_property": "it wants a Type, where the schemas want a word"}


def labels(document_id):
    if document_id.startswith("party/"):
        return "Person", "Ada Penhale"
    return "HumanMadeObject", "Low Water"


def strict_records(record):
    found = strict.reduce(to_jsonld(record), labels)
    for each in (*found, *strict.concept_records(found)):
        yield absolute(each, None, record.document)


def without_known_refusals(record):
    for here in (record, *nodes_within(record)):
        for key in KNOWN_REFUSALS:
            here.pop(key, None)
    return json.dumps(record)


@pytest.mark.parametrize(
    "record", [full_work(), ARTIST, CLIENT], ids=["work", "artist", "client"]
)
def test_its_reader_understands_every_record_but_for_the_known_refusals(record):
    for each in strict_records(record):
        refused = refusal(each)
        assert refused is None or any(key in refused for key in KNOWN_REFUSALS)
        assert Reader().read(without_known_refusals(each)).id == each["id"]


def refusal(record):
    try:
        Reader().read(json.dumps(record))
    except DataError as refused:
        return str(refused)
    return None


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def test_so_it_does_those_of_any_work(work):
    for each in strict_records(work):
        assert Reader().read(without_known_refusals(each)).id == each["id"]


def test_it_would_have_noticed():
    record = next(strict_records(full_work()))
    with pytest.raises((DataError, NotImplementedError)):
        Reader().read(without_known_refusals({**record, "bears": "nothing"}))
    with pytest.raises(DataError):
        Reader().read(without_known_refusals({**record, "made_of": [{"type": "Place"}]}))
