"""A paper as HTML: one file that holds everything, for the screen and for any browser's printer."""

from __future__ import annotations

import re
from base64 import b64encode
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from catalogue import places
from catalogue.documents.codes import code_svg
from catalogue.documents.model import Document, Picture
from catalogue.documents.words import words


def as_html(document: Document) -> bytes:
    """The paper as one HTML file in UTF-8; pictures and style sheet are inside it."""
    page = _pages().get_template("document.html")
    written = page.render(
        document=document,
        words=words("every"),
        style=Markup(
            (places.folder("templates") / "documents" / "document.css").read_text("utf-8")
        ),
        kind=lambda block: type(block).__name__,
        source=_source,
        code=lambda held: _data("image/svg+xml", code_svg(held)),
    )
    return _UNWRITABLE.sub("\N{REPLACEMENT CHARACTER}", written).encode()


# what HTML cannot hold
_UNWRITABLE = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


@cache
def _pages() -> Environment:
    return Environment(
        loader=FileSystemLoader(places.folder("templates") / "documents"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _source(picture: Picture) -> str:
    return _data(picture.media_type, picture.content)


def _data(media_type: str, content: bytes) -> str:
    return f"data:{media_type};base64,{b64encode(content).decode('ascii')}"
