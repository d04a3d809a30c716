"""Numbers in public lists of names: their form and address; the forms are from memory."""

from __future__ import annotations

import pytest

from catalogue.record import Number
from catalogue.record.authority import address_of, doubt_about
from catalogue.terms import concept


# Invented numbers; forms and addresses of the three lists: from memory.
@pytest.mark.parametrize(
    ("kind", "text", "address"),
    [
        ("number/ulan", "500999999", "http://vocab.getty.edu/ulan/500999999"),
        ("number/viaf", "98765", "http://viaf.org/viaf/98765"),
        ("number/wikidata", "Q98765", "http://www.wikidata.org/entity/Q98765"),
        ("number/authority", "https://example.org/names/7", "https://example.org/names/7"),
        ("number/authority", "BN 7", None),
        ("number/lot", "84", None),
    ],
)
def test_a_number_has_its_address_and_no_doubt(kind, text, address):
    number = Number(kind=kind, text=text)
    assert address_of(number) == address
    assert doubt_about(number) == ""
    assert concept(kind).key == kind


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("number/ulan", "400999999"),
        ("number/ulan", "5009999"),
        ("number/viaf", "98-765"),
        ("number/viaf", "٣٤"),
        ("number/wikidata", "98765"),
        ("number/wikidata", "Q0"),
    ],
)
def test_a_number_of_another_form_is_kept_and_told(kind, text):
    number = Number(kind=kind, text=text)
    assert number.text == text
    assert address_of(number) is None
    assert "look at it again" in doubt_about(number)


def test_no_script_becomes_an_address():
    assert address_of(Number(kind="number/authority", text="javascript:alert(1)")) is None
