"""TEI fragments against EpiDoc's own schema, and what that schema misses."""

import json
import os
import re
from pathlib import Path

import pytest
from lxml import etree

from catalogue.reading import SIGNS, read

_SCHEMAS = os.environ.get("DORSE_SCHEMAS")
needs_schema = pytest.mark.skipif(
    not _SCHEMAS, reason="DORSE_SCHEMAS is not set: the EpiDoc schema is no part of dorse"
)
_EXAMPLES = json.loads(
    (Path(__file__).parent / "worked_examples.json").read_text(encoding="utf-8")
)["examples"]
_LABELS = [
    *(told["markup"] for told in _EXAMPLES),
    *(sign.example for sign in SIGNS),
    *(f"Sold \\{place}:here/" for place in ("above", "below", "margin", "left", "right")),
    "\\top:Low/ \\bottom:Tide/",
    *(f"[[{how}: Low]]<<High>>" for how in ("erased", "covered", "overwritten")),
    "W[--- :torn edge] [...? :insect holes] [c.3 lines] [? lines] +(2 lines :abraded)",
    "*[[Low]]<<Hi_gh>>* \\margin:<Tide=Tyde>(?)/ q(uin)q(uennalis) D(octo)r_ {a}[!]",
    "@p Lot||@h2(pencil) 3 & <b> \x00 \ud800 \"x\" 'y' /* a & b */ {{a < b}}",
    "[[a|b]] ~de-AT:Öl~ <<x>> <a-|b>",
    "Eigendom|[--- :address withheld], Gent",
]
_DOCUMENT = """<TEI xmlns="http://www.tei-c.org/ns/1.0"><teiHeader><fileDesc>
<titleStmt><title>A label</title></titleStmt><publicationStmt><p>Test</p></publicationStmt>
<sourceDesc><p>A label</p></sourceDesc></fileDesc></teiHeader>
<text><body><div type="edition" xml:space="preserve"><ab>{}</ab></div></body></text></TEI>"""


@pytest.fixture(scope="module")
def epidoc():
    """EpiDoc RELAX NG of 2017-03-06 (EpiDoc collaborative, GPL-3), outside the project."""
    return etree.RelaxNG(etree.parse(Path(_SCHEMAS) / "epidoc" / "epidoc.rng"))


@needs_schema
@pytest.mark.parametrize("markup", _LABELS)
def test_a_fragment_is_valid_epidoc(markup, epidoc):
    document = etree.fromstring(_DOCUMENT.format(read(markup).tei()))
    assert epidoc.validate(document), epidoc.error_log.filter_from_errors()


@needs_schema
def test_the_schema_would_notice(epidoc):
    for wrong in ('<gap reason="torn"/>', "<bogus/>", '<supplied reason="torn">a</supplied>'):
        assert not epidoc.validate(etree.fromstring(_DOCUMENT.format(wrong)))


@pytest.mark.parametrize("markup", _LABELS)
def test_a_gap_says_its_size_once(markup):
    # RELAX NG accepts quantity and extent together; the TEI Guidelines (att.dimensions) do not
    # give that a meaning, so we never write it
    for gap in re.findall(r"<(?:gap|space) [^>]*>", read(markup).tei()):
        said = [name for name in ("quantity=", "extent=", "atLeast=") if f" {name}" in gap]
        assert len(said) == 1
        assert ("atLeast=" in gap) == ("atMost=" in gap)
        assert " unit=" in gap


@pytest.mark.parametrize("markup", _LABELS)
def test_every_hand_that_a_fragment_refers_to_is_listed(markup):
    reading = read(markup)
    referred = re.findall(r'new="#([^"]+)"', reading.tei())
    assert set(referred) == {hand.key for hand in reading.hands()}


def test_html_says_in_words_what_it_shows_in_signs():
    shown = read("H[arbour?] a_ [c.6 :torn] [[old]]<<new>> \\margin:x/ {{crown}}").html()
    for words in (
        "restored with doubt", "doubtful letter", "about 6 letters lost, torn", "struck out",
        "written over it", "added, margin", "drawn: ",
    ):  # fmt: skip
        assert words in shown
    assert "style=" not in shown


def test_html_escapes_what_the_label_says():
    shown = read('\\<script\\> & "x" /* <b> */ {{<i>}}').html()
    assert "<script" not in shown
    assert "<b>" not in shown
    assert "<i>" not in shown
    assert "&lt;script&gt; &amp; &quot;x&quot;" in shown
