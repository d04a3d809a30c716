"""What a writer is given stands on the paper letter by letter, whatever it is, on pages that are numbered."""

from __future__ import annotations

import io
import re
import sys
import unicodedata
from datetime import UTC, datetime
from itertools import pairwise
from xml.etree import ElementTree

import pypdf
import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import html

from catalogue.documents.codes import code_svg
from catalogue.documents.html import as_html
from catalogue.documents.model import (
    Document,
    Facts,
    Heading,
    Label,
    Labels,
    Notice,
    Paragraph,
    Picture,
    Pictures,
    Points,
    Signature,
    Signatures,
    Table,
    Transcription,
)
from catalogue.documents.pdf import as_pdf, breakable
from catalogue.errors import BadSetting

HOSTILE = (
    "#let x = 1",
    "#panic()",
    "[Sm[ith]] (a(bc)) {3}",
    "$ 12 * _3_ ` ~ @ref <label> \\ // /* */ = - + 1.",
    "</style><script>alert(1)</script>",
    "{{ words }} {% raw %}",
    "&amp; &#x41; \"quoted\" 'single'",
    "Ḥ̣arṛowell ß ſ Œuvre",
    "\N{GRINNING FACE} \N{WOMAN}\N{ZERO WIDTH JOINER}\N{ARTIST PALETTE}",
    "שלום עולם",
    "مرحبا بالعالم",
    "漢字かな交じり文",
    "x" * 10_000,
)
DRAWING = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 20" width="30" height="20">'
    b'<rect width="30" height="20" fill="#ccc"/></svg>'
)


def every_block(text):
    """One of every block there is, each with this text."""
    picture = Picture(DRAWING, "image/svg+xml", 30, 20, alt="a grey field", caption=text)
    label = Label(number="2026-041", lines=(text,), code="2026-041", code_alt="square code")
    return (
        Heading(text),
        Heading(text, 2),
        Heading(text, 3),
        Paragraph(text),
        Paragraph(text, "small"),
        Paragraph(text, "strong"),
        Facts(((text, text),)),
        Points((text, text)),
        Table((text, "b"), ((text, "1"), ("2", text)), (1, 3)),
        Table((text, "b"), ((text, ""), ("", text)), (1, 3), ruled=True),
        Transcription(text, text),
        Pictures((picture,)),
        Pictures((picture, picture)),
        Pictures((picture,), wide=True),
        Pictures((picture,) * 3, small=True),
        Notice(text, text),
        Signatures((Signature(text, text),), "day"),
        Labels((label,), hole=True),
    )


def paper(*blocks, **facts):
    return Document(
        **{
            "title": "Condition report",
            "number": "2026-041, K1",
            "day": "2026-03-02",
            "letterhead": ("Example Studio",),
            "blocks": blocks,
            **facts,
        }
    )


def in_pdf(document):
    """Everything that a reader of PDF finds written there, white space and places to break aside."""
    read = pypdfium2.PdfDocument(as_pdf(document))
    return bare("".join(page.get_textpage().get_text_range() for page in read))


def in_html(document):
    tree = html.fromstring(as_html(document).decode())
    for style in tree.iter("style"):
        style.text = ""
    return bare(tree.text_content())


def bare(text):
    """The letters of a text in one form: a reader of PDF may not tell how they were composed."""
    folded = unicodedata.normalize("NFKC", text)
    return re.sub(r"[\s\u200b-\u200f\u202a-\u202e\u2066-\u2069\ufeff\ufffe\x02]", "", folded)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_text_prints_as_the_text_it_is_in_html(text):
    told = in_html(paper(*every_block(text)))
    assert told.count(bare(text)) >= len(every_block(text))


# Which way letters of Hebrew and Arabic run is left to the reader of the PDF.
@pytest.mark.parametrize("text", HOSTILE[:9])
def test_a_text_prints_as_the_text_it_is_in_pdf(text):
    document = paper(Paragraph(text), Facts(((text, "a"),)), Points((text,)), Heading(text))
    told = in_pdf(document)
    # Emoji have no letters in the typeface that comes along.
    if not text.startswith("\N{GRINNING FACE}"):
        assert told.count(bare(text)) == 4


def test_a_word_of_ten_thousand_letters_prints_in_full():
    text = "ß" * 10_000
    document = paper(Paragraph(text), Facts(((text, "a"),)), Table(("a",), ((text,),), (1,)))
    assert in_pdf(document).count(text[0]) == 30_000
    assert in_html(document).count(text) == 3


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_no_text_breaks_a_pdf_in_any_block(text):
    read = pypdf.PdfReader(io.BytesIO(as_pdf(paper(*every_block(text)))))
    assert read.pages


@given(st.text(max_size=200))
@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_text_at_all_can_be_written(text):
    document = paper(*every_block(text), title=text, number=text, letterhead=(text,))
    assert as_pdf(document).startswith(b"%PDF")
    assert html.fromstring(as_html(document).decode()) is not None


@pytest.mark.parametrize(("size", "points"), [("a4", (595.28, 841.89)), ("letter", (612, 792))])
def test_pages_have_their_size_and_their_numbers(size, points):
    """ISO 216 says A4 is 210 × 297 mm; ANSI X3.151 says Letter is 8.5 × 11 in; a point is 1/72 in."""
    many = tuple(Paragraph(f"Line {count}.") for count in range(120))
    read = pypdf.PdfReader(io.BytesIO(as_pdf(paper(*many, page=size))))
    pages = len(read.pages)
    assert pages > 2
    for count, page in enumerate(read.pages, 1):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            points, abs=0.01
        )
        assert f"page {count} of {pages}" in page.extract_text()
    style = as_html(paper(*many, page=size)).decode()
    assert f"size: {'A4' if size == 'a4' else 'Letter'};" in style


def test_a_pdf_says_its_title_its_language_and_its_structure():
    """PDF 1.7 (ISO 32000-1), 14.8 and 14.9: what makes a document readable by ear."""
    read = pypdf.PdfReader(io.BytesIO(as_pdf(paper(*every_block("Sea Wall")))))
    root = read.trailer["/Root"]
    assert read.metadata.title == "Condition report, 2026-041, K1"
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"]
    tags = set()
    waiting = [root["/StructTreeRoot"]]
    while waiting:
        node = waiting.pop().get_object()
        if isinstance(node, list):
            waiting += node
        elif isinstance(node, dict):
            tags.add(node.get("/S"))
            if node.get("/S") == "/Figure":
                assert node["/Alt"]
            if "/K" in node:
                kids = node["/K"].get_object()
                waiting += kids if isinstance(kids, list) else [kids]
    assert {"/H1", "/H2", "/P", "/Table", "/TH", "/TD", "/L", "/Figure", "/Caption"} <= tags


def test_every_table_of_a_pdf_has_heads():
    """PDF/UA-1 (ISO 14289-1), 7.5: tables have headers; names and facts are therefore no table."""
    read = pypdf.PdfReader(io.BytesIO(as_pdf(paper(*every_block("Sea Wall")))))
    tables = list(_tagged(read.trailer["/Root"]["/StructTreeRoot"], "/Table"))
    assert len(tables) == 2
    for table in tables:
        assert list(_tagged(table, "/TH"))


def _tagged(node, tag):
    """Every element with a tag below a node of the structure."""
    node = node.get_object()
    for each in node if isinstance(node, list) else [node]:
        held = each.get_object()
        if isinstance(held, dict):
            if held.get("/S") == tag:
                yield held
            if "/K" in held:
                yield from _tagged(held["/K"], tag)


def test_a_pdf_keeps_to_what_its_own_maker_checks_of_pdf_ua_1():
    """ISO 14289-1 as far as typst checks it while writing: it refuses the mark otherwise."""
    read = pypdf.PdfReader(io.BytesIO(as_pdf(paper(*every_block("Sea Wall")))))
    assert b"pdfuaid:part" in read.trailer["/Root"]["/Metadata"].get_object().get_data()
    assert read.trailer["/Root"]["/ViewerPreferences"]["/DisplayDocTitle"]


def test_a_paper_says_of_letters_that_they_show_as_boxes():
    nobody = "\U00013000"  # an Egyptian bird: no typeface that comes along has it
    assert "Somelettersdonotshow" in in_pdf(paper(Paragraph(nobody)))
    assert "Somelettersdonotshow" not in in_pdf(paper(Paragraph("Sea Wall")))


def test_html_can_be_read_by_ear():
    tree = html.fromstring(as_html(paper(*every_block("Sea Wall"))).decode())
    assert tree.get("lang") == "en-GB"
    assert tree.findtext(".//title") == "Condition report, 2026-041, K1"
    assert all(image.get("alt") for image in tree.iter("img"))
    assert all(head.get("scope") == "col" for head in tree.iter("th"))
    levels = [int(node.tag[1]) for node in tree.iter("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_html_stands_alone_and_runs_nothing():
    told = as_html(paper(*every_block("Sea Wall"))).decode()
    tree = html.fromstring(told)
    for node in tree.iter():
        for name in ("src", "href", "action"):
            assert node.get(name, "data:").startswith("data:")
    assert not list(tree.iter("script", "link", "iframe"))
    assert "url(" not in told
    assert "@import" not in told


def test_the_same_paper_is_the_same_bytes():
    document = paper(*every_block("Sea Wall"))
    assert as_pdf(document) == as_pdf(document)
    assert as_html(document) == as_html(document)


def test_a_pdf_is_dated_by_its_paper_and_not_by_the_clock():
    read = pypdf.PdfReader(io.BytesIO(as_pdf(paper(Paragraph("x")))))
    assert read.metadata.creation_date == datetime(2026, 3, 2, tzinfo=UTC)


@pytest.mark.parametrize("proportion", [0.05, 0.7, 1, 1.9, 40])
def test_no_picture_runs_over_its_page(proportion):
    """Measured on the drawn page: beyond the margins there is nothing but the footer."""
    drawing = Picture(
        DRAWING.replace(b"#ccc", b"#000"),
        "image/svg+xml",
        100,
        100 * proportion,
        "a field",
        "P1",
    )
    read = pypdfium2.PdfDocument(
        as_pdf(paper(Pictures((drawing,) * 3), Pictures((drawing,), True)))
    )
    for page in read:
        for drawn in page.get_objects():
            left, bottom, right, top = drawn.get_bounds()
            assert left >= 50
            assert right <= page.get_width() - 50
            assert top <= page.get_height() - 30
            assert bottom >= 20


@pytest.mark.parametrize("lines", range(30, 46))
def test_nobody_signs_a_page_with_nothing_on_it(lines):
    """However long the paper is: what stands before the lines to sign on is on their page."""
    blocks = (*(Paragraph(f"Line {count}.") for count in range(lines)), Paragraph("So agreed."))
    signed = Signatures((Signature("For the depositor"), Signature("For the studio")), "Day")
    read = pypdfium2.PdfDocument(as_pdf(paper(*blocks, signed)))
    pages = [page.get_textpage().get_text_range() for page in read]
    (page,) = [text for text in pages if "For the depositor" in text]
    assert "So agreed." in page
    assert "For the studio" in page


def test_without_typst_it_says_how_to_get_it_and_what_prints_without(monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(BadSetting, match=r"(?s)pip install 'dorse\[pdf\]'.*HTML"):
        as_pdf(paper())
    assert as_html(paper())


def test_only_words_too_long_for_a_column_may_break_anywhere():
    assert breakable("an exceptionally long dedication") == "an exceptionally long dedication"
    broken = breakable("e\N{COMBINING ACUTE ACCENT}" * 30)
    assert broken.replace("\N{ZERO WIDTH SPACE}", "") == "e\N{COMBINING ACUTE ACCENT}" * 30
    assert "\N{ZERO WIDTH SPACE}\N{COMBINING ACUTE ACCENT}" not in broken


def test_a_code_is_a_drawing_of_modules_with_its_quiet_zone():
    """ISO/IEC 18004: version 1 has 21 modules a side, and four of quiet zone all round."""
    drawn = ElementTree.fromstring(code_svg("2026-041"))
    assert drawn.get("viewBox") == "0 0 29 29"
