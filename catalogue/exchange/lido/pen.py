"""Writing LIDO as text: elements of its namespace with what they hold, every letter made safe for XML.

Text is put together, no tree is built: ten thousand records are a hundred thousand elements a second.
An element that would hold nothing is not written, so that whoever writes need not ask first.
"""

from __future__ import annotations

import re
from typing import Final
from xml.sax.saxutils import escape

_UNWRITABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
_RISKY = re.compile('[&<>"\x00-\x1f\ufffe\uffff]')
_IN_TEXT: Final = {"\r": "&#13;"}
_IN_ATTRIBUTES: Final = {'"': "&quot;", "\n": "&#10;", "\r": "&#13;", "\t": "&#9;"}


def element(name: str, *inner: str, attributes: str = "") -> str:
    """An element around others, each on a line of its own; "" when it would hold nothing.

    >>> element("titleSet", text("appellationValue", "Ebb & Flow"), "")
    '<lido:titleSet>\\n<lido:appellationValue>Ebb &amp; Flow</lido:appellationValue>\\n</lido:titleSet>'
    >>> element("titleSet", text("appellationValue", None))
    ''
    """
    held = "\n".join(filter(None, inner))
    return f"<lido:{name}{attributes}>\n{held}\n</lido:{name}>" if held else ""


def text(name: str, said: str | None, attributes: str = "") -> str:
    """An element that holds text; "" when there is none. What XML can't hold shows as a sign for it."""
    if not said or not said.strip():
        return ""
    return f"<lido:{name}{attributes}>{_safe(said, _IN_TEXT)}</lido:{name}>"


def having(**said: str | int | None) -> str:
    """Attributes of the namespace as they stand in a tag, `lang` being XML's own.

    >>> having(type="a", lang="en", label=None)
    ' lido:type="a" xml:lang="en"'
    """
    return "".join(
        f' {"xml" if name == "lang" else "lido"}:{name}="{_safe(str(value), _IN_ATTRIBUTES)}"'
        for name, value in said.items()
        if value is not None
    )


def _safe(said: str, also: dict[str, str]) -> str:
    if not _RISKY.search(said):
        return said
    if _UNWRITABLE.search(said):
        said = _UNWRITABLE.sub("\N{REPLACEMENT CHARACTER}", said)
    return escape(said, also)
