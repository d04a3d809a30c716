"""Numbers of other lists of names leave as Identifiers and, where they have an address, as `equivalent`."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from linked_art_schemas import needs_schemas, schema_of, schema_validators
from made_records import ARTIST

from catalogue.exchange import linked_art
from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.record import Number

# Invented numbers.
NUMBERS = (
    Number(kind="number/ulan", text="500999999"),
    Number(kind="number/viaf", text="not figures"),
    Number(kind="number/wikidata", text="Q98765"),
)
PARTY = replace(ARTIST, numbers=NUMBERS)


def sent(base):
    leaving = Leaving(PARTY.document, "penhale", to_jsonld(PARTY))
    sender = Sender(base, lambda document: ("Person", "Ada Penhale"))
    return json.loads(dict(linked_art.write(leaving, sender))["penhale.json"])


# Linked Art 1.0: `equivalent` of a person is a list of references (facts, table of references).
@pytest.mark.parametrize("base", [None, "https://studio.example/"])
def test_only_numbers_of_the_right_form_are_said_to_be_the_same(base):
    others = [each["id"] for each in sent(base)["equivalent"] if "urn:uuid" not in each["id"]]
    assert sorted(others) == [
        "http://vocab.getty.edu/ulan/500999999",
        "http://www.wikidata.org/entity/Q98765",
    ]


def test_every_number_leaves_as_an_identifier_as_typed():
    said = {
        each["content"] for each in sent(None)["identified_by"] if each["type"] == "Identifier"
    }
    assert {number.text for number in NUMBERS} <= said


def test_a_number_of_another_form_comes_back_as_it_was():
    assert set(from_jsonld(to_jsonld(PARTY)).numbers) == set(NUMBERS)


@needs_schemas
def test_the_record_is_valid_by_the_published_schemas():
    record = sent("https://studio.example/")
    assert not list(schema_validators()[schema_of(record)].iter_errors(record))
