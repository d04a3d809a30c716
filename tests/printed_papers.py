"""A paper printed and read back: the texts that stand on it, page after page."""

from __future__ import annotations

import re

import pypdfium2
from lxml import html


def pdf_text(content):
    """Everything written in a PDF, its white space as single spaces."""
    read = pypdfium2.PdfDocument(content)
    return one_line(" ".join(page.get_textpage().get_text_range() for page in read))


def pdf_pages(content):
    """How many pages a PDF has."""
    return len(pypdfium2.PdfDocument(content))


def html_text(content):
    """Everything written on the page of an HTML file."""
    return one_line(" ".join(html.fromstring(content.decode()).body.itertext()))


def one_line(text):
    return re.sub(r"[\s\u200b\ufffe\x02]+", " ", text).strip()


def both(studio, wanted, paper, **chosen):
    """The words of a paper, which must be the same in both formats; the words of the HTML."""
    in_pdf = pdf_text(studio.print_(wanted, paper, written_as="pdf", **chosen).content)
    in_html = html_text(studio.print_(wanted, paper, written_as="html", **chosen).content)
    missing = set(in_html.split()) - set(in_pdf.replace("\u00ad", "").split())
    assert not missing, sorted(missing)
    return in_html
