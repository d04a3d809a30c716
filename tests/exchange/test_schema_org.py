"""A work for a dealer's page: every word is schema.org's, nothing doubtful stands as certain, pages stay whole."""

import json
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, full_work, works
from pyld import jsonld
from rdflib import SDO
from redacting import redact
from test_redaction import SECRETS

from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.schema_org.writing import artwork, as_script, write
from catalogue.exchange.withholding.redaction import profile
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write as write_json
from catalogue.measure import Day, read_date
from catalogue.record import Attribution, Offer, Size, Title, Work

OFFERED = Offer(
    work="work/7a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a10",
    status="offer-status/for-sale",
    asked=2400,
    currency="currency/euro",
    terms="With its frame.",
    since=Day(2026, 3, 10),
    until=Day(2026, 9, 10),
)
# schema.org's own context does in effect this: every plain word is one of its terms (the page
# "schema.org for Developers"); no test fetches it.
CONTEXT = {"@vocab": str(SDO), "id": "@id", "type": "@type"}


def labels(document_id):
    return (
        ("Person", "Ada Penhale") if document_id == ARTIST.document else ("Person", "unnamed")
    )


def told(work, offer=None, base=None, studio=""):
    return artwork(work, Sender(base, labels, "sale", studio=studio), offer)


def every_key(node):
    if isinstance(node, dict):
        for key, held in node.items():
            yield key
            yield from every_key(held)
    elif isinstance(node, list):
        for each in node:
            yield from every_key(each)


def every_type(node):
    if isinstance(node, dict):
        yield from [node["@type"]] if "@type" in node else []
        for held in node.values():
            yield from every_type(held)
    elif isinstance(node, list):
        for each in node:
            yield from every_type(each)


def is_of_schema_org(node):
    keys = {key for key in every_key(node) if not key.startswith("@")}
    # rdflib carries the list of schema.org's terms (rdflib.SDO)
    return [each for each in sorted(keys | set(every_type(node))) if each not in SDO]


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def test_every_word_is_schema_orgs(work):
    assert is_of_schema_org(told(work, OFFERED, "https://backs.example/", "A studio")) == []
    assert is_of_schema_org({"provenance": 1}) == ["provenance"]  # standards sheet, section 6


def test_it_says_the_same_to_a_reader_of_linked_data():
    node = told(full_work(), OFFERED, "https://backs.example/", "A studio")
    assert node["@context"] == "https://schema.org"
    (expanded,) = jsonld.expand({**node, "@context": CONTEXT})
    assert expanded["@type"] == [str(SDO.VisualArtwork)]
    assert expanded[str(SDO.name)] == [{"@value": "Low Water"}]
    (offer,) = expanded[str(SDO.offers)]
    assert offer[str(SDO.price)] == [{"@value": 2400}]


def test_a_maker_stands_as_creator_only_where_it_is_by_them():
    work = full_work()
    assert told(work)["creator"]["name"] == "Ada Penhale"
    less = (Attribution(qualifier="qualifier/circle-of", artist=ARTIST.document),)
    doubtful = told(replace(work, attributions=less))
    assert "creator" not in doubtful
    assert doubtful["description"].startswith("Circle of Ada Penhale.")


@pytest.mark.parametrize(
    ("written", "exact"),
    [
        ("1887", "1887"),
        ("12 April 1903", "1903-04-12"),
        ("April 1903", "1903-04"),
        ("c. 1887", None),
        ("1887?", None),
        ("before 1907", None),
        ("1880s", None),
        ("between 1880 and 1885", None),
    ],
)
def test_a_date_stands_as_such_only_where_it_is_exact(written, exact):
    """Standards sheet, section 6: dateCreated is ISO 8601, so only exact dates; the rest in words."""
    node = told(Work(made=read_date(written)))
    assert node.get("dateCreated") == exact
    assert f"Made: {written}." in node["description"]


def test_sizes_are_in_centimetres_with_their_unit_code():
    node = told(Work(sizes=(Size(what="size/support", height_mm=500, width_mm=610.5),)))
    # UN/CEFACT Recommendation 20: CMT is the centimetre (standards sheet, section 6)
    assert node["height"] == {
        "@type": "QuantitativeValue", "value": 50, "unitCode": "CMT", "unitText": "cm",
    }  # fmt: skip
    assert node["width"]["value"] == 61.05


@pytest.mark.parametrize(
    ("status", "stands", "price"),
    [
        ("for-sale", "InStock", 2400),
        ("on-request", "InStock", None),
        ("reserved", "Reserved", 2400),
        ("sold", "SoldOut", None),
        ("withdrawn", None, None),
    ],
)
def test_an_offer_says_how_it_stands_and_the_price_only_where_it_is_told(status, stands, price):
    """Standards sheet, section 6: on request there is no price, only the availability."""
    node = told(Work(), replace(OFFERED, status=f"offer-status/{status}"), studio="A studio")
    if stands is None:
        assert "offers" not in node
        return
    offer = node["offers"]
    assert offer["availability"] == f"https://schema.org/{stands}"
    assert offer.get("price") == price
    assert offer.get("priceCurrency") == ("EUR" if price else None)
    assert offer["seller"] == {"@type": "ArtGallery", "name": "A studio"}


def test_a_price_in_money_without_a_code_is_not_told_as_another():
    node = told(Work(), replace(OFFERED, currency="currency/guinea"))
    assert "price" not in node["offers"]


def sent(work, name="sale", **more):
    document, _ = redact(to_jsonld(work), work.document, profile(name), lambda _: False)
    leaving = Leaving(work.document, "work-x", write_json(document))
    return dict(write(leaving, Sender(None, labels, name, **more)))


class _Scripts(HTMLParser):
    """What a browser takes for the script, and for the rest of the page."""

    def __init__(self):
        super().__init__()
        self.tags, self.text = [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.text.append(data)


@pytest.mark.parametrize("planted", ["</script><b>", "<!-- <script>", "]]> & '", '"}{'])
def test_no_title_ends_the_script_that_it_stands_in(planted):
    """HTML Standard, "Restrictions for contents of script elements": `</script` and `<!--` must be escaped."""
    files = sent(Work(titles=(Title(text=planted, kind="title/given"),)))
    page = _Scripts()
    page.feed(files["work-x.schema-org.html"].decode())
    assert page.tags == [("script", {"type": "application/ld+json"})]
    assert json.loads("".join(page.text)) == json.loads(files["work-x.schema-org.jsonld"])
    assert json.loads("".join(page.text))["name"] == planted


def test_pictures_come_along_under_the_names_that_the_data_gives_them(tmp_path):
    copy = tmp_path / "cached.jpg"
    copy.write_bytes(b"a picture")
    files = sent(full_work(), picture=lambda _photo: copy)
    (image,) = json.loads(files["work-x.schema-org.jsonld"])["image"]
    assert files[image["contentUrl"]] == b"a picture"
    assert copy.exists()
    assert not [name for name in files if name.endswith(".json")]


def test_nothing_confidential_leaves():
    hidden = lambda document_id: document_id != ARTIST.document  # noqa: E731
    work = full_work()
    document, _ = redact(to_jsonld(work), work.document, profile("public"), hidden)
    leaving = Leaving(work.document, "work-x", write_json(document))
    left = b"".join(dict(write(leaving, Sender(None, labels))).values()).decode()
    assert "Low Water" in left
    assert [secret for secret in SECRETS if secret in left] == []


def test_as_script_is_stable():
    assert as_script(b'{"a": 1}') == as_script(b'{"a": 1}\n')


def test_the_provenance_is_told_in_words_for_there_is_no_property_for_it():
    description = told(full_work())["description"]
    assert "Provenance: 1911: sale, " in description
    assert "agent Hollis & Trewin" in description
    assert "Porthmellow (probable)." in description
    assert "Exhibited: Winter Exhibition, Norbury Hall, 1908, no. 12." in description
    assert "Published: Harbour painters, 1990, p. 12-13." in description
    assert "dealer's label, stretcher bar: “Hollis & Trewin / …don S.W.”" in description
