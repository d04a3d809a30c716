"""A TEI file as elements, each with its line: read with nothing but what stands in the file.

The parser is the standard library's (expat), so that this room needs no package from outside. It
opens no other file, goes nowhere, and refuses a file that defines entities of its own: those are
how a small file becomes a huge one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final
from xml.parsers import expat

from catalogue.errors import BadDocument

MOST_BYTES: Final = 1_000_000
DEEPEST: Final = 150
TEI_NAMESPACE: Final = "http://www.tei-c.org/ns/1.0"
_XML_NAMESPACE: Final = "http://www.w3.org/XML/1998/namespace"
_WHOLE: Final = re.compile(r"\s*<(?:\?xml|!DOCTYPE|TEI\b|teiCorpus\b)")
_SPACES: Final = re.compile(r"[ \t\r\n]+")


@dataclass(slots=True)
class Element:
    """One element: its name without the TEI namespace, its attributes, and what it holds, in order.

    An element of another namespace is named `{namespace}name`, a comment `#comment` and a
    processing instruction `#instruction`. Text is as it stands, white space and all.
    """

    name: str
    line: int
    attributes: dict[str, str] = field(default_factory=dict)
    children: list[Element | str] = field(default_factory=list)

    def elements(self, *names: str) -> Iterator[Element]:
        """The elements directly inside, those of these names if any are given."""
        for child in self.children:
            if isinstance(child, Element) and (not names or child.name in names):
                yield child

    def every(self, *names: str) -> Iterator[Element]:
        """Every element inside with one of these names, however deep, in order."""
        for child in self.elements():
            if child.name in names:
                yield child
            yield from child.every(*names)

    def text(self) -> str:
        """All the letters inside, with single spaces."""
        return _SPACES.sub(" ", "".join(self._letters())).strip()

    def _letters(self) -> Iterator[str]:
        for child in self.children:
            if isinstance(child, str):
                yield child
            elif not child.name.startswith("#"):
                yield from child._letters()


def parsed(xml: str | bytes) -> Element:
    """The outermost element of a TEI file, or an `ab` around a fragment.

    Raises `BadDocument` with the line for what is no XML, defines entities, or is too large.

    >>> parsed("Galerie Ho<gap/>nn").name
    'ab'
    """
    if not isinstance(xml, (str, bytes)):
        raise BadDocument(f"a TEI file is text, not {type(xml).__name__}", where="TEI")
    # letters are decoded already: what the file says about its encoding no longer holds
    encoding = "utf-8" if isinstance(xml, str) else None
    content = xml.encode("utf-8", "surrogatepass") if isinstance(xml, str) else xml
    if len(content) > MOST_BYTES:
        raise BadDocument(
            f"this file has {len(content):,} bytes; a label has {MOST_BYTES:,} at most",
            where="TEI",
            remedy="read the file of one inscription, not of a whole collection",
        )
    try:
        return _Parser(encoding).element(content)
    except BadDocument:
        if _WHOLE.match(content[:200].decode("latin-1").lstrip("ÿþï»¿\x00")):
            raise
        return _Parser(encoding).element(b"<ab>" + content + b"</ab>")


class _Parser:
    """One file under way."""

    def __init__(self, encoding: str | None) -> None:
        self._open: list[Element] = []
        self._root: Element | None = None
        self._expat = expat.ParserCreate(encoding, " ")
        self._expat.buffer_text = True
        self._expat.StartElementHandler = self._start
        self._expat.EndElementHandler = self._end
        self._expat.CharacterDataHandler = self._letters
        self._expat.CommentHandler = self._comment
        self._expat.ProcessingInstructionHandler = self._instruction
        self._expat.EntityDeclHandler = self._entity
        self._expat.SkippedEntityHandler = self._skipped

    def element(self, content: bytes) -> Element:
        try:
            self._expat.Parse(content, True)
        except expat.ExpatError as wrong:
            raise self._refusal(
                f"this is not well-formed XML ({expat.ErrorString(wrong.code)})",
                "open the file in an editor that checks XML, and mend it at this line",
            ) from None
        except (LookupError, ValueError) as wrong:
            if isinstance(wrong, BadDocument):
                raise
            raise self._refusal(
                "the encoding that this file names is not known here", "save the file as UTF-8"
            ) from None
        if self._root is None:
            raise self._refusal("there is no element in this file", "")
        return self._root

    def _refusal(self, message: str, remedy: str) -> BadDocument:
        where = f"line {self._expat.CurrentLineNumber}"
        return BadDocument(message, where=where, remedy=remedy)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if len(self._open) == DEEPEST:
            raise self._refusal(f"elements lie more than {DEEPEST} deep", "")
        told = {_local(each): value for each, value in attributes.items()}
        element = Element(_local(name), self._expat.CurrentLineNumber, told)
        if self._open:
            self._open[-1].children.append(element)
        else:
            self._root = element
        self._open.append(element)

    def _end(self, _name: str) -> None:
        self._open.pop()

    def _letters(self, text: str) -> None:
        self._open[-1].children.append(text)

    def _aside(self, name: str, text: str) -> None:
        if self._open:  # what stands before or after everything else is no part of the text
            line = self._expat.CurrentLineNumber
            self._open[-1].children.append(Element(name, line, {}, [text]))

    def _comment(self, text: str) -> None:
        self._aside("#comment", text)

    def _instruction(self, target: str, data: str) -> None:
        self._aside("#instruction", f"{target} {data}")

    def _entity(self, name: str, *_said: object) -> None:
        raise self._refusal(
            f"this file defines an entity ({name}); dorse reads no such file",
            "replace entities by the letters that they stand for",
        )

    def _skipped(self, name: str, _parameter: bool) -> None:
        raise self._refusal(
            f"&{name}; is defined in another file, and dorse opens none",
            "replace entities by the letters that they stand for",
        )


def _local(name: str) -> str:
    namespace, _, local = name.rpartition(" ")
    if namespace in ("", TEI_NAMESPACE):
        return local
    return f"xml:{local}" if namespace == _XML_NAMESPACE else f"{{{namespace}}}{local}"
