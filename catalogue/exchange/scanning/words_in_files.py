"""The words of a finished file, whatever it is written in: escapes undone, capitals and spaces folded.

A word is a run of letters and digits, so that a name is found across a line end, a comma or an element.
What has plain letters alone (a to z) is looked for in a quick way, in which every other letter parts
words; the rest in a slower one, which knows the letters of all scripts.
"""

from __future__ import annotations

import re
import unicodedata
from html import unescape

_FOLDED = bytes(
    sign + 32 if 65 <= sign <= 90 else sign if 48 <= sign <= 57 or 97 <= sign <= 122 else 32
    for sign in range(256)
)
_ESCAPED = re.compile(rb"\\(?:u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|[nrtbf])")
_ENTITY = re.compile(rb"&(?:#\d{1,7}|#[xX][0-9a-fA-F]{1,6}|amp|lt|gt|quot|apos|nbsp);")
_PERCENT = re.compile(rb"%(?:40|20|2[BbEe])")
_BREAK_IN_A_WORD = re.compile(rb"<lb\b[^>]*\bbreak=.no.[^>]*>\s*")
_LETTERS = re.compile(r"[^\W_]+")
_ELEMENT = re.compile(rb"<[^<>]*>")
_COMBINING = re.compile("[\u0300-\u036f\u00ad\u200b-\u200d\ufeff]")


def words(text: bytes) -> list[bytes]:
    """The words of a text, folded.

    >>> words("Mrs QUILLAN, 14 Mole Street".encode())
    [b'mrs', b'quillan', b'14', b'mole', b'street']
    """
    return text.translate(_FOLDED).split()


def all_words(text: bytes) -> list[bytes]:
    """The words of a text in whatever script, folded.

    >>> [word.decode() for word in all_words("MÜLLER & Söhne".encode())]
    ['müller', 'söhne']
    """
    folded = unicodedata.normalize("NFC", text.decode("utf-8", "replace").casefold())
    return [word.encode() for word in _LETTERS.findall(folded)]


def words_of(written: str) -> tuple[bytes, ...]:
    """The same for something that is looked for: by plain letters where it has no others."""
    text = unicodedata.normalize("NFC", written).encode("utf-8", "replace")
    found = all_words(text)
    return tuple(words(text) if all(word.isascii() for word in found) else found)


def undone(text: bytes) -> bytes:
    """A text with the escapes of JSON, Turtle, XML and addresses undone, where there are any.

    >>> undone(b"Mrs\\\\nQuillan &amp; Son")
    b'Mrs Quillan & Son'
    """
    if b"\\" in text:
        text = _ESCAPED.sub(_sign, text)
    if b"&" in text:
        text = _ENTITY.sub(lambda found: unescape(found[0].decode()).encode(), text)
    if b"%" in text:
        text = _PERCENT.sub(lambda found: bytes([int(found[0][1:], 16)]), text)
    if b"\xcc" in text or b"\xcd" in text or b"\xe2\x80\x8b" in text or b"\xc2\xad" in text:
        # Letters with their marks apart, and signs of no width within a word.
        whole = unicodedata.normalize("NFC", text.decode("utf-8", "replace"))
        text = _COMBINING.sub("", whole).encode("utf-8", "replace")
    return text


def _sign(found: re.Match[bytes]) -> bytes:
    code = found[1] or found[2]
    if code is None:
        return b" "
    number = int(code, 16)
    if number > 0x10FFFF or 0xD800 <= number <= 0xDFFF:
        return b" "
    return chr(number).encode()


def without_elements(text: bytes) -> tuple[bytes, bytes]:
    """A text without its elements: once with a space for each, once with nothing for it.

    >>> without_elements(b"Mrs <hi>Quil</hi>lan<lb/>of Mole")
    (b'Mrs  Quil lan of Mole', b'Mrs Quillanof Mole')
    """
    text = _BREAK_IN_A_WORD.sub(b"", text)
    return _ELEMENT.sub(b" ", text), _ELEMENT.sub(b"", text)
