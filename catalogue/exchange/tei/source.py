"""A TEI document from anywhere as pieces that remember being read, so that none is dropped in silence.

Only what lies around the text is read here: header, pictures, divisions that are no edition. The text
itself is read by `reading.read_tei`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from lxml import etree

from catalogue.exchange.xml import Element, plain
from catalogue.reading import read_tei
from catalogue.reading.tei_words import table

TEI = "{http://www.tei-c.org/ns/1.0}"
XML = "{http://www.w3.org/XML/1998/namespace}"
_LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*")
_SHORT = 120
_MOST = 40
_OURS_ALWAYS = ("made", "encoding", "calendar")


class TeiSource:
    """One TEI document. What is asked for counts as read, with everything in it."""

    def __init__(self, root: Element, content: bytes) -> None:
        self.root = root
        self.text = read_tei(content)
        self._read: set[Element] = set()

    def each(self, path: str) -> Iterator[Element]:
        """The elements at the end of a path of names below the root, read with all that they hold."""
        for found in self.root.iterfind("/".join(_step(name) for name in path.split("/"))):
            self._read.update(found.iter())
            yield found

    def texts(self, path: str) -> list[str]:
        """What the elements at the end of a path say, those that say nothing left out."""
        return [words for found in self.each(path) if (words := words_of(found))]

    def text_of(self, path: str) -> str:
        """What the first of them says, "" where there is none."""
        return next(iter(self.texts(path)), "")

    def divisions(self) -> Iterator[tuple[str, Element]]:
        """The divisions of the text that are no edition and hold none, by their type."""
        for body in self.root.iterfind(f"{TEI}text/{TEI}body"):
            yield from _divisions(body)

    def left(self) -> tuple[str, ...]:
        """What nobody read, by path, and what of the text could not be kept as it was."""
        found: dict[str, list[str]] = {}
        for part in ("teiHeader", "facsimile"):
            for top in self.root.iterfind(f"{TEI}{part}"):
                for path, said in self._unread(top):
                    found.setdefault(path, []).append(said)
        for remark in self.text.remarks:
            if remark.element == "teiHeader" or _is_division(remark.element, remark.became):
                continue
            found.setdefault(remark.element or "text", []).append(remark.became)
        told = [
            words(
                "often" if len(said) > 1 else "untold",
                path=path,
                words=said[0],
                n=len(said) - 1,
            )
            for path, said in found.items()
        ]
        return tuple(told[:_MOST])

    def _unread(self, top: Element) -> Iterator[tuple[str, str]]:
        standing = {" ".join(table("document")[key].split()) for key in _OURS_ALWAYS}
        for element in top.iter():
            if not isinstance(element.tag, str) or element in self._read:
                continue
            said = " ".join(_own_letters(element).split())
            if said in standing:
                continue
            if not said and len(element) == 0:
                said = " ".join(f"{plain(key)}={value}" for key, value in element.items())
            if said:
                short = said if len(said) <= _SHORT else said[: _SHORT - 1] + "…"
                yield _path(element, top), short


def words(key: str, **filled: object) -> str:
    """A sentence of `[arriving]` in vocab/tei.toml."""
    return table("arriving")[key].format(**filled)


def words_of(element: Element) -> str:
    """All the letters in an element with single spaces; comments and instructions say nothing."""
    return " ".join("".join(_letters(element)).split())


def paragraphs(element: Element) -> list[str]:
    """What an element says, a text for each of its paragraphs."""
    inner = [words_of(each) for each in element.iterfind(f"{TEI}p")]
    return [each for each in inner if each] or [each for each in [words_of(element)] if each]


def language_of(element: Element) -> str | None:
    """The language that an element says it is in, where it is a tag of one."""
    said = element.get(f"{XML}lang") or ""
    return said if _LANGUAGE.fullmatch(said) else None


def content_of(root: Element) -> bytes:
    """A document out of a file of many, as a file of its own."""
    content: bytes = etree.tostring(root, encoding="utf-8", with_tail=False)
    return content


def _step(name: str) -> str:
    """A name of a path; `*` is any element and `//` any depth, `[...]` a condition."""
    return name if name in ("", "*", ".") else f"{TEI}{name}"


def _divisions(parent: Element) -> Iterator[tuple[str, Element]]:
    for division in parent.iterfind(f"{TEI}div"):
        if division.get("type") == "edition":
            continue
        if any(inner.get("type") == "edition" for inner in division.iter(f"{TEI}div")):
            yield from _divisions(division)
        else:
            yield division.get("type") or "", division


def _is_division(element: str, became: str) -> bool:
    return element == "div" and became == table("became")["not_edition"]


def _letters(element: Element) -> Iterator[str]:
    if not isinstance(element.tag, str):
        return
    yield element.text or ""
    for child in element:
        yield from _letters(child)
        yield child.tail or ""


def _own_letters(element: Element) -> str:
    return (element.text or "") + "".join(child.tail or "" for child in element)


def _path(element: Element, top: Element) -> str:
    names = [plain(element.tag)]
    for above in element.iterancestors():
        names.append(plain(above.tag))
        if above is top:
            break
    return "/".join(reversed(names))
