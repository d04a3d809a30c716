"""SVG as text: elements whose words and attributes are escaped, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Final

# what XML cannot hold
_CONTROLS: Final = dict.fromkeys(
    (*range(9), 11, 12, *range(14, 32), 0x7F, 0xFFFE, 0xFFFF, *range(0xD800, 0xE000)),
    "\N{REPLACEMENT CHARACTER}",
)


class Svg(str):
    """A piece of SVG that is well formed; every other string is text and gets escaped."""

    __slots__ = ()


def element(name: str, *inside: str, **attributes: str | float | None) -> Svg:
    """An element; `_` in the name of an attribute is a hyphen, one that is None is left out.

    >>> element("text", "Fell & Son", x=3.5, text_anchor="end", class_="small")
    '<text x="3.5" text-anchor="end" class="small">Fell &amp; Son</text>'
    """
    told = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return Svg(f"<{name}{told}>{together(inside)}</{name}>" if inside else f"<{name}{told}/>")


def together(pieces: Iterable[str]) -> Svg:
    """Pieces one after the other, the text among them escaped."""
    return Svg("".join(piece if isinstance(piece, Svg) else _text(piece) for piece in pieces))


def _value(value: str | float) -> str:
    return _text(value) if isinstance(value, str) else f"{value:.2f}".rstrip("0").rstrip(".")


def _text(words: str) -> str:
    return escape(words.translate(_CONTROLS))
